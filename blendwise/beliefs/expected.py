"""What was expected of a portion beside what was seen of it, and what went wrong there, as data."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from blendwise.records.kinds.scent import BANDS, RICING_WORDS, STRENGTH_WORDS
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import NoteRow, Poured, PouredPortion, Seen

Verdict = Literal[
    "as expected", "darker", "lighter", "sooner", "longer", "weaker", "stronger", "worse", "better", ""
]
EARLY, LATE = 0.8, 1.25  # minutes within these parts of what was expected count as expected: judgement
SETTLED_FROM: Final = 28
SIX_WEEKS: Final = (35, 84)
_NUMBERS: Final = re.compile(r"[0-9]+(?:\.[0-9]+)?")


@dataclass(frozen=True, slots=True)
class Unit:
    """One portion of one version of a batch, with its looks in order (look and what was seen)."""

    batch: Batch
    variation: str | None
    portion: str
    poured: Poured | None
    made: PouredPortion | None
    looks: tuple[tuple[NoteRow, Seen], ...]

    def last(self, field: str) -> tuple[NoteRow, str] | None:
        """The last look that says something of a field."""
        said = [(look, getattr(seen, field)) for look, seen in self.looks if getattr(seen, field) is not None]
        return said[-1] if said else None


@dataclass(frozen=True, slots=True)
class Compared:
    """One thing expected beside what was seen; ``expected`` is empty where nothing was written down."""

    batch: str
    plan: str
    variation: str | None
    portion: str
    what: str
    expected: str
    seen: str
    look: str
    on: str
    verdict: Verdict


def units_of(batch: Batch) -> Iterator[Unit]:
    """Every portion of every version of which anything was noted."""
    for variation in batch.variations:
        poured = batch.frozen(variation)
        looks = [look for look in batch.looks if look.variation == variation]
        for portion in dict.fromkeys(name for look in looks for name in look.portions):
            said = tuple((look, look.portions[portion]) for look in looks if portion in look.portions)
            made = poured.portions.get(portion) if poured else None
            yield Unit(batch, variation, portion, poured, made, said)


def compared(unit: Unit, bands: dict[tuple[str, str], str]) -> Iterator[Compared]:
    """What was expected beside what was seen.  ``bands``: what a hex code in (note, portion) tells."""
    expected = unit.poured.predictions.get(unit.portion, {}) if unit.poured else {}
    for what, found in (
        ("minutes fluid", _fluid(unit, expected.get("minutes fluid", ""))),
        ("ricing", _scaled(unit, "ricing", RICING_WORDS, expected.get("ricing", ""), ("worse", "better"))),
        ("browning band", _colour(unit, expected.get("browning band", ""), bands)),
        ("after six weeks", _strength(unit, expected.get("after six weeks", ""))),
    ):
        if found is not None:
            look, seen, verdict = found
            yield Compared(
                unit.batch.key, unit.batch.plan, unit.variation, unit.portion, what, expected.get(what, ""),
                seen, look.look, look.on, verdict,
            )  # fmt: skip


_Found = tuple[NoteRow, str, Verdict]


def _fluid(unit: Unit, expected: str) -> _Found | None:
    said = [(look, seen) for look, seen in unit.looks if seen.minutes or seen.fluid_at]
    if not said:
        return None
    look, seen = said[-1]
    ends = [float(number) for number in _NUMBERS.findall(expected)]
    latest = LATE * max(ends) if len(ends) > 1 else math.inf  # one figure alone is promised as the least
    if seen.minutes is not None:
        low, high = seen.minutes
        text = f"thick at {low:.3g} min" if low == high else f"thick at {low:.3g} to {high:.3g} min"
        if not ends:
            return look, text, ""
        sooner, longer = high < EARLY * min(ends), low > latest
        return look, text, "sooner" if sooner else "longer" if longer else "as expected"
    fluid = seen.fluid_at or 0.0
    longer = bool(ends) and fluid > latest
    return look, f"still fluid at {fluid:.3g} min", "longer" if longer else "as expected" if ends else ""


def _scaled(
    unit: Unit, field: str, words: Sequence[str], expected: str, verdicts: tuple[Verdict, Verdict]
) -> _Found | None:
    last = unit.last(field)
    if last is None:
        return None
    return last[0], last[1], _against(words, expected, last[1], *verdicts)


def _against(words: Sequence[str], expected: str, seen: str, above: Verdict, below: Verdict) -> Verdict:
    """A word beside an expected word, or a span of them ("cream to tan")."""
    ends = [words.index(word) for word in expected.split(" to ") if word in words]
    if not ends or seen not in words:
        return ""
    at = words.index(seen)
    return above if at > max(ends) else below if at < min(ends) else "as expected"


def band_seen(unit: Unit, bands: dict[tuple[str, str], str]) -> tuple[NoteRow, str] | None:
    """The last band that was seen, by word or by a hex code that tells."""
    found = None
    for look, seen in unit.looks:
        band = seen.colour if seen.colour in BANDS else bands.get((look.note, unit.portion))
        found = (look, band) if seen.colour and band else found
    return found


def _colour(unit: Unit, expected: str, bands: dict[tuple[str, str], str]) -> _Found | None:
    last = band_seen(unit, bands)
    if last is None:
        return None
    verdict = _against(BANDS, expected, last[1], "darker", "lighter")
    early = unit.batch.days(last[0]) < SETTLED_FROM
    return last[0], last[1], "" if early and verdict in ("lighter", "as expected") else verdict


def _strength(unit: Unit, expected: str) -> _Found | None:
    for look, seen in unit.looks:
        if seen.strength and SIX_WEEKS[0] <= unit.batch.days(look) <= SIX_WEEKS[1]:
            return (
                look,
                seen.strength,
                _against(STRENGTH_WORDS, expected, seen.strength, "weaker", "stronger"),
            )
    return None


Trouble = Literal[
    "riced", "thick too soon", "browned too far", "bled", "soft edge", "faint at six weeks", "partial gel",
    "rivers", "ash", "spots",
]  # fmt: skip
WORST_FIRST: Final[tuple[Trouble, ...]] = (
    "riced", "thick too soon", "browned too far", "bled", "faint at six weeks", "spots", "partial gel",
    "rivers", "ash", "soft edge",
)  # fmt: skip


def trouble(unit: Unit, kind: Trouble, bands: dict[tuple[str, str], str]) -> bool | None:
    """Whether it was seen in a portion; None where nobody looked."""
    match kind:
        case "riced":
            return _is(unit, "ricing", ("slight", "bad"))
        case "thick too soon":
            return _too_soon(unit)
        case "browned too far":
            return _too_brown(unit, bands)
        case "bled":
            return _is(unit, "edge", ("bled",))
        case "soft edge":
            return _is(unit, "edge", ("soft", "bled"))
        case "faint at six weeks":
            found = _strength(unit, "")
            return None if found is None else found[1] in ("faint", "gone")
        case "partial gel":
            return _is(unit, "gel", ("partial",))
        case "rivers":
            return _is(unit, "rivers", ("slight", "bad"))
        case "ash":
            return _is(unit, "ash", ("slight", "heavy"))
        case "spots":
            return _is(unit, "spots", ("slight", "bad"))


def _is(unit: Unit, field: str, words: tuple[str, ...]) -> bool | None:
    last = unit.last(field)
    return None if last is None else last[1] in words


def _too_soon(unit: Unit) -> bool | None:
    needed = unit.made.needed if unit.made else None
    said = [seen for _, seen in unit.looks if seen.minutes or seen.fluid_at]
    if needed is None or not said:
        return None
    seen = said[-1]
    if seen.minutes is not None:
        return math.sqrt(seen.minutes[0] * seen.minutes[1]) < needed
    return False if (seen.fluid_at or 0.0) >= needed else None


def _too_brown(unit: Unit, bands: dict[tuple[str, str], str]) -> bool | None:
    found = band_seen(unit, bands)
    allowed = unit.made.may_become if unit.made else None
    if found is None or allowed is None:
        return None
    darker = BANDS.index(found[1]) > BANDS.index(allowed)
    return darker if darker or unit.batch.days(found[0]) >= SETTLED_FROM else None
