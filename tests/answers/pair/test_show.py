"""A pairing in words: sentences first, a chart on the terminal, numbers with their rules."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.answer import Range
from blendwise.answers.pair.result import Cap, Help, PairResult, Stop, Words
from blendwise.api import Book
from blendwise.records.as_of import AsOf
from blendwise.show.blocks import Rows
from blendwise.show.pair import advice
from blendwise.show.pair import words as say
from blendwise.show.pair.blocks import BAR_LENGTH, DRAWN, pair_blocks
from blendwise.show.plain import plain
from blendwise.show.terminal import terminal
from tests.answers.pair.conftest import TODAY

BROWNS = Stop("browning-shows-in-light", "bar", "conflict", 0.002, browning=True)
ALONE = {"tonka-milk": 1.0}
TOO_MUCH = Stop("far-too-much-scent", "bar", "conflict", 0.08)


@pytest.fixture(scope="module")
def result(book: Book) -> PairResult:
    """Two oils of which one browns."""
    return book.pair("tonka-milk", "lime", on=AsOf(TODAY, as_written=True))


def text_of(result: PairResult, columns: int = 80) -> str:
    """The plain answer with its lines joined."""
    return " ".join(plain(pair_blocks(result), columns).split())


@pytest.mark.parametrize("columns", [60, 80, 100])
def test_plain_text_keeps_to_its_columns_and_draws_nothing(result: PairResult, columns: int) -> None:
    """No line runs over, and what a screen reader gets is sentences, without the chart's marks."""
    text = plain(pair_blocks(result), columns)
    assert max(map(len, text.splitlines())) <= columns
    assert not re.search("[▪·★☆●█\u2500-\u257f]", text)


def test_sentences_stand_before_the_chart(result: PairResult) -> None:
    """Side by side, together, the rules, and only then figures and lists."""
    text = text_of(result)
    headings = (
        say.SIDES,
        say.TOGETHER,
        say.RULES,
        advice.REGION,
        advice.POURS,
        advice.COLOURS,
        advice.HELPS,
        "Assumed",
    )
    places = [text.index(f"{heading}") for heading in headings]
    assert sorted(places) == places


def test_no_scores_are_given(result: PairResult) -> None:
    """Reasons in words: nothing out of ten, no stars, no per cent of fit."""
    assert not re.search(r"\bscore|\bstars?\b|/ ?10\b|\bmatch\b", text_of(result))


def test_the_terminal_draws_a_bar_a_ratio(result: PairResult, capsys: pytest.CaptureFixture[str]) -> None:
    """The longest bar is the greatest load; the same figures stand beside it as in the sentences."""
    terminal(pair_blocks(result), 100)
    shown = capsys.readouterr().out
    bars = {
        line.split("  ")[0]: line.count(DRAWN) for line in shown.splitlines() if re.match(r"\d+ : \d+", line)
    }
    assert len(result.region) == len(bars)
    assert BAR_LENGTH == bars["0 : 100"] == max(bars.values())
    assert list(bars.values()) == sorted(bars.values())
    assert max(map(len, shown.splitlines())) <= 100


def test_the_chart_holds_each_ratio_in_order(result: PairResult) -> None:
    """Most of the first oil at the top, every ratio once."""
    table = next(
        block for block in pair_blocks(result) if isinstance(block, Rows) and block.header[:1] == ("of 100",)
    )
    first = [int(row[0].split(" : ")[0]) for row in table.rows]
    assert sorted(first, reverse=True) == first
    assert len(set(first)) == len(first) == len(table.lines)


@pytest.mark.parametrize(
    ("cap", "words"),
    [
        (Cap(ALONE, 0.08, 0.0, (TOO_MUCH,), ()), "up to 8 % (far-too-much-scent)"),
        (
            Cap(ALONE, 0.002, 0.0, (BROWNS, TOO_MUCH), ()),
            "up to 0.2 % (browning-shows-in-light); where it may brown, up to 8 % (far-too-much-scent)",
        ),
        (Cap(ALONE, None, 0.0, (), ()), "no rule stops it"),
        (Cap(ALONE, 0.0, 0.0, (replace(TOO_MUCH, load=0.0),), ()), "not at all (far-too-much-scent)"),
        (
            Cap(ALONE, 0.0, 0.0, (replace(TOO_MUCH, load=0.0, waits=True),), ()),
            "no load is sure (far-too-much-scent waits on what is not known)",
        ),
        (
            Cap(ALONE, 0.002, 0.0, (BROWNS,), ()),
            "up to 0.2 % (browning-shows-in-light); where it may brown, any load",
        ),
    ],
)
def test_a_ratios_bound_in_words(cap: Cap, words: str) -> None:
    """How much, which rule, how much where it may brown; none, not at all and not known are told apart."""
    assert words == advice.cap_words(cap)


@given(st.lists(st.integers(1, 6), min_size=2, max_size=4))
def test_ratios_are_shown_as_they_are_typed(parts: list[int]) -> None:
    """Small whole parts come back as whole parts, in lowest terms."""
    shown = say.ratio([part / sum(parts) for part in parts])
    back = [int(part) for part in shown.split(":")]
    assert pytest.approx([part / sum(parts) for part in parts]) == [part / sum(back) for part in back]
    assert sum(back) <= sum(parts)


def test_odd_ratios_are_shown_in_per_cent() -> None:
    """What is no ratio of small numbers is not forced into one."""
    assert "31.4 % : 68.6 %" == say.ratio([0.31415, 0.68585])


def test_days_are_read_as_people_write_them() -> None:
    """Day, month, year, no leading nought."""
    assert "1 January 2027" == say.day(date(2027, 1, 1))


@pytest.mark.parametrize(
    ("ends", "words"),
    [
        (Words("tan", "tan"), "tan"),
        (Words("ivory", "tan"), "ivory to tan"),
        (Range(None, None), "not known"),
        (Range(2.0, None), "2 or more"),
        (Range(None, 3.0), "anything to 3"),
    ],
)
def test_two_ends_in_words(ends: Words | Range, words: str) -> None:
    """Known, between, open above, open below, not known."""
    assert words == say.from_to(ends)


def test_every_kind_of_help_has_its_sentence(book: Book) -> None:
    """Whatever is offered along the shelf is told in a sentence, with nothing of its making left in it."""
    kinds: dict[str, str] = {}
    blends = [(oil, "sea-glass") for oil in ("orange-veil", "burnt-sugar", "market-find", "clove-leaf")]
    for oils in [*blends, ("lime",)]:
        for each in book.pair(*oils, load="8 %", on=AsOf(TODAY), purpose="home").helps:
            kinds[each.kind] = advice.help_line(each)
    expected = {
        "split",
        "colours that stay",
        "a little of",
        "pours with time",
        "cup",
    }
    assert expected <= set(kinds)
    for line in kinds.values():
        assert not re.search(r"[{}]|None|dark oils|: $", line)


def test_an_unheard_of_help_is_still_told() -> None:
    """A kind that the words do not know is shown as it is, not lost."""
    assert "new kind: of 1" == advice.help_line(Help("new kind", {"of": 1}))


def test_the_cautions_stand_below_every_answer(result: PairResult) -> None:
    """Lye, limits, local rules, and what the advice is not."""
    for part in ("Lye and raw batter burn", "Local rules differ", "not legal or safety advice"):
        assert part in text_of(result)


def test_ounces_and_ounces_per_pound_where_the_book_wants_them(book: Book) -> None:
    """The book's units serve for loads and masses alike; 4 % is 0.64 oz ppo."""
    usual = book.files.usual
    units = usual.units.model_copy(update={"mass": "oz", "rates": "ppo"})
    other = Book(book.folder)
    other.files = replace(book.files, usual=usual.model_copy(update={"units": units}))
    text = text_of(other.pair("tonka-milk", "lime", on=AsOf(TODAY)))
    assert "together 0.64 oz ppo of batch oils" in text
    assert "6.349 oz on hand" in text


def test_verdicts_in_one_sentence(book: Book) -> None:
    """They get on; with care; not in white; not as asked; cannot be said."""
    for oils, said, verdict in (
        (("lavender", "cedar"), {}, "They get on: no stop, no conflict, no caution."),
        (("lime",), {}, "It gets on with care: one caution, nothing worse."),
        (("tonka-milk",), {}, "Not in white: it becomes brown. Where it may brown, nothing worse"),
        (("clove-leaf",), {"colour": "charcoal"}, "Not as asked: one stop against it."),
    ):
        answer = book.pair(*oils, on=AsOf(TODAY, as_written=True), **said)
        assert say.verdict(answer).startswith(verdict)
