"""What ``ask`` says contradicts neither the check of the same plan nor the maker's own notes.

Asked of generated books (ounces and grams), of strangers' and of the cases in which it once did.
"""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.check.result import CheckResult
from blendwise.answers.pair.result import PairResult
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.facts.situation.dried import dried_mass, fresh_mass
from tests.answers.ask.asked import ON, asked, told
from tests.strangers.books import FOUND, a_book
from tests.strangers.runs import ran

SEEDS = (3, 8)
"""Generated books: one in ounces, one in grams."""
QUICK = ("thickening", "seizes", "minutes fluid")
SOME = ("porch-layers", "half-swirl", "wet-swirl")
"""Plans of the stranger that stand for the others."""
OF_PLANS = ("part white", "half scented", "carrier superfat", "gel", "time")


@pytest.fixture(scope="module")
def years(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The book of a maker of ten years, in ounces, with one batch noted."""
    to = tmp_path_factory.mktemp("years") / "book"
    shutil.copytree(FOUND / "ten-years" / "book", to)
    return Book(to)


@pytest.fixture(scope="module", params=SEEDS)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A generated book."""
    return Book(a_book(tmp_path_factory.mktemp("made") / "book", request.param, plans=1, looks=False).folder)


def plans_of(book: Book) -> list[Path]:
    """Its plans."""
    plans = sorted((book.folder / "plans").glob("*.yaml"))
    return [each for each in plans if each.stem in SOME] or plans


def plan(book: Book, name: str) -> Path:
    """One of its plans."""
    return book.folder / "plans" / f"{name}.yaml"


def test_both_unit_systems_are_asked(tmp_path: Path) -> None:
    """The seeds are a book in ounces and one in grams."""
    units = {
        Book(a_book(tmp_path / str(seed), seed, plans=1, looks=False).folder).files.usual.units.mass
        for seed in SEEDS
    }
    assert units == {"oz", "g"}


def test_no_answer_contradicts_the_check(made: Book) -> None:
    """A harm stands first; "yes" only where nothing heavy speaks; "no rule" only where none does."""
    for file in plans_of(made):
        check = json.loads(ran("check", file, "--json", "--book", made.folder, "--today", "2026-11-30").out)
        for question in OF_PLANS:
            result = asked(made, question, question, file)
            text = told(result)
            assert not check["harm"] or ". Stop: " in _verdict(text), text
            if "No rule has anything against it" in text:
                assert [
                    f for f in check["findings"] if f["level"] != "hint" and f["status"] == "broken"
                ] == []
            if " Yes: " in text and question in ("time", "quick in swirl"):
                quick = [
                    f for f in check["findings"] if f["measure"] in ("thickening", "seizes", "minutes fluid")
                ]
                assert [f for f in quick if f["level"] == "conflict" and f["status"] == "broken"] == [], text


def _verdict(text: str) -> str:
    return re.sub(r"^[^?]*\?", ".", text)[:200]


def test_white_is_promised_only_where_it_is_expected_and_not_seen_otherwise(made: Book, years: Book) -> None:
    """ "Ivory at best" stands only where the check expects ivory and no own look was darker."""
    for book in (made, years):
        for file in plans_of(book):
            result = asked(book, "part white", "can part stay white", file)
            assert isinstance(result.found, CheckResult)
            if "Ivory at best" not in told(result):
                continue
            bands = {f.subject: f.high for f in result.found.working if f.measure == "browning band"}
            assert "ivory" in bands.values()
            names = re.findall(r"Ivory at best: (.*?) ivory", told(result))
            assert all(
                look.told.get("colour", "ivory") == "ivory" for look in result.looks if look.portion in names
            )


def test_the_most_that_is_told_breaks_no_limit(made: Book) -> None:
    """Asked as a load, the greatest that is told for an oil brings no stop but those of paper."""
    for name in list(made.files.scents)[:2]:
        text = told(asked(made, "how strong", f"how strong {name}"))
        most = re.search(r"At most ([\d.]+ (?:oz ppo|%))", text)
        if most is None:
            continue
        found = made.pair(name, load=most[1], on=ON)
        assert [
            f.rule for f in found.check.findings if f.measure == "limit used" and f.status == "broken"
        ] == []
        assert found.load <= MOST_USUAL_DOSE * (1 + 1e-9)


def test_no_white_and_no_load_that_nobody_named(years: Book) -> None:
    """Of an oil alone no conflict is told with a plan that there is none of, nor of a load not asked for."""
    for question in ("browns", "get on", "how strong"):
        for name in ("Clove Bud Attic",):
            text = told(asked(years, question, f"{name}?"))
            assert "you plan" not in text
            assert question == "get on" or "Stop:" not in text, text
    asked_for = told(asked(years, "how strong", "Clove Bud Attic at 1 oz ppo?"))
    assert "Stop: the bar would hold" in asked_for


def test_doubling_is_never_advised_up_to_the_most(made: Book, years: Book) -> None:
    """All of the scent in a part is offered only below what is usual; the part is read off the question."""
    text = told(asked(years, "half scented", "if i scent just one half do I double it", plan(years, "plain")))
    assert "No, do not double it: keep 0.5 oz ppo" in text
    assert "1 oz ppo of oils, the very most that makers use" in text
    third = asked(years, "half scented", "scent in one third only", plan(years, "plain"))
    assert third.half is not None
    assert third.half.share == pytest.approx(1 / 3)
    for book in (made, years):
        for file in plans_of(book):
            result = asked(book, "half scented", "only half of it scented", file)
            if result.half is not None and " You may: " in told(result):
                assert result.half.same_total < MOST_USUAL_DOSE


def test_a_fresh_bar_has_its_cure_to_come(made: Book, years: Book) -> None:
    """A bar weighed before the 28th day may still lose all of its cure; label and ask agree."""
    s = years.situation(plan(years, "porch-rough"), ON)
    assert fresh_mass(s) > s.bar_constant + float(s.x.sum()) > dried_mass(s)
    note = years.folder / "notes" / "2026-10-17-porch-rough-week-6.yaml"
    held = note.read_text("utf-8")
    note.unlink()
    try:
        result = asked(Book(years.folder), "why: when can it be sold", "when", plan(years, "porch-rough"))
        assert result.sold is not None
        assert result.sold.still == pytest.approx(1 - dried_mass(s) / fresh_mass(s))
        assert result.sold.net_ounces is not None
        assert result.sold.net_ounces * 28.3495 <= 5.1 * 28.3495 * dried_mass(s) / fresh_mass(s)
        assert "still fresh" in told(result)
    finally:
        note.write_text(held, "utf-8")
    for file in plans_of(made):
        s = made.situation(file, ON)
        assert fresh_mass(s) >= s.bar_constant + float(s.x.sum())
        assert made.label(file, on=ON, weights="100 g").weight.still_to_lose < 0.4


def test_own_notes_outrank_what_is_expected(years: Book) -> None:
    """The same two cups went beige: so it is said of a plan that is made alike, before anything else."""
    for name in ("porch-layers", "porch-rough"):
        text = told(asked(years, "part white", "can I leave cream-top white", plan(years, name)))
        assert "white? Hardly: ivory in the cup cream-top is expected and no rule is against it" in text
        assert "in your own PR-1 (porch-rough) cream-top was beige by week 6" in text
        assert "PR-1: cream-top cream at the cut, beige by week 6" in text
        assert "No rule has anything against it" not in text
    edge = told(asked(years, "why: brown creeps into the white", "will it bleed", plan(years, "porch-rough")))
    assert "Yes: it did in your own PR-1 (cream-top)" in edge
    gone = told(asked(years, "why: the scent is gone", "is it dead", plan(years, "porch-rough")))
    assert "Gone, most likely: 12 weeks old" in gone


def test_no_vanillin_is_no_ivory(years: Book) -> None:
    """Of an oil that nobody has seen in white it is not said that it leaves it white."""
    for question in ("no vanillin", "citrus lasts", "browns"):
        text = told(asked(years, question, "Blood Orange 5x?"))
        assert "leaves white soap white" not in text
    assert "Not yet: nobody here has seen" in told(asked(years, "no vanillin", "Neroli Dream?"))


def test_another_mould_is_worked_out(years: Book) -> None:
    """24 in in place of 10 is 2.4 times the oils; no figure of the old mould stands there."""
    text = "make it in a 24 inch mold instead of 10"
    result = asked(years, "why: a bigger mould", text, plan(years, "porch-layers"))
    assert result.resized is not None
    assert result.resized.times == pytest.approx(2.4)
    was = asked(years, "mould volume", "how much for it", plan(years, "porch-layers"))
    now = asked(years, "mould volume", text, plan(years, "porch-layers"))
    assert isinstance(was.found, CheckResult)
    assert isinstance(now.found, CheckResult)
    oils = [next(f.low for f in each.working if f.measure == "oils mass") for each in (was.found, now.found)]
    assert isinstance(oils[0], float)
    assert oils[1] == pytest.approx(2.4 * oils[0])


def test_gel_has_one_verdict(made: Book, years: Book) -> None:
    """Wet lye under white is told of rivers; yes and no never stand on one screen."""
    text = told(asked(years, "gel", "oven or fridge", plan(years, "wet-swirl")))
    assert "gel? No, keep it cool: " in text
    assert "rivers) in snow" in text
    for book in (made, years):
        for file in plans_of(book):
            text = told(asked(book, "gel", "should I gel", file))
            assert not ("Yes, all through" in text and "let it cool" in text), text


def test_a_scent_that_seizes_is_no_matter_of_water(years: Book) -> None:
    """Neither water nor warmth saves it; the strength that was asked of gets a yes or a no."""
    for question in ("water", "temperature"):
        assert "saves Lilac Lane" in told(asked(years, question, "what?", plan(years, "four-swirl")))
    result = asked(years, "water", "is 33 percent lye too strong", plan(years, "dry-swirl"))
    assert [each.lye for each in result.water if each.asked] == [0.33]
    assert re.search(r"design\? (?:No, 33 %|Yes: at 33 %|It is not the lye: at 33 %)", told(result))


def test_superfat_of_the_usual_lye_is_kept_at_other_strengths(years: Book) -> None:
    """A plan that takes its lye from the usual ways is worked out at other strengths too."""
    assert len(asked(years, "water", "how much", plan(years, "porch-layers")).water) >= 3


def test_a_pairing_says_stops_only_of_what_was_asked(made: Book) -> None:
    """Every stop of a pairing asked at a named load is told, whatever the question was."""
    for name in list(made.files.scents)[:1]:
        result = asked(made, "browns", f"{name} at 8 %")
        assert isinstance(result.found, PairResult)
        broken = {f.rule for f in result.found.check.findings if f.level == "stop" and f.status == "broken"}
        assert ("Stop: " in told(result)) == bool(broken), told(result)
