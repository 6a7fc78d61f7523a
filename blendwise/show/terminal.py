"""Answers on a terminal, by Rich: the same words as plain text, tags in a margin, tables where they fit.

Nothing is passed as markup, so a name such as ``[red]`` is shown as typed; NO_COLOR and narrow windows
are honoured; the level is always a word, and weight or hue only lean on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from blendwise.show.blocks import (
    BLOCK,
    Block,
    Blocks,
    Drawing,
    Entry,
    Line,
    Note,
    Raw,
    Rows,
    Run,
    Section,
    Title,
)
from blendwise.show.plain import NARROWEST
from blendwise.show.text import visible

if TYPE_CHECKING:
    from rich.console import RenderableType
    from rich.table import Table
    from rich.text import Text

MARGIN = 11
TRUE_HUES = ("truecolor", "256")
"""Terminals that show a colour near enough to tell a soap by it."""
STYLES = {
    "stop": "bold reverse",
    "conflict": "bold magenta",
    "caution": "blue",
    "hint": "cyan",
    "open": "bold italic",
    "accepted": "dim",
}


def terminal(blocks: Blocks, columns: int | None = None) -> None:
    """Print the answer to standard output."""
    from rich.console import Console

    console = Console(markup=False, highlight=False, emoji=False, width=columns)
    drawn = console.encoding.casefold().startswith("utf")
    hues = drawn and console.color_system in TRUE_HUES
    for block in blocks:
        if isinstance(block, Drawing):
            if not drawn:
                continue
            if not hues:
                block = _without_hues(block)
        if isinstance(block, Rows) and not hues:
            block = replace(block, hues=())
        if not isinstance(block, (Title, Line, Rows, Raw, Drawing)):
            console.print()
        for part in _drawn(block, console.width):
            console.print(part)


def _drawn(block: Block, columns: int) -> Iterator[RenderableType]:
    match block:
        case Title(text, verdict):
            yield _styled(text, "bold")
            yield _styled(verdict)
        case Line(tag, text) if tag:
            yield from _entry(Entry(tag, text), columns)
        case Line(text=text):
            yield _styled(text)
        case Section(text):
            yield _styled(text, "underline")
        case Entry():
            yield from _entry(block, columns)
        case Rows(lines=lines):
            yield from [_table(block)] if _fits(block, columns) else [_indented(line) for line in lines]
        case Raw(lines):
            yield from (_indented(line) for line in lines)
        case Drawing(rows):
            yield from (_strokes(row) for row in _fitting(rows, columns) if _width(row))
        case Note(text):
            yield _styled(text, "dim")


def _without_hues(block: Drawing) -> Drawing:
    return Drawing(tuple(tuple(tuple(Run(r.text) for r in part) for part in row) for row in block.rows))


def _fitting(rows: Sequence[Sequence[Sequence[Run]]], columns: int) -> Sequence[Sequence[Sequence[Run]]]:
    """The rows with as many of their first parts as a window of so many columns holds."""
    while any(_width(row) > columns and len(row) > 1 for row in rows):
        rows = [row[:-1] if len(row) > 1 else row for row in rows]
    return rows


def _width(row: Sequence[Sequence[Run]]) -> int:
    return sum(len(run.text) for part in row for run in part)


def _strokes(row: Sequence[Sequence[Run]]) -> Text:
    """A row of a drawing; its hues are left out by the console where it has none."""
    text = _styled("")
    for run in (run for part in row for run in part):
        style = f"{run.fore or 'default'} on {run.back}" if run.back else run.fore
        text.append(_styled(run.text, style))
    return text


def _styled(text: str, style: str = "") -> Text:
    from rich.text import Text

    return Text(visible(text), style=style)


def _indented(line: str) -> RenderableType:
    from rich.padding import Padding

    return Padding(_styled(line), (0, 0, 0, 2))


def _entry(block: Entry, columns: int) -> Iterator[RenderableType]:
    """The tag in the margin, or on a line of its own where the window is narrow."""
    from rich.table import Table

    tag = _styled("").append(_styled(block.tag, STYLES.get(block.tag, "")))
    narrow = columns < NARROWEST + MARGIN
    if narrow and block.tag:
        yield tag
    grid = Table.grid()
    grid.add_column(width=2 if narrow else MARGIN)
    grid.add_column(overflow="fold")
    grid.add_row("" if narrow else tag, _styled(block.headline, "bold" if block.tag else ""))
    for name, text in block.details:
        grid.add_row("", _styled("").append(_styled(f"{name}: ", "italic")).append(_styled(text)))
    yield grid


def _fits(block: Rows, columns: int) -> bool:
    if not block.header:
        return False
    widths = [max(len(row[i]) for row in (block.header, *block.rows)) for i in range(len(block.header))]
    gap = 1 if block.close else 2
    return sum(widths) + gap * len(widths) + len(BLOCK) * bool(block.hues) <= columns


def _table(block: Rows) -> Table:
    from rich.table import Table

    table = Table(box=None, padding=(0, 1 if block.close else 2, 0, 0), header_style="italic")
    if block.hues:
        table.add_column("")
    for number, name in enumerate(block.header):
        table.add_column(_styled(name), justify="right" if number and not block.close else "left")
    for number, row in enumerate(block.rows):
        hue = [_styled(BLOCK if block.hues[number] else "", block.hues[number])] if block.hues else []
        table.add_row(*hue, *(_styled(cell) for cell in row))
    return table
