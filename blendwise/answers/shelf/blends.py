"""Many blends at once: every pair of a shelf, each in a bar of its own, as tables for the same judge.

No rule and no formula is written again.  A measure that is an affine fraction of the doses has one
coefficient an oil, taken from a situation with the whole shelf in it; what does not depend on the doses is
taken from the same measures; the judge then reads columns with a row a blend.  All blends share one
portion, one recipe and one load, so that what only tells portions apart is not asked.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import combinations
from typing import Final

import numpy as np

from blendwise.answers.shelf.bar import Ints, Shelf
from blendwise.facts.columns import AnyColumn, Bools, Column, Floats, Missing, SetColumn, Subject, Table
from blendwise.facts.measures.law import names_not_told, unanswered
from blendwise.facts.registry import REGISTRY
from blendwise.facts.scales import NOTED
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.tables import SIDES, spread, vocabulary
from blendwise.science.flash import lowest_flash

GRAINS: Final = ("batch", "portion", "scent", "dose", "pair")
SAME: Final = {"limit used in worst bar": "limit used"}
"""Measures that say the same thing of a bar of one portion."""
OF_MINUTES: Final = ("minutes fluid", "minutes to spare")
"""Measures that tell no minutes of a portion with a scent that seizes."""
PLANS_OWN: Final = {"blend total met": 1.0, "poured": 1.0, "times the load": 1.0}
"""Measures against the plan's own blend and load, which a blend in a bar of its own meets by construction."""


class NotForManyError(LookupError):
    """A measure that has no column over many blends; rules that read it are asked of a pair alone."""


@dataclass(frozen=True, eq=False)
class Blends:
    """Blends of a shelf: ``index`` (rows, oils) places on it, ``shares`` (rows, oils) above 0, summing to 1.

    ``told``: whether columns carry what is missing and who says so, for reasons in words.
    """

    shelf: Shelf
    index: Ints
    shares: Floats
    told: bool = False
    kept: dict[str, AnyColumn] = field(default_factory=dict)

    def __len__(self) -> int:
        return len(self.index)

    @property
    def width(self) -> int:
        """Oils in each blend."""
        return int(self.index.shape[1])

    @cached_property
    def grams(self) -> Floats:
        """(rows, oils)."""
        return np.asarray(self.shares * (self.shelf.load * self.shelf.oils))

    @cached_property
    def sides(self) -> list[tuple[int, int]]:
        """Places within a blend of every two oils."""
        return list(combinations(range(self.width), 2))

    def tables(self) -> dict[str, Table]:
        """A table a grain, for the judge; scents, doses and pairs run blend by blend."""
        return {grain: self._table(grain) for grain in GRAINS}

    def blend_of(self, grain: str) -> Ints:
        """Which blend each row of a grain belongs to."""
        times = {"scent": self.width, "dose": self.width, "pair": len(self.sides)}.get(grain, 1)
        return np.repeat(np.arange(len(self)), times)

    def _table(self, grain: str) -> Table:
        rows = self.blend_of(grain)
        subjects = self._subjects(grain) if self.told else [Subject(grain, ("", "", ""))] * len(rows)
        return Table(grain, subjects, lambda name: self._at(grain, name))

    def _subjects(self, grain: str) -> list[Subject]:
        names = [[self.shelf.names[int(i)] for i in row] for row in self.index]
        portion = self.shelf.base.portions[0]
        match grain:
            case "scent":
                return [Subject(grain, (name,)) for row in names for name in row]
            case "dose":
                return [Subject(grain, (name, portion)) for row in names for name in row]
            case "pair":
                return [Subject(grain, (row[a], row[b], portion)) for row in names for a, b in self.sides]
            case "portion":
                return [Subject(grain, (portion,))] * len(names)
        return [Subject(grain, (" with ".join(row),)) for row in names]

    def _at(self, grain: str, name: str) -> AnyColumn:
        """A word's column at a grain: its home column, spread to the rows."""
        side, _, rest = name.partition(" ")
        if grain in SIDES and side in SIDES[grain] and rest in REGISTRY:
            places = [pair[SIDES[grain].index(side)] for pair in self.sides]
            rows = (np.arange(len(self))[:, None] * self.width + np.array(places, dtype=np.intp)).ravel()
            return spread(self.home(rest), rows)
        home = REGISTRY[name].word.grain
        column = self.home(name)
        return (
            column
            if home == grain or {home, grain} == {"scent", "dose"}
            else spread(column, self._spread(home, grain))
        )

    def _spread(self, home: str, grain: str) -> Ints:
        if home not in ("batch", "portion"):
            raise NotForManyError(f"{home} to {grain}")
        return self.blend_of(grain)

    def home(self, name: str) -> AnyColumn:
        """A measure's column at its home grain, a row a blend (or oil, or pair of a blend)."""
        if name not in self.kept:
            self.kept[name] = self._home(SAME.get(name, name))
        return self.kept[name]

    def _home(self, name: str) -> AnyColumn:
        measure = REGISTRY[name]
        if name in PLANS_OWN:
            size = len(self) * (self.width if measure.word.grain == "scent" else 1)
            return _flat(np.full(size, PLANS_OWN[name]), None)
        if name in _COMPOSED:
            return _COMPOSED[name](self)
        if measure.fraction is not None:
            return self.shelf.terms(name).column(self.index, self.grams, self._gaps(name))
        if name == "layer below":
            return Column(np.zeros(len(self)), np.zeros(len(self)), asked=np.zeros(len(self), dtype=bool))
        if measure.reads:
            return self._from_fractions(name)
        if measure.word.form != "constant":
            raise NotForManyError(name)
        return self._constant(name, measure.word.grain)

    def _constant(self, name: str, grain: str) -> AnyColumn:
        shelf = self.shelf
        if grain in ("scent", "dose"):
            column = spread(shelf.base.home(name), self.index.ravel().astype(np.intp))
            return column if self.told else bare(column)
        if grain not in ("batch", "portion"):
            raise NotForManyError(name)
        plain, hot = (bar.home(name) for bar in shelf.bars)
        rows = np.zeros(len(self), dtype=np.intp)
        if isinstance(plain, SetColumn) or isinstance(hot, SetColumn):
            if REGISTRY[name].use.of_pour:  # where a portion comes to lie tells those of a pour apart
                raise NotForManyError(name)
            return spread(plain, rows)
        spicy = shelf.spicy[self.index].any(axis=1)
        low, high = (
            np.where(spicy, end[1][0], end[0][0]) for end in ((plain.low, hot.low), (plain.high, hot.high))
        )
        asked = None if plain.asked is None else plain.asked[rows]
        gaps = (
            {int(r): plain.missing[0] for r in range(len(self))} if self.told and 0 in plain.missing else {}
        )
        found = Column(low, high, plain.scale, asked, gaps)
        if not (plain.widened or hot.widened):
            return found
        least, most = (
            np.where(spicy, end[1][0], end[0][0]) for end in zip(plain.outer, hot.outer, strict=True)
        )
        return replace(found, least=least, most=most)

    def _from_fractions(self, name: str) -> Column:
        """The measure's own function, asked in a bar whose fractions have a row a blend."""
        shelf = self.shelf
        columns = {part: self.home(part) for part in REGISTRY[name].reads}
        bar = replace(shelf.bars[0], kept=dict(columns))
        bar.views.update(timeline=shelf.clock)
        bar.alike.update(appearance=appearance(shelf.bars[0]))
        bar.views.update(seizing_portions=np.zeros(1, dtype=bool))
        found = REGISTRY[name].compute(bar)
        assert isinstance(found, Column)
        low, high = (np.broadcast_to(end, len(self)) for end in (found.low, found.high))
        asked: Bools | None = None if found.asked is None else np.broadcast_to(found.asked[:1], len(self))
        if name in OF_MINUTES:
            holds: Bools = np.asarray(shelf.seizing[self.index].any(axis=1), dtype=bool)
            asked = ~holds if asked is None else asked & ~holds
        plain = Column(low, high, found.scale, asked, found.missing)
        if not found.widened:
            return plain
        least, most = (np.broadcast_to(end, len(self)) for end in found.outer)
        worlds = found.worlds
        if worlds is not None:
            worlds = np.broadcast_to(worlds, (len(worlds), len(self)))
        return replace(plain, least=least, most=most, narrowed_by=found.narrowed_by, worlds=worlds)

    def _gaps(self, name: str) -> Callable[[int], tuple[Missing, ...]] | None:
        """What is missing in a blend's open terms: the shelf's own gaps, of the oils that are in it."""
        if not self.told or REGISTRY[name].word.grain not in ("batch", "portion"):
            return None
        gaps = self.shelf.base.home(name).missing.get(0, ())
        by_oil: dict[str, list[Missing]] = {}
        for gap in gaps:
            by_oil.setdefault(gap.subject, []).append(gap)
        names = self.shelf.names
        return lambda row: tuple(gap for i in self.index[row] for gap in by_oil.get(names[int(i)], ()))


def bare(column: AnyColumn) -> AnyColumn:
    """The numbers alone, without gaps and evidence."""
    return replace(column, missing={}, evidence={})


def _flat(values: Floats, scale: tuple[str, ...] | None) -> Column:
    return Column(values, values, scale)


def _noted_column(blends: Blends) -> Column:
    """What the maker noted of every two oils of a blend, blend by blend."""
    codes = [blends.shelf.noted_codes(blends.index[:, a], blends.index[:, b]) for a, b in blends.sides]
    flat = np.stack(codes, axis=1).ravel() if codes else np.zeros(0)
    return _flat(flat, NOTED)


def _together_column(blends: Blends) -> Column:
    return _flat(np.ones(len(blends) * len(blends.sides)), vocabulary()["together"].scale)


def _label_names(blends: Blends) -> Column:
    """All names are known where those of every oil are."""
    told = np.array([not names_not_told(record) for record in blends.shelf.base.scent_records])
    complete = told[blends.index].all(axis=1)
    return _flat(complete.astype(float), vocabulary()["label names known"].scale)


def _law_answered(blends: Blends) -> Column:
    """The law is answered for where it is for every oil; not known where papers of one are lacking."""
    base = blends.shelf.base
    gaps = [tuple(unanswered(record, base.today)) for record in base.scent_records]
    lost = np.array([bool(each) for each in gaps])[blends.index].any(axis=1)
    missing = {int(r): sum((gaps[i] for i in blends.index[r]), ()) for r in np.flatnonzero(lost)}
    low, yes = np.where(lost, -np.inf, 1.0), vocabulary()["law answered"].scale
    return Column(low, np.where(lost, np.inf, 1.0), yes, missing=missing if blends.told else {})


def _lowest_flash(blends: Blends) -> Column:
    """The least of the oils' flash points; open below where any is not known."""
    point = blends.home("flash point")
    assert isinstance(point, Column)
    low = point.low.reshape(len(blends), blends.width)
    return Column(*lowest_flash(low, np.where(np.isfinite(low), low, np.inf)))


_COMPOSED: Final[Mapping[str, Callable[[Blends], Column]]] = {
    "noted together": _noted_column,
    "together": _together_column,
    "label names known": _label_names,
    "law answered": _law_answered,
    "lowest flash point": _lowest_flash,
    "blend share": lambda blends: _flat(blends.shares.ravel(), None),
    "scented": lambda blends: _flat(np.ones(len(blends)), vocabulary()["scented"].scale),
    "fits a premix": lambda blends: _flat(
        np.full(blends.index.size, float(blends.width > 1)), vocabulary()["fits a premix"].scale
    ),
    "scents in portion": lambda blends: _flat(np.full(len(blends), float(blends.width)), None),
}
"""Facts that are put together from those of the oils in a blend."""
