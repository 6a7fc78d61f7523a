"""Two batches side by side: what was done otherwise, and what came out otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from blendwise.answers.review.result import Difference
from blendwise.quantity import Dimension, Units, format_number, format_value
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


def differences(one: Batch, other: Batch, units: Units) -> Iterator[Difference]:
    """What was poured otherwise first, then what was seen otherwise, stage by stage."""
    yield from _days(one, other, units)
    first, second = _poured(one), _poured(other)
    yield from _rows("poured", _doses(first, units), _doses(second, units))
    yield from _rows("poured", _masses(first, units), _masses(second, units))
    yield from _rows("poured", _named(one.lots, "lot of"), _named(other.lots, "lot of"))
    yield from _rows("bars", _bars(one), _bars(other))


def _poured(batch: Batch) -> Poured:
    return next(iter(batch.poured_as.values()), Poured())


def _days(one: Batch, other: Batch, units: Units) -> Iterator[Difference]:
    for what, field in (("room", "room"), ("batter at split", "batter_at_split")):
        yield from _rows("poured", {what: _first(one, field, units)}, {what: _first(other, field, units)})


def _first(batch: Batch, field: str, units: Units) -> str:
    said = [getattr(look, field) for look in batch.looks if getattr(look, field) is not None]
    return format_value(said[0], Dimension.TEMPERATURE, units) if said else ""


def _doses(poured: Poured, units: Units) -> dict[str, str]:
    return {
        f"{scent} in {portion}": format_value(grams, Dimension.MASS, units)
        for portion, doses in poured.doses.items()
        for scent, grams in doses.items()
    }


def _masses(poured: Poured, units: Units) -> dict[str, str]:
    return {
        f"oils of {name}": format_value(made.oils, Dimension.MASS, units)
        for name, made in poured.portions.items()
    }


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
    one, other = _mass(mine), _mass(theirs)
    if one is None or other is None:
        return False
    return abs(one - other) <= SAME * max(one, other)


def _mass(text: str) -> float | None:
    number, _, unit = text.partition(" ")
    return float(number) if unit in ("g", "oz") else None
