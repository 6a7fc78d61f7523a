"""How the cups are set on the printed sheet: a matrix of cups and scents, or each as a list, in mm."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from blendwise.show.sheet.paper import (
    BOLD,
    BOX,
    CUP,
    INNER,
    LEADING,
    MM_PER_PT,
    NAME,
    SAFE,
    SMALL,
    STEP,
    WHO,
    Thing,
    lines,
    mm,
    tall,
)

BATTER = 23.0  # mm of the column of batter, at least; names and scents leave the colours the rest
NAMES = (
    WHO,
    29.5,
    28.0,
    26.5,
    25.0,
    23.5,
    22.0,
    20.5,
    19.0,
)  # mm that the names may take, the widest of equal heights
CALLED = "fresh | cured"
MOST_LINES = 9  # of the name of a scent over its column: beyond it each cup is a list
NUMBER = 7.0  # mm of the number before a name, with its gap
WIDER = 4.0  # mm by which a column of scents is tried wider
ROOMY, SNUG = (
    66.0,
    50.0,
)  # mm that the colours keep where a column of scents is widened: for a name, for its words
NARROW = 30.0  # mm below which no colour is set beside the scents
WORD = 30.0  # mm up to which a column is widened for one word


@dataclass(frozen=True, slots=True)
class Matrix:
    """How the cups are set: as a matrix of cups and scents, or each as a list (where names or oils are many).

    ``columns``: of scents, or of the list; ``each``: mm of one of them; ``rows``: mm of each cup; ``apart``:
    colours in a table of their own; ``batter``, ``who``: mm of the columns of batter and of names;
    ``dyes``: mm of those colours.
    """

    listed: bool
    columns: int
    each: float
    rows: tuple[float, ...]
    head: float
    apart: bool
    batter: float = BATTER
    dyes: float = 0.0
    who: float = WHO

    @property
    def high(self) -> float:
        """mm of its rows with what stands over them and of its colours."""
        return self.head + math.fsum(self.rows) + self.dyes


@dataclass(frozen=True, slots=True)
class CupRow:
    """A cup as a row: its name, what colours it or is mixed in, its scents by column, its batter."""

    name: str
    stirred: tuple[Thing, ...]
    scents: tuple[Thing, ...]
    batter: Thing


def matrices(cups: Sequence[CupRow], columns: Sequence[str]) -> list[Matrix]:
    """The ways in which all fits, the easiest to read first: a matrix, its colours apart, a list."""
    ways = [
        _lowest(cups, columns, apart=False),
        _lowest(cups, columns, apart=True),
        _lowest(cups, columns, apart=False, torn=True),
    ]
    return [*(way for way in ways if way is not None), _list(cups)]


def _lowest(cups: Sequence[CupRow], columns: Sequence[str], apart: bool, torn: bool = False) -> Matrix | None:
    """The lowest matrix, whose names and scents leave the colours so much room; None where none fits.

    ``torn``: a word of a name may be parted for it.
    """
    batter = max(BATTER, *(_held(cup.batter) for cup in cups))
    found = [
        way
        for who in NAMES
        if torn or not any(_torn(cup.name, who) for cup in cups)
        for each in _columns(cups, columns, INNER - who - batter, apart)
        if (way := _matrix(cups, columns, apart, (who, each, batter))) is not None
    ]
    return min(found, key=lambda way: way.high, default=None)


def _torn(name: str, who: float) -> bool:
    """Whether a word of a name would be parted in a column that can be wider."""
    return who < WHO and any(SAFE * mm(word, NAME * BOLD) > who - NUMBER for word in name.split(" "))


def _held(batter: Thing) -> float:
    """mm of a cup's batter, its unit in the heading, with what its vessel holds under it."""
    return max(replace(batter, unit="").width, BOX + 1.0 + _said(batter))


def _matrix(
    cups: Sequence[CupRow], columns: Sequence[str], apart: bool, wide: tuple[float, float, float]
) -> Matrix | None:
    """The matrix with names, scents and batter so wide; None where one does not fit into its column."""
    who, each, batter = wide
    room = INNER - who - batter - each * len(columns)
    if room < (0 if apart else NARROW):
        return None
    each = each + room / max(len(columns), 1) if apart else each
    if any(lines(cup.name, NAME * BOLD, who - NUMBER) > 2 for cup in cups):
        return None
    heads = [(f"{name}, oz", each) for name in columns] + [(CALLED, who)]
    most = max(lines(text, 9, (width - 1) / BOLD) for text, width in heads)
    if most > MOST_LINES:
        return None
    rows = tuple(_cup_row(cup, room, who, apart) for cup in cups)
    dyes = _apart(cups) if apart else 0.0
    head = 9 * LEADING * MM_PER_PT * most + 1
    return Matrix(False, len(columns), each, rows, head, apart, batter, dyes, who)


def _said(thing: Thing) -> float:
    """mm of what is said under an amount, on one line."""
    return SAFE * math.fsum(mm(text, size) for text, size in thing.how)


def _apart(cups: Sequence[CupRow]) -> float:
    """mm of the colours in a table of their own, two a row."""
    things = [thing.under(INNER / 2 - 14) + 0.3 for cup in cups for thing in cup.stirred]
    rows = (max(things[at : at + 2]) for at in range(0, len(things), 2))
    return 1.0 + math.fsum(rows) if things else 0.0


def _columns(cups: Sequence[CupRow], names: Sequence[str], there: float, apart: bool) -> list[float]:
    """mm that a column of scents may have: as its longest word or its name asks, then from its amounts on."""
    amounts = [BOX + 1.5 + BOLD * mm(thing.amount, STEP) for cup in cups for thing in cup.scents]
    least = max(amounts, default=0.0)
    if not names:
        return [least]
    wanted = [BOLD * mm(f"{name}, oz", 9) * SAFE + 1.6 for name in names]
    words = [BOLD * mm(word, 9) * SAFE + 1.6 for name in names for word in f"{name},".split()]
    each = least
    for wide, kept in ((max(words), SNUG), (max(wanted), ROOMY)):
        if (
            wide > each
            and (wide <= WORD or kept == ROOMY)
            and there - wide * len(names) >= (0 if apart else kept)
        ):
            each = wide
    return [each, *(least + WIDER * step for step in range(5) if not apart)]


def _cup_row(cup: CupRow, width: float, who: float, apart: bool) -> float:
    """mm of a cup; the heading over its colours says their unit."""
    name = lines(cup.name, NAME * BOLD, who - NUMBER) * NAME * 1.1 * MM_PER_PT + 3.4
    things = () if apart else (replace(thing, unit="") for thing in cup.stirred)
    return max(CUP, name, math.fsum(thing.beside(width, SMALL) for thing in things) + 0.4)


def _list(cups: Sequence[CupRow]) -> Matrix:
    ways = []
    for columns in (3, 2):
        each = INNER / columns - 2
        rows = []
        for cup in cups:
            things = [thing.under(each) + 0.3 for thing in (*cup.stirred, *cup.scents)]
            head = max(CUP, tall(cup.name, NAME * BOLD, INNER - 45 - 38) + 0.6)
            rows.append(
                head + math.fsum(max(things[at : at + columns]) for at in range(0, len(things), columns))
            )
        ways.append(Matrix(True, columns, INNER / columns, tuple(rows), 0.0, False))
    return min(ways, key=lambda way: math.fsum(way.rows))
