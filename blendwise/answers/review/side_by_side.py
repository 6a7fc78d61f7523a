"""Two batches side by side: what was done otherwise, and what came out otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from blendwise.answers.review.result import Difference
from blendwise.quantity import format_number
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, Seen
from blendwise.science.colour import colour_difference, lab_from_hex

NOT_NOTED: Final = "not noted"
SAME: Final = 0.02  # masses that agree to two per cent count as the same
SHADE: Final = 3.0  # CIEDE2000 below which two bars look the same: judgement
BARS: Final = (
    "minutes",
    "fluid_at",
    "ricing",
    "colour",
    "edge",
    "halo",
    "strength",
    "gel",
    "ash",
    "rivers",
    "spots",
)


def differences(one: Batch, other: Batch) -> Iterator[Difference]:
    """What was poured otherwise first, then what was seen otherwise, stage by stage."""
    yield from _days(one, other)
    first, second = _poured(one), _poured(other)
    yield from _rows("poured", _doses(first), _doses(second))
    yield from _rows("poured", _masses(first), _masses(second))
    yield from _rows("poured", _named(one.lots, "lot of"), _named(other.lots, "lot of"))
    yield from _rows("bars", _bars(one), _bars(other))


def _poured(batch: Batch) -> Poured:
    return next(iter(batch.poured_as.values()), Poured())


def _days(one: Batch, other: Batch) -> Iterator[Difference]:
    for what, field, unit in (("room", "room", "°C"), ("batter at split", "batter_at_split", "°C")):
        yield from _rows("poured", {what: _first(one, field, unit)}, {what: _first(other, field, unit)})


def _first(batch: Batch, field: str, unit: str) -> str:
    said = [getattr(look, field) for look in batch.looks if getattr(look, field) is not None]
    return f"{format_number(said[0])} {unit}" if said else ""


def _doses(poured: Poured) -> dict[str, str]:
    return {
        f"{scent} in {portion}": f"{format_number(grams)} g"
        for portion, doses in poured.doses.items()
        for scent, grams in doses.items()
    }


def _masses(poured: Poured) -> dict[str, str]:
    return {f"oils of {name}": f"{format_number(made.oils)} g" for name, made in poured.portions.items()}


def _named(found: Mapping[str, str], what: str) -> dict[str, str]:
    return {f"{what} {name}": value for name, value in found.items()}


def _bars(batch: Batch) -> dict[str, str]:
    """The last word of every stage on every portion."""
    said: dict[str, str] = {}
    for look in batch.looks:
        for portion, seen in look.portions.items():
            said.update(_portion(look, portion, seen))
    return said


def _portion(look: NoteRow, portion: str, seen: Seen) -> Iterator[tuple[str, str]]:
    for field in BARS:
        value = getattr(seen, field)
        if value is not None:
            words = {"minutes": "minutes to thick", "fluid_at": "still fluid at"}.get(field, field)
            version = f" ({look.variation})" if look.variation else ""
            yield f"{portion}{version}, {look.look}: {words}", _text(value)


def _text(value: object) -> str:
    if isinstance(value, tuple):
        low, high = value
        return (
            f"{format_number(low)} min"
            if low == high
            else f"{format_number(low)} to {format_number(high)} min"
        )
    return f"{format_number(value)} min" if isinstance(value, float) else str(value)


def _rows(kind: str, one: Mapping[str, str], other: Mapping[str, str]) -> Iterator[Difference]:
    """Rows that differ; of the bars only what both were looked at for."""
    for what in dict.fromkeys([*one, *other]):
        mine, theirs = one.get(what, ""), other.get(what, "")
        if kind == "bars" and not (mine and theirs):
            continue
        if mine != theirs and not _alike(mine, theirs):
            yield Difference(kind, what, mine or NOT_NOTED, theirs or NOT_NOTED)


def _alike(mine: str, theirs: str) -> bool:
    """Whether two masses agree but for the rounding of a scale, or two colours but for a shade."""
    if mine.startswith("#") and theirs.startswith("#"):
        return float(colour_difference(lab_from_hex(mine), lab_from_hex(theirs))) < SHADE
    if not (mine.endswith(" g") and theirs.endswith(" g")):
        return False
    one, other = float(mine[:-2]), float(theirs[:-2])
    return abs(one - other) <= SAME * max(one, other)
