"""Splits on the scale's grid, judged by the rules of `check`: none may be better than what is called best.

Nothing here knows how rules are compiled: a split is a table of doses, its worth what the judge says of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from random import Random
from typing import Any, Final

import numpy as np
import yaml

from blendwise.answers.check.compute import judge_situation
from blendwise.api import Book
from blendwise.facts.situation.worked_out import Situation
from tests.levers.two_faults import sound, write_book
from tests.strangers.runs import ran

LEAST_STEPS: Final = 10
BAND, GAP = 0.05, 0.005
"""Part of all scent by which a goal gives way to the next, and to which it is proven."""
WEIGHT: Final = {"caution": 1.0, "conflict": 10.0, "stop": 100.0}
Mixes = tuple[tuple[int, ...], ...]
EVEN: Final = {"wet-slate", "white-barn", "toffee-tin", "nettle-lane", "red-lantern"}
POURS: Final = ("rough layers", "in-pot swirl", "single colour", "drop swirl")
STEP: Final = {True: "0.02 oz", False: "0.5 g"}


def small_plan(folder: Path, seed: int) -> Path:
    """A plan of two oils and two cups, every other book in ounces, its scale coarse."""
    rng, ounces = Random(f"split {seed}"), seed % 2 == 1
    write_book(folder, ounces)
    usual = folder / "usual.yaml"
    said = yaml.safe_load(usual.read_text("utf-8")) | {"scale step": STEP[ounces]}
    usual.write_text(yaml.safe_dump(said), "utf-8")
    plan: dict[str, Any] = sound(ounces)
    first, _, last = plan["portions"]
    first["share"] = rng.choice(["50 %", "40 %", "65 %"])
    first |= {"may become": rng.choice(["ivory", "cream", "tan", "brown"])}
    plan["portions"] = [first, last]
    plan["pour"] = rng.choice(POURS)
    plan["process"]["stays fluid"] = rng.choice(["16 min", "25 min", "40 min"])
    one, other = rng.sample(sorted(EVEN), 2)
    plan["scents"]["blend"] = {one: "1", other: rng.choice(["1", "2", "0.5"])}
    if seed >= 200 and rng.random() < 0.3:
        plan["scents"]["dosing"] = "same dose in each scented portion"
    file = folder / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False), "utf-8")
    return file


def splits(s: Situation, step: float) -> Iterator[np.ndarray]:
    """Every way to weigh what is asked into the cups, in whole steps, none or at least ten of them.

    Under *same dose* each cup's own dose is divided between the oils, which hold their part of the bar to a
    tenth of it, or to two steps.
    """
    if not s.scenting.same_total:
        yield from _same_dose(s, step)
        return
    totals = s.scenting.blend * s.scenting.total / step
    whole = [math.floor(each + 0.5) for each in totals]
    ways = [[0, *range(LEAST_STEPS, n - LEAST_STEPS + 1), n] for n in whole]
    for firsts in product(*ways):
        yield np.array([[n, total - n] for n, total in zip(firsts, whole, strict=True)]) * step


def _same_dose(s: Situation, step: float) -> Iterator[np.ndarray]:
    whole = [math.floor(each / step + 0.5) for each in s.scenting.load * s.split.oils]
    ways = [[0, *range(LEAST_STEPS, n - LEAST_STEPS + 1), n] for n in whole]
    part = s.scenting.blend * s.scenting.total
    room = np.maximum(0.1 * part, 2 * step) + 1e-9
    for firsts in product(*ways):
        x = np.array([firsts, [total - n for n, total in zip(firsts, whole, strict=True)]]) * step
        if (np.abs(x.sum(axis=1) - part) <= room).all():
            yield x


def worth(s: Situation, book: Book, x: np.ndarray, mixes: Mixes = ()) -> float:
    """What the judge says of it: the heavier the worse; infinite where a stop or a conflict is broken."""
    total = 0.0
    for each in judge_situation(s.with_doses(x, mixes), book.rulebook).findings:
        if each.level == "hint" or each.status == "accepted" or each.hidden or each.open:
            continue
        if each.status == "broken" and each.level in ("stop", "conflict"):
            return math.inf
        total += WEIGHT[each.level] if each.status == "undecided" else 1.0
    return total


def goals_of(s: Situation, x: np.ndarray) -> tuple[float, float, int]:
    """The goals in their usual order: grams off the blend, grams off an even scent, weighings."""
    doses = x.sum(axis=0)
    blend = x.sum(axis=1) / x.sum() if s.scenting.same_total else s.scenting.blend
    even = s.split.oils / s.split.oils.sum() * x.sum()
    off = float(np.abs(x - np.outer(blend, doses)).sum() / 2)
    return off, float(np.maximum(even - doses, 0.0).sum()), int((x > 0).sum())


PART: Final = 1 / 3
"""Of what a split is off the blend anyway, where that is more than the band."""


def missed(s: Situation, mine: np.ndarray, others: list[np.ndarray], slack: float) -> str:
    """Which goal another, none worse in those before it, does better by more than ``slack`` g."""
    own = goals_of(s, mine)
    left = others
    for goal, (name, least) in enumerate((("off blend", slack), ("off even", slack), ("weighings", 0.5))):
        best = min(left, key=lambda x: goals_of(s, x)[goal], default=None)
        room = least if best is None or goal else max(least, PART * goals_of(s, best)[0] + least / 10)
        if best is not None and goals_of(s, best)[goal] < own[goal] - room:
            return f"{name} {own[goal]:.4g}, but {best.tolist()} {goals_of(s, best)[goal]:.4g}"
        left = [x for x in left if goals_of(s, x)[goal] <= own[goal] + 1e-9]
    return ""


def better(folder: Path, seed: int, most: int) -> tuple[int, str]:
    """How many splits were judged, and what is wrong with the answer ("" where nothing is)."""
    file = small_plan(folder, seed)
    told = ran("assign", file, "--json").document
    book = Book(folder)
    s = book.situation(file)
    step = book.files.usual.scale_step.value  # type: ignore[union-attr]
    every = list(splits(s, step))
    some = Random(seed).sample(every, min(most, len(every)))
    meant = [x for x in some if (x.sum(axis=0) >= 0.015 * s.split.oils).all()]
    if told["status"] == "nothing fits":
        fits = [x for x in some if worth(s, book, x) < math.inf]
        return len(some), f"nothing fits, but {fits[0].tolist()}" if fits else ""
    mine = np.zeros(s.shape)
    for row in told["portions"]:
        for name, mass in row["scents"].items():
            mine[s.scents.index(name), s.portions.index(row["portion"])] = mass
    among = meant or some
    worths = [worth(s, book, x) for x in among]
    mixes = tuple(tuple(s.scents.index(n) for n in mix["scents"]) for mix in told["premixes"])
    own = worth(s, book, mine, mixes)
    if told["status"] != "proven" or not worths:
        return len(worths), ""
    if own > min(worths) + 1e-9:
        at = worths.index(min(worths))
        return len(worths), f"proven at {own}, but {among[at].tolist()} at {worths[at]}"
    alike = [x for x, each in zip(among, worths, strict=True) if each <= own] if own == 0 else []
    return len(worths), missed(s, mine, alike, (BAND + GAP) * float(mine.sum()) + step)
