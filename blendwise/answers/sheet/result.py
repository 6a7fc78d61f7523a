"""What a bench sheet is made of, as data: canonical units, grams already rounded to the scale's step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

Source = Literal["the plan", "the assignment", "an even spread", "no scent"]
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Weighed:
    """One thing to weigh: grams rounded to ``step``; ``lot`` where the catalogue names one."""

    what: str
    grams: float
    step: float
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Dye:
    """A colourant of one portion.

    ``dispersed_in``: oil, water, glycerin, batter, or None where nobody has written it.  ``carrier``: grams
    (least, most) of that liquid.  ``carrier_from``: oils that the plan gives this portion anyway and that
    serve as the carrier.  ``teaspoons``: as a help, where a spoon of it has been weighed.
    """

    weighed: Weighed
    dispersed_in: str | None
    carrier: Span
    carrier_from: tuple[str, ...] = ()
    teaspoons: float | None = None


@dataclass(frozen=True, slots=True)
class Look:
    """A portion's colour: as poured, and cured; ``cured_words`` light end first, empty where not known.

    ``missing``: (subject, fact) of what would have to be known.
    """

    fresh_hex: str
    fresh_word: str
    cured_hex: str | None
    cured_words: tuple[str, ...]
    missing: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Cup:
    """One portion: batter to weigh out at the split, what comes back, is mixed in, colours and scents it."""

    number: int
    name: str
    share: float
    batter: Weighed
    returned: tuple[Weighed, ...]
    mixed_in: tuple[Weighed, ...]
    dyes: tuple[Dye, ...]
    scents: tuple[Weighed, ...]
    dose: float
    look: Look


@dataclass(frozen=True, slots=True)
class Mix:
    """Scents that are mixed before they are divided."""

    name: str
    scents: tuple[Weighed, ...]
    grams: float


@dataclass(frozen=True, slots=True)
class PotSheet:
    """What goes into the pot, what is held back left out: grams rounded to the scale's step.

    ``hard``: the fats to melt.  ``whole``: the full pot, to compare.  ``clear_from``: °C from which its fats
    are clear, None where not known.
    """

    oils: tuple[Weighed, ...]
    hard: tuple[str, ...]
    naoh: Weighed
    water: Weighed
    purity: float
    purity_stated: bool
    additives: tuple[Weighed, ...]
    oils_in_pot: float
    whole: float
    concentration: float
    superfat: float | None
    clear_from: float | None
    left_in_pot: float


@dataclass(frozen=True, slots=True)
class Turn:
    """One portion against the clock, minutes from emulsion; ``fluid`` (worst, best) may be endless."""

    portion: str
    number: int
    scented_at: float
    needed_until: float
    fluid: Span
    unknown: tuple[str, ...] = ()

    @property
    def slack(self) -> float:
        """Minutes to spare by the cautious end."""
        return self.fluid[0] - self.needed_until


@dataclass(frozen=True, slots=True)
class Simpler:
    """A pour that asks for less: its minutes with so many portions, and the minute by which it must begin.

    ``begin_by`` is None where it does not need fluid batter.
    """

    pour: str
    how: str
    minutes: float
    begin_by: float | None


@dataclass(frozen=True, slots=True)
class Clock:
    """The pour against the clock; ``turns`` in the order of scenting."""

    pour: str
    how: str
    family: str
    batter: str
    wait: Span | None
    minutes: float
    base: Span
    base_from: str
    first: float
    end: float
    turns: tuple[Turn, ...]


@dataclass(frozen=True, slots=True)
class Trouble:
    """What may go wrong with these portions.

    ``quick``: portions from the quickest, those that thicken clearly faster than unscented batter.
    ``speed_unknown``: (scent, fact) with portions; ``rices``/``seizes``: scent → its portions.
    ``wanted_in``: the portion that is wanted thick, "" where none is.
    ``fit_blender``: portions that a stick blender's head fits into.  ``heats``: why it may heat.
    """

    quick: tuple[str, ...]
    speed_unknown: Mapping[str, tuple[str, ...]]
    rices: Mapping[str, tuple[str, ...]]
    ricing_unknown: Mapping[str, tuple[str, ...]]
    seizes: Mapping[str, tuple[str, ...]]
    fit_blender: tuple[str, ...]
    heats: tuple[str, ...]
    simpler: tuple[Simpler, ...]
    wanted_in: str = ""


@dataclass(frozen=True, slots=True)
class After:
    """After the pour, with dates counted from the day of the pour."""

    gel: str | None
    gel_at: float | None
    cut: tuple[date, date]
    bars: int | None
    thick: float | None
    looks: tuple[tuple[str, date], ...]
    judge: tuple[date, date]
    ready: tuple[date, date]
    bar_grams: float | None


@dataclass(frozen=True, slots=True)
class Label:
    """Names that the label must carry by the sheets at hand, and oils whose names cannot be told."""

    names: tuple[str, ...]
    not_known: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Mould:
    """The mould as the plan gives it; ``inside`` cm, ``volume`` mL of one cavity or of the whole."""

    kind: str | None
    inside: tuple[float, float, float] | None
    volume: float | None
    cavities: int | None


@dataclass(frozen=True, slots=True)
class Piece:
    """Finished soap set into the batch."""

    what: str
    grams: float
    softens: float | None
