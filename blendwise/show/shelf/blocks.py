"""The shelf beside one oil in blocks: who goes, who does not, and the reasons."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.shelf.result import ShelfResult, ShelfRow
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import Units
from blendwise.show import words
from blendwise.show.assumed import all_said
from blendwise.show.blocks import Block, Note, Rows, Section, Title
from blendwise.show.check.blocks import assumed_blocks
from blendwise.show.numbers import counted
from blendwise.show.pair import words as say
from blendwise.show.text import joined, sentence

HEADINGS = {
    "goes": "Go well: nothing in the rulebook speaks against them",
    "with care": "Go with care",
    "where it may brown": "Go where it may brown, not in this bar",
    "not known": "Cannot be told",
    "does not go": "Do not go",
}
OWN, LEFT_OUT = "Of {oil} itself, held against no other", "Left out"


def shelf_blocks(result: ShelfResult) -> list[Block]:
    """The willing first; within each kind those noted as good before others."""
    return [
        Title(title(result), verdict(result)),
        *_own(result),
        *(block for word in HEADINGS for block in _kind(result, word)),
        *_left_out(result),
        *assumed_blocks(all_said(result.said, result.units)),
        Note(words.CAUTIONS),
    ]


def title(result: ShelfResult) -> str:
    """What was asked: the oil, ratio, load, colour, pour."""
    load = say.rate(result.load, result.units)
    mine = f"{result.oil} beside the shelf, {say.ratio(result.shares)}, together {load}"
    pour = f", for a {result.pour} pour" if result.pour else ""
    planned = f" that may become {result.planned}" if result.planned else ""
    return f"{mine}, in {result.colour or 'white'}{planned}{pour}"


def verdict(result: ShelfResult) -> str:
    """How many go, and how."""
    number = len(result.rows)
    if not number:
        return "No oil of the shelf is left to look at."
    well = sum(row.word == "goes" for row in result.rows)
    care = sum(row.word == "with care" for row in result.rows)
    brown = sum(row.word == "where it may brown" for row in result.rows)
    return sentence(
        f"Of {counted(number, 'oil')}: {_few(well)} go well, {_few(care)} with care, "
        f"{_few(brown)} where it may brown, {_few(number - well - care - brown)} not or not known"
    )


def _few(number: int) -> str:
    return counted(number, "", " ").strip() if number else "none"


def _own(result: ShelfResult) -> Iterator[Block]:
    if result.own:
        yield Section(OWN.format(oil=result.oil))
        yield Rows((), (), tuple(reason(each, result.units) for each in result.own))


def _kind(result: ShelfResult, word: str) -> Iterator[Block]:
    rows = [row for row in result.rows if row.word == word]
    if rows:
        yield Section(HEADINGS[word])
        yield Rows((), (), tuple(line(row, result.planned, result.units) for row in rows))


def line(row: ShelfRow, planned: str | None, units: Units) -> str:
    """One oil in a sentence: the maker's own word, what it turns to, how strong, and why."""
    parts = [
        f"you noted it as {row.noted} with it" if row.noted != "unsaid" else "",
        say.bands(row.bands) if row.bands.high is None or row.bands.high != planned else "",
        f"{say.from_to(row.minutes, 'minutes')} fluid from scenting" if row.minutes.high is not None else "",
        _most(row, units),
        *(reason(each, units) for each in row.reasons),
        f"helps with {joined(row.mends)}" if row.mends else "",
    ]
    note = f" ({row.note} note)" if row.note else ""
    return f"{row.name}{note}: {'; '.join(part for part in parts if part)}"


def _most(row: ShelfRow, units: Units) -> str:
    if row.most is None:
        return ""
    if row.most <= 0:
        return f"no load at all: {row.stopped_by}"
    return f"up to {say.of_oils(row.most, units)}, where {row.stopped_by} stops it"


def reason(held: Finding, units: Units) -> str:
    """What a rule finds, with its numbers, level and name; or what it waits for."""
    if held.status == "undecided":
        gaps = joined(list(dict.fromkeys(f"{gap.subject} {gap.fact}" for gap in held.missing)))
        return f"{gaps or held.measure} not known ({held.level}, {held.rule})"
    told = words.headline(held, units)
    short = told.partition(": ")[2] if held.looks_at in ("batch", "portion") else told
    by = f", told by {words.EVIDENCE.get(held.evidence, held.evidence)}" if held.evidence else ""
    return f"{short} ({held.level}, {held.rule}{by})"


def _left_out(result: ShelfResult) -> Iterator[Block]:
    if result.left_out:
        told = joined([f"{number} by {name}" for name, number in result.left_out.items()])
        yield Section(LEFT_OUT)
        yield Rows((), (), (told,))
