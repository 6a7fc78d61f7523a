"""What stands on which side of the printed sheet, as a count of rows in mm: type never shrinks.

Every row that is ticked or written in has a height in mm, so a side is a sum.  Running text is counted in
lines of a wide font: that decides only where a side ends, never how large its type is.  The front holds what
is needed at the bench; where it is more than one page it is two: weigh, and cups and pour.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

WIDTH, HEIGHT = (
    194.0,
    265.0,
)  # mm inside the margins of both papers, the narrower and the shorter; 2 kept back
GUTTER = 8.0  # where the numbers of the steps stand
INNER = WIDTH - GUTTER
MM_PER_PT = 25.4 / 72
LEADING = 1.22
BODY, NAME, STEP = 9.5, 10.5, 14.0  # pt: running text, names, steps and amounts
BOX = 6.5  # mm of a box to tick
ROW, CUP, CLOCK, WRITE = (
    7.0,
    9.0,
    8.1,
    8.5,
)  # mm of a thing to tick, a cup, a line of the clock, a row to write
AXIS, HEAD, LATER, FOOT, GAP = 9.5, 11.5, 7.5, 5.5, 0.5
WHO, BATTER = 31.0, 23.0  # mm of the columns of the matrix of cups; what the scents leave is the colours'
SAFE = 1.03  # how much wider than counted a line may turn out
# em of the characters of a wide font (DejaVu Sans, as wide as any that a machine falls back on)
EMS = {
    **dict.fromkeys(" .,:;'|!ijl()[]", 0.34),
    **dict.fromkeys("frt-/", 0.41),
    **dict.fromkeys("mwMW@%", 0.95),
    **dict.fromkeys("0123456789", 0.64),
}
UPPER, LOWER, WIDE = 0.7, 0.6, 1.05
BOLD = 1.12  # how much wider bold figures are
ROOMY = 52.0  # mm that the colours keep where a column of scents is widened for its name
MOST_SCENTS = 4  # columns beyond which the colours get a table of their own

FRONT = ("before", "pot", "colours", "cups", "lye", "clock", "clean", "help")
BACK = ("check", "trouble", "record", "after", "label")


def em(text: str) -> float:
    """How wide a text is, in em."""
    return math.fsum(map(_em, text))


def _em(sign: str) -> float:
    if unicodedata.combining(sign):
        return 0.0
    if unicodedata.east_asian_width(sign) in "WF":
        return WIDE
    return EMS.get(sign, LOWER if sign.islower() else UPPER)


def mm(text: str, size: float) -> float:
    """How wide a text is on paper at a size in pt."""
    return em(text) * size * MM_PER_PT


def lines(text: str, size: float, width: float) -> int:
    """Lines of a text in a column of so many mm: word by word, a word longer than a line broken."""
    found, used, space = 1, 0.0, mm(" ", size)
    for word in text.split():
        wide = SAFE * mm(word, size)
        if used and used + wide > width:
            found, used = found + 1, 0.0
        more, used = divmod(used + wide, width) if wide > width else (0, used + wide)
        found, used = found + int(more), used + space
    return found


def tall(text: str, size: float, width: float) -> float:
    """mm of height of a text in a column."""
    return lines(text, size, width) * size * LEADING * MM_PER_PT


def texts(all_of_them: Iterable[str], size: float = BODY, width: float = INNER) -> float:
    """mm of height of paragraphs."""
    return math.fsum(tall(text, size, width) + 0.4 for text in all_of_them)


@dataclass(frozen=True, slots=True)
class Matrix:
    """How the cups are set: as a matrix of cups and scents, or each as a list (where names or oils are many).

    ``columns``: of scents, or of the list; ``each``: mm of one of them; ``rows``: mm of each cup; ``apart``:
    colours in a table of their own.
    """

    listed: bool
    columns: int
    each: float
    rows: tuple[float, ...]
    head: float
    apart: bool


@dataclass(frozen=True, slots=True)
class Thing:
    """What is weighed for a cup: as the scale shows it, its unit, its name, and how it is treated."""

    amount: str
    unit: str
    name: str
    how: str = ""

    @property
    def width(self) -> float:
        """mm of its box and its amount."""
        return BOX + 2.0 + BOLD * mm(self.amount, STEP) + mm(self.unit, 9)


@dataclass(frozen=True, slots=True)
class CupRow:
    """A cup as a row: its name, what colours it or is mixed in, and its scents by column."""

    name: str
    stirred: tuple[Thing, ...]
    scents: tuple[Thing, ...]


def matrix(cups: Sequence[CupRow], columns: Sequence[str]) -> Matrix:
    """The matrix where names and amounts fit into columns, else the list."""
    apart = len(columns) > MOST_SCENTS
    each = max(
        (BOX + 1.5 + BOLD * mm(thing.amount, STEP) for cup in cups for thing in cup.scents), default=0.0
    )
    if columns and not apart:
        each = max(each, *(mm(word, 9) + 1 for name in columns for word in name.split()[:1] if em(word) < 14))
    wide = max((BOLD * mm(f"{name}, oz", 9) * SAFE + 1.6 for name in columns), default=0.0)
    if wide > each and INNER - WHO - BATTER - wide * len(columns) >= ROOMY:
        each = wide
    room = INNER - WHO - BATTER - each * len(columns)
    each = each + room / len(columns) if apart else each
    fits = (
        all(lines(cup.name, NAME * BOLD, WHO - 8) <= 2 for cup in cups)
        and all(lines(name, 9, each - 1) <= 2 for name in columns)
        and (room >= 0 if apart else all(_stirred_lines(t, room) <= 4 for cup in cups for t in cup.stirred))
    )
    if not fits:
        return _list(cups)
    rows = tuple(_cup_row(replace(cup, stirred=()) if apart else cup, room) for cup in cups)
    most = max((lines(f"{name}, oz", 9, (each - 1) / BOLD) for name in columns), default=1)
    return Matrix(False, len(columns), each, rows, 9 * LEADING * MM_PER_PT * most + 1, apart)


def _stirred_lines(thing: Thing, width: float) -> int:
    room = max(width - thing.width, 1.0)
    return lines(thing.name, 9, room) + (lines(thing.how, 9, room) if thing.how else 0)


def _cup_row(cup: CupRow, width: float) -> float:
    stirred = (max(ROW, 3.75 * _stirred_lines(thing, width) + 0.5) for thing in cup.stirred)
    name = lines(cup.name, NAME * BOLD, WHO - 8) * NAME * 1.1 * MM_PER_PT + 3.4
    return max(CUP, name, math.fsum(stirred) + 0.6)


def _list(cups: Sequence[CupRow]) -> Matrix:
    items = [thing for cup in cups for thing in (*cup.stirred, *cup.scents)]
    columns = next((n for n in (3, 2) if all(_stirred_lines(t, INNER / n) <= 2 for t in items)), 2)
    most = max((_stirred_lines(thing, INNER / columns) for thing in items), default=1)
    row = max(ROW, 3.95 * most + 0.6)
    heads = [max(ROW, tall(cup.name, NAME * BOLD, INNER - 45 - 38) + 0.6) for cup in cups]
    rows = (
        head + row * math.ceil(len((*cup.stirred, *cup.scents)) / columns)
        for head, cup in zip(heads, cups, strict=True)
    )
    return Matrix(True, columns, INNER / columns, tuple(rows), 0.0, False)


def pot_rows(columns: Sequence[Sequence[Thing]]) -> float:
    """mm of the pot: its columns side by side, each a list of things to tick under a heading."""
    width = INNER / max(len(columns), 1) - 3
    return 5.0 + max(math.fsum(_thing(thing, width) for thing in column) for column in columns)


def _thing(thing: Thing, width: float) -> float:
    room = width - thing.width - 1
    how = tall(thing.how, 9, room) if thing.how else 0.0
    return max(ROW, tall(thing.name, NAME, room) + how + 0.6)


def sides(
    parts: dict[str, float], order: Sequence[str], head: float, best: str = ""
) -> list[tuple[str, ...]]:
    """The parts on as few sides as hold them; of equal ways that which breaks before ``best``."""
    here = [part for part in order if parts.get(part)]
    for breaks in range(len(here)):
        ways = [way for way in _ways(here, breaks) if _fit(way, parts, head)]
        if ways:
            return min(ways, key=lambda way: (_misses(way, best), _most(way, parts)))
    return _one_by_one(here, parts, head)


def _one_by_one(here: list[str], parts: dict[str, float], head: float) -> list[tuple[str, ...]]:
    """Where a part is more than a side: each side filled before the next."""
    found: list[tuple[str, ...]] = []
    for part in here:
        more = (*found[-1], part) if found else (part,)
        if found and _side(more, parts, LATER if len(found) > 1 else head) <= HEIGHT:
            found[-1] = more
        else:
            found.append((part,))
    return found


def _ways(here: list[str], breaks: int) -> Iterator[list[tuple[str, ...]]]:
    for cut in combinations(range(1, len(here)), breaks):
        edges = (0, *cut, len(here))
        yield [tuple(here[a:b]) for a, b in pairwise(edges)]


def _side(side: tuple[str, ...], parts: dict[str, float], first: float) -> float:
    return first + math.fsum(parts[part] + GAP for part in side)


def _fit(way: list[tuple[str, ...]], parts: dict[str, float], head: float) -> bool:
    return all(_side(side, parts, LATER if n else head) <= HEIGHT for n, side in enumerate(way))


def _misses(way: list[tuple[str, ...]], best: str) -> bool:
    return bool(best) and len(way) > 1 and not any(side[0].startswith(best) for side in way[1:])


def _most(way: list[tuple[str, ...]], parts: dict[str, float]) -> float:
    return max(_side(side, parts, 0) for side in way)
