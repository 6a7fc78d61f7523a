"""Numbers beside names: check digits of CAS and EC numbers, and slips told apart from names."""

from __future__ import annotations

import csv

import pytest

from blendwise.quantity.cas import cas_fault, cas_numbers, check_digit_fits, ec_check_digit_fits, ec_numbers
from blendwise.science.constituent_names import key_of, parts_of, rounds_of_keys, without_cas
from blendwise.science.constituents import known, slip_of
from blendwise.science.tables import DATA


def test_ec_numbers_of_the_table() -> None:
    lines = (DATA / "ec_numbers.csv").read_text("utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    assert len(rows) > 30
    for row in rows:
        assert ec_check_digit_fits(row["ec"])
        assert (found := known(f"EC {row['ec']}")) is not None
        assert found.name == row["name"]


def test_a_wrong_ec_number_is_none() -> None:
    assert ec_numbers("EC 201-289-7") == ()
    assert cas_fault("CAS 80-54-5") == "80-54-5"


def test_a_number_is_no_part_of_the_name() -> None:
    assert without_cas("linalool (CAS 78-70-6)").strip(" ()") == "linalool"
    assert "linalool" in rounds_of_keys("l-linalool")[1]


@pytest.mark.parametrize(
    ("spelling", "meant"),
    [("butylphenyl metylpropional", "Butylphenyl methylpropional"), ("isoeugenal", "Isoeugenol")],
)
def test_slips(spelling: str, meant: str) -> None:
    assert known(spelling) is None
    assert (found := slip_of(spelling)) is not None
    assert found.name == meant


@pytest.mark.parametrize("name", ["propyl salicylate", "5-methylcoumarin", "isoeugenal (62-53-3)"])
def test_names_of_their_own(name: str) -> None:
    """Made of words in use, like nothing limited, or with a number that says what it is."""
    assert slip_of(name) is None


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
