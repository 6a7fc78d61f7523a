"""What was expected of a portion beside what was seen of it, and what went wrong there, as data."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
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

    @property
    def bare(self) -> bool:
        """Whether it was poured, and without any scent."""
        return self.poured is not None and self.made is not None and not any(self.doses.values())

    @property
    def doses(self) -> Mapping[str, float]:
        """Grams of each scent that went into it; empty too where nobody wrote down what was poured."""
        return self.poured.doses.get(self.portion, {}) if self.poured else {}

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


def figures_in(text: str) -> list[float]:
    """The figures of what was expected or seen: "7 to 9 min" → 7 and 9."""
    return [float(number) for number in _NUMBERS.findall(text)]


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
    ends = figures_in(expected)
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


def bands_seen(unit: Unit, bands: dict[tuple[str, str], str]) -> list[tuple[NoteRow, str]]:
    """Every band that was seen, in order, by word or by a hex code that tells."""
    said = [
        (look, seen.colour if seen.colour in BANDS else bands.get((look.note, unit.portion)))
        for look, seen in unit.looks
        if seen.colour
    ]
    return [(look, band) for look, band in said if band]


def _colour(unit: Unit, expected: str, bands: dict[tuple[str, str], str]) -> _Found | None:
    """The last look within six weeks' reach; a later one may be a band darker, for browning drifts on."""
    said = bands_seen(unit, bands)
    if not said:
        return None
    in_reach = [each for each in said if unit.batch.days(each[0]) <= SIX_WEEKS[1]]
    look, band = (in_reach or said)[-1]
    verdict = _against(BANDS, expected, band, "darker", "lighter")
    if not in_reach and verdict == "darker" and _one_darker(expected, band):
        verdict = "as expected"
    early = unit.batch.days(look) < SETTLED_FROM
    return look, band, "" if early and verdict in ("lighter", "as expected") else verdict


def _one_darker(expected: str, band: str) -> bool:
    """Whether a band is the next after the darkest expected: by a quarter more load at six months
    (``DEVELOPED`` of the science of browning) none goes further."""
    return BANDS.index(band) == 1 + max(BANDS.index(word) for word in expected.split(" to ") if word in BANDS)


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
WORST_FIRST: Final[tuple[tuple[Trouble, bool], ...]] = (
    ("riced", True), ("thick too soon", False), ("browned too far", False), ("bled", False), ("spots", True),
    ("faint at six weeks", False), ("partial gel", False), ("rivers", True), ("ash", True),
    ("riced", False), ("spots", False), ("rivers", False), ("ash", False), ("soft edge", False),
)  # fmt: skip
"""What spoils a soap before what only shows; whether only the worse word is meant (judgement)."""
_BAD: Final = ("bad", "heavy", "bled")
_SAID: Final[dict[Trouble, tuple[str, tuple[str, ...]]]] = {
    "riced": ("ricing", ("slight", "bad")),
    "bled": ("edge", ("bled",)),
    "soft edge": ("edge", ("soft", "bled")),
    "partial gel": ("gel", ("partial",)),
    "rivers": ("rivers", ("slight", "bad")),
    "ash": ("ash", ("slight", "heavy")),
    "spots": ("spots", ("slight", "bad")),
}
"""Troubles that a look says in a word: its field, and the words that mean so."""


def trouble(unit: Unit, kind: Trouble, bands: dict[tuple[str, str], str], badly: bool = False) -> bool | None:
    """Whether it was seen in a portion (``badly``: by its worse word alone); None where nobody looked."""
    match kind:
        case "thick too soon":
            return _too_soon(unit)
        case "browned too far":
            return _too_brown(unit, bands)
        case "faint at six weeks":
            found = None if unit.bare else _strength(unit, "")
            return None if found is None else found[1] in ("faint", "gone")
        case _:
            field, words = _SAID[kind]
            return _is(unit, field, tuple(word for word in words if word in _BAD) if badly else words)


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
    said = bands_seen(unit, bands)
    allowed = unit.made.may_become if unit.made else None
    if not said or allowed is None:
        return None
    look, band = said[-1]
    darker = BANDS.index(band) > BANDS.index(allowed)
    return darker if darker or unit.batch.days(look) >= SETTLED_FROM else None
