"""What would help: every change that is offered is made, judged again, and found to help."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from blendwise.answers.check.compute import check_situation
from blendwise.answers.cup.sizes import CUP_BATTER
from blendwise.answers.heaviest import CAUTION, heaviest
from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.help import A_LITTLE, darkest
from blendwise.answers.pair.levers import written_out
from blendwise.answers.pair.plan import Cup, situation
from blendwise.answers.pair.question import ask
from blendwise.answers.pair.result import Help, PairResult
from blendwise.api import Book
from blendwise.facts.situation.worked_out import work_out
from blendwise.judge.findings.finding import Finding
from blendwise.records.as_of import AsOf
from blendwise.records.book import plan_of
from blendwise.records.reading.document import text_document
from tests.answers.pair.conftest import TODAY


def pair(book: Book, *oils: str, **said: str) -> PairResult:
    """An answer by the catalogue as it is written."""
    return book.pair(*oils, on=AsOf(TODAY, as_written=True), **said)


def helps(result: PairResult, kind: str) -> list[Help]:
    """What is offered of a kind."""
    return [each for each in result.helps if each.kind == kind]


def judged(
    book: Book, oils: list[str], shares: tuple[float, ...], cups: list[Cup] | None = None
) -> list[Finding]:
    """What the judge says of a blend, or of cups of it."""
    asked = replace(ask(book.files, oils, today=TODAY), shares=shares)
    return Hearing(asked, book.rulebook.rules).of(situation(asked, cups or ()))


@pytest.mark.parametrize(
    ("oils", "load", "ways"),
    [
        (("orange-veil", "sea-glass"), "8 %", {"band"}),
        (("tonka-milk", "lime"), "4 %", {"band"}),
        (("clove-leaf", "lime"), "2 %", {"less of one", "band"}),
        (("clove-leaf", "lime"), "4 %", {"other oil"}),  # to cut it so far is as good as leaving it out
        (("labdanum",), "4 %", {"less of all", "band"}),
    ],
)
def test_what_is_broken_is_told_its_lever(
    book: Book, oils: tuple[str, ...], load: str, ways: set[str]
) -> None:
    """By the engine of `check`: the plan that a lever gives no longer holds what it mends."""
    result = pair(book, *oils, load=load)
    assert ways <= {each.way for each in result.check.levers}
    for lever in (each for each in result.check.levers if each.plan):
        plan = plan_of(text_document(lever.plan, Path("question.yaml")), book.files)
        left = check_situation(work_out(plan, book.files, TODAY), book.rulebook)
        there = {(each.rule, each.subject_text) for each in left.findings if each.status == "broken"}
        assert not there & {(each.rule, each.subject) for each in lever.mends}
        assert left.sound == lever.sound


def test_the_question_written_out_is_the_question(book: Book) -> None:
    """The plan whose levers are told holds the same grams as the bar that was judged."""
    for oils, said in (
        (("tonka-milk", "lime"), {"load": "8 %", "ratio": "1:3"}),
        (("lime",), {"colour": "charcoal"}),
    ):
        asked = ask(book.files, oils, today=TODAY, **said)
        assert pytest.approx(situation(asked).x) == written_out(asked).x


def test_the_split_keeps_every_gram_and_is_sound(book: Book) -> None:
    """Dark and light together hold what the whole bar held, at the same local dose, and the judge agrees."""
    result = pair(book, "tonka-milk", "lime", ratio="1:3")
    details = helps(result, "split")[0].details
    assert pytest.approx(0.25) == details["dark share"]
    assert pytest.approx(sum(side.grams for side in result.sides)) == float(details["dark grams"]) + float(
        details["light grams"]
    )
    for side in ("dark", "light"):
        assert pytest.approx(result.load) == float(details[f"{side} grams"]) / float(
            details[f"{side} oils mass"]
        )
    cups = [
        Cup("light", share=0.75, scents={"lime": 0.04}),
        Cup("dark", share=0.25, colour=str(details["dark colour"]), scents={"tonka-milk": 0.04}),
    ]
    left = judged(book, ["tonka-milk", "lime"], (0.25, 0.75), cups)
    assert ("yes" if heaviest(left) <= CAUTION else "no") == details["sound"] == "yes"


def test_a_browning_oil_alone_leaves_half_unscented(book: Book) -> None:
    """With nothing clean to put there, the white half goes without, and its own word is given."""
    details = helps(pair(book, "burnt-sugar"), "white unscented")[0].details
    assert 0 == details["light grams"]
    assert "yes" == details["sound"]
    assert "halo-beside-light" in str(details["halo"])


def test_the_darkest_is_stable_and_keeps_to_itself(book: Book) -> None:
    """No colour that bleeds or that lye changes is offered for the dark portion."""
    asked = ask(book.files, ["lime"], today=TODAY)
    name = darkest(asked)
    assert name is not None
    assert book.files.colourants[name].stable_in_lye
    assert book.files.colourants[name].bleeds is False
    unstable = {n: c.model_copy(update={"stable_in_lye": None}) for n, c in book.files.colourants.items()}
    assert darkest(replace(asked, book=replace(book.files, colourants=unstable))) is None


@pytest.mark.parametrize("oil", ["lime", "frankincense", "cut-stem", "linalool"])
def test_a_little_of_another_mends_the_rule(book: Book, oil: str) -> None:
    """With the share that is named, the rule that was broken holds."""
    details = helps(pair(book, oil), "a little of")[0].details
    assert "faded-and-unheld" == details["rule"]
    for name in str(details["names"]).split(", "):
        left = judged(book, [oil, name], (1 - A_LITTLE, A_LITTLE))
        assert "faded-and-unheld" not in {finding.rule for finding in left}
        assert heaviest(left) <= CAUTION


def test_pours_with_time_are_those_of_the_table(book: Book) -> None:
    """What is offered is what the answer's own table calls time enough."""
    result = pair(book, "lilac-lane", colour="charcoal", pour="column")
    fine = [fit.pour for fit in result.pours if fit.word == "time enough"]
    assert ", ".join(fine) == helps(result, "pours with time")[0].details["names"]
    assert "piped top" in fine


def test_a_cup_is_weighed_like_the_batch(book: Book) -> None:
    """100 g of batter hold their share of oils, and those the load; the reasons name what is not known."""
    result = pair(book, "white-tea-mist", "sea-glass", ratio="1:3")
    details = helps(result, "cup")[0].details
    asked = ask(book.files, ["white-tea-mist", "sea-glass"], ratio="1:3", today=TODAY)
    oils = CUP_BATTER / situation(asked).pot.batter_to_oils
    assert pytest.approx(0.04 * oils * 0.25) == details["grams of white-tea-mist"]
    assert pytest.approx(0.04 * oils * 0.75) == details["grams of sea-glass"]
    assert "white-tea-mist with sea-glass" == details["unmet"]


def test_no_cup_where_all_is_known(book: Book) -> None:
    """Two oils from own batches, noted as good together, without a gap: nothing to test."""
    assert [] == helps(pair(book, "sea-glass", "lavender"), "cup")
    assert "good" == pair(book, "sea-glass", "lavender").together.noted[0].word
