"""Simulated makers: oils whose truths are drawn as the priors say, batches poured and looked at by the laws.

Everything goes through notes as they are read from files, so that the whole way is tested.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from blendwise.beliefs.learning import evidence, learn, priors
from blendwise.beliefs.learning.learn import Shelf
from blendwise.beliefs.traits import traits_of
from blendwise.records import Scales, Scent
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, PouredPortion, Seen
from blendwise.records.reading.document import read_document, validated

ROOT = Path(__file__).resolve().parents[2]
USUAL_DOSE, BATTER_TO_OILS = 0.04, 1.424
OILS, BATTER, LIFE, PATIENCE = 300.0, 430.0, 22.0, 14.0
RANKS = ("own batch", "own cup", "supplier", "hearsay")
SPEEDS = ("none", "slight", "moderate", "fast")
BROWNS = ("cream", "beige", "tan", "brown")
LEFT = ("faint", "fair", "strong")


def scales() -> Scales:
    """The rulebook's scales."""
    return validated(Scales, read_document(ROOT / "rules" / "scales.yaml"))


@dataclass(frozen=True)
class Truth:
    """What is so: log factor, log content, fraction left, for the oil in the bottle on the shelf."""

    speed: float
    browning: float
    remains: float


@dataclass(frozen=True)
class Maker:
    """A shelf, the truths behind it, and how much each batch departs."""

    shelf: Shelf
    truths: Mapping[str, Truth]
    rng: np.random.Generator


def make_scent(name: str, **fields: object) -> Scent:
    """An oil of the catalogue, from its fields as typed."""
    return Scent.model_validate({"name": name, "lot": "L-1", **fields})


def shelf_of(scents: Sequence[Scent], by: Scales) -> Shelf:
    """A shelf of these oils."""
    traits = {each.name: traits_of(each, by, USUAL_DOSE, BATTER_TO_OILS) for each in scents}
    return Shelf({each.name: each for each in scents}, traits, by, USUAL_DOSE, BATTER_TO_OILS)


def maker(rng: np.random.Generator, oils: int, by: Scales) -> Maker:
    """A maker of so many oils, their truths drawn from the priors that the catalogue makes."""
    scents = [
        make_scent(
            f"oil-{n}",
            acceleration={
                "is": str(rng.choice(SPEEDS)),
                "at": "4 % of oils",
                "evidence": str(rng.choice(RANKS)),
            },
            **{
                "browns to": {
                    "band": str(rng.choice(BROWNS)),
                    "at": "4 % of oils",
                    "evidence": str(rng.choice(RANKS)),
                },
                "after six weeks": str(rng.choice(LEFT)),
                "evidence": str(rng.choice(RANKS)),
            },
        )
        for n in range(oils)
    ]
    shelf = shelf_of(scents, by)
    return Maker(shelf, {each.name: _truth(each, shelf, rng) for each in scents}, rng)


def _truth(scent: Scent, shelf: Shelf, rng: np.random.Generator) -> Truth:
    traits = shelf.traits[scent.name]
    speed = priors.speed_prior(traits)
    browning = priors.browning_prior(traits, shelf.scales, USUAL_DOSE, BATTER_TO_OILS)
    remains = priors.remains_prior(scent, shelf.scales)
    return Truth(
        rng.normal(speed[0], math.hypot(speed[1], priors.SPEED_LOT)),
        rng.normal(browning[0], math.hypot(browning[1], priors.BROWNING_LOT)),
        rng.normal(remains[0], math.hypot(remains[1], priors.REMAINS_LOT)),
    )


def pour(by: Maker, number: int, cups: Sequence[Mapping[str, float]]) -> Batch:
    """A batch whose portions hold these doses (g per g of oils), looked at the pot and at six weeks."""
    rng, day = by.rng, date(2020, 1, 1) + timedelta(days=7 * number)
    names = [f"p{n}" for n in range(len(cups))]
    base, shade, nose = (
        rng.normal(0, sd) for sd in (learn.LIFE_KEPT, learn.BROWNING_BATCH, learn.REMAINS_BATCH)
    )
    pot = {name: _at_the_pot(by, cup, base) for name, cup in zip(names, cups, strict=True)}
    late = {name: _at_six_weeks(by, cup, shade, nose) for name, cup in zip(names, cups, strict=True)}
    poured = Poured(
        rules="r",
        doses={
            n: {oil: OILS * dose for oil, dose in cup.items()} for n, cup in zip(names, cups, strict=True)
        },
        portions={name: PouredPortion(OILS, BATTER, stays_fluid=LIFE) for name in names},
    )
    on = day.isoformat()
    lots = {oil: "L-1" for cup in cups for oil in cup}
    first = NoteRow(
        f"{number}-pot", "", "plan", "at the pot", on, f"B{number}", portions=pot, lots=lots, frozen=poured
    )
    six = NoteRow(
        f"{number}-six",
        "",
        "plan",
        "week 6",
        (day + timedelta(days=42)).isoformat(),
        f"B{number}",
        portions=late,
    )
    return Batch(f"B{number}", "plan", on, (first, six), {None: poured})


def _at_the_pot(by: Maker, cup: Mapping[str, float], base: float) -> Seen:
    q = 1 + sum(dose / USUAL_DOSE * (math.exp(by.truths[oil].speed) - 1) for oil, dose in cup.items())
    speed = -math.log(LIFE) + base + math.log(max(q, 0.2)) + by.rng.normal(0, evidence.SPEED_NOISE)
    minutes = math.exp(-speed)
    return Seen(fluid_at=PATIENCE) if minutes > PATIENCE else Seen(minutes=(minutes, minutes))


def _at_six_weeks(by: Maker, cup: Mapping[str, float], shade: float, nose: float) -> Seen:
    if not cup:
        return Seen()
    whole = BATTER + OILS * sum(cup.values())
    load = sum(OILS * dose * math.exp(by.truths[oil].browning) for oil, dose in cup.items()) / whole
    seen = math.log(load) + shade + by.rng.normal(0, evidence.BROWNING_NOISE)
    edges = [step.up_to.high for step in by.shelf.scales.bands if step.up_to is not None]
    words = [step.word for step in by.shelf.scales.bands]
    band = words[int(np.searchsorted(edges, math.exp(seen)))]
    left = sum(dose * by.truths[oil].remains for oil, dose in cup.items()) / sum(cup.values())
    left += nose + by.rng.normal(0, evidence.REMAINS_NOISE)
    strength = min(
        ("gone", "faint", "fair", "strong"), key=lambda w: abs(priors.word_value(by.shelf.scales, w) - left)
    )
    return Seen(colour=band, strength=strength)


def season(by: Maker, batches: int, portions: int = 4) -> list[Batch]:
    """Batches in which every portion but the first, unscented, holds one or two oils of the shelf."""
    oils = list(by.truths)
    found = []
    for number in range(batches):
        cups: list[dict[str, float]] = [{}]
        for _ in range(portions - 1):
            chosen = by.rng.choice(oils, size=int(by.rng.integers(1, 3)), replace=False)
            cups.append({str(oil): float(by.rng.uniform(0.025, 0.05)) / len(chosen) for oil in chosen})
        found.append(pour(by, number, cups))
    return found
