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
BODY, NAME, STEP, SMALL = 9.5, 10.5, 14.0, 9.0  # pt: running text, names, steps and amounts, asides
BOX = 6.5  # mm of a box to tick
ROW, CUP, CLOCK, WRITE = (
    7.0,
    8.8,
    8.1,
    8.5,
)  # mm of a thing to tick, a cup, a line of the clock, a row to write
AXIS, HEAD, LATER, FOOT, GAP = 9.5, 11.5, 7.5, 5.5, 0.5
WHO, BATTER = (
    31.0,
    23.0,
)  # mm of the columns of the matrix of cups, at least; the scents leave the colours the rest
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
ROOMY, SNUG = (
    66.0,
    50.0,
)  # mm that the colours keep where a column of scents is widened: for a name, for its words
NARROW = 30.0  # mm below which no colour is set beside the scents
WORD = 30.0  # mm up to which a column is widened for one word
DENSE = 1.15  # leading of names and of what is done with a thing to weigh
MOST_SCENTS = 4  # columns beyond which the colours get a table of their own

FRONT = ("before", "pot", "cups", "colours", "lye", "clock", "clean", "help")
BACK = ("check", "trouble", "record", "after", "label")


Runs = tuple[tuple[str, float], ...]
"""Texts that run on, each with its size in pt."""


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
    return flow([(text, size)], width)


def flow(texts: Sequence[tuple[str, float]], width: float) -> int:
    """Lines of texts that run on, each in its own size in pt."""
    found, used = 1, 0.0
    for word, size in ((word, size) for text, size in texts for word in text.split(" ") if word):
        wide = SAFE * mm(word, size)
        if used and used + wide > width:
            found, used = found + 1, 0.0
        more, used = divmod(used + wide, width) if wide > width else (0, used + wide)
        found, used = found + int(more), used + mm(" ", size)
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
    colours in a table of their own; ``batter``: mm of the column of batter;
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


@dataclass(frozen=True, slots=True)
class Thing:
    """What is weighed for a cup: as the scale shows it, its unit, its name, and how it is treated.

    ``how``: in pieces, each with its size in pt; an amount in it is set as large as any other.
    """

    amount: str
    unit: str
    name: str
    how: Runs = ()

    @property
    def width(self) -> float:
        """mm of its box and its amount."""
        return BOX + 2.0 + BOLD * mm(self.amount, STEP) + mm(self.unit, 9)

    @property
    def taller(self) -> float:
        """mm by which amounts in its ``how`` make lines taller."""
        return sum(size > SMALL for _, size in self.how) * (STEP * 1.05 * MM_PER_PT - _dense(SMALL))

    def under(self, width: float) -> float:
        """mm of its name with what is said under it, beside its amount."""
        room = max(width - self.width, 1.0)
        count = flow([(self.name, SMALL)], room) + (flow(self.how, room) if self.how else 0)
        return max(ROW, _dense(SMALL) * count + self.taller + 0.5)

    def beside(self, width: float) -> float:
        """mm of its name with what is said after it, beside its amount."""
        told = [(f"{self.name}," if self.how else self.name, NAME), *self.how]
        return max(ROW, flow(told, max(width - self.width - 1, 1.0)) * _dense(NAME) + self.taller + 0.6)


@dataclass(frozen=True, slots=True)
class CupRow:
    """A cup as a row: its name, what colours it or is mixed in, its scents by column, its batter."""

    name: str
    stirred: tuple[Thing, ...]
    scents: tuple[Thing, ...]
    batter: Thing


def matrices(cups: Sequence[CupRow], columns: Sequence[str]) -> list[Matrix]:
    """The ways in which all fits, the easiest to read first: a matrix, its colours apart, a list."""
    ways = (_matrix(cups, columns, apart) for apart in (False, True))
    return [*(way for way in ways if way is not None), _list(cups)]


def _matrix(cups: Sequence[CupRow], columns: Sequence[str], apart: bool) -> Matrix | None:
    """The matrix of cups and scents; None where a name or an amount does not fit into its column."""
    batter = max(BATTER, *(max(cup.batter.width, BOX + 1.0 + _said(cup.batter)) for cup in cups))
    there = INNER - WHO - batter
    each = _column(cups, columns, there, apart)
    room = there - each * len(columns)
    if room < (0 if apart else NARROW):
        return None
    each = each + room / max(len(columns), 1) if apart else each
    fits = all(lines(cup.name, NAME * BOLD, WHO - 8) <= 2 for cup in cups) and all(
        lines(name, 9, each - 1) <= 2 for name in columns
    )
    if not fits:
        return None
    rows = tuple(_cup_row(replace(cup, stirred=()) if apart else cup, room) for cup in cups)
    most = max((lines(f"{name}, oz", 9, (each - 1) / BOLD) for name in columns), default=1)
    dyes = _apart(cups) if apart else 0.0
    return Matrix(False, len(columns), each, rows, 9 * LEADING * MM_PER_PT * most + 1, apart, batter, dyes)


def _said(thing: Thing) -> float:
    """mm of what is said under an amount, on one line."""
    return SAFE * math.fsum(mm(text, size) for text, size in thing.how)


def _apart(cups: Sequence[CupRow]) -> float:
    """mm of the colours in a table of their own, two a row."""
    things = [thing.under(INNER / 2 - 14) + 0.3 for cup in cups for thing in cup.stirred]
    rows = (max(things[at : at + 2]) for at in range(0, len(things), 2))
    return 1.0 + math.fsum(rows) if things else 0.0


def _column(cups: Sequence[CupRow], columns: Sequence[str], there: float, apart: bool) -> float:
    """mm of a column of scents: for its amounts; for its longest word and its name where there is room."""
    amounts = [BOX + 1.5 + BOLD * mm(thing.amount, STEP) for cup in cups for thing in cup.scents]
    each = max(amounts, default=0.0)
    if not columns:
        return each
    wanted = [BOLD * mm(f"{name}, oz", 9) * SAFE + 1.6 for name in columns]
    words = [BOLD * mm(word, 9) * SAFE + 1.6 for name in columns for word in f"{name},".split()]
    for wide, kept in ((max(words), SNUG), (max(wanted), ROOMY)):
        if (
            wide > each
            and (wide <= WORD or kept == ROOMY)
            and there - wide * len(columns) >= (0 if apart else kept)
        ):
            each = wide
    return each


def _cup_row(cup: CupRow, width: float) -> float:
    name = lines(cup.name, NAME * BOLD, WHO - 8) * NAME * 1.1 * MM_PER_PT + 3.4
    return max(CUP, name, math.fsum(thing.under(width) for thing in cup.stirred) + 0.4)


def _dense(size: float) -> float:
    """mm of a line of names."""
    return size * DENSE * MM_PER_PT


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


@dataclass(frozen=True, slots=True)
class Span:
    """Things of one group that stand in one column: the group's number, from which thing to before which."""

    group: int
    first: int
    last: int


Columns = tuple[tuple[Span, ...], ...]
HEADING = 5.0  # mm of a heading over things to weigh
MOST_COLUMNS = 4
TORN = 8.0  # mm that are worth it to keep a group in one column


Groups = Sequence[tuple[str, Sequence[Thing]]]


def pot_columns(groups: Groups) -> tuple[Columns, float]:
    """What is weighed before the split, in columns side by side, and the mm they take: the lowest way."""
    flat = [(group, place) for group, (_, things) in enumerate(groups) for place in range(len(things))]
    ways = [
        (high + TORN * _torn(edges, flat), high, edges)
        for count in range(2, min(MOST_COLUMNS, len(flat)) + 1)
        for heights in [_Heights.of(groups, flat, INNER / count - 3)]
        for cut in combinations(range(1, len(flat)), count - 1)
        for edges in [(0, *cut, len(flat))]
        for high in [max(heights.column(flat, a, b) for a, b in pairwise(edges))]
    ]
    one = (0, len(flat))
    _, high, edges = min(ways, default=(0, _Heights.of(groups, flat, INNER).column(flat, *one), one))
    return tuple(tuple(_spans(flat[a:b])) for a, b in pairwise(edges)), high


@dataclass(frozen=True, slots=True)
class _Heights:
    """mm of each thing and of each heading in a column of one width."""

    things: tuple[float, ...]
    headings: tuple[float, ...]

    @classmethod
    def of(cls, groups: Groups, flat: Sequence[tuple[int, int]], width: float) -> _Heights:
        return cls(
            tuple(groups[group][1][place].beside(width) for group, place in flat),
            tuple(max(HEADING, tall(head, NAME * BOLD, width) + 0.5) for head, _ in groups),
        )

    def column(self, flat: Sequence[tuple[int, int]], first: int, last: int) -> float:
        """A column from one thing to before another, with the headings that it needs."""
        begun = [group for group, place in flat[first:last] if place == 0]
        runs_on = HEADING if flat[first][1] else 0.0
        return runs_on + math.fsum(self.headings[each] for each in begun) + math.fsum(self.things[first:last])


def _torn(edges: tuple[int, ...], flat: list[tuple[int, int]]) -> int:
    """How many groups run on in the next column."""
    return sum(flat[edge][1] > 0 for edge in edges[1:-1])


def _spans(items: list[tuple[int, int]]) -> list[Span]:
    found: list[Span] = []
    for group, place in items:
        if found and found[-1].group == group:
            found[-1] = replace(found[-1], last=place + 1)
        else:
            found.append(Span(group, place, place + 1))
    return found


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
