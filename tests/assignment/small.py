"""Small random problems with all that a problem can hold, on so coarse a scale that every answer can
be listed."""

from __future__ import annotations

from typing import Any

import numpy as np

from blendwise.assignment.problem.problem import GOALS, Alternative, EitherOr, Problem, Row, Slots, apart
from blendwise.facts.columns import Floats
from blendwise.judge.findings.finding import Level

LEVELS: tuple[Level, ...] = ("hint", "caution", "conflict", "stop")


def small(seed: int) -> Problem:
    """Two or three oils, two or three portions, 8 to 12 steps in all."""
    draw = np.random.default_rng(seed)
    oils, portions = int(draw.integers(2, 4)), int(draw.integers(2, 4))
    parts = draw.integers(1, 4, oils).astype(float)
    step = float(draw.choice([0.1, 0.5, 1.0]))
    steps = int(draw.integers(7, 12))
    total = steps * step
    shape = (oils, portions)
    share = draw.integers(1, 4, portions).astype(float)
    same_dose = draw.random() < 0.25
    least = int(draw.integers(1, 4))
    goals = [GOALS[int(k)] for k in draw.permutation(len(GOALS))[: int(draw.integers(1, 4))]]
    return Problem(
        scents=tuple(f"oil{s}" for s in range(oils)),
        portions=tuple(f"portion{p}" for p in range(portions)),
        blend=parts / parts.sum(),
        portion_oils=100.0 * share,
        total=total,
        dosing="same dose" if same_dose else "same total",
        dose=draw.integers(3, 6, portions).astype(np.float64) * step if same_dose else None,
        must_scent=draw.random(portions) < 0.5 if draw.random() < 0.5 else None,
        rows=tuple(_row(draw, shape, total, k) for k in range(int(draw.integers(1, 6)))),
        either=tuple(_either(draw, shape, total, k) for k in range(int(draw.integers(0, 3)))),
        slots=_slots(draw, shape, total) if draw.random() < 0.5 else None,
        **_cells(draw, shape, total),
        step=step,
        min_steps=least,
        step_stated=bool(draw.random() < 0.6),
        premixes=int(draw.integers(1, 4)),
        per_portion=int(draw.integers(1, 3)),
        prefer=tuple(goals),
        browning=draw.random(oils) < 0.5,
        light=draw.random(portions) < 0.5,
        haste=np.outer(draw.integers(0, 3, oils), share / share.sum()),
    )


def _coefs(draw: np.random.Generator, shape: tuple[int, int]) -> Floats:
    a = np.where(draw.random(shape) < 0.8, draw.integers(0, 5, shape), 0).astype(float)
    if draw.random() < 0.75:
        only = int(draw.integers(shape[1]))
        a[:, [p for p in range(shape[1]) if p != only]] = 0.0
    if draw.random() < 0.15:
        a[int(draw.integers(shape[0]))] *= -1.0
    return a


def _row(
    draw: np.random.Generator, shape: tuple[int, int], total: float, k: int, level: Level | None = None
) -> Row:
    a, limit = _coefs(draw, shape), float(draw.integers(1, 9)) / 8 * total * 2
    drawn = LEVELS[int(draw.choice(len(LEVELS), p=[0.15, 0.25, 0.4, 0.2]))]
    uncertain = draw.random(shape) < 0.15 if draw.random() < 0.2 else None
    return Row(
        f"row{k}",
        ("row", k),
        a,
        -limit,
        level or drawn,
        scale=limit,
        strict=bool(draw.random() < 0.2),
        uncertain=uncertain,
    )


def _either(draw: np.random.Generator, shape: tuple[int, int], total: float, k: int) -> EitherOr:
    level = str(draw.choice(["caution", "conflict"]))
    p = int(draw.integers(shape[1]))
    if draw.random() < 0.4:
        one, other = (int(s) for s in draw.permutation(shape[0])[:2])
        return apart(f"apart{k}", ("apart", k), one, other, p, level)  # type: ignore[arg-type]
    sides = [Alternative(empty=((int(draw.integers(shape[0])), p),))]
    sides.append(Alternative(rows=(_row(draw, shape, total, k, "conflict"),)))
    if draw.random() < 0.3:
        sides.append(Alternative(unscented=(int(draw.integers(shape[1])),)))
    return EitherOr(f"either{k}", ("either", k), tuple(sides), level)  # type: ignore[arg-type]


def _slots(draw: np.random.Generator, shape: tuple[int, int], total: float) -> Slots:
    pace = draw.integers(0, 4, shape) / total
    caps = np.sort(1.0 + draw.integers(0, 8, shape[1]) / 4.0)
    order = tuple(int(p) for p in draw.permutation(shape[1])) if draw.random() < 0.3 else None
    level = "conflict" if draw.random() < 0.7 else "caution"
    return Slots("clock", ("clock",), pace, caps, order, level)  # type: ignore[arg-type]


def _cells(draw: np.random.Generator, shape: tuple[int, int], total: float) -> dict[str, Any]:
    found: dict[str, Any] = {}
    nothing = np.full(shape, np.nan)
    s, p = int(draw.integers(shape[0])), int(draw.integers(shape[1]))
    if draw.random() < 0.2:
        found["upper"] = nothing.copy()
        found["upper"][s, p] = total / 4
    if draw.random() < 0.1:
        found["lower"] = nothing.copy()
        found["lower"][s, p] = total / 8
    if draw.random() < 0.1:
        found["fixed"] = nothing.copy()
        found["fixed"][s, p] = float(draw.choice([0.0, total / 5]))
    if draw.random() < 0.3:
        found["empty"] = draw.random(shape) < 0.2
    if draw.random() < 0.2:
        found["unscented"] = np.arange(shape[1]) == p
    return found
