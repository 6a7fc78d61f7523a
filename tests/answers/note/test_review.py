"""The review: expected beside seen, rules' records, versions, two batches, advice, and the adopted edit."""

from __future__ import annotations

import json
from datetime import date
from difflib import SequenceMatcher
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise import Book
from blendwise.answers.note.compute import Asked
from blendwise.answers.review.rule_record import Record, wilson
from blendwise.answers.review.versions import contests
from blendwise.records import RecordError
from blendwise.records.as_of import AsOf
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow
from blendwise.show.schemas import schema_of
from tests.answers.note.conftest import Blendwise

DAY = date(2026, 11, 25)
RULE = """
- rule: RULE
  looks at: portion
  when: {scent rate: above 0 % of portion oils}
  must: {browning band: at most ivory, scent rate: at most 0 % of portion oils}
  else: caution
  because: A rule that speaks against every scented portion.
  try: Nothing.
  basis: own batches
  hits: [{scent rate: 4 %, browning band: ivory}]
  misses: [{scent rate: 0 %, browning band: ivory}]
"""


@pytest.fixture(autouse=True)
def no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    """The cache has tests of its own."""
    monkeypatch.setenv("BLENDWISE_NO_CACHE", "1")


@pytest.mark.parametrize(
    "options",
    [(), ("--rules",), ("--variations",), ("--scent", "tonka-milk"), ("GM-260314", "--against", "GM-260905")],
    ids=str,
)
def test_every_question_has_words_and_a_document(blendwise: Blendwise, options: tuple[str, ...]) -> None:
    """Each question about the demo is answered in words and by the published document, with exit code 0."""
    words = blendwise("review", *options, "--book", "demo_catalog")
    assert (0, "") == (words.code, words.err)
    assert "What was seen never loosens a limit" in words.flat
    told = blendwise("review", *options, "--book", "demo_catalog", "--json")
    jsonschema.validate(json.loads(told.out), schema_of("review"))


def test_expected_stands_beside_seen(blendwise: Blendwise) -> None:
    """Portion by portion in words: what was seen, when, what was expected, and how they differ."""
    ran = blendwise("review", "greenhouse-morning", "--more", "--book", "demo_catalog")
    assert "soil (deep): brown by week 6, expected tan: darker." in ran.flat
    assert "soil (deep): thick at 11 min at the pot, expected fluid for" in ran.flat
    assert "milk (deep): ivory by week 6, as expected." in ran.flat
    assert 1 == ran.out.count("Change one thing")


def test_what_to_repeat_and_one_thing_to_change(demo: Path) -> None:
    """Of the demo's batches the best liked that came as expected is to be repeated, and one trouble leads."""
    result = Book(demo).review(on=AsOf(DAY))
    assert result.repeat is not None
    assert result.change is not None
    assert "HM-260314" == result.repeat.batch
    assert ("riced", "orchard-wall") == (result.change.kind, result.change.plan)
    frame = result.to_frame()
    assert len(result.compared) == len(frame)
    assert {"darker", "sooner"} <= set(frame["verdict"])


def test_a_rule_that_is_always_wrong_is_shown_as_such(blendwise: Blendwise, empty: Path) -> None:
    """A rule that spoke against ten portions and was right about none is said to be wrong every time."""
    (empty / "rules" / "mine").mkdir()
    (empty / "rules" / "mine" / "own.yaml").write_text(RULE.replace("RULE", "crying-wolf"), "utf-8")
    for month in (1, 2, 3, 4, 5):
        book = Book(empty)
        book.note(
            "rain-jar",
            Asked(on=date(2026, month, 1), look="at the pot", saw=("all: ricing none",)),
            on=AsOf(DAY),
        )
        six = Asked(on=date(2026, month + 1, 12), look="week 6", saw=("all: colour ivory, strength fair",))
        book.note("rain-jar", six, on=AsOf(DAY))
    ran = blendwise("review", "--rules", "--book", str(empty))
    assert (
        "crying-wolf (warns: browned further than the plan allows): spoke 10 times, right in 0 of 10 that "
        "somebody looked at" in ran.flat
    )
    assert (
        "wrong every time, in five batches: with 80 % confidence it is right in 0 to 25 % of batches"
        in ran.flat
    )


def record(seen: int, not_seen: int) -> Record:
    """A rule that spoke so often."""
    return Record("r", "caution", "ash", seen, not_seen, 0, 0, 0, seen + not_seen, right=seen)


def test_the_batch_is_the_trial() -> None:
    """Eight portions of two batches are two trials, and too few to say."""
    found = Record("r", "caution", "ash", 8, 0, 0, 0, 0, 2, right=2)
    assert found.says == "too few to say"
    assert found.low == wilson(2, 2)[0]


@pytest.mark.parametrize(
    ("seen", "not_seen", "word"),
    [
        (0, 0, "too few to say"), (2, 0, "too few to say"), (1, 1, "too few to say"),
        (0, 5, "wrong every time"),
        (5, 0, "right every time"), (3, 0, "mostly right"), (0, 4, "mostly wrong"), (3, 3, "mixed"),
        (9, 1, "mostly right"), (1, 9, "mostly wrong"),
    ],
)  # fmt: skip
def test_small_numbers_are_told_as_small(seen: int, not_seen: int, word: str) -> None:
    """Under three nothing is said, under five never "every time"; "mixed" where both may be so."""
    assert word == record(seen, not_seen).says


def test_wilsons_interval_is_the_published_one() -> None:
    """For 15 of 20 at 95 % it is 0.531 to 0.888, the roots of (p - 0.75)² = z²·p·(1 - p)/20 (Wilson 1927)."""
    z = 1.959964
    assert wilson(15, 20, z) == pytest.approx((0.5313, 0.8881), abs=5e-4)
    for end in wilson(15, 20, z):
        assert (end - 0.75) ** 2 == pytest.approx(z**2 * end * (1 - end) / 20)
    assert (0.0, 1.0) == wilson(0, 0)


@given(st.integers(0, 40), st.integers(1, 40))
def test_wilsons_interval_holds_the_share(hits: int, more: int) -> None:
    """The interval lies in 0 to 1 and holds the share itself."""
    low, high = wilson(hits, hits + more)
    assert 0 <= low <= hits / (hits + more) <= high <= 1


def batch_of(votes: dict[str, int], favourites: list[str]) -> Batch:
    """A batch of two versions with votes."""
    looks = (
        NoteRow("a", "a", "p", "later", "2026-01-01", variation="dark", votes=votes, favourites=favourites),
        NoteRow("b", "b", "p", "later", "2026-01-02", variation="light"),
    )
    return Batch("B", "p", "2026-01-01", looks)


@pytest.mark.parametrize(
    ("votes", "favourites", "winner"),
    [
        ({"dark": 9, "light": 2}, [], "dark"),
        ({"dark": 6, "light": 5}, [], None),
        ({"dark": 0, "light": 2}, [], "light"),
        ({}, ["dark"], None),
        ({"dark": 1, "light": 1}, ["dark"], None),
    ],
)
def test_a_narrow_vote_is_too_close_to_call(
    votes: dict[str, int], favourites: list[str], winner: str | None
) -> None:
    """A version wins only by more than chance would give in four cases of five."""
    (found,) = contests([batch_of(votes, favourites)])
    assert winner == found.winner


def test_two_batches_side_by_side(blendwise: Blendwise) -> None:
    """What was done otherwise stands beside what came of it; with several differences no cause is named."""
    ran = blendwise("review", "GM-260314", "--against", "GM-260905", "--book", "demo_catalog")
    assert "lot of tonka-milk: B-2231 against B-2307" in ran.flat
    assert "soil (deep), week 6: colour: brown against tan" in ran.flat
    assert "two batches cannot tell which" in ran.flat
    assert 2 == blendwise("review", "--against", "rain-jar", "--book", "demo_catalog").code
    assert 2 == blendwise("review", "rain-jar", "--against", "rain-jar", "--book", "demo_catalog").code


def test_numbers_on_request(blendwise: Blendwise) -> None:
    """The maker sees words and counts; the numbers behind them only with --numbers."""
    words = blendwise("review", "--scent", "tonka-milk", "--book", "demo_catalog")
    numbers = blendwise("review", "--scent", "tonka-milk", "--book", "demo_catalog", "--numbers")
    assert "× unscented, 80 % between" not in words.flat
    assert "× unscented, 80 % between" in numbers.flat
    assert "2026-03-28 GM-260314, week 2: soil with 2.62 % of it" in words.flat


def test_a_damaged_note_is_named_in_the_review(blendwise: Blendwise, demo: Path) -> None:
    """What is set aside is named with its reason, and the review goes on."""
    (demo / "notes" / "2026-11-20-x.yaml").write_text("note: [", "utf-8")
    ran = blendwise("review", "--book", str(demo))
    assert 0 == ran.code
    assert "Set aside: one note;" in ran.flat
    assert "(2026-11-20-x.yaml)" in ran.flat
    assert "Twelve batches, 41 looks" in ran.flat


def test_a_book_without_notes(blendwise: Blendwise, empty: Path) -> None:
    """With no note there is nothing to review, and that is said with what to do."""
    ran = blendwise("review", "--book", str(empty))
    assert (0, True) == (ran.code, "begin with `blendwise note PLAN`" in ran.flat)
    nothing = blendwise("review", "--adopt", "lime", "--book", str(empty))
    assert 2 == nothing.code
    assert 2 == blendwise("review", "no-such-plan", "--book", str(empty)).code


def noted(book: Path, oil_field: str) -> Path:
    """Three batches of rain-jar in which rain-barrel thickens fast, its entry's acceleration written thus."""
    scents = book / "scents.yaml"
    text = scents.read_text("utf-8")
    old = "acceleration: {is: none, at: 3 % of oils, evidence: own cup, against: unscented cup}"
    start = text.index("\nrain-barrel:")
    at = text.index(old, start)
    scents.write_text(text[:at] + oil_field + text[at + len(old) :], "utf-8")
    for month in (1, 2, 3, 4):
        look = Asked(
            on=date(2026, month, 1), look="at the pot", saw=("all: minutes to thick 5 min",),
            doses=(
                "pail: rain-barrel 12 g, cucumber-frost 0 g",
                "cloud: rain-barrel 8 g, cucumber-frost 0 g",
            ),
        )  # fmt: skip
        Book(book).note("rain-jar", look, on=AsOf(DAY))
    return scents


WRITTEN = {
    "a mapping": ("acceleration: {is: none, at: 3 % of oils, evidence: hearsay}", "acceleration: {is: "),
    "a word": ("acceleration: none", "acceleration: "),
    "missing": ("# nothing is said of its speed", "acceleration: {is: "),
}


@pytest.mark.parametrize(("field", "there"), WRITTEN.values(), ids=WRITTEN.keys())
def test_an_edit_is_one_value_and_one_line(empty: Path, field: str, there: str) -> None:
    """However the entry is written, adopting changes the value, adds a line to ``seen``, and that is all."""
    scents = noted(empty, field)
    before = scents.read_text("utf-8").splitlines()
    result = Book(empty).adopt("rain-barrel", on=AsOf(DAY))
    after = scents.read_text("utf-8").splitlines()
    (change,) = result.changes
    gone, came = [], []
    for what, low, high, first, last in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if what != "equal":
            gone += before[low:high]
            came += after[first:last]
    told = "Acceleration " + f"{change.was or 'not known'} → {change.now}: 4 of 4 batches."
    seen = f'    - {{on: 2026-11-25, what: "{told}"}}'
    assert [] == [line for line in gone if "acceleration" not in line]
    assert [seen] == [line for line in came if "acceleration" not in line and line != "  seen:"]
    assert 1 == sum(f"{there}{change.now}" in line for line in came)
    assert change.now == Book(empty).files.scents["rain-barrel"].acceleration.word  # type: ignore[union-attr]


def test_a_dry_run_writes_nothing(empty: Path) -> None:
    """--dry-run shows the same change and leaves the file as it is."""
    scents = noted(empty, "acceleration: none")
    before = scents.read_bytes()
    dry = Book(empty).adopt("rain-barrel", on=AsOf(DAY), dry_run=True)
    assert before == scents.read_bytes()
    assert dry.diff == Book(empty).adopt("rain-barrel", on=AsOf(DAY)).diff
    assert "+  acceleration: " in dry.diff


def test_a_file_changed_meanwhile_is_left_alone(empty: Path) -> None:
    """Where somebody has saved the catalogue since it was read, the edit is refused and theirs stays."""
    scents = noted(empty, "acceleration: none")
    book = Book(empty)
    theirs = scents.read_text("utf-8") + "\n# saved by somebody else\n"
    scents.write_text(theirs, "utf-8")
    with pytest.raises(RecordError, match="changed since"):
        book.adopt("rain-barrel", on=AsOf(DAY))
    assert theirs == scents.read_text("utf-8")


def test_beliefs_never_touch_what_papers_say(empty: Path) -> None:
    """Limits, lye, bans, labels and flash points read the same with and without the looks."""
    noted(empty, "acceleration: none")
    book = Book(empty)
    counted = book.check("rain-jar", on=AsOf(DAY, careful=True), working=True)
    written = book.check("rain-jar", on=AsOf(DAY, as_written=True), working=True)
    papers = ("limit", "lye", "superfat", "certificate", "banned", "label", "flash", "flammable", "guard")
    facts = [
        {(f.subject, f.measure): (f.low, f.high) for f in each.working if any(w in f.measure for w in papers)}
        for each in (counted, written)
    ]
    assert len(facts[0]) > 20
    assert facts[0] == facts[1]
    speeds = [
        {(f.subject, f.measure): f.high for f in each.working if f.measure == "thickening"}
        for each in (counted, written)
    ]
    assert speeds[0] != speeds[1]
