"""Command lines on a book: whole ones to try what was bent, and ones whose own options are bent."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Final

from tests.fuzz.bend import FIGURE, ODD, misspelt, other_figure
from tests.fuzz.shelves import Shelf

DAY: Final = ("--today", "2026-11-28")
Line = list[str]
MAY_CHANGE_NOTHING: Final = ("--today", "--seconds", "--premixes", "--price-up-to")
"""Options of which another figure may well leave the answer as it was."""

ON_PLANS: Final = (
    ("check",), ("check", "--more"), ("check", "--working"), ("check", "--careful"), ("assign",),
    ("assign", "--free"), ("sheet", "--out", "-"), ("label",), ("why", "it riced"), ("ask", "is it brown"),
    ("note", "--saw", "all: ricing none", "--dry-run"),
)  # fmt: skip
ON_BOOKS: Final = (
    ("doctor",), ("review",), ("rules", "test"), ("rules", "lint"), ("rules", "changed"), ("rules", "list"),
    ("scents", "list"), ("note", "--due"),
)  # fmt: skip
OPTIONS: Final = (
    (("pair", "{one}", "{other}", "--ratio", "2:1", "--load", "4 %", "--pour", "column"), True),
    (("pair", "{one}", "--with-all", "--note", "base", "--price-up-to", "15 per 100 g"), True),
    (("cup", "{one}", "--doses", "2 %, 4 %", "--size", "120 g", "--colour", "charcoal 0.5 %"), True),
    (("cup", "{one}", "--lots", "B-1, B-2"), True),
    (("assign", "{plan}", "--seconds", "1", "--oils", "1500 g", "--prefer", "few weighings"), False),
    (("assign", "{plan}", "--seconds", "1", "--mould", "25 x 9 x 6.5 cm", "--premixes", "2"), False),
    (("label", "{plan}", "--weights", "112 g, 110 g"), False),
    (("note", "{plan}", "--dry-run", "--saw", "all: fluid at 12 min", "--room", "21 °C"), False),
    (("note", "{plan}", "--dry-run", "--took", "22 min", "--bars", "10", "--mass", "98 g"), False),
    (
        ("draft", "fuzzed", "--dry-run", "--yes", "--oils", "olive 45 %, coconut 55 %", "--amount", "1100 g",
         "--lye", "31 %, 5 %", "--portion", "milk: 35 %; may become cream", "--portion", "soil: the rest",
         "--scent", "{one}: 2", "--load", "3 % of batch oils"),
        True,
    ),
    (("ask", "can I use {one} at 3 % with {other}"), True),
    (("rules", "new", "never more than 2 % {one} in white"), True),
    (("scents", "search", "wood", "--price-up-to", "15 per 100 g"), True),
    (("why", "it thickened", "{plan}"), False),
)  # fmt: skip
"""Lines with options, and whether they name the book."""


def lines(rng: Random, shelf: Shelf, file: Path) -> Line:
    """A whole command line that reads this file of the book."""
    kind = shelf.kind(file)
    own = kind == "plans" or (
        kind in ("scents", "oils", "usual", "additives", "colourants", "rules") and rng.random() < 0.6
    )
    form = rng.choice((["--json"], ["--plain"], []))
    if own:
        plan = file if kind == "plans" else rng.choice(shelf.plans)
        command, *rest = rng.choice(ON_PLANS)
        before = [rest.pop(0)] if command in ("why", "ask") else []
        form = [] if command == "sheet" and form == ["--plain"] else form
        line = [command, *before, str(plan), *rest, *form]
    else:
        oil = rng.choice(list(shelf.read.scents))
        choices = (*ON_BOOKS, ("scents", "show", oil), ("cup", oil), ("pair", *_two(rng, shelf)))
        line = [*rng.choice(choices), "--book", str(shelf.folder), *form]
    seconds = ["--seconds", "2"] if line[0] in ("assign", "sheet") else []
    return [*line, *seconds, *dated(line)]


def dated(line: Line) -> tuple[str, ...]:
    """The day that is told to a command that knows one."""
    return () if line[0] in ("scents", "rules", "schema") and line[1:2] != ["import"] else DAY


def _two(rng: Random, shelf: Shelf) -> list[str]:
    return rng.sample(list(shelf.read.scents), 2)


@dataclass(frozen=True)
class BentLine:
    """A sound command line and the same with one of its words bent."""

    sound: Line
    bent: Line
    before: str
    now: str
    must_show: bool


def bent_line(rng: Random, shelf: Shelf) -> BentLine:
    """One word of a command line with options, bent: a figure, a letter, or anything at all."""
    sound = _options(rng, shelf)
    at = rng.randrange(1, len(sound))
    figures = [
        place
        for place, word in enumerate(sound)
        if FIGURE.search(word) and "/" not in word and sound[place - 1] not in MAY_CHANGE_NOTHING
    ]
    must_show = bool(figures) and rng.random() < 0.6
    if must_show:
        at = rng.choice(figures)
        new = other_figure(rng, sound[at]) or ""
    elif rng.random() < 0.5 and sound[at]:
        new = misspelt(rng, sound[at])
    else:
        new = rng.choice(ODD).replace("\x00", "0")
    if "--write" in new or "/" in sound[at] or sound[at] in ("--dry-run", "--book", "-"):
        at, new, must_show = 1, "--help", False  # nothing is written into the book
    bent = [*sound[:at], new, *sound[at + 1 :]]
    return BentLine(sound, bent, sound[at], new, must_show and new != sound[at])


def _options(rng: Random, shelf: Shelf) -> Line:
    plan, (one, other) = str(rng.choice(shelf.plans)), _two(rng, shelf)
    book = ["--book", str(shelf.folder)]
    words = {"one": one, "other": other, "plan": plan}
    command, of_book = rng.choice(OPTIONS)
    line = [word.format(**words) for word in command]
    return [*line, *(book if of_book else []), "--json", *dated(line)]
