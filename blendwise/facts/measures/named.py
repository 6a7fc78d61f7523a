"""Measures of named things: sums over oils that a rule names, by name, tag or sort, and over a constituent.

``dose of [tonka-milk, milk-caramel]``, ``share of [citrus]``, ``citral in bar``: made when a rule first asks.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Sequence
from functools import partial, wraps
from typing import Any, Final

import numpy as np

from blendwise.beliefs.contents import contents_of
from blendwise.facts.columns import Bools, Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number
from blendwise.facts.measures.bar import embed_grams, embed_records, of_dried_bar
from blendwise.facts.measures.members import gaps, listed, members, names_in
from blendwise.facts.plain_columns import known
from blendwise.facts.registry import REGISTRY, Measure, Use
from blendwise.facts.situation.timeline import timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science import constituents
from blendwise.science.labels import label_names_for

SOURCE = "the oils, tags and sorts that the rule names"
Names = tuple[str, ...]
NAMES: Final = "[NAME, …]"
CONSTITUENT: Final = "CONSTITUENT"
PATTERNS: Final[dict[str, Measure]] = {}
"""``dose of [NAME, …]`` and its like → the measure, as the manual shows it."""


def _family(pattern: str, declare: Callable[..., Any]) -> Callable[[Any], Any]:
    """Declare measures whose name holds names: ``pattern`` ends or begins with what is put in."""

    def take(function: Callable[..., Any]) -> Callable[..., Any]:
        def make(name: str, names: Any, gap: Any = None) -> Measure:
            bound = wraps(function)(partial(function, names=names))
            bound.__doc__ = inspect.getdoc(function)
            del bound.__wrapped__
            return _made(name, partial(declare, names=names) if _takes_names(declare) else declare, bound)

        PATTERNS[pattern] = make(pattern, ("",))
        REGISTRY.families.append(partial(_found, pattern, make))
        return function

    return take


def _takes_names(declare: Callable[..., Any]) -> bool:
    return "names" in inspect.signature(declare).parameters


def _made(name: str, declare: Callable[..., Any], function: Callable[..., Any]) -> Measure:
    """Declare under a name, and take it out of the plain measures again."""
    declare(name)(function)
    return REGISTRY.pop(name)


def _found(pattern: str, make: Callable[[str, Any], Measure], name: str) -> Measure | None:
    if pattern.startswith(CONSTITUENT):
        tail = pattern.removeprefix(CONSTITUENT)
        row = constituents.known(name.removesuffix(tail)) if name.endswith(tail) else None
        return None if row is None else make(f"{row.name.casefold()}{tail}", (row.name,))
    head = pattern.removesuffix(NAMES)
    names = names_in(name.removeprefix(head)) if name.startswith(head) else None
    return None if names is None else make(f"{head}{listed(names)}", names)


def _ends(s: Situation, names: Names) -> tuple[Floats, Floats]:
    sure, maybe = members(s, names)
    return sure.astype(float)[None, :, None], maybe.astype(float)[None, :, None]


def _sum(grain: str, **more: Any) -> Callable[..., Any]:
    """A sum over the oils meant, at a grain."""

    def declare(name: str, names: Names) -> Any:
        return affine(name, grain, missing=lambda s: gaps(s, names), **more)

    return declare


@_family("dose of [NAME, …]", _sum("portion", unit="% of portion oils", basis="of portion oils"))
def dose_of(s: Situation, names: Names) -> AffineFraction:
    """The oils named (by name, tag or sort), all of them in the portion together, on its oils.

    Formula: Σ grams of them ÷ portion oils
    """
    unit = s.unit_of_portion()
    low, high = _ends(s, names)
    return fraction(unit * low, d0=s.split.oils, a_high=unit * high)


@_family("share of [NAME, …]", _sum("portion", unit="% of the portion's scent", highest=1.0))
def share_of(s: Situation, names: Names) -> AffineFraction:
    """The oils named, all of them together, as a share of all scent in the portion.

    Formula: Σ grams of them ÷ Σ grams
    """
    unit = s.unit_of_portion()
    low, high = _ends(s, names)
    return fraction(unit * low, unit.copy(), 0.0, a_high=unit * high)


@_family("batch dose of [NAME, …]", _sum("batch", unit="% of batch oils", basis="of batch oils"))
def batch_dose_of(s: Situation, names: Names) -> AffineFraction:
    """The oils named, all of them together, on all oils of the batch.

    Formula: Σ grams of them ÷ oils
    """
    low, high = _ends(s, names)
    ones = np.ones((1, *s.shape))
    return fraction(ones * low, d0=s.pot.oils_total, a_high=ones * high)


@_family("grams of [NAME, …]", _sum("batch", unit="g", dimension="MASS", use=Use(of_size=True)))
def grams_of(s: Situation, names: Names) -> AffineFraction:
    """The oils named, all of them together, in the batch.

    Formula: Σ grams of them
    """
    low, high = _ends(s, names)
    ones = np.ones((1, *s.shape))
    return fraction(ones * low, a_high=ones * high)


def _content(name: str, scent: Scent) -> tuple[float, float]:
    """What an oil holds of a substance, at least and at most; all of it may be where no paper speaks.

    A complete allergen sheet speaks of the substances that must be on a label, and of no other.
    """
    found = contents_of(scent)
    part = next((each for each in found.parts if each.name == name), None)
    if part is not None:
        return (0.0, 1.0) if part.open else (part.low, part.high)
    if scent.kind != "fragrance oil" and any(own.name == name for own in found.own):
        return 1.0, 1.0
    likely = [each.high for each in found.unread if name in each.could_be]
    sheet = scent.allergen_sheet
    complete = sheet is not None and sheet.complete and bool(label_names_for(name))
    return 0.0, max(likely, default=0.0) if complete else 1.0


def _contents(name: str, scents: Sequence[Scent]) -> tuple[Floats, Floats]:
    ends = np.array([_content(name, scent) for scent in scents], dtype=float).reshape(len(scents), 2)
    return ends[:, 0], ends[:, 1]


def _open_contents(s: Situation, names: Names) -> list[tuple[Missing, ...]]:
    low, high = _contents(names[0], s.scent_records)
    return [(Missing(oil, names[0]),) if high[i] > low[i] else () for i, oil in enumerate(s.scents)]


def _holding(grain: str, **more: Any) -> Callable[..., Any]:
    def declare(name: str, names: Names) -> Any:
        return affine(name, grain, missing=lambda s: _open_contents(s, names), **more)

    return declare


@_family("CONSTITUENT in portion", _holding("portion", unit="% of portion oils", basis="of portion oils"))
def constituent_in_portion(s: Situation, names: Names) -> AffineFraction:
    """A substance that papers name, such as citral, from all scents of the portion, on its oils.

    An oil of which no paper says how much it holds may hold any share of it.
    Formula: Σ grams × content ÷ portion oils
    """
    unit = s.unit_of_portion()
    low, high = (end[None, :, None] for end in _contents(names[0], s.scent_records))
    return fraction(unit * low, d0=s.split.oils, a_high=unit * high)


@_family("CONSTITUENT in bar", _holding("batch", unit="% of finished bar", basis="of finished bar"))
def constituent_in_bar(s: Situation, names: Names) -> AffineFraction:
    """A substance that papers name, from all scents and embeds, in the bar as limits see it (dried).

    An oil of which no paper says how much it holds may hold any share of it; embeds count at most.
    Formula: Σ grams × content ÷ dried mass
    """
    low, high = (end[None, :, None] for end in _contents(names[0], s.scent_records))
    ones = np.ones((1, *s.shape))
    brought = float(embed_grams(s) @ _contents(names[0], embed_records(s))[1])
    return of_dried_bar(s, ones * low, a0=brought, a_high=ones * high)


def _present(s: Situation, names: Names) -> tuple[Bools, Bools]:
    """Which portions hold any of them, surely and possibly."""
    return tuple((s.presence & each[:, None]).any(axis=0) for each in members(s, names))  # type: ignore[return-value]


def _told(s: Situation, names: Names) -> tuple[Missing, ...]:
    return tuple(missing for each in gaps(s, names) for missing in each)


@_family("portions with [NAME, …]", lambda name: number(name, "batch", form="afterwards"))
def portions_with(s: Situation, names: Names) -> Column:
    """How many portions hold any of the oils named.

    Formula: count of portions with at least one of them
    """
    sure, maybe = _present(s, names)
    low, high = float(sure.sum()), float(maybe.sum())
    return Column(np.array([low]), np.array([high]), missing={0: _told(s, names)} if high > low else {})


@_family("scents in batch of [NAME, …]", lambda name: number(name, "batch", form="afterwards"))
def scents_in_batch_of(s: Situation, names: Names) -> Column:
    """How many of the oils named (by name, tag or sort) the batch holds.

    Formula: count of oils meant that any portion holds
    """
    counts = [float((each & s.presence.any(axis=1)).sum()) for each in members(s, names)]
    return _counted(s, names, np.array(counts)[:, None])


@_family("scents in portion of [NAME, …]", lambda name: number(name, "portion", form="afterwards"))
def scents_in_portion_of(s: Situation, names: Names) -> Column:
    """How many of the oils named (by name, tag or sort) the portion holds.

    Formula: count of oils meant that it holds
    """
    return _counted(
        s, names, np.array([(s.presence & each[:, None]).sum(axis=0) for each in members(s, names)])
    )


def _counted(s: Situation, names: Names, ends: Floats) -> Column:
    """A count from its two ends (2, rows), open where an oil's sort is not known."""
    low, high = ends.astype(float)
    open_ = {int(row): _told(s, names) for row in np.flatnonzero(high > low)}
    return Column(low, high, missing=open_)


@_family("portions coloured with [NAME, …]", lambda name: number(name, "batch"))
def portions_coloured_with(s: Situation, names: Names) -> Column:
    """How many portions hold any of the colourants named (by name or kind).

    Formula: count of portions with at least one of them
    """
    return known([float((s.split.colour[_colourants(s, names)].sum(axis=0) > 0).sum())])


def _colourants(s: Situation, names: Names) -> Bools:
    return np.array([r.name in names or r.kind in names for r in s.colourant_records], dtype=bool)


@_family("scented after [NAME, …]", lambda name: flag(name, "portion", form="afterwards"))
def scented_after(s: Situation, names: Names) -> Column:
    """Whether a portion with any of the oils named is scented before this one (not asked without a pour)."""
    line, count = timeline(s), len(s.portions)
    if line is None:
        return Column(np.zeros(count), np.zeros(count), ("no", "yes"), np.zeros(count, dtype=bool))
    earlier = line.place[None, :] < line.place[:, None]
    low, high = ((earlier & each[None, :]).any(axis=1).astype(float) for each in _present(s, names))
    open_ = {int(p): _told(s, names) for p in np.flatnonzero(high > low)}
    return Column(low, high, ("no", "yes"), missing=open_)


@_family(
    "oil share of [NAME, …]",
    lambda name: number(name, "batch", unit="% of oils", dimension="FRACTION", highest=1.0),
)
def oil_share_of(s: Situation, names: Names) -> Column:
    """The base oils named, all of them together, as a share of the recipe's oils.

    Formula: Σ mass of them ÷ oils
    """
    mine = np.isin(s.pot.oils, names)
    return known([float(np.asarray(s.pot.masses)[mine].sum()) / s.pot.oils_total])


@_family(
    "additive rate of [NAME, …]",
    lambda name: number(name, "batch", unit="% of batch oils", dimension="FRACTION", basis="of batch oils"),
)
def additive_rate_of(s: Situation, names: Names) -> Column:
    """The additives named, all of them together, on the oils of the batch.

    Formula: Σ mass of them ÷ oils
    """
    return known([sum(each.grams for each in s.pot.added if each.name in names) / s.pot.oils_total])


@_family(
    "colour rate of [NAME, …]",
    lambda name: number(
        name, "portion", unit="% of portion oils", dimension="FRACTION", basis="of portion oils"
    ),
)
def colour_rate_of(s: Situation, names: Names) -> Column:
    """The colourants named (by name or kind), all of them in the portion together, on its oils.

    Formula: Σ grams of them ÷ portion oils
    """
    mine = _colourants(s, names)
    return known(s.split.colour[mine].sum(axis=0) / s.split.oils)


def strangers(name: str) -> tuple[str, Names] | None:
    """What a measure of named things names: (its pattern, the names); None for any other measure."""
    for pattern in PATTERNS:
        head = pattern.removesuffix(NAMES)
        if head != pattern and name.startswith(head) and name in REGISTRY:
            names = names_in(name.removeprefix(head))
            if names is not None:
                return pattern, names
    return None
