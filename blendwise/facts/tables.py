"""The tables that the judge reads: every measure spread to the rows of every grain.

How values spread: a batch value goes to every row; an additive's or embed's stays with it; portion and scent
values go to their doses and pairs; nothing spreads upwards except through a measure that is named for it.
A pair reads scent and dose measures as ``one …`` and ``other …``; an edge reads portion measures so, and as
``lighter …`` and ``darker …`` by planned lightness.  Each pair and each edge has one row, either way round.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

import blendwise.facts.measures  # noqa: F401  (declares the vocabulary)
from blendwise.facts.columns import GRAINS, AnyColumn, Bools, Column, SetColumn, Subject, Table, Word
from blendwise.facts.registry import REGISTRY, Measure
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.neighbours import edges, pair_cells
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.place import Place, Spot

Ints = NDArray[np.int64]
T = TypeVar("T")
SIDES = {"pair": ("one", "other"), "edge": ("one", "other", "lighter", "darker")}
WHOLE = ("batch", "additive", "embed", "portion", "edge")
"""Grains whose table has all rows of its own measures, in their order."""
OF_THE_BLEND = frozenset({"poured"})
"""Measures of a scent that are asked of all the blend; every other only of what is in the bar."""
SIDED = {"pair": ("scent", "dose"), "edge": ("portion",)}


@dataclass(frozen=True, slots=True)
class Rows:
    """The rows of one grain as indices.

    For a pair ``scent`` and ``other`` in ``portion``, for an edge ``portion`` and ``neighbour``.
    """

    grain: str
    scent: Ints | None = None
    other: Ints | None = None
    portion: Ints | None = None
    neighbour: Ints | None = None
    additive: Ints | None = None
    embed: Ints | None = None

    def __len__(self) -> int:
        found = next(
            (a for a in (self.scent, self.portion, self.additive, self.embed) if a is not None), None
        )
        return 1 if found is None else len(found)


@lru_cache(maxsize=1)
def vocabulary() -> Mapping[str, Word]:
    """Every word that a rule may use: the measures and their sided readings (``one …``, ``lighter …``)."""
    words = {name: measure.word for name, measure in REGISTRY.items()}
    for grain, sides in SIDES.items():
        for name, measure in REGISTRY.items():
            if measure.word.grain in SIDED[grain]:
                for side in sides:
                    words[f"{side} {name}"] = _sided(measure.word, side, grain, words.get(f"{side} {name}"))
    return Words(words)


class Words(dict[str, Word]):
    """Name → word; a word of named things (``dose of [lime]``) is made when it is first asked for."""

    def __missing__(self, name: str) -> Word:
        found = _of_family(name)
        if found is None:
            raise KeyError(name)
        return found

    def __contains__(self, name: object) -> bool:
        return super().__contains__(name) or (isinstance(name, str) and _of_family(name) is not None)

    def get(self, name: str, default: Any = None) -> Any:
        """The word of a name, plain or of a family."""
        try:
            return self[name]
        except KeyError:
            return default


def _of_family(name: str) -> Word | None:
    side, _, rest = name.partition(" ")
    for grain, sides in SIDES.items():
        if side in sides and (measure := REGISTRY.get(rest)) and measure.word.grain in SIDED[grain]:
            return _sided(measure.word, side, grain, None)
    found: Measure | None = REGISTRY.get(name)
    return None if found is None else found.word


def _sided(word: Word, side: str, grain: str, before: Word | None) -> Word:
    grains = (*(before.grains if before else ()), grain)
    return replace(word, name=f"{side} {word.name}", grains=grains, meaning=f"{word.meaning} (of the {side})")


def rows_of(s: Situation, grain: str, *, every: bool = False) -> Rows:
    """The rows of a grain: what is there at these doses, or ``every`` cell that could be."""
    scents, portions = s.shape
    match grain:
        case "additive":
            return Rows(grain, additive=np.arange(len(s.pot.added)))
        case "embed":
            return Rows(grain, embed=np.arange(len(s.plan.embeds)))
        case "portion":
            return Rows(grain, portion=np.arange(portions))
        case "scent":
            there = _in_bar(s) | (s.scenting.blend > 0)
            return Rows(grain, scent=np.arange(scents) if every else np.flatnonzero(there))
        case "dose":
            scent, portion = np.nonzero(np.ones(s.shape, dtype=bool) if every else s.presence)
            return Rows(grain, scent=scent, portion=portion)
        case "pair":
            one, other, portion = pair_cells(s)
            there = (
                np.ones(len(one), dtype=bool)
                if every
                else s.presence[one, portion] & s.presence[other, portion]
            )
            return Rows(grain, one[there], other[there], portion[there])
        case "edge":
            one, other = edges(s)
            return Rows(grain, portion=one, neighbour=other)
    return Rows("batch")


def _in_bar(s: Situation) -> NDArray[np.bool_]:
    return np.asarray(
        s.presence.any(axis=1) | np.array([name in s.embed_scents for name in s.scents], dtype=bool)
    )


def _poured_nowhere(s: Situation, rows: Rows) -> Bools | None:
    """Which rows are of an oil that is in the blend and not in the bar; None where none is."""
    gone = ~_in_bar(s)[rows.scent]
    return gone if gone.any() else None


def _not_of(column: AnyColumn, gone: Bools) -> AnyColumn:
    """A column that is not asked in some of its rows."""
    return replace(column, asked=~gone if column.asked is None else column.asked & ~gone)


def home_rows(s: Situation, rows: Rows, name: str, read: dict[str, Ints] | None = None) -> tuple[str, Ints]:
    """The measure behind a word at a grain, and which of its home rows each row reads.

    ``read``: keeps those of each side and home grain.
    """
    side, _, rest = name.partition(" ")
    if rows.grain in SIDES and side in SIDES[rows.grain] and rest in REGISTRY:
        measure, home = rest, REGISTRY[rest].word.grain
    else:
        side, measure = "", name
        if name not in REGISTRY:
            raise KeyError(name)
        home = REGISTRY[name].word.grain
    kept = {} if read is None else read
    key = f"{side} {home}"
    if key not in kept:
        kept[key] = _side_rows(s, rows, side, home) if side else _plain_rows(s, rows, home)
    return measure, kept[key]


def _plain_rows(s: Situation, rows: Rows, home: str) -> Ints:
    portions = s.shape[1]
    match home:
        case "batch":
            return np.zeros(len(rows), dtype=np.int64)
        case "additive":
            assert rows.additive is not None
            return rows.additive
        case "embed":
            assert rows.embed is not None
            return rows.embed
        case "portion":
            assert rows.portion is not None
            return rows.portion
        case "scent":
            assert rows.scent is not None
            return rows.scent
        case "dose":
            assert rows.scent is not None
            assert rows.portion is not None
            return rows.scent * portions + rows.portion
        case "pair":
            return _pair_rows(s, rows)
    return np.arange(len(rows))


def _pair_rows(s: Situation, rows: Rows) -> Ints:
    one, other, portion = pair_cells(s)
    place = {(int(i), int(j), int(p)): k for k, (i, j, p) in enumerate(zip(one, other, portion, strict=True))}
    assert rows.scent is not None
    assert rows.other is not None
    assert rows.portion is not None
    cells = zip(rows.scent, rows.other, rows.portion, strict=True)
    return np.array([place[int(i), int(j), int(p)] for i, j, p in cells], dtype=np.int64)


def _side_rows(s: Situation, rows: Rows, side: str, home: str) -> Ints:
    if rows.grain == "edge":
        assert rows.portion is not None
        assert rows.neighbour is not None
        return _edge_side(s, rows.portion, rows.neighbour, side)
    chosen = rows.scent if side == "one" else rows.other
    assert chosen is not None
    if home == "scent":
        return chosen
    assert rows.portion is not None
    return chosen * s.shape[1] + rows.portion


def _edge_side(s: Situation, one: Ints, other: Ints, side: str) -> Ints:
    if side == "one":
        return one
    if side == "other":
        return other
    light = appearance(s).planned[:, 0]
    one_lighter = light[one] >= light[other]
    return np.where(one_lighter == (side == "lighter"), one, other)


def spread(column: AnyColumn, rows: Ints) -> AnyColumn:
    """A column read at other rows (each of them naming a row of the column)."""
    asked = None if column.asked is None else column.asked[rows]
    missing, said = _moved(column.missing, rows), _moved(column.evidence, rows)
    if isinstance(column, SetColumn):
        maybe = None if column.maybe is None else column.maybe[rows]
        return SetColumn(column.words, column.has[rows], column.known[rows], asked, missing, said, maybe)
    found = Column(column.low[rows], column.high[rows], column.scale, asked, missing, said)
    if not column.widened:
        return found
    least, most = column.outer
    worlds = None if column.worlds is None else column.worlds[:, rows]
    narrowed = _moved(column.narrowed_by, rows)
    return replace(found, least=least[rows], most=most[rows], narrowed_by=narrowed, worlds=worlds)


def _moved(told: Mapping[int, T], rows: Ints) -> dict[int, T]:
    return {i: told[int(r)] for i, r in enumerate(rows) if int(r) in told} if told else {}


def table(s: Situation, grain: str, *, every: bool = False) -> Table:
    """One table of facts, kept with the situation; columns are worked out when a rule first asks."""
    name = f"{'every' if every else 'table of'} {grain}"
    if name not in s.views:
        rows = rows_of(s, grain, every=every)
        gone = None if every or grain != "scent" else _poured_nowhere(s, rows)
        s.views[name] = _table(s, rows, gone)
    found: Table = s.views[name]
    return found


def _table(s: Situation, rows: Rows, gone: Bools | None) -> Table:
    grain = rows.grain
    read: dict[str, Ints] = {}

    def compute(name: str) -> AnyColumn:
        own = dict.get(REGISTRY, name)
        if own and own.word.grain == grain and grain in WHOLE:
            return s.home(name)
        measure, where = home_rows(s, rows, name, read)
        column = spread(s.home(measure), where)
        return column if gone is None or name in OF_THE_BLEND else _not_of(column, gone)

    return Table(grain, partial(_subjects, s, rows), compute, s.believing.careful, len(rows))


def tables(s: Situation, grains: Iterable[str] = GRAINS) -> dict[str, Table]:
    """The tables of a plan at its doses, one for each grain."""
    return {grain: table(s, grain) for grain in grains}


def _subjects(s: Situation, rows: Rows) -> list[Subject]:
    match rows.grain:
        case "additive":
            place = _place((s.plan.recipe or s.plan).place)
            return [Subject("additive", (each.name,), place) for each in s.pot.added]
        case "embed":
            return [Subject("embed", (each.what,), _place(each.place)) for each in s.plan.embeds]
        case "portion":
            assert rows.portion is not None
            return [Subject("portion", (s.portions[p],), _portion_place(s, p)) for p in rows.portion]
        case "scent":
            assert rows.scent is not None
            return [Subject("scent", (s.scents[i],), _scent_place(s)) for i in rows.scent]
        case "dose":
            assert rows.scent is not None
            assert rows.portion is not None
            cells = zip(rows.scent, rows.portion, strict=True)
            return [Subject("dose", (s.scents[i], s.portions[p]), _portion_place(s, p)) for i, p in cells]
        case "pair":
            assert rows.scent is not None
            assert rows.other is not None
            assert rows.portion is not None
            triples = zip(rows.scent, rows.other, rows.portion, strict=True)
            return [
                Subject("pair", (s.scents[i], s.scents[j], s.portions[p]), _portion_place(s, p))
                for i, j, p in triples
            ]
        case "edge":
            assert rows.portion is not None
            assert rows.neighbour is not None
            ends = zip(rows.portion, rows.neighbour, strict=True)
            return [Subject("edge", (s.portions[a], s.portions[b]), _portion_place(s, a)) for a, b in ends]
    return [Subject("batch", (s.plan.plan,), _place(s.plan.place))]


def _place(place: Place | None) -> Spot | None:
    return place.spot if place else None


def _portion_place(s: Situation, p: int) -> Spot | None:
    return _place(s.plan.portions[int(p)].place)


def _scent_place(s: Situation) -> Spot | None:
    return _place(s.plan.scents.place if s.plan.scents else s.plan.place)
