"""Answers on a terminal, by Rich: the same words as plain text, tags in a margin, tables where they fit.

Nothing is passed as markup, so a name such as ``[red]`` is shown as typed; NO_COLOR and narrow windows
are honoured; the level is always a word, and weight or hue only lean on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blendwise.show.blocks import Block, Blocks, Entry, Line, Note, Raw, Rows, Section, Title
from blendwise.show.plain import NARROWEST
from blendwise.show.text import visible

if TYPE_CHECKING:
    from rich.console import RenderableType
    from rich.table import Table
    from rich.text import Text

MARGIN = 11
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
    for block in blocks:
        if not isinstance(block, (Title, Line, Rows, Raw)):
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
        case Note(text):
            yield _styled(text, "dim")


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
    return sum(widths) + 2 * len(widths) <= columns


def _table(block: Rows) -> Table:
    from rich.table import Table

    table = Table(box=None, padding=(0, 2, 0, 0), header_style="italic")
    for number, name in enumerate(block.header):
        table.add_column(_styled(name), justify="right" if number else "left")
    for row in block.rows:
        table.add_row(*(_styled(cell) for cell in row))
    return table
