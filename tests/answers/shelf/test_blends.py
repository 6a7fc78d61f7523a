"""Many blends at once say what the same judge says of one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blendwise.answers.pair.compute import pair
from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.plan import situation
from blendwise.answers.pair.pours import findings_in, pour_rules, poured, without_pours
from blendwise.answers.pair.question import Question, ask
from blendwise.answers.pair.region import region
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blend_judge import Bench
from blendwise.answers.shelf.blends import GRAINS, Blends, NotForManyError
from blendwise.api import Book
from blendwise.facts.columns import Column
from blendwise.facts.registry import REGISTRY
from blendwise.judge.conditions.logic import BROKEN, TIGHT, UNDECIDED
from blendwise.judge.findings.finding import LEVELS, Finding
from tests.answers.pair.conftest import TODAY

BENCHES: dict[str, Bench] = {}


def bench(book: Book, pour: str = "", purpose: str = "") -> Bench:
    """The whole shelf before the rules, kept between examples."""
    key = f"{pour}|{purpose}"
    if key not in BENCHES:
        asked = ask(book.files, ["lime"], pour=pour, purpose=purpose, today=TODAY)
        BENCHES[key] = Bench(Shelf(asked), book.rulebook.rules)
    return BENCHES[key]


def blend(made: Bench, names: list[str], shares: list[float]) -> Blends:
    """One blend as a table of one."""
    return Blends(made.shelf, np.array([[made.shelf.place[n] for n in names]]), np.array([shares]))


def alone(made: Bench, names: list[str], shares: list[float]) -> Question:
    """The same blend as a question by itself."""
    return replace(made.shelf.question, oils=tuple(names), shares=tuple(shares))


def by_rule(findings: list[Finding]) -> dict[str, str]:
    """Rule → its worst status, hints left out."""
    found: dict[str, str] = {}
    for finding in findings:
        if finding.level != "hint" and found.get(finding.rule) != "broken":
            found[finding.rule] = finding.status
    return found


def as_judged(book: Book, made: Bench, asked: Question) -> dict[str, str]:
    """What the judge says of a blend by itself, the pour's own rules with it."""
    found = Hearing(asked, book.rulebook.rules).of(situation(asked))
    if asked.pour is not None:
        style = book.files.pours[asked.pour]
        found += findings_in(poured(asked, style), pour_rules(book.rulebook.rules))
    return by_rule(found)


def as_table(made: Bench, held: Blends) -> dict[str, str]:
    """What the table of many says of its only blend."""
    words = {TIGHT: "tight", UNDECIDED: "undecided", BROKEN: "broken"}
    return {a.rule.name: words[int(a.outcomes[0])] for a in made.asked(held) if int(a.outcomes[0]) in words}


oils = st.lists(st.sampled_from(range(40)), min_size=1, max_size=4, unique=True)


@settings(max_examples=60, deadline=None)
@given(oils, st.lists(st.integers(1, 9), min_size=4, max_size=4), st.sampled_from(["sale", "home"]))
def test_a_table_of_blends_says_what_the_judge_says_of_each(
    book: Book, places: list[int], parts: list[int], purpose: str
) -> None:
    """For any oils at any ratio, every rule comes out the same one by one and many at once."""
    made = bench(book, purpose=purpose)
    names = [made.shelf.names[place] for place in places]
    shares = [part / sum(parts[: len(names)]) for part in parts[: len(names)]]
    assert as_judged(book, made, alone(made, names, shares)) == as_table(made, blend(made, names, shares))


@settings(max_examples=30, deadline=None)
@given(oils, st.sampled_from(["column", "flat layers", "piped top", "in-pot swirl", "single colour"]))
def test_with_a_pour_the_clock_is_the_same(book: Book, places: list[int], pour: str) -> None:
    """The slot that leaves least time decides, as it does among the portions of the pour."""
    made = bench(book, pour)
    names = [made.shelf.names[place] for place in places]
    shares = [1 / len(names)] * len(names)
    single = as_judged(book, made, alone(made, names, shares))
    several = as_table(made, blend(made, names, shares))
    assert {r for r in single if r not in made.not_asked} - LAYERED == set(several) - LAYERED


LAYERED = {"layer-sinks-into-the-one-below"}
"""Speaks of what lies below a layer, which a bar of one portion does not have."""


@settings(max_examples=40, deadline=None)
@given(oils, st.lists(st.integers(1, 9), min_size=4, max_size=4))
def test_the_greatest_load_of_many_is_that_of_one(book: Book, places: list[int], parts: list[int]) -> None:
    """Both closed forms give the same load and the same rule."""
    made = bench(book)
    names = [made.shelf.names[place] for place in places]
    shares = [part / sum(parts[: len(names)]) for part in parts[: len(names)]]
    most, stop = made.most(blend(made, names, shares))
    s = situation(alone(made, names, shares))
    cap = region(s, without_pours(book.rulebook.rules), np.array([shares]))[0]
    assert pytest.approx(np.inf if cap.most is None else cap.most, abs=1e-12) == float(most[0])
    if cap.most:
        ties = {held.rule for held in cap.stops if held.load == pytest.approx(cap.most)}
        assert made.rules[int(stop[0])].name in ties


def test_where_a_portion_lies_is_left_to_a_pair_by_itself(book: Book) -> None:
    """In a pour the portions lie apart: what tells them apart is not answered from one of them."""
    held = blend(bench(book, "flat layers"), ["lime", "cedar"], [0.5, 0.5])
    for name in ("place", "touches"):
        with pytest.raises(NotForManyError):
            held.home(name)


def test_every_rule_of_the_starter_can_be_asked_of_many(book: Book) -> None:
    """No rule of the shipped rulebook is left to pairs by themselves."""
    made = bench(book)
    made.judge(blend(made, ["lime", "cedar"], [0.5, 0.5]))
    assert set() == made.not_asked


def test_what_the_batter_breaks_by_itself_is_held_against_no_oil(book: Book) -> None:
    """A recipe that a rule speaks against does not make its scents look bad, alone or among many."""
    lye = book.files.usual.lye
    assert lye is not None
    assert lye.superfat is not None
    harsh = lye.model_copy(update={"superfat": replace(lye.superfat, low=0.01, high=0.01)})
    files = replace(book.files, usual=book.files.usual.model_copy(update={"lye": harsh}))
    asked = ask(files, ["sea-glass", "cedar"], today=TODAY)
    of_batter = {finding.rule for finding in Hearing(asked, book.rulebook.rules).of_batter}
    assert "thin-margin-of-lye" in of_batter
    held = by_rule(list(pair(asked, book.rulebook).check.findings))
    # The oils' own: no supplier's statement, and an ivory that within its doubt is a cream.
    assert {"law-not-answered-for-sale": "undecided", "browning-shows-in-light": "tight"} == held
    made = Bench(Shelf(asked, tuple(files.scents)), book.rulebook.rules)
    assert held == as_table(made, blend(made, ["sea-glass", "cedar"], [0.5, 0.5]))


@settings(max_examples=25, deadline=None)
@given(oils, st.lists(st.integers(1, 9), min_size=4, max_size=4))
def test_every_measure_is_the_one_of_the_blend_by_itself(
    book: Book, places: list[int], parts: list[int]
) -> None:
    """Whatever word a rule may use, its value among many is its value alone, to the last digit or nearly."""
    made = bench(book)
    names = [made.shelf.names[place] for place in places]
    shares = [part / sum(parts[: len(names)]) for part in parts[: len(names)]]
    many, single = blend(made, names, shares), situation(alone(made, names, shares))
    for name in measures_of_many(many):
        told, asked = many.home(name), single.home(name)
        if isinstance(told, Column) and isinstance(asked, Column):
            where = np.ones(len(asked), dtype=bool) if asked.asked is None else asked.asked
            assert len(asked) == len(told), name
            for one, other in ((told.low, asked.low), (told.high, asked.high)):
                assert one[where] == pytest.approx(other[where], rel=1e-9, abs=1e-12), name


def measures_of_many(blends: Blends) -> list[str]:
    """The measures that a table of many blends can give, lower grains than the portion's edges left out."""
    known = []
    for name, measure in REGISTRY.items():
        if measure.word.grain in GRAINS:
            try:
                blends.home(name)
            except NotForManyError:
                continue
            known.append(name)
    read = {name for name, measure in REGISTRY.items() if measure.reads}
    assert {"share in bar", "short by", "browning load", "limit used", "thickening", *read} <= set(known)
    return known


def test_the_heaviest_rule_is_named(book: Book) -> None:
    """A stop outweighs a conflict, whatever the order of the rulebook."""
    made = bench(book)
    verdict = made.judge(blend(made, ["hearth-smoke", "tonka-milk"], [0.5, 0.5]))
    assert LEVELS.index("stop") == verdict.broken[0]
    assert "stop" == made.rules[int(verdict.rule[0])].level
