"""The list of ingredients under both customs, from the batch as it is weighed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from blendwise.answers.label.result import Ingredient
from blendwise.facts.situation.dried import dried_mass
from blendwise.facts.situation.worked_out import Situation
from blendwise.science.cure import RESIDUAL_LOW
from blendwise.science.ingredients import Called, called, oil_called, soap_and_glycerin

PARFUM = Called("Parfum", "Fragrance", "Parfum", "Fragrance")
Entry = tuple[Called, str, float]
"""How it is called, what the book calls it, and its grams."""


def as_put_in(s: Situation) -> tuple[Ingredient, ...]:
    """Everything as it was added, water and lye included; embeds are not in it."""
    pot, extra = s.pot, dict(_mixed_in(s))
    oils = [
        (oil_called(name), name, float(grams) + extra.pop(name, 0.0))
        for name, grams in zip(pot.oils, pot.masses, strict=True)
    ]
    oils += [(oil_called(name), name, grams) for name, grams in extra.items()]
    lye = [
        (called("sodium hydroxide"), "lye", pot.weighed),
        (called("water"), "water", pot.water),
    ]
    entries = [*oils, *lye, *_added(s), *_scent(s), *_colours(s)]
    return _listed(entries, sum(grams for _, _, grams in entries), in_soap=False)


def as_saponified(s: Situation) -> tuple[Ingredient, ...]:
    """What lye has made of it, in the finished bar; oil that stays free is not told apart from its soap."""
    pot = s.pot
    need = pot.fat_need("named")
    reached = (pot.weighed * pot.purity - pot.acids_need) / need
    soaps, glycerin = soap_and_glycerin(pot.masses, pot.masses * pot.need_per_gram["named"], reached)
    free = pot.masses * (1 - min(1.0, reached))
    extra = dict(_mixed_in(s))
    entries: list[Entry] = [
        (oil_called(name), name, float(grams) + extra.pop(name, 0.0))
        for name, grams in zip(pot.oils, soaps + free, strict=True)
    ]
    bar = dried_mass(s)
    entries += [
        (called("glycerin"), "glycerin", float(glycerin.sum())),
        (called("water"), "water", RESIDUAL_LOW * bar),
        *((name, own, grams) for name, own, grams in _added(s, dry=True) if grams > 0),
        *_scent(s),
        *_colours(s),
    ]
    return _listed(entries, bar, in_soap=True)


def _mixed_in(s: Situation) -> Iterator[tuple[str, float]]:
    found: dict[str, float] = {}
    for portion in s.plan.portions:
        for name, amount in portion.mixed_in.items():
            found[name] = found.get(name, 0.0) + amount.value
    yield from found.items()


def _added(s: Situation, dry: bool = False) -> Iterator[Entry]:
    for each in s.pot.added:
        yield called(each.name), each.name, each.dry if dry else each.grams


def _scent(s: Situation) -> Iterator[Entry]:
    grams = float(s.x.sum())
    if grams > 0:
        yield PARFUM, "scent", grams


def _colours(s: Situation) -> Iterator[Entry]:
    for name, grams in zip(s.split.colourants, s.split.colour.sum(axis=1), strict=True):
        yield replace(called(name), colour=True), name, grams


def _listed(entries: Iterable[Entry], whole: float, in_soap: bool) -> tuple[Ingredient, ...]:
    """In descending order, colourants last; one name once, whatever the book calls it."""
    grams: dict[tuple[str, str], float] = {}
    of: dict[tuple[str, str], list[str]] = {}
    kinds: dict[tuple[str, str], tuple[bool, bool]] = {}
    for found, own, mass in entries:
        names = (found.eu_in_soap, found.us_in_soap) if in_soap else (found.eu, found.us)
        if mass > 0:
            grams[names] = grams.get(names, 0.0) + mass
            of.setdefault(names, []).append(own)
            kinds[names] = (found.colour, found.known_in_soap if in_soap else found.known)
    order = sorted(grams, key=lambda names: (kinds[names][0], -grams[names], names))
    return tuple(
        Ingredient(
            *names,
            float(np.clip(grams[names] / whole, 0, 1)),
            tuple(dict.fromkeys(of[names])),
            kinds[names][1],
        )
        for names in order
    )
