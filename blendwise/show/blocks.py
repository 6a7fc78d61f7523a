"""What an answer is made of before it has a look: a few kinds of block, for terminal and plain text alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Title:
    """What the answer is about, and its one-sentence verdict."""

    text: str
    verdict: str


@dataclass(frozen=True, slots=True)
class Section:
    """The heading of what follows."""

    text: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A tag in words, a headline which stands alone, and labelled sentences below it."""

    tag: str
    headline: str
    details: tuple[tuple[str, str], ...] = ()


BLOCK: Final = "\u2588\u2588"
"""A colour shown: two cells of it."""


@dataclass(frozen=True, slots=True)
class Rows:
    """A table for the eye, and the same as sentences (``lines``) for the ear and for narrow windows.

    ``hues``: a colour before each row, where the terminal has any; ``close``: a long list, a line a row, as a
    table in plain text too.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    lines: tuple[str, ...]
    hues: tuple[str, ...] = ()
    close: bool = False

    def aligned(self) -> list[str]:
        """Header and rows under one another."""
        table = (self.header, *self.rows)
        widths = [max(len(row[place]) for row in table) for place in range(len(self.header))]
        return [
            " ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
            for row in table
        ]


@dataclass(frozen=True, slots=True)
class Note:
    """A line of small print."""

    text: str


@dataclass(frozen=True, slots=True)
class Raw:
    """Lines of a file, shown as they stand: neither wrapped nor closed."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a short answer: a tag in words, or none, and one sentence; no space around it."""

    tag: str
    text: str


@dataclass(frozen=True, slots=True)
class Run:
    """A few characters of a drawing, with the colours (hex codes) that they lean on."""

    text: str
    fore: str = ""
    back: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """Rows of parts for the eye alone: on a narrow window the last parts are left out; plain text has none.

    What it shows stands in words in it too, so that it is read without colour.
    """

    rows: tuple[tuple[tuple[Run, ...], ...], ...]


Block = Drawing | Line | Title | Section | Entry | Rows | Note | Raw
Blocks = Sequence[Block]
