"""What to repeat, and the one thing to change: the worst that was seen most often."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from blendwise.answers.review.result import Advice, BatchLine
from blendwise.beliefs.expected import WORST_FIRST, Trouble, Unit, bands_seen, trouble
from blendwise.beliefs.lessons import Lessons
from blendwise.records.book import BookFiles
from blendwise.records.kinds.scent import BANDS, Scent

CREPT: Final = "brown crept in"
"""The kind of advice where a cup browned from beside and no oil of its own is to blame."""
BARE: Final = " without scent"
"""The end of a kind of advice on a cup that holds no scent, so that none can be blamed."""
TELLS_OF_AN_OIL: Final = ("riced", "thick too soon", "browned too far", "faint at six weeks")


def what_to_repeat(lines: Sequence[BatchLine]) -> Advice | None:
    """The batch to be made again: by the maker's own word, favourites, then what came as expected.

    None of which nothing came out as expected.
    """
    wanted = [line for line in lines if line.repeat and (line.as_expected or not line.otherwise)]
    if not wanted:
        return None
    best = max(
        wanted, key=lambda line: (bool(line.favourites), -line.otherwise, line.as_expected, line.poured)
    )
    return Advice(
        "repeat", best.plan, best.batch, ", ".join(best.favourites), times=best.as_expected,
        of=best.as_expected + best.otherwise,
    )  # fmt: skip


def the_one_change(
    units: Sequence[Unit], bands: dict[tuple[str, str], str], lessons: Lessons, book: BookFiles
) -> Advice | None:
    """The gravest trouble seen in a plan's last batch, in the portion where it was seen most often."""
    last: dict[str, str] = {}
    for unit in units:
        last[unit.batch.plan] = max(last.get(unit.batch.plan, ""), unit.batch.poured)
    for kind, badly in WORST_FIRST:
        hit = [unit for unit in units if trouble(unit, kind, bands, badly)]
        current = [unit for unit in hit if unit.batch.poured == last[unit.batch.plan]]
        if current:
            return _advice(kind, current, hit, units, bands, lessons, book)
    return None


def _advice(
    kind: Trouble,
    current: Sequence[Unit],
    hit: Sequence[Unit],
    units: Sequence[Unit],
    bands: dict[tuple[str, str], str],
    lessons: Lessons,
    book: BookFiles,
) -> Advice:
    seen, looked = _batches(hit), _batches([u for u in units if trouble(u, kind, bands) is not None])
    worst = max(current, key=lambda unit: (len(seen[_place(unit)]), unit.batch.poured))
    times, of = len(seen[_place(worst)]), len(looked[_place(worst)])
    oil = blamed(kind, worst, lessons, book) if kind in TELLS_OF_AN_OIL else ""
    seen_bands = bands_seen(worst, bands) if kind == "browned too far" else []
    told: str = CREPT if kind == "browned too far" and crept_in(worst, book) else kind
    if told == kind and worst.bare and kind in TELLS_OF_AN_OIL:
        told = f"{kind}{BARE}"
    return Advice(
        told, worst.batch.plan, worst.batch.key, worst.portion, "" if told == CREPT else oil, times, of,
        seen_bands[-1][1] if seen_bands else "", (worst.made.may_become or "") if worst.made else "",
    )  # fmt: skip


def _place(unit: Unit) -> tuple[str, str, str]:
    return unit.batch.plan, unit.portion, unit.variation or ""


def _batches(units: Sequence[Unit]) -> dict[tuple[str, str, str], set[str]]:
    """The batches in which each portion of a plan is among the units."""
    found: dict[tuple[str, str, str], set[str]] = {}
    for unit in units:
        found.setdefault(_place(unit), set()).add(unit.batch.key)
    return found


def blamed(kind: Trouble, unit: Unit, lessons: Lessons, book: BookFiles) -> str:
    """The oil in a portion that is believed to do most of it; empty where nothing points to one."""
    weights = {oil: grams * _weight(kind, oil, lessons, book) for oil, grams in unit.doses.items()}
    best = max(weights, key=lambda oil: weights[oil], default="")
    return best if best and weights[best] > 0 else ""


def crept_in(unit: Unit, book: BookFiles) -> bool:
    """Whether a brown came from the neighbour: a soft edge, and nothing in the cup that is known to brown."""
    edge = unit.last("edge")
    if edge is None or edge[1] not in ("soft", "bled"):
        return False
    scents = [book.scents.get(oil) for oil, grams in unit.doses.items() if grams]
    return not any(scent is None or _browns(scent) for scent in scents)


def _browns(scent: Scent) -> bool:
    """Whether an oil is known to hold something that browns, or was seen to brown itself."""
    parts = [scent.vanillin, scent.ethyl_vanillin, *scent.browns_by.values()]
    seen = scent.browns_to is not None and scent.browns_to.band != BANDS[0]
    return seen or any(part is not None and part.value > 0 for part in parts)


def _weight(kind: Trouble, oil: str, lessons: Lessons, book: BookFiles) -> float:
    learned, scent = lessons.oils.get(oil), book.scents.get(oil)
    if scent is None:
        return 0.0
    if kind == "riced":
        return {"slight": 1.0, "bad": 3.0}.get(scent.ricing or "", 0.0)
    if kind == "browned too far":
        return math.exp(learned.browning.mean) if learned and learned.browning else 0.0
    if kind == "thick too soon":
        return max(0.0, math.exp(learned.speed.mean) - 1) if learned and learned.speed else 0.0
    return max(0.0, 1 - learned.remains.mean) if learned and learned.remains else 0.0
