"""Assignment instances for the benchmark: drawn from a seed, like a maker's own, published before any tuning.

A batch of 1 to 2 kg of oils is split into portions; two in five oils carry vanillin, one in three thickens.
Light portions bear little browning, the pour has a clock, no portion may be over-scented, one pair of oils
does not get on, a few cells are closed.  The scale reads 0.1 g, ten steps at least.
"""

from __future__ import annotations

import numpy as np

from blendwise.assignment.problem.problem import Alternative, EitherOr, Problem, Row, Slots, apart

BATTER_PER_OIL = 1.42
BAR_PER_OIL = 1.25


def instance(oils: int, portions: int, seed: int) -> Problem:
    """The instance of this size and seed (it may be impossible)."""
    draw = np.random.default_rng([oils, portions, seed])
    batch = float(draw.integers(10, 21) * 100)
    parts = draw.integers(1, 5, oils).astype(float)
    share = draw.integers(2, 6, portions).astype(float)
    portion_oils = batch * share / share.sum()
    load = float(draw.choice([0.03, 0.035, 0.04, 0.045]))
    light = np.arange(portions) < max(1, round(0.4 * portions))
    empty = np.zeros((oils, portions), dtype=np.bool_)
    empty[draw.integers(oils), draw.integers(portions)] = True
    vanillin = np.where(draw.random(oils) < 0.4, draw.uniform(0.01, 0.10, oils), 0.0)
    rows = (
        *_browning(draw, vanillin, light, portion_oils),
        *_guards(portion_oils, load, oils),
        *_limits(draw, portion_oils, oils),
    )
    one, other, third = (int(k) for k in np.resize(draw.permutation(oils), 3))
    return Problem(
        scents=tuple(f"oil{s}" for s in range(oils)),
        portions=tuple(f"portion{p}" for p in range(portions)),
        blend=parts / parts.sum(),
        portion_oils=portion_oils,
        total=round(load * batch, 1),
        rows=rows,
        either=(
            *(apart("bad-pair", ("bad-pair", p), one, other, p) for p in range(portions)),
            *(_only_with_little(third, one, p, portion_oils[p], oils, portions) for p in range(portions)),
        ),
        slots=_clock(draw, portion_oils, oils, load),
        empty=empty,
        step=0.1,
        min_steps=10,
        step_stated=True,
        prefer=("true to blend", "few weighings", "even scent"),
    )


def _cell_row(
    name: str, portion: int, per_gram: np.ndarray, limit: float, shape: tuple[int, int], level: str
) -> Row:
    a = np.zeros(shape)
    a[:, portion] = per_gram
    return Row(name, (name, portion), a, -limit, level, scale=limit)  # type: ignore[arg-type]


def _browning(
    draw: np.random.Generator, vanillin: np.ndarray, light: np.ndarray, oils: np.ndarray
) -> list[Row]:
    shape = (len(vanillin), len(oils))
    bands = np.where(light, draw.choice([0.0003, 0.0008], len(oils)), draw.choice([0.002, 0.004], len(oils)))
    return [
        _cell_row("browning", p, vanillin, float(bands[p] * BATTER_PER_OIL * oils[p]), shape, "conflict")
        for p in range(len(oils))
    ]


def _guards(oils: np.ndarray, load: float, scents: int) -> list[Row]:
    shape, ones = (scents, len(oils)), np.ones(scents)
    hard = [_cell_row("local-most", p, ones, float(0.08 * w), shape, "conflict") for p, w in enumerate(oils)]
    at = min(0.0625, 1.5 * load)
    return hard + [
        _cell_row("local-much", p, ones, float(at * w), shape, "caution") for p, w in enumerate(oils)
    ]


def _limits(draw: np.random.Generator, oils: np.ndarray, scents: int) -> list[Row]:
    shape = (scents, len(oils))
    per_gram = 1.0 / draw.uniform(0.05, 0.25, scents)
    return [
        _cell_row("strongest-portion", p, per_gram, float(BAR_PER_OIL * w), shape, "caution")
        for p, w in enumerate(oils)
    ]


def _only_with_little(third: int, one: int, p: int, oils: float, scents: int, portions: int) -> EitherOr:
    a = np.zeros((scents, portions))
    a[one, p] = 1.0
    little = Row("little-beside", ("little-beside", p), a, -0.01 * oils, scale=0.01 * oils)
    sides = (Alternative(empty=((third, p),)), Alternative(rows=(little,)))
    return EitherOr("little-beside", ("little-beside", p), sides)


def _clock(draw: np.random.Generator, oils: np.ndarray, scents: int, load: float) -> Slots:
    factor = np.where(draw.random(scents) < 1 / 3, draw.choice([1.5, 2.5, 4.0], scents), 1.0)
    pace = np.maximum(factor - 1.0, 0.0)[:, None] / (0.04 * oils[None, :])
    fluid, end = 25.0, float(draw.uniform(15.0, 18.0))
    start = 6.0 + np.arange(len(oils)) * 6.0 / len(oils)
    return Slots("clock", ("clock",), pace, (fluid - start) / (end - start))
