"""The closed vocabulary: how a measure is declared, and how its column comes about.

A measure is a named pure function of the situation.  Its docstring's first paragraph is its meaning;
a line that begins with ``Formula:`` is its formula.  Both appear in the generated manual.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from blendwise.facts.columns import YES_NO, AnyColumn, Column, Floats, Missing, Word
from blendwise.facts.forms import AffineFraction
from blendwise.facts.registry import PLAIN, REGISTRY, Bound, Measure, Use
from blendwise.facts.situation.worked_out import Situation

GRAINS_OF = {
    "batch": ("batch", "additive", "embed", "portion", "scent", "dose", "pair", "edge"),
    "additive": ("additive",),
    "embed": ("embed",),
    "portion": ("portion", "dose", "pair"),
    "scent": ("scent", "dose"),
    "dose": ("dose",),
    "pair": ("pair",),
    "edge": ("edge",),
}

Compute = Callable[[Situation], AnyColumn]
MakeFraction = Callable[[Situation], AffineFraction]
PerScent = Callable[[Situation], Sequence[tuple[Missing, ...]]]
Said = Callable[[Situation], Mapping[int, str]]
Narrowed = Callable[[Situation], Mapping[int, tuple[Missing, ...]]]


LEAST = dict.fromkeys(("MASS", "VOLUME", "LENGTH", "TIME", "FRACTION", "PARTS", "NUMBER"), 0.0)
"""Dimension → the least value of its measures, where a measure says nothing else of itself."""


def _register(
    name: str,
    grain: str,
    kind: str,
    function: Callable[..., object],
    compute: Compute,
    *,
    unit: str = "",
    dimension: str = "NUMBER",
    basis: str = "",
    scale: tuple[str, ...] | None = None,
    form: str = "constant",
    make_fraction: MakeFraction | None = None,
    cap: Callable[[Situation, str, Floats], Bound] | None = None,
    reads: tuple[str, ...] = (),
    lowest: float | None = None,
    highest: float = np.inf,
    use: Use = PLAIN,
) -> None:
    if dict.__contains__(REGISTRY, name):  # a name of a family is no plain measure
        raise ValueError(f"measure {name!r} is defined twice")
    meaning, formula = _read_docstring(function)
    word = Word(
        name,
        grain,
        GRAINS_OF[grain],
        kind,
        unit,
        dimension,
        basis,
        scale,
        form,
        LEAST.get(dimension, -np.inf) if lowest is None else lowest,
        highest,
        meaning=meaning,
        formula=formula,
        theme=function.__module__.rpartition(".")[2],
        source=getattr(sys.modules[function.__module__], "SOURCE", ""),
    )
    REGISTRY[name] = Measure(word, compute, make_fraction, cap, reads, use)


def _read_docstring(function: Callable[..., object]) -> tuple[str, str]:
    lines = list(filter(None, map(str.strip, (function.__doc__ or "").splitlines())))
    formula = " ".join(line.removeprefix("Formula:").strip() for line in lines if line.startswith("Formula:"))
    meaning = " ".join(line for line in lines if not line.startswith("Formula:"))
    return meaning, formula


def number(
    name: str,
    grain: str,
    *,
    unit: str = "",
    dimension: str = "NUMBER",
    basis: str = "",
    form: str = "constant",
    reads: tuple[str, ...] = (),
    lowest: float | None = None,
    highest: float = np.inf,
    use: Use = PLAIN,
) -> Callable[[Compute], Compute]:
    """Declare a numeric measure; ``form`` is ``constant`` or ``afterwards`` (depends on doses, no row).

    ``reads``: the fractions through which alone doses move it, where it is so.
    ``lowest``, ``highest``: the ends of what it can be, in canonical units (from zero up unless said).
    """

    def declare(function: Compute) -> Compute:
        _register(
            name,
            grain,
            "number",
            function,
            function,
            unit=unit,
            dimension=dimension,
            basis=basis,
            form=form,
            reads=reads,
            lowest=lowest,
            highest=highest,
            use=use,
        )
        return function

    return declare


def word(
    name: str, grain: str, scale: tuple[str, ...], *, form: str = "constant", use: Use = PLAIN
) -> Callable[[Compute], Compute]:
    """Declare a measure whose values are words of ``scale``, in their order."""

    def declare(function: Compute) -> Compute:
        _register(name, grain, "word", function, function, scale=scale, form=form, use=use)
        return function

    return declare


def flag(name: str, grain: str, *, form: str = "constant", use: Use = PLAIN) -> Callable[[Compute], Compute]:
    """Declare a yes/no measure."""

    def declare(function: Compute) -> Compute:
        _register(name, grain, "flag", function, function, scale=YES_NO, form=form, use=use)
        return function

    return declare


def tags(name: str, grain: str, *, form: str = "constant", use: Use = PLAIN) -> Callable[[Compute], Compute]:
    """Declare a measure that is a set of words."""

    def declare(function: Compute) -> Compute:
        _register(name, grain, "set", function, function, form=form, use=use)
        return function

    return declare


def affine(
    name: str,
    grain: str,
    *,
    unit: str = "",
    dimension: str = "FRACTION",
    basis: str = "",
    missing: PerScent | None = None,
    evidence: Said | None = None,
    narrowed_by: Narrowed | None = None,
    lowest: float | None = None,
    highest: float = np.inf,
    use: Use = PLAIN,
) -> Callable[[MakeFraction], MakeFraction]:
    """Declare a measure that is an affine fraction of the doses.

    ``missing`` names what closes open terms, ``evidence`` on whose word a row stands, ``narrowed_by`` what
    would narrow judgement's doubt of a row.
    """

    def declare(function: MakeFraction) -> MakeFraction:
        _register(
            name,
            grain,
            "number",
            function,
            _at_the_doses(name, missing, evidence, narrowed_by),
            unit=unit,
            dimension=dimension,
            basis=basis,
            form="fraction",
            make_fraction=function,
            lowest=lowest,
            highest=highest,
            use=use,
        )
        return function

    return declare


def _at_the_doses(
    name: str, missing: PerScent | None, evidence: Said | None, narrowed_by: Narrowed | None
) -> Compute:
    def compute(situation: Situation) -> Column:
        column = column_of(situation.fraction(name), situation, missing, narrowed_by)
        return column if evidence is None else replace(column, evidence=evidence(situation))

    return compute


def inverted(
    name: str,
    grain: str,
    reads: str,
    cap: Callable[[Situation, str, Floats], Bound],
    *,
    scale: tuple[str, ...] | None = None,
    unit: str = "",
    dimension: str = "NUMBER",
    basis: str = "",
    highest: float = np.inf,
    use: Use = PLAIN,
) -> Callable[[Compute], Compute]:
    """Declare a monotone function of the fraction ``reads``; ``cap`` turns its bound into one on that."""

    def declare(function: Compute) -> Compute:
        _register(
            name,
            grain,
            "word" if scale else "number",
            function,
            function,
            scale=scale,
            unit=unit,
            dimension=dimension,
            basis=basis,
            form="inverted",
            cap=cap,
            reads=(reads,),
            highest=highest,
            use=use,
        )
        return function

    return declare


def column_of(
    form: AffineFraction,
    situation: Situation,
    missing: PerScent | None,
    narrowed_by: Narrowed | None = None,
) -> Column:
    """The column of a fraction at the situation's doses, with what is missing in its open terms."""
    low, high, asked = form.evaluate(situation.x)
    column = Column(low, high, asked=asked, missing=dict(_open_terms(form, situation, missing)))
    if not form.is_doubted:
        return column
    # Summed apart, two ends of one number could cross by a rounding.
    least, most, _ = form.outer.evaluate(situation.x)
    told = {} if narrowed_by is None else narrowed_by(situation)
    return replace(column, least=np.minimum(least, low), most=np.maximum(most, high), narrowed_by=told)


def _open_terms(
    form: AffineFraction, situation: Situation, missing: PerScent | None
) -> Iterator[tuple[int, tuple[Missing, ...]]]:
    if missing is None:
        return
    unsettled = (form.a_high > form.a) & (situation.x > 0)
    if not unsettled.any():
        return
    per_scent = missing(situation)
    for row in np.flatnonzero(unsettled.any(axis=(1, 2))):
        scents = np.flatnonzero(unsettled[row].any(axis=1))
        yield int(row), tuple(dict.fromkeys(m for s in scents for m in per_scent[int(s)]))
