"""Plans to which no split fits, and a brute force over changes and pairs of changes of its own.

The changes are edits of the plan's fields and know nothing of the levers; whether a changed plan has a split
is asked of `assign`.  A way counts where the split is sound, every oil of the blend is in the bar and no more
than a quarter of the scent is gone.
"""

from __future__ import annotations

import copy
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path
from random import Random
from typing import Any, Final

import numpy as np
import yaml

from blendwise.answers.assign.compute import assign_situation
from blendwise.answers.assign.result import AssignResult
from blendwise.answers.levers.costs import STANDS_LAST
from blendwise.answers.levers.result import Lever
from blendwise.api import Book
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Dimension, parse_amount
from blendwise.records.place import RecordError
from tests.levers.doors import ON
from tests.levers.two_faults import sound, write_book
from tests.strangers.books import a_book

Plan = dict[str, Any]
KEPT: Final = 0.75
"""The least part of the scent that has to be left."""
SECONDS: Final = 3.0
STEPS: Final = {True: ("0.01 oz", "0.05 oz", "0.1 oz"), False: ("0.1 g", "1 g", "2 g")}


@dataclass(frozen=True)
class Change:
    """An edit of a plan; ``free``: its oils each by themselves; ``step``: of a scale so much finer."""

    kind: str
    edit: Callable[..., object]
    free: bool = False
    step: float = 1.0


def narrow_plan(folder: Path, seed: int) -> Path:
    """A plan that leaves its oils little room: a small accent, a coarse scale, quick and browning oils."""
    rng, ounces = Random(f"no split {seed}"), seed % 2 == 1
    write_book(folder, ounces)
    usual = folder / "usual.yaml"
    said = yaml.safe_load(usual.read_text("utf-8")) | {"scale step": rng.choice(STEPS[ounces])}
    usual.write_text(yaml.safe_dump(said), "utf-8")
    plan = sound(ounces)
    oils = rng.choice([12.0, 24.0, 42.0])
    plan["recipe"]["amount"]["oils"] = f"{oils:g} oz" if ounces else f"{round(oils * 28.35)} g"
    plan["pour"] = rng.choice(["in-pot swirl", "drop swirl", "rough layers", "thin lines", "hanger swirl"])
    plan["process"]["stays fluid"] = f"{rng.choice([12, 16, 22, 40])} min"
    _cups(plan, rng)
    names = rng.sample(
        ["wet-slate", "white-barn", "toffee-tin", "nettle-lane", "red-lantern"], rng.choice([2, 3, 4])
    )
    plan["scents"]["blend"] = {name: rng.choice(["1", "2", "0.3"]) for name in names}
    _wishes(plan, names, rng, ounces)
    file = folder / "plans" / "narrow.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False), "utf-8")
    return file


def _cups(plan: Plan, rng: Random) -> None:
    for portion in plan["portions"]:
        portion.pop("may become", None)
        if rng.random() < 0.7:
            portion["may become"] = rng.choice(["ivory", "cream", "tan", "brown"])
    if rng.random() < 0.5:
        plan["portions"][0]["share"] = "60 %"
        plan["portions"].insert(1, {"name": "line", "share": rng.choice(["4 %", "6 %"]), "colourants": {}})
        if rng.random() < 0.5:
            plan["portions"][1]["may become"] = "ivory"


def _wishes(plan: Plan, names: list[str], rng: Random, ounces: bool) -> None:
    cups = [portion["name"] for portion in plan["portions"]]
    if rng.random() < 0.4:
        plan["premixes"] = rng.choice(["1", "1", "2"])
    if rng.random() < 0.3:
        plan["scents"]["dosing"] = "same dose in each scented portion"
    if rng.random() < 0.4:
        plan["never"] = [{"scent": rng.choice(names), "in": rng.sample(cups, 2)}]
    if rng.random() < 0.25:
        plan["only"] = [{"scent": rng.choice(names), "in": [rng.choice(cups)]}]
    if rng.random() < 0.25:
        mass = rng.choice([0.1, 0.3]) if ounces else rng.choice([3, 8])
        plan["doses"] = {rng.choice(cups): {rng.choice(names): f"{mass} oz" if ounces else f"{mass} g"}}
    if rng.random() < 0.2:
        plan["embeds"] = [
            {"what": "soap curls", "mass": "3 oz" if ounces else "80 g", "scents": {rng.choice(names): "2 %"}}
        ]
    if rng.random() < 0.3:
        plan["scents"]["load"] = "0.9 oz ppo" if ounces else "6 % of batch oils"


def nothing_fits(folder: Path, seeds: range) -> Iterator[tuple[Path, AssignResult]]:
    """Plans without a split, with what `assign` tells: of narrow plans and of generated books by turns."""
    for seed in seeds:
        files = [narrow_plan(folder / f"narrow {seed}", seed)]
        files += a_book(folder / f"book {seed}", 7000 + seed, 1, looks=False).plans
        for file in files:
            try:
                told = Book(file.parents[1]).assign(file, on=ON)
            except RecordError:
                continue
            if told.status == "nothing fits":
                yield file, told


def changes(plan: Plan) -> Iterator[Change]:
    """Every change that is tried by itself."""
    yield Change("free", lambda _: None, free=True)
    for part in (0.1, 0.01):
        yield Change("scale", lambda _: None, step=part)
    for number in range(1, 7):
        yield Change("premixes", _put("premixes", str(number)))
    yield Change("hands", lambda p: p.setdefault("process", {}).__setitem__("hands", "2"))
    for dosing in ("same dose in each scented portion", "same total"):
        yield Change("dosing", lambda p, d=dosing: p["scents"].__setitem__("dosing", d))
    yield Change("embeds", lambda p: [each.pop("scents", None) for each in p.get("embeds", ())] and None)
    yield Change("doses", lambda p: p.pop("doses", None) and None)
    for celsius in (26, 30, 34, 40):
        yield Change(
            "warmth",
            lambda p, c=celsius: p.setdefault("process", {}).__setitem__("batter at split", f"{c} °C"),
        )
    for n, portion in enumerate(plan["portions"]):
        yield Change("bare", lambda p, n=n: _bare(p, n))
        for band in ("tan", "chocolate"):
            yield Change("band", lambda p, n=n, b=band: p["portions"][n].__setitem__("may become", b))
        if "may become" in portion:
            yield Change("band", lambda p, n=n: p["portions"][n].pop("may become") and None)
    yield from _of_scent(plan)


def _of_scent(plan: Plan) -> Iterator[Change]:
    load = plan["scents"].get("load")
    if load:
        for part in (0.9, 0.8, 0.75):
            yield Change("load", lambda p, f=part: p["scents"].__setitem__("load", _times(load, f)))
    for name in plan["scents"]["blend"]:
        for part in (0.5, 0.25):
            yield Change("blend", lambda p, n=name, f=part: _less(p, n, f))


def _put(name: str, value: str) -> Callable[..., object]:
    return lambda plan: plan.__setitem__(name, value)


def _bare(plan: Plan, n: int) -> None:
    name = plan["portions"][n]["name"]
    plan["portions"][n]["scented"] = "no"
    if name in plan.get("doses", {}):
        del plan["doses"][name]


def _times(text: str, factor: float) -> str:
    number, _, rest = text.partition(" ")
    return f"{float(number) * factor:.6g} {rest}"


def _less(plan: Plan, name: str, factor: float) -> None:
    part = str(plan["scents"]["blend"][name])
    number, _, rest = part.partition(" ")
    plan["scents"]["blend"][name] = f"{float(number) * factor:.6g} {rest}".strip()
    if rest:  # per cents that have to add up: as parts
        for other, each in plan["scents"]["blend"].items():
            plan["scents"]["blend"][other] = str(each).partition(" ")[0]


def splits(book: Book, file: Path, tried: tuple[Change, ...]) -> bool:
    """Whether the plan with these changes has a split that counts."""
    plain = yaml.safe_load(file.read_text("utf-8"))
    plan = copy.deepcopy(plain)
    try:
        for each in tried:
            each.edit(plan)
        s = book.situation(yaml.safe_dump(plan, sort_keys=False, allow_unicode=True), ON)
        first = book.situation(file, ON)
    except (RecordError, ValueError, KeyError):
        return False
    step = np.prod([each.step for each in tried])
    if step != 1:
        s = _scaled(s, float(step))
    found = assign_situation(
        s, book.rulebook, free=any(c.free for c in tried), seconds=SECONDS, explain=False, rough=True
    )
    return found.check is not None and found.check.sound and keeps(first, found)


def _scaled(s: Situation, part: float) -> Situation:
    usual = s.book.usual
    now = usual.scale_step.value if usual.scale_step else 1.0
    step = parse_amount(f"{now * part:.6g} g", Dimension.MASS)
    return replace(s, book=replace(s.book, usual=usual.model_copy(update={"scale_step": step})))


def keeps(first: Situation, found: AssignResult) -> bool:
    """Whether every oil is still in the bar, and three quarters of the scent."""
    assert found.check is not None
    grams = [row.scents for row in found.check.grams]
    held = {n: sum(row.get(n, 0.0) for row in grams) for n in first.scents}
    wanted = [n for n, part in zip(first.scents, first.scenting.blend, strict=True) if part > 0]
    planned = first.scenting.total
    return all(held[n] > 0 for n in wanted) and sum(held[n] for n in wanted) >= KEPT * planned - 1e-6


def way_counts(book: Book, file: Path, lever: Lever, new: Path) -> bool:
    """Whether a way out that was told leads to a split that counts, as it is written and asked again.

    A finer scale is none of the plan's: there its own word is taken, and that it does not stand last.
    """
    first = book.situation(file, ON)
    if lever.plan:
        new.write_text(lever.plan, "utf-8")
        check = book.check(new, on=ON)
        if not check.sound:
            return False
        grams = [row.scents for row in check.grams]
        held = {n: sum(row.get(n, 0.0) for row in grams) for n in first.scents}
        wanted = [n for n, part in zip(first.scents, first.scenting.blend, strict=True) if part > 0]
        total = sum(held[n] for n in wanted)
        return all(held[n] > 0 for n in wanted) and total >= KEPT * first.scenting.total - 1e-6
    ways = {lever.way, *(step.way for step in lever.together)}
    cost = lever.cost - STANDS_LAST * bool(lever.thin)  # thin: in the bar, be it little
    return lever.sound and "finer scale" in ways and cost < STANDS_LAST


def by_force(book: Book, file: Path, seconds: float) -> str:
    """The first change, or pair of them, that gives a split that counts; "" where none is found in time."""
    until = time.process_time() + seconds
    singles = list(changes(yaml.safe_load(file.read_text("utf-8"))))
    for each in singles:
        if splits(book, file, (each,)):
            return each.kind
    pairs = [(a, b) for a, b in combinations(singles, 2) if a.kind != b.kind or a.kind in ("band", "bare")]
    Random(file.as_posix()[-20:]).shuffle(pairs)
    for pair in pairs:
        if time.process_time() > until:
            return ""
        if splits(book, file, pair):
            return "+".join(each.kind for each in pair)
    return ""


def proof(folder: Path, seeds: range, seconds: float = 30.0) -> tuple[int, int, int, list[str]]:
    """How many had a way out that counts, how many only a last one, how many none that force found."""
    good = last = hopeless = 0
    missed: list[str] = []
    for file, told in nothing_fits(folder, seeds):
        book = Book(file.parents[1])
        new = file.with_name("way out.yaml")
        if any(way_counts(book, file, lever, new) for lever in told.levers):
            good += 1
        elif force := by_force(book, file, seconds):
            ways = ", ".join(lever.way for lever in told.levers)
            missed.append(f"{file.parents[1].name}: {force}, told: {ways or 'nothing'}")
            print(missed[-1], flush=True)
        else:
            hopeless += 1
            last += bool(told.levers)
        print(
            f"good {good}, missed {len(missed)}, beyond force {hopeless} (told a last one: {last})",
            flush=True,
        )
    return good, last, hopeless, missed
