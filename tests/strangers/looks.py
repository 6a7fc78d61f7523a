"""Looks at the batches of a generated book, noted by ``blendwise note``, so that they hold predictions."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Final

import yaml

from tests.strangers.shelf import BANDS
from tests.strangers.words import maybe

LATER: Final = ((2, "at the cut"), (14, "week 2"), (42, "week 6"))
FIRST_POUR: Final = date(2026, 6, 6)


def write_looks(rng: Random, folder: Path, plans: tuple[Path, ...]) -> None:
    """Two thirds of the plans were poured, each looked at one to four times.

    A plan that the tool cannot work out was not poured; a refused look is left out, as a maker would.
    """
    for nth, plan in enumerate(plans):
        if not maybe(rng, 0.66):
            continue
        document = yaml.safe_load(plan.read_text("utf-8"))
        portions = [portion["name"] for portion in document["portions"]]
        version = next(iter(document.get("variations", {})), "") if maybe(rng, 0.5) else ""
        more = ("--variation", version) if version else ()
        poured = FIRST_POUR + timedelta(days=10 * nth + rng.randint(0, 5))
        saw = list(_saw(rng, portions, _at_the_pot))
        if not noted(folder, plan, poured, poured, "at the pot", *saw, *more):
            continue
        for days, look in LATER[: rng.randint(0, 3)]:
            saw = list(_saw(rng, portions, _in_the_bar))
            noted(folder, plan, poured, poured + timedelta(days=days), look, *saw, *more)


def noted(folder: Path, plan: Path, poured: date, on: date, look: str, *more: str) -> bool:
    """Whether the look was written."""
    from tests.strangers.runs import here

    days = ("--poured", str(poured), "--on", str(on), "--today", str(on))
    return here(["note", str(plan), "--look", look, *more, *days, "--book", str(folder)]).code == 0


def _saw(rng: Random, portions: list[str], what: object) -> Iterator[str]:
    assert callable(what)
    for portion in portions:
        if maybe(rng, 0.8):
            yield from ("--saw", f"{portion}: {what(rng)}")


def _at_the_pot(rng: Random) -> str:
    thick = rng.choice(
        [f"minutes to thick {rng.randint(3, 25)} min", f"still fluid at {rng.randint(5, 20)} min"]
    )
    return f"{thick}, ricing {rng.choice(['none', 'none', 'slight', 'bad'])}"


def _in_the_bar(rng: Random) -> str:
    edge, strength = rng.choice(["clean", "soft", "bled"]), rng.choice(["strong", "fair", "faint", "gone"])
    return f"colour {rng.choice(BANDS)}, edge {edge}, strength {strength}"
