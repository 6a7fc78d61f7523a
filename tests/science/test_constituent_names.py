"""Names of constituents taken apart: CAS numbers and their check digit, spellings, two names in one."""

from __future__ import annotations

import pytest

from blendwise.science.constituent_names import cas_numbers, check_digit_fits, key_of, parts_of, without_cas


def test_a_cas_number_is_found_and_checked() -> None:
    """Linalool is CAS 78-70-6: the weighted sum of the other digits ends in 6, so that 7 does not fit."""
    assert cas_numbers("linalool (CAS 78-70-6)") == ("78-70-6",)
    assert (7 * 4 + 8 * 3 + 7 * 2 + 0 * 1) % 10 == 6
    assert [True, False] == [check_digit_fits(number) for number in ("78-70-6", "78-70-7")]
    assert without_cas("linalool") == "linalool"
    assert cas_numbers(without_cas("linalool (CAS 78-70-6)")) == ()


@pytest.mark.parametrize(
    "spelling", ["alpha-Isomethyl Ionone", "alpha isomethyl ionone", "α-isomethylionone"]
)
def test_spellings_of_one_name_share_a_key(spelling: str) -> None:
    """Case, hyphens, spaces and Greek letters do not make another name."""
    assert key_of(spelling) == "alphaisomethylionone"


def test_two_names_in_one() -> None:
    """A second name in brackets is a name; a remark there is none, and one name alone has no parts."""
    assert parts_of("estragole (methyl chavicol)") == ("estragole", "methyl chavicol")
    assert parts_of("linalool (natural)") == ("linalool",)
    assert parts_of("linalool") == ()
