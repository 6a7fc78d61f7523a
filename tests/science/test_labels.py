"""Label names: the 81 entries, thresholds and dates against the text as read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science.labels import (
    LabelName,
    above_threshold,
    entries_of,
    is_whole_oil_entry,
    label_names,
    label_names_for,
    names_not_known,
    thresholds,
)
from blendwise.science.tables import listed, read_table

Rows = list[dict[str, str]]
BEFORE, FROM = date(2026, 7, 31), date(2026, 8, 1)
STILL, ALL = date(2028, 7, 31), date(2028, 8, 1)


def names_due(substances: list[str], shares: list[float], placed: date) -> tuple[LabelName, ...]:
    """Entries in force whose substances together lie above their threshold, as the list for a bar is made."""
    entries, members = entries_of(substances)
    together = np.where(members, np.asarray(shares)[:, None], 0.0).sum(axis=0)
    above = above_threshold(together, thresholds(entries))
    return tuple(e for e, due in zip(entries, above, strict=True) if due and e.in_force(placed))


def test_all_entries_as_read(published: Callable[..., Rows]) -> None:
    """The 81 entries, their names, thresholds and what is new are those of the CosIng export as read."""
    rows = published("fragrance_allergens_eu", "seen")
    ours = label_names()
    assert len(ours) == len(rows) == 81
    assert [(e.entry, e.name) for e in ours] == [(r["annex_iii_ref"], r["label_name"]) for r in rows]
    assert [e.placed_from is None for e in ours] == [r["required_before_2023"] == "yes" for r in rows]
    assert [e.rinse_off for e in ours] == pytest.approx(
        [float(r["rinse_off_threshold_pct"]) / 100 for r in rows]
    )
    assert [e.leave_on for e in ours] == pytest.approx(
        [float(r["leave_on_threshold_pct"]) / 100 for r in rows]
    )


def test_thresholds_of_the_regulation() -> None:
    """Every entry is due above 0.01 % in what is rinsed off, 0.001 % in what stays on (2023/1545)."""
    assert thresholds(label_names()) == pytest.approx(np.full(81, 0.0001))
    assert {e.leave_on for e in label_names()} == {0.00001}


def test_days_of_the_regulation() -> None:
    """Every new name is due for soap placed from 1 August 2026 and on all on sale from 1 August 2028."""
    new = [e for e in label_names() if e.placed_from is not None]
    assert {(e.placed_from, e.on_sale_from) for e in new} == {(FROM, ALL)}
    assert (len(new), len(label_names()) - len(new)) == (57, 24)


def passes(cas: str) -> bool:
    """The check digit: the others from the right times 1, 2, 3 …, summed, modulo ten."""
    *digits, check = [int(c) for c in cas if c.isdigit()]
    return sum(k * d for k, d in enumerate(reversed(digits), start=1)) % 10 == check


def test_cas_numbers_are_whole() -> None:
    """Every CAS number in the table passes its check digit."""
    numbers = [cas for row in read_table("label_names") for cas in listed(row["cas"])]
    assert len(numbers) > 150
    assert [number for number in numbers if not passes(number)] == []


@pytest.mark.parametrize(
    ("placed", "on_sale", "due"),
    [
        (BEFORE, None, False),
        (FROM, None, True),
        (BEFORE, STILL, False),
        (BEFORE, ALL, True),
        (FROM, FROM, True),
    ],
)
def test_vanillin_comes_into_force(placed: date, on_sale: date | None, due: bool) -> None:
    """Vanillin, a new name, is due from the first day of either date, not on the last day before."""
    (vanillin,) = label_names_for("vanillin")
    assert vanillin.in_force(placed, on_sale) is due


def test_old_names_are_due_on_any_day() -> None:
    """Linalool has been due since before 2023."""
    (linalool,) = label_names_for("linalool")
    assert linalool.in_force(BEFORE)


def test_just_above_the_threshold() -> None:
    """A name is due above 0.01 % of the bar: not at it, however it was reckoned, and not below."""
    shares = np.array([0.0000999, 0.0001, 0.05 * 0.002, 0.1 * 0.001, 0.00010001])
    assert above_threshold(shares, 0.0001).tolist() == [False, False, False, False, True]


@pytest.mark.parametrize(("scent", "content"), [(0.03, 0.0033), (0.02, 0.005), (0.01, 0.01)])
def test_share_of_the_oil_that_crosses_the_line(scent: float, content: float) -> None:
    """With scent at 3, 2 and 1 % of the bar a name is due above 0.33, 0.5 and 1 % of the oil (derived)."""
    due = names_due(["coumarin"], [scent * (content + 0.0001)], BEFORE)
    assert [e.name for e in due] == ["Coumarin"]
    assert names_due(["coumarin"], [scent * (content - 0.0001)], BEFORE) == ()


def test_names_of_one_entry_count_together() -> None:
    """Geranial and neral are both citral: two halves that are each below the threshold are above it."""
    assert [e.name for e in names_due(["geranial", "neral"], [0.00006, 0.00006], BEFORE)] == ["Citral"]
    assert names_due(["geranial"], [0.00006], BEFORE) == ()


def test_whole_oils_are_entries_besides_their_constituents() -> None:
    """Lavender oil is named itself from August 2026, besides its linalool."""
    substances, shares = ["lavender oil", "linalool"], [0.02, 0.007]
    assert [e.name for e in names_due(substances, shares, BEFORE)] == ["Linalool"]
    assert [e.name for e in names_due(substances, shares, FROM)] == ["Linalool", "Lavandula Oil/Extract"]


@pytest.mark.parametrize(
    "oil",
    [
        "Lavandula Oil/Extract", "lavandin", "peppermint", "spearmint oil", "geranium",
        "patchouli oil", "lemongrass", "clove bud oil", "cassia oil", "cinnamon bark oil",
        "eucalyptus oil", "lemon oil", "sweet orange", "bergamot", "ylang-ylang", "jasmine absolute",
        "rose absolute", "Pogostemon Cablin Oil", "virginian cedarwood oil",
    ],
)  # fmt: skip
def test_oils_that_are_entries(oil: str) -> None:
    """The whole oils that the amendment lists are found by their common names."""
    assert is_whole_oil_entry(oil)


@pytest.mark.parametrize(
    "oil", ["litsea", "vetiver", "lime oil", "grapefruit", "tea tree", "rosemary", "vanillin"]
)
def test_oils_that_are_none(oil: str) -> None:
    """Oils that the annex does not list as such, and single substances, are not whole-oil entries."""
    assert not is_whole_oil_entry(oil)


def test_a_number_under_two_entries_gives_both() -> None:
    """The annex prints one CAS number under both orange flower and orange peel oil."""
    assert [e.entry for e in label_names_for("8028-48-6")] == ["350", "351"]


def test_the_top_of_a_range_counts_even_when_endless() -> None:
    """A content open upwards is due; what is not there is not, and neither upsets the other."""
    due = names_due(["coumarin", "linalool"], [np.inf, 0.0], BEFORE)
    assert [e.name for e in due] == ["Coumarin"]


def test_a_substance_that_is_not_listed_has_no_entry() -> None:
    """Limonene is listed, 3-carene is not."""
    entries, members = entries_of(["3-carene", "limonene"])
    assert [e.name for e in entries] == ["Limonene"]
    assert members.tolist() == [[False], [True]]
    assert entries_of([])[1].shape == (0, 0)


def test_names_not_known() -> None:
    """A scent in the bar with no sheet, or part of one, leaves names unknown; one not in it does not."""
    found = names_not_known([5.0, 5.0, 0.0], [True, False, False])
    assert found.tolist() == [False, True, False]


@given(st.floats(0, 0.01), st.floats(0, 0.01))
def test_more_of_a_substance_never_drops_its_name(one: float, other: float) -> None:
    """Names only come on with content."""
    little, much = (names_due(["eugenol"], [share], BEFORE) for share in sorted([one, other]))
    assert set(little) <= set(much)


def test_senseless_shares_are_refused() -> None:
    """A share below zero or one that is no number is refused by name."""
    with pytest.raises(ValueError, match="share of a label name must be at least 0"):
        names_due(["eugenol"], [-0.1], BEFORE)
    with pytest.raises(ValueError, match="share of a label name must be a number"):
        names_due(["eugenol"], [np.nan], BEFORE)
