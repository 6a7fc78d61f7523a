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
    6.7,
    8.2,
    8.1,
    8.5,
)  # mm of a thing to tick, a cup, a line of the clock, a row to write
AXIS, HEAD, LATER, FOOT, GAP = 7.0, 11.5, 7.5, 5.5, 0.5
WHO = 31.0  # mm of the names of cups, at most
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


def tall(text: str, size: float, width: float, leading: float = LEADING) -> float:
    """mm of height of a text in a column."""
    return lines(text, size, width) * size * leading * MM_PER_PT


def texts(all_of_them: Iterable[str], size: float = BODY, width: float = INNER) -> float:
    """mm of height of paragraphs."""
    return math.fsum(tall(text, size, width) + 0.4 for text in all_of_them)


def dense(size: float) -> float:
    """mm of a line of names."""
    return size * DENSE * MM_PER_PT


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
        return sum(size > SMALL for _, size in self.how) * (STEP * 1.05 * MM_PER_PT - dense(SMALL))

    def under(self, width: float) -> float:
        """mm of its name with what is said under it, beside its amount."""
        room = max(width - self.width, 1.0)
        count = flow([(self.name, SMALL)], room) + (flow(self.how, room) if self.how else 0)
        return max(ROW, dense(SMALL) * count + self.taller + 0.5)

    def beside(self, width: float, size: float = NAME) -> float:
        """mm of its name, set in a size in pt, with what is said after it, beside its amount."""
        told = [(f"{self.name}," if self.how else self.name, size), *self.how]
        return max(ROW, flow(told, max(width - self.width - 1, 1.0)) * dense(size) + self.taller + 0.6)


@dataclass(frozen=True, slots=True)
class Span:
    """Things of one group that stand in one column: the group's number, from which thing to before which."""

    group: int
    first: int
    last: int


Columns = tuple[tuple[Span, ...], ...]
HEADING = 5.0  # mm of a heading over things to weigh
MOST_COLUMNS = 4
TORN, TEARS = 8.0, 0.5  # mm that are worth it to keep a group in one column; where a front is short of room


Groups = Sequence[tuple[str, Sequence[Thing]]]


def pot_columns(groups: Groups, torn: float = TORN) -> tuple[Columns, float]:
    """What is weighed before the split, in columns side by side, and the mm they take: the lowest way.

    ``torn``: mm that are worth it to keep a group in one column.
    """
    flat = [(group, place) for group, (_, things) in enumerate(groups) for place in range(len(things))]
    ways = [
        (high + torn * _torn(edges, flat), high, edges)
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
