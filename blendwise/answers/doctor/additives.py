"""Additives that nobody knows, and entries of additives.yaml that differ from the shipped table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.doctor.plans import Examined
from blendwise.answers.doctor.result import Sign
from blendwise.facts.situation.additions.additives import as_alkali, meant, unknown
from blendwise.records.book import BookFiles
from blendwise.records.kinds.additive import NAOH, OwnAdditive
from blendwise.records.place import Spot
from blendwise.science.substance_names import nearest

ALIKE: Final = 0.1
"""How far a stated effect on the lye may lie from the table's, as a share of it, before it is told."""


def additive_signs(book: BookFiles, plans: Sequence[Examined]) -> Iterator[Sign]:
    """What plans or additives.yaml name and nobody knows; what additives.yaml says against the table."""
    added = [each for plan in plans if plan.situation for each in unknown(plan.situation.pot.added)]
    used = dict.fromkeys(each.name for each in added)
    for name in used:
        yield Sign("additive not known", "caution", name, _near(name))
    for name, own in book.additives.items():
        row = meant(own.same_as or name)
        if own.lye is None and row is None and as_alkali(name) is None and name not in used:
            yield Sign("additive not known", "hint", name, _near(name), where=_spot(own))
        elif own.lye is not None and row is not None and own.source is None:
            eats = (row.acid - row.alkali) * NAOH
            if abs(own.lye.grams - eats) > ALIKE * abs(eats):
                known = f"{row.name}: {_told(eats)}"
                yield Sign("additive doubtful", "caution", name, (str(own.lye), known), where=_spot(own))


def _near(name: str) -> tuple[str, ...]:
    row = nearest(name)
    return (row.name,) if row else ()


def _told(eats: float) -> str:
    return f"{'eats' if eats > 0 else 'brings'} {abs(eats):.3g} g a gram" if eats else "neutral"


def _spot(own: OwnAdditive) -> Spot | None:
    return own.place.spot if own.place else None
