"""The demo book: it loads whole, it holds every case it promises, and its pieces agree with one another."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import get_args

import pytest

from blendwise.records import BookFiles, Note, Plan, Scent, load_notes
from blendwise.records.kinds.scent import Kind

TODAY = date(2026, 11, 25)
WEEKS = {"week 1": 7, "week 2": 14, "week 4": 28, "week 6": 42}
HALF_A_STEP = 0.05  # g: doses are noted to 0.1 g


def test_the_shelf_has_the_size_it_promises(book: BookFiles, plans: dict[str, Plan]) -> None:
    """Forty oils, twenty-three colourants, fourteen base oils and twelve plans load without a fault."""
    assert (len(book.scents), len(book.colourants), len(book.oils), len(plans)) == (40, 23, 14, 12)


def test_every_kind_of_oil_is_there(book: BookFiles) -> None:
    """No kind of oil is missing from the shelf."""
    assert {scent.kind for scent in book.scents.values()} == set(get_args(Kind))


def test_the_awkward_oils_are_there(book: BookFiles) -> None:
    """The shelf holds each case a maker meets and would rather not."""
    scents = book.scents.values()
    assert [s.name for s in scents if s.for_skin is False] == ["hearth-smoke"]
    assert [s.name for s in scents if not s.model_fields_set - {"name", "kind"}] == ["market-find"]
    assert [s.name for s in scents if _contradicts_itself(s)] == ["almond-brittle"]
    assert {s.name for s in scents if s.limit_in_bar is None} == {
        "rain-barrel", "hearth-smoke", "market-find", "labdanum",
    }  # fmt: skip
    assert [s.name for s in scents if _certificate_age(s) > 9] == ["lilac-lane"]
    assert {s.name for s in scents if s.acceleration and s.acceleration.word == "seizes"} == {"spice-stall"}
    assert {s.name for s in scents if s.ricing == "bad"} == {"peach-orchard", "night-gardenia"}


def _contradicts_itself(scent: Scent) -> bool:
    sheet = scent.allergen_sheet.names.get("vanillin") if scent.allergen_sheet else None
    return sheet is not None and scent.vanillin is not None and sheet.high > scent.vanillin.high


def _certificate_age(scent: Scent) -> float:
    dated = scent.limit_in_bar.dated if scent.limit_in_bar else None
    return (TODAY - dated).days / 365.25 if dated else 0.0


def test_each_behaviour_says_on_whose_word_it_stands(book: BookFiles) -> None:
    """A described oil names its evidence, for the whole entry at least."""
    assert [s.name for s in book.scents.values() if s.evidence is None] == ["market-find"]


def test_oils_are_good_or_bad_with_oils_on_the_shelf(book: BookFiles) -> None:
    """An oil is compared with oils of the shelf only, and two oils never judge each other differently."""
    said = {(s.name, other): fit for s in book.scents.values() for other, fit in s.goes_with.items()}
    assert {other for _, other in said} <= book.scents.keys()
    assert [pair for pair, fit in said.items() if said.get(pair[::-1], fit) != fit] == []


@pytest.mark.parametrize(("oil", "low", "high"), [("sunflower", 187, 194), ("castor", 176, 187)])
def test_saponification_ranges_are_the_published_ones(
    book: BookFiles, oil: str, low: float, high: float
) -> None:
    """Ranges read in print stand as printed: Codex CXS 210-1999 (2022); British Pharmacopoeia 1993."""
    saponification = book.oils[oil].saponification
    assert (saponification.low, saponification.high) == (low, high)


def test_a_lot_lies_within_the_range_of_its_oil(book: BookFiles) -> None:
    """The certificate of a lot does not contradict the published range of the oil."""
    lots = [oil for oil in book.oils.values() if oil.lot_saponification is not None]
    assert [oil.name for oil in lots] == ["coconut"]
    for oil in lots:
        assert oil.lot_saponification is not None
        assert oil.saponification.low <= oil.lot_saponification.value <= oil.saponification.high


def test_every_pour_of_a_plan_is_in_the_rulebook(book: BookFiles, plans: dict[str, Plan]) -> None:
    """The plans show all three families of pour."""
    assert {book.pours[plan.pour or ""].family for plan in plans.values()} == {
        "interleaved", "sequential", "thick",
    }  # fmt: skip


def test_all_notes_load(folder: Path) -> None:
    """Twelve batches with forty-one looks are read, and no note is set aside."""
    notes, faults = load_notes(folder)
    assert faults == []
    assert len(notes) == 41
    assert len({(note.plan, note.poured) for note in notes}) == 12


def test_a_note_bears_the_name_of_its_file(folder: Path, notes: list[Note]) -> None:
    """The name in a note is that of its file."""
    assert {note.note for note in notes} == {path.stem for path in (folder / "notes").iterdir()}


def test_looks_are_dated_by_their_week(notes: list[Note]) -> None:
    """A look of week n falls within two days of n weeks after the pour, and none lies in the future."""
    assert all(note.on <= TODAY for note in notes)
    late = {n.note: (n.on - n.poured).days - WEEKS[n.look] for n in notes if n.poured and n.look in WEEKS}
    assert [name for name, days in late.items() if abs(days) > 2] == []


def test_notes_speak_of_their_plan(book: BookFiles, plans: dict[str, Plan], notes: list[Note]) -> None:
    """Portions, versions, lots and weighed scents of a note are those of the plan it names."""
    for note in notes:
        plan = plans[note.plan]
        portions = {portion.name for portion in plan.portions}
        assert note.portions.keys() == portions
        assert note.variation is None or note.variation in plan.variations
        assert note.lots.keys() <= book.scents.keys()
        if note.frozen:
            assert note.frozen.doses.keys() == portions


def test_weighed_doses_keep_the_blend(plans: dict[str, Plan], notes: list[Note]) -> None:
    """Over all portions the scents were weighed in the parts of the blend, as near as the scale allows."""
    frozen = [(plans[note.plan], note.frozen.doses) for note in notes if note.frozen]
    assert len(frozen) == 13
    for plan, doses in frozen:
        assert plan.scents is not None
        parts = {name: part.value for name, part in plan.scents.blend.items()}
        weighed = {name: sum(cup[name].value for cup in doses.values() if name in cup) for name in parts}
        rounding = HALF_A_STEP * sum(len(cup) for cup in doses.values())
        share = sum(weighed.values()) / sum(parts.values())
        assert weighed == pytest.approx({name: part * share for name, part in parts.items()}, abs=rounding)
