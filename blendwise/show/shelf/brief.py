"""A shelf of any size on two screens: who goes well and how strong, the others by what is against them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.shelf.result import ShelfResult, ShelfRow
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.quantity import Units
from blendwise.show.blocks import Block, Line, Title
from blendwise.show.check.brief import MORE, SAFETY
from blendwise.show.check.says import says
from blendwise.show.numbers import counted
from blendwise.show.pair.words import of_oils
from blendwise.show.shelf.blocks import title, verdict
from blendwise.show.text import joined, quoted, sentence

WORDS: Final = {
    "goes": "Goes well",
    "with care": "With care",
    "where it may brown": "Where it may brown",
    "not known": "Cannot be told",
    "does not go": "Does not go",
}
GROUPS: Final = 5
"""Reasons of one kind that are told apart; the rest stands in one line."""
NAMES: Final = 12
"""Oils named in a line of one reason; the others are counted."""


def shelf_brief(result: ShelfResult) -> list[Block]:
    """The willing first, with how strong they may go; the others folded by the reason."""
    return [
        Title(f"{title(result)}; {MORE}", verdict(result)),
        *_own(result),
        *_well(result),
        *(line for word in WORDS if word != "goes" for line in _folded(result, word)),
        *_left_out(result),
        Line("", SAFETY),
    ]


def _own(result: ShelfResult) -> Iterator[Line]:
    """What the rules say of the asked oil alone."""
    for held in _by_rule(result.own)[:GROUPS]:
        yield Line(held[0].level, _reason(held, result.units))


def _well(result: ShelfResult) -> Iterator[Line]:
    named = [_name(row, result.units) for row in result.rows if row.word == "goes"]
    if named:
        yield Line(WORDS["goes"], joined(named))


def _name(row: ShelfRow, units: Units) -> str:
    """An oil with the most that may go in: "cedar (noted good, to 4.76 %)"."""
    noted = [f"noted {row.noted}"] if row.noted != "unsaid" else []
    most = [f"to {of_oils(row.most, units)}"] if row.most else []
    return f"{row.name} ({', '.join([*noted, *most])})" if noted or most else row.name


def _folded(result: ShelfResult, word: str) -> Iterator[Line]:
    """Oils of one word together by their heaviest reason, the commonest reason first."""
    groups: dict[tuple[str, str], list[ShelfRow]] = {}
    for row in result.rows:
        if row.word == word:
            held = _heaviest(row) if row.reasons else None
            groups.setdefault((held.rule, held.status) if held else ("", ""), []).append(row)
    ordered = sorted(groups.values(), key=lambda rows: -len(rows))
    for rows in ordered[:GROUPS]:
        yield Line(WORDS[word], f"{_names(rows)}{_because(rows, result.units)}")
    rest = [row for rows in ordered[GROUPS:] for row in rows]
    if rest:
        yield Line(WORDS[word], f"{_names(rest)}, each for a reason of its own")


def _names(rows: Sequence[ShelfRow]) -> str:
    more = [counted(len(rows) - NAMES, "more", "more")] if len(rows) > NAMES else []
    return joined([*(row.name for row in rows[:NAMES]), *more])


def _heaviest(row: ShelfRow) -> Finding:
    return max(row.reasons, key=lambda held: LEVELS.index(held.level))


def _because(rows: Sequence[ShelfRow], units: Units) -> str:
    if not rows[0].reasons:
        return ""
    return f": {_reason([_heaviest(row) for row in rows], units)}"


def _reason(findings: Sequence[Finding], units: Units) -> str:
    """One rule in the maker's words; what it waits for where it cannot be told."""
    waiting = [each for each in findings if each.status == "undecided"]
    if waiting and len(waiting) == len(findings):
        facts = dict.fromkeys(quoted(gap.fact) for each in waiting for gap in each.missing)
        return f"not known: {joined(list(facts))}" if facts else "what is known does not settle it"
    return says([each for each in findings if each not in waiting], units)


def _by_rule(findings: Sequence[Finding]) -> list[list[Finding]]:
    together: dict[str, list[Finding]] = {}
    for each in findings:
        together.setdefault(each.rule, []).append(each)
    return list(together.values())


def _left_out(result: ShelfResult) -> Iterator[Line]:
    if result.left_out:
        told = joined([f"{number} by {name}" for name, number in result.left_out.items()])
        yield Line("", sentence(f"Left out: {told}"))
