"""A page of any answer: its pictures, then the words that a terminal would show, block by block."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from blendwise.quantity import Units
from blendwise.show.blocks import Block, Blocks, Drawing, Line, Section, Title
from blendwise.show.charts.clock import hatching
from blendwise.show.pages.render import page

if TYPE_CHECKING:
    from markupsafe import Markup


HEAVY = ("stop", "conflict")


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture under its heading, with what is said of it."""

    heading: str
    drawn: Markup
    said: str = ""


@dataclass(slots=True)
class Part:
    """What stands under one heading, "" for what comes before any; each block with its kind."""

    heading: str
    blocks: list[tuple[str, Block]] = field(default_factory=list)


def answer_page(name: str, blocks: Blocks, units: Units, figures: Sequence[Figure] = ()) -> str:
    """The whole HTML file; ``name``: what it is about."""
    verdicts = [(each.text, each.verdict) for each in blocks if isinstance(each, Title)]
    return page(
        "answer.html",
        units,
        name=name,
        verdicts=verdicts,
        figures=figures,
        heavy=[each for each in blocks if _is_heavy(each)],
        parts=list(_parts([each for each in blocks if not _is_heavy(each)])),
        hatching=hatching(),
    )


def _is_heavy(block: Block) -> bool:
    """What speaks against it stands before any picture of it."""
    return isinstance(block, Line) and block.tag in HEAVY


def _parts(blocks: Blocks) -> Iterator[Part]:
    part = Part("")
    for block in blocks:
        if isinstance(block, Section):
            if part.blocks:
                yield part
            part = Part(block.text)
        elif not isinstance(block, (Title, Drawing)):
            part.blocks.append((type(block).__name__, block))
    if part.blocks:
        yield part
