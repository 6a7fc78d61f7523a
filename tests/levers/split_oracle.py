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
    file = folder / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False), "utf-8")
    return file


def splits(s: Situation, step: float) -> Iterator[np.ndarray]:
    """Every way to weigh each oil's own total into the cups, in whole steps, none or at least ten of them."""
    totals = s.scenting.blend * s.scenting.total / step
    whole = [math.floor(each + 0.5) for each in totals]
    ways = [[0, *range(LEAST_STEPS, n - LEAST_STEPS + 1), n] for n in whole]
    for firsts in product(*ways):
        yield np.array([[n, total - n] for n, total in zip(firsts, whole, strict=True)]) * step


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


def better(folder: Path, seed: int, most: int) -> tuple[int, str]:
    """How many splits were judged, and what is wrong with the answer ("" where nothing is)."""
    file = small_plan(folder, seed)
    told = ran("assign", file, "--json").document
    book = Book(folder)
    s = book.situation(file)
    every = list(splits(s, book.files.usual.scale_step.value))  # type: ignore[union-attr]
    some = Random(seed).sample(every, min(most, len(every)))
    meant = [x for x in some if (x.sum(axis=0) >= 0.015 * s.split.oils).all()]
    if told["status"] == "nothing fits":
        fits = [x for x in some if worth(s, book, x) < math.inf]
        return len(some), f"nothing fits, but {fits[0].tolist()}" if fits else ""
    mine = np.zeros(s.shape)
    for row in told["portions"]:
        for name, mass in row["scents"].items():
            mine[s.scents.index(name), s.portions.index(row["portion"])] = mass
    worths = [worth(s, book, x) for x in (meant or some)]
    mixes = tuple(tuple(s.scents.index(n) for n in mix["scents"]) for mix in told["premixes"])
    own = worth(s, book, mine, mixes)
    if told["status"] != "proven" or not worths or own <= min(worths) + 1e-9:
        return len(worths), ""
    at = worths.index(min(worths))
    return len(worths), f"proven at {own}, but {(meant or some)[at].tolist()} at {worths[at]}"
