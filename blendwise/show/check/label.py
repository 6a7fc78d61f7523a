"""Names for the list of ingredients, in blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.check.result import Label, LabelLine
from blendwise.quantity import Units
from blendwise.show.blocks import Block, Note, Rows, Section
from blendwise.show.numbers import amount
from blendwise.show.text import joined

LABEL = "Names for the label"
HELP = (
    "Names above 0.01 % of the finished bar, by the top of each range on the sheets in your book, after "
    "Regulation (EC) No 1223/2009, Annex III, as amended by (EU) 2023/1545; Great Britain keeps its own "
    "list. A help for the label, not a safety assessment."
)
NOTHING = "no listed name passes 0.01 % of the finished bar"


def label_blocks(label: Label | None, units: Units) -> Iterator[Block]:
    """Names due, names due later, oils whose names are not known, and what this is not."""
    if label is None:
        return
    lines = [*label.due, *label.later]
    yield Section(LABEL)
    if lines:
        rows = tuple(_row(line, units) for line in lines)
        yield Rows(("name", "of the bar", "from", "due"), rows, tuple(_sentences(label, units)))
    unknown = [_not_known(label.not_known)] if label.not_known else []
    if unknown or not lines:
        yield Rows((), (), tuple(unknown or [NOTHING]))
    if label.names_none:
        yield Rows((), (), (names_none(label.names_none),))
    yield Note(f"{HELP} The table of names is of {label.tables_of.isoformat()}.")


def _row(line: LabelLine, units: Units) -> tuple[str, ...]:
    return line.name, _share(line, units), joined(line.carriers), _when(line)


def _sentences(label: Label, units: Units) -> Iterator[str]:
    for line in (*label.due, *label.later):
        yield f"{line.name}: {_share(line, units)} of the bar, from {joined(line.carriers)}; {_when(line)}"


def _share(line: LabelLine, units: Units) -> str:
    return amount(line.share, "%", units)


def _when(line: LabelLine) -> str:
    if line.placed_from is None:
        return "due"
    since = f"on soap placed on the market from {line.placed_from}"
    return f"due {since}" if line.on_sale_from is None else f"due {since}, on all from {line.on_sale_from}"


def names_none(oils: Sequence[str]) -> str:
    """Of sheets that call themselves complete and name nothing."""
    told = "the sheet of {} names none" if len(oils) == 1 else "the sheets of {} name none"
    return f"{told.format(joined(oils))}: look whether a name was left out"


def _not_known(oils: Sequence[str]) -> str:
    has = "has" if len(oils) == 1 else "have"
    return f"names not known: {joined(oils)} {has} no complete sheet, or one with names that nobody knows"
