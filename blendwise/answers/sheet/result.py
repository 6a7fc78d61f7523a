"""What a bench sheet is made of, as data: canonical units, grams already rounded to the scale's step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from blendwise.answers.answer import Answer, Unbounded, hidden, keys, told
from blendwise.answers.assign.result import AssignStatus
from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers.result import Lever
from blendwise.answers.portion_colours import Look
from blendwise.answers.small_amounts import Small
from blendwise.quantity import METRIC, Units
from blendwise.records.notes.codes import code_of

Source = Literal["the plan", "the assignment", "an even spread", "no scent"]
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Weighed:
    """One thing to weigh: grams rounded to ``step``; ``lot`` where the catalogue names one.

    ``into``: the pot, the jug, a premix or a portion; ``kind``: oil, lye, water, additive, scent, batter …
    """

    into: str
    kind: str
    what: str
    grams: float
    step: float
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Dye:
    """A colourant of one portion.

    ``dispersed_in``: oil, water, glycerin, batter, or None where nobody has written it.  ``carrier``: what is
    added besides the recipe to wet it, None where it is smoothed in batter or in oil that the portion gets
    anyway (``carrier_from``).  ``smoothed_in``: grams of the portion's own batter to smooth it in, None where
    it is wetted.  ``teaspoons``: as a help, where a spoon of it has been weighed.
    """

    weighed: Weighed
    dispersed_in: str | None
    carrier: Weighed | None
    smoothed_in: float | None = None
    carrier_from: tuple[str, ...] = ()
    teaspoons: float | None = None


@dataclass(frozen=True, slots=True)
class Cup:
    """One portion: batter to weigh out at the split, what comes back, is mixed in, colours and scents it.

    ``share``: of the pot; ``dose``: scent on the portion's own oils; both fractions.  ``holds``: mL that its
    vessel should hold.
    """

    portion: str
    share: float
    dose: float
    number: int
    holds: float
    batter: Weighed = hidden()
    returned: tuple[Weighed, ...] = hidden()
    mixed_in: tuple[Weighed, ...] = hidden()
    dyes: tuple[Dye, ...] = hidden()
    scents: tuple[Weighed, ...] = hidden()
    look: Look = hidden()

    @told
    def fresh(self) -> str:
        """Hex code as poured."""
        return self.look.fresh

    @told
    def fresh_word(self) -> str:
        """The colour as poured, in a word."""
        return self.look.fresh_word

    @told
    def cured(self) -> str | None:
        """Hex code when cured, None where not known."""
        return self.look.cured

    @told
    def cured_words(self) -> tuple[str, ...]:
        """The colour when cured, light end first."""
        return self.look.cured_words

    @property
    def weighed(self) -> Iterator[Weighed]:
        """Everything that is weighed for it, in the order of the bench."""
        yield self.batter
        yield from (*self.returned, *self.mixed_in)
        yield from (dye.weighed for dye in self.dyes)
        yield from (dye.carrier for dye in self.dyes if dye.carrier is not None)
        yield from self.scents

    @property
    def added(self) -> float:
        """Grams that go into it besides its batter."""
        return sum(each.grams for each in self.weighed) - self.batter.grams


@dataclass(frozen=True, slots=True)
class Mix:
    """Scents that are mixed before they are divided; ``spare``: grams more than the portions take."""

    name: str
    scents: tuple[Weighed, ...]
    grams: float
    spare: float


@dataclass(frozen=True, slots=True)
class PotSheet:
    """What goes into the pot, what is held back left out: grams rounded to the scale's step, lye down.

    ``superfat``, ``concentration``: of what is weighed.  ``hard``: the fats to melt.  ``whole``: the full
    pot, to compare.  ``clear_from``: °C from which its fats are clear, None where not known.  ``kinds``: of
    each additive, such as milk.  ``on_your_word``: what additives.yaml says that each does to lye, oils.yaml
    of fats that nobody knows.  ``jug``, ``holds``: mL that jug and pot should hold; ``hottest``: °C.
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
    superfat: float
    clear_from: float | None
    left_in_pot: float
    kinds: Mapping[str, str]
    jug: float
    holds: float
    hottest: float
    on_your_word: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Turn:
    """One portion against the clock, minutes from emulsion; ``fluid`` (worst, best) may be endless.

    ``quick_day``: until when it is fluid by the cautious end of judgement.  ``stirred_by``: its scent is in.
    ``must_run``: whether it must still pour when its turn comes; layers that are spooned on and a top that is
    piped need not.  ``not_known``: the scents of which nobody wrote how they thicken.
    """

    portion: str
    scented_at: float
    needed_until: float
    not_known: tuple[str, ...]
    stirred_by: float
    must_run: bool
    number: int
    quick_day: float
    fluid: Span = hidden()

    @told
    def fluid_from(self) -> Unbounded:
        """The minute until which it is fluid at the worst, None where that is not known."""
        return None if self.not_known else self.fluid[0]

    @told
    def fluid_to(self) -> Unbounded:
        """The minute until which it is fluid at the best."""
        return self.fluid[1]

    @property
    def late(self) -> float:
        """Minutes by which it is too short, 0 where it is not, need not run, or is not known."""
        return self._short(self.fluid[0])

    @property
    def late_on_a_quick_day(self) -> float:
        """The same by the cautious end."""
        return self._short(self.quick_day)

    def _short(self, thick_at: float) -> float:
        return max(self.needed_until - thick_at, 0.0) if self.must_run and not self.not_known else 0.0


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
    """The pour against the clock, minutes from emulsion; ``turns`` in the order of scenting.

    All cups are split by ``split_by`` and coloured from ``coloured_from`` to ``first_scenting``.
    ``together``: mL of the cup in which the pour brings all together, None where the mould or the pot does.
    """

    pour: str
    family: str
    minutes: float
    first_scenting: float
    end: float
    turns: tuple[Turn, ...]
    split_by: float
    coloured_from: float
    together: float | None
    how: str = hidden()
    batter: str = hidden()
    wait: Span | None = hidden()
    base: Span = hidden()
    base_from: str = hidden()


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


@dataclass(frozen=True, slots=True)
class Dated:
    """Something to do on a day, or between two."""

    what: str
    first: date
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet(Answer):
    """A bench sheet.  ``doses_from``: whose doses these are; ``assignment``: its status, if asked.

    ``small``: colourants and additives that the scale cannot weigh well, with the ways.
    ``levers``: where no split fits, what would make one; what mends its own doses stands in ``check``.
    ``burns``: the bottles that catch fire easily, each with its flash point (°C), None where not known.
    Past a harm (``check.harm``) there is nothing to weigh: ``pot`` is None, ``portions`` is empty.
    """

    SCHEMA = "blendwise/sheet/1"
    WHOLE = ("check",)

    plan: str
    file: str
    purpose: str
    day: date
    variation: str | None
    doses_from: Source
    assignment: AssignStatus | None
    portions: tuple[Cup, ...]
    colour_order: tuple[str, ...]
    clock: Clock | None
    label_names: tuple[str, ...]
    label_names_not_known_of: tuple[str, ...]
    check: CheckResult
    pot: PotSheet | None
    mixes: tuple[Mix, ...]
    levers: tuple[Lever, ...] = ()
    small: tuple[Small, ...] = ()
    stabilised: tuple[str, ...] = hidden()
    trouble: Trouble = hidden()
    after: After = hidden()
    mould: Mould | None = hidden()
    pieces: tuple[Piece, ...] = hidden()
    touching: str | None = hidden()
    celsius: float = hidden()
    scale_step: float = hidden()
    lye_step: float = hidden()
    lots: tuple[tuple[str, str | None], ...] = hidden()
    burns: tuple[tuple[str, float | None], ...] = hidden()
    hands: int = hidden()
    units: Units = hidden(METRIC)

    @property
    def sound(self) -> bool:
        """Whether nothing worse than a caution stands against pouring it."""
        return self.check.sound

    @told
    def batch(self) -> str:
        """The batch's code, as ``note`` takes it where no other is typed, with the version."""
        return code_of(self.plan, self.day.isoformat(), self.variation)

    @told
    def weighed(self) -> tuple[Weighed, ...]:
        """Everything that is weighed: the pot, the jug, the premixes, the portions."""
        pot = self.pot
        if pot is None:
            return ()
        mixes = (each for mix in self.mixes for each in mix.scents)
        cups = (each for cup in self.portions for each in cup.weighed)
        return (*pot.oils, pot.naoh, pot.water, *pot.additives, *mixes, *cups)

    @told
    def dates(self) -> tuple[Dated, ...]:
        """What is to be done when, from the cut to the last day of the cure."""
        then = self.after
        if self.pot is None:
            return ()
        looks = (Dated(f"look, {what}", day, day) for what, day in then.looks)
        return (Dated("cut", *then.cut), *looks, Dated("judge", *then.judge), Dated("cured", *then.ready))

    def frame_rows(self) -> tuple[Weighed, ...]:
        """Everything that is weighed, a row each: where it goes, what it is, grams and the scale's step."""
        return self.weighed

    def frame_columns(self) -> list[str]:
        """All that is said of a thing to weigh."""
        return [key for key, _ in keys(Weighed)]
