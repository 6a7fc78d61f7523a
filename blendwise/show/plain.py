"""Answers as plain text, for pipes and screen readers: no colour, no boxes, every level a word."""

from __future__ import annotations

import shutil
import sys
import textwrap
from collections.abc import Iterator

from blendwise.show.blocks import Block, Blocks, Drawing, Entry, Line, Note, Raw, Rows, Section, Title
from blendwise.show.text import sentence, visible

NARROWEST = 40


def width() -> int:
    """Columns to write in: COLUMNS or the terminal's, 80 where neither says."""
    return max(NARROWEST, shutil.get_terminal_size((80, 24)).columns)


def wrapped(text: str, columns: int, indent: str = "", hanging: str | None = None) -> str:
    """The text in lines of at most so many columns; names and file places are never broken."""
    return textwrap.fill(
        visible(text),
        width=columns,
        initial_indent=indent,
        subsequent_indent=indent if hanging is None else hanging,
        break_long_words=False,
        break_on_hyphens=False,
    )


def plain(blocks: Blocks, columns: int | None = None) -> str:
    """The whole answer as text that ends in a line end."""
    room = columns or width()
    return "\n".join(line for block in blocks for line in _lines(block, room)).strip("\n") + "\n"


def lines(blocks: Blocks) -> Iterator[str]:
    """The answer line by line, none of them wrapped."""
    return (line for block in blocks for line in _lines(block, sys.maxsize))


def _lines(block: Block, columns: int) -> Iterator[str]:
    match block:
        case Title(text, verdict):
            yield wrapped(sentence(text), columns)
            yield wrapped(verdict, columns)
        case Line(tag, text):
            line = f"{tag.capitalize()}: {text}" if tag else text
            yield wrapped(sentence(line), columns, "", "  ")
        case Section(text):
            yield ""
            yield wrapped(f"{text}:", columns)
        case Entry(tag, headline, details):
            yield ""
            line = sentence(f"{tag.capitalize()}: {headline}") if tag else f"{headline}:"
            yield wrapped(line, columns, "", "  ")
            for name, text in details:
                yield wrapped(f"{name}: {text}", columns, "  ", "    ")
        case Rows(close=True) if max(map(len, block.aligned())) + 2 <= columns:
            yield from (f"  {visible(line)}" for line in block.aligned())
        case Rows(lines=lines):
            for line in lines:
                yield wrapped(sentence(line), columns, "  ", "    ")
        case Drawing():
            return
        case Raw(lines):
            yield from (f"  {visible(line)}".rstrip() for line in lines)
        case Note(text):
            yield ""
            yield wrapped(text, columns)
