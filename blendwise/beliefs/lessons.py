"""What was learned, as numbers: beliefs beside their priors, oil by oil."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from blendwise.records.kinds.scent import RicingWord

EIGHTY: Final = 1.2815515655446004  # standard deviations that hold 80 % of a normal distribution: Φ⁻¹(0.9)


OwnWord = Literal["own batch", "own cup", "own batch of another lot", "own cup of another lot"]


@dataclass(frozen=True, slots=True)
class Told:
    """One batch's own word on one oil, at the dose of its entry: a bound where ``side`` says so.

    ``shown``: what the note says, at ``dose`` (g per g of portion oils; None where it was not kept).
    ``at_once``: the cup was solid within a minute.
    """

    batch: str
    note: str
    portion: str
    shown: str
    value: float
    side: int
    dose: float | None = None
    lot: str = ""
    at_once: bool = False


@dataclass(frozen=True, slots=True)
class Belief:
    """A trait of one oil after the looks: mean and standard deviation beside the prior's.

    ``looks`` and ``batches`` count those in which the oil was (``cups``: how many of these were test cups
    and no batches); ``told``: where it was the main one.  ``lots``: those that were seen ("" where nobody
    wrote one down); ``is_this_lot``: whether the bottle's is among them; ``lots_agree``: whether two or more
    said the same; ``lots_differ``: whether they did not, and then ``harsh_lot`` is the
    one that did most, at ``harsh`` (as ``mean``).
    """

    mean: float
    sd: float
    prior_mean: float
    prior_sd: float
    looks: int = 0
    batches: int = 0
    cups: int = 0
    told: tuple[Told, ...] = ()
    lots: tuple[str, ...] = ()
    is_this_lot: bool = True
    lots_agree: bool = False
    lots_differ: bool = False
    harsh_lot: str = ""
    harsh: float | None = None

    @property
    def evidence(self) -> OwnWord:
        """Whose word the looks are: a batch's where any of them was one; of which lot."""
        if self.cups and self.cups == self.batches:
            return "own cup" if self.is_this_lot else "own cup of another lot"
        return "own batch" if self.is_this_lot else "own batch of another lot"

    def ends(self) -> tuple[float, float]:
        """The interval that holds the truth with 80 % probability, if the model does."""
        return self.mean - EIGHTY * self.sd, self.mean + EIGHTY * self.sd


@dataclass(frozen=True, slots=True)
class Learned:
    """The three traits of one oil: log factor, log content, fraction left."""

    speed: Belief | None = None
    browning: Belief | None = None
    remains: Belief | None = None


@dataclass(frozen=True, slots=True)
class Pace:
    """How a style of pour goes with this maker: log of the minutes it takes over those of the rulebook.

    ``sd``: of the mean; ``again``: of the next pour, which differs from day to day as well.
    """

    mean: float
    sd: float
    again: float
    batches: int

    def ends(self) -> tuple[float, float]:
        """The interval that holds the next pour with 80 % probability, if the model does."""
        return self.mean - EIGHTY * self.again, self.mean + EIGHTY * self.again


@dataclass(frozen=True, slots=True)
class Grains:
    """Whether the oil in the bottle on the shelf riced: the worst that was seen of it, on whose word."""

    word: RicingWord
    evidence: Literal["own batch", "own cup"]


@dataclass(frozen=True, slots=True)
class Lessons:
    """What the whole notebook teaches; ``batches`` and ``looks`` count what was read,
    ``cups`` the test cups among the batches, ``set_aside`` the notes that could not be; ``pours``: the
    maker's pace by style of pour; ``grains``: oils of which a look says whether they rice."""

    oils: Mapping[str, Learned] = field(default_factory=dict)
    batches: int = 0
    looks: int = 0
    last_lots: Mapping[str, str] = field(default_factory=dict)
    set_aside: int = 0
    cups: int = 0
    pours: Mapping[str, Pace] = field(default_factory=dict)
    grains: Mapping[str, Grains] = field(default_factory=dict)
