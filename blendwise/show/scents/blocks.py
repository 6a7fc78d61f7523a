"""The shelf in blocks: the list, what a search met, one oil whole, several side by side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from blendwise.answers.scents.result import CompareResult, CompareRow, ScentLine, ScentResult, ScentsResult
from blendwise.answers.scents.statements import Statement
from blendwise.beliefs.changes import FIELD, Change
from blendwise.quantity import Units, format_amount
from blendwise.quantity.amount import Dimension
from blendwise.science.colour_words import NAMED_HEXES
from blendwise.show import words
from blendwise.show.blocks import Block, Note, Rows, Section, Title
from blendwise.show.numbers import counted, grams
from blendwise.show.review.words import count
from blendwise.show.text import joined, quoted, sentence

HEADER = ("oil", "note", "browns to", "quickens", "six weeks", "on hand", "whose word")
SHORT = ("oil", "note", "browns", "quickens", "6 weeks", "left", "told by")
UNKNOWN, ASKED = "not known", "?"
LONGEST = 25
"""Letters of a name in the list; the whole of it stands in `show` and where the window is narrow."""
EMPTY = (
    "The shelf is empty. Write your first oil into scents.yaml, or take a spreadsheet in with "
    "`blendwise scents import FILE`."
)
NONE_FOUND = "No oil of the shelf fits that."
NOT_KNOWN = "A question mark is not known, never none; own looks stand before the catalogue's word."
WHOLE = "An oil is shown whole by `blendwise scents show NAME`."
UNKNOWN_IS_OPEN = "What is not known is never taken for none: the rules that need it stay open."
SAID, LEARNED, SEEN, PLANS, LOOKS, UNREAD = (
    "What the catalogue says",
    "What your looks say, which counts",
    "What was seen",
    "Plans that use it",
    "Looks at batches that held it",
    "Set aside, because it cannot be read",
)
TOLD_BY = {**words.EVIDENCE, "": ""}
EMBED_ONLY = "in an embed"


def list_blocks(result: ScentsResult) -> list[Block]:
    """The oils in a line each, or why there are none."""
    return [Title(_asked(result), _verdict(result)), *_lines(result), Note(f"{NOT_KNOWN} {WHOLE}")]


def _asked(result: ScentsResult) -> str:
    return (
        f"The shelf, searched for {joined([quoted(word) for word in result.words])}"
        if result.words
        else "The shelf"
    )


def _verdict(result: ScentsResult) -> str:
    if not result.on_the_shelf:
        return EMPTY
    near = [f"{quoted(typed)} is read as {quoted(near)}" for typed, near in result.read_as.items()]
    found = sentence(f"{counted(len(result.scents), 'oil')} of {result.on_the_shelf}".capitalize())
    return " ".join([*(sentence(each) for each in near), found if result.scents else NONE_FOUND])


def _lines(result: ScentsResult) -> Iterator[Block]:
    if result.scents:
        yield Rows(
            SHORT,
            tuple(_short(line, result.units) for line in result.scents),
            tuple(_line(line, result.units) for line in result.scents),
            tuple(NAMED_HEXES.get(line.browns_to or "", "") for line in result.scents),
            close=not any(line.found_in for line in result.scents),
        )


def _short(line: ScentLine, units: Units) -> tuple[str, ...]:
    name, *cells = _cells(line, units)
    clipped = name if len(name) <= LONGEST else f"{name[: LONGEST - 1]}…"
    return (clipped, *(ASKED if cell == UNKNOWN else cell for cell in cells))


def _cells(line: ScentLine, units: Units) -> tuple[str, ...]:
    on_hand = UNKNOWN if line.on_hand is None else grams(line.on_hand, units)
    told = [line.scent_note, line.browns_to, line.acceleration, line.after_six_weeks, on_hand, line.evidence]
    return (line.name, *(word or UNKNOWN for word in told))


def _line(line: ScentLine, units: Units) -> str:
    name, *cells = _cells(line, units)
    facts = ", ".join(f"{what} {cell}" for what, cell in zip(HEADER[1:], cells, strict=True))
    met = f"; found in {joined(line.found_in)}" if line.found_in else ""
    return f"{name}: {facts}{met}"


def scent_blocks(result: ScentResult) -> list[Block]:
    """One oil whole."""
    place = f" ({words.place(result.where)})" if result.where else ""
    missing = (
        f"Not known: {joined(result.not_known)}." if result.not_known else "Every behaviour is written down."
    )
    return [
        Title(f"{result.name}{place}", missing),
        Section(SAID),
        _statements(result),
        *_section(LEARNED, [_learnt(each) for each in result.learned]),
        *_section(SEEN, [f"{seen.on}: {seen.what}" for seen in result.seen]),
        *_section(PLANS, [f"{use.plan} ({use.file}), {_share(use.share)}" for use in result.plans]),
        *_section(LOOKS, [_look(use.note, use.look, use.portions) for use in result.notes]),
        *_section(UNREAD, list(result.unread)),
        Note(UNKNOWN_IS_OPEN),
        Note(words.CAUTIONS),
    ]


def _section(heading: str, lines: list[str]) -> Iterator[Block]:
    if lines:
        yield Section(heading)
        yield Rows((), (), tuple(lines))


def _share(share: float | None) -> str:
    return EMBED_ONLY if share is None else f"{share * 100:.3g} % of its blend"


def _learnt(each: Change) -> str:
    """A trait as own looks have it, and the catalogue's word where that is another."""
    was = f"; the catalogue says {each.was or 'nothing'}" if each.differs else ", as the catalogue says"
    return f"{FIELD[each.trait]}: {each.now}{was}; {count(each)}"


def _look(note: str, look: str, portions: Mapping[str, str]) -> str:
    told = "; ".join(f"{portion}: {text}" for portion, text in portions.items())
    return f"{note}, {look}" + (f": {told}" if told else "")


def _statements(result: ScentResult) -> Rows:
    told = [(one.fact, value(one, result.units), told_by(one)) for one in result.statements]
    return Rows(
        ("fact", "says", "whose word"),
        tuple(told),
        tuple(f"{fact}: {says}; told by {whom}" for fact, says, whom in told),
    )


def value(one: Statement, units: Units) -> str:
    """The fact in the book's units: with its dose, and what it was held against."""
    shown = one.text
    if one.amount is not None and one.amount.dimension in (Dimension.MASS, Dimension.TEMPERATURE):
        shown = format_amount(one.amount, units)
    dose = f" at {format_amount(one.dose, units)}" if one.dose else ""
    return f"{shown}{dose}" + (f", {one.more}" if one.more else "")


def told_by(one: Statement) -> str:
    """Whose word it is and the line where it stands."""
    word = TOLD_BY.get(one.evidence, one.evidence) or "nobody named"
    return f"{word}, scents.yaml:{one.line}" if one.line else word


def compare_blocks(result: CompareResult) -> list[Block]:
    """Oils side by side; first what tells them apart."""
    apart = [row for row in result.facts if row.differs]
    alike = [row for row in result.facts if not row.differs]
    verdict = f"They differ in {counted(len(apart), 'fact')} and agree in {counted(len(alike), 'fact')}."
    return [
        Title(joined([quoted(name) for name in result.scents]), verdict),
        *_table("What tells them apart", apart, result),
        *_table("What they share", alike, result),
        Note(UNKNOWN_IS_OPEN),
    ]


def _table(heading: str, rows: list[CompareRow], result: CompareResult) -> Iterator[Block]:
    if not rows:
        return
    cells = [[_cell(cell, result.units) for cell in row.scents.values()] for row in rows]
    yield Section(heading)
    yield Rows(
        ("", *result.scents),
        tuple((row.fact, *told) for row, told in zip(rows, cells, strict=True)),
        tuple(
            f"{row.fact}: "
            + "; ".join(f"{name} is {text}" for name, text in zip(result.scents, told, strict=True))
            for row, told in zip(rows, cells, strict=True)
        ),
    )


def _cell(one: Statement | None, units: Units) -> str:
    if one is None:
        return UNKNOWN
    told = f" ({one.evidence})" if one.evidence else ""
    return f"{value(one, units)}{told}".replace("; ", ", ")
