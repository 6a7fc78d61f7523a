"""What ``ask`` answers: which question was understood, of what, and the answer of the call behind it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from blendwise.answers.answer import Answer, hidden
from blendwise.answers.check.result import CheckResult
from blendwise.quantity import METRIC, Units

Status = Literal["answered", "unsure", "declined", "deferred", "not named"]


@dataclass(frozen=True, slots=True)
class Named:
    """The names and amounts that were found in a question, as the book writes them.

    ``read_as``: typed → name, where the two differ.  ``both``: names that an oil and a portion share.
    ``doses``: pairs of an oil (empty: all scent) and the dose of it that is named, as typed or as "x 2".
    """

    oils: tuple[str, ...] = ()
    portions: tuple[str, ...] = ()
    colours: tuple[str, ...] = ()
    pours: tuple[str, ...] = ()
    plans: tuple[str, ...] = ()
    amounts: tuple[str, ...] = ()
    read_as: Mapping[str, str] = field(default_factory=dict)
    both: tuple[str, ...] = ()
    doses: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Near:
    """A question that is known, and how near what was asked comes to it (0 to 1)."""

    question: str
    score: float


@dataclass(frozen=True, slots=True)
class OwnLook:
    """One look of the maker at one cup, ``days`` after the pour: what was noted, in the notes' own words.

    ``minutes``: to thick, low and high; ``doses``: oil → fraction of the cup's oils; ``expected``: the band
    that was predicted on the day of the pour; ``unscented``: minutes that its batter was then reckoned to
    stay fluid without scent.
    """

    batch: str
    plan: str
    look: str
    on: date
    days: int
    portion: str
    told: Mapping[str, str]
    minutes: tuple[float, float] | None = None
    doses: Mapping[str, float] = field(default_factory=dict)
    expected: str = ""
    unscented: float | None = None


@dataclass(frozen=True, slots=True)
class ShelfWord:
    """What an oil's own entry says of its colour and speed: words, doses as written, whose word it is.

    A word that is not written is None; a dose that is not, empty.
    """

    browns: str | None
    browns_at: str
    browns_by: str
    speed: str | None
    speed_at: str
    speed_by: str


@dataclass(frozen=True, slots=True)
class OwnWord:
    """What the maker wrote of an oil on its own entry: seen on a day, in the maker's words."""

    oil: str
    on: date
    what: str


@dataclass(frozen=True, slots=True)
class NotedBatch:
    """What the notes hold of one batch as it was made: °C, and the lot of every material."""

    batch: str
    poured: date
    room: float | None
    batter: float | None
    lots: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Filled:
    """What fills a mould: lye as weighed (g), the mould's volume (mL) where it is stated, and how full.

    ``own``: the plan's, not one that the question names.
    """

    lye: float
    volume: float | None
    full: float
    own: bool


@dataclass(frozen=True, slots=True)
class Resized:
    """A plan at another size: how many times as big, its oils, lye as weighed and water (g).

    ``short``: oil → g that are needed and g on hand, where the bottle is too small.
    """

    times: float
    oils: float
    lye: float
    water: float
    short: Mapping[str, tuple[float, float]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Dosed:
    """A plan with oils at the doses that are named: ``told`` as typed, ``wanted`` and ``was`` oil → g in all.

    ``oils``: g of the pot; ``most``: g of the one oil that break no limit with the others as planned, None
    where none was found; ``beyond``: it is so much that no plan can be written so.
    """

    told: tuple[str, ...]
    wanted: Mapping[str, float]
    was: Mapping[str, float]
    oils: float
    most: float | None = None
    beyond: bool = False


@dataclass(frozen=True, slots=True)
class HalfScented:
    """A scent in part of the pot both ways: the dose of all, and all of the scent (fractions of oils).

    ``share``: of the oils that are scented; ``usual``: the most that is usual in a portion; ``oils``: g of
    the whole pot, None without a plan.
    """

    share: float
    load: float
    same_dose: float
    same_total: float
    usual: float
    oils: float | None = None


@dataclass(frozen=True, slots=True)
class Watered:
    """A plan with its lye at a strength: minutes of the cup that thickens first, and of the pour.

    ``water``: g; ``own``: as the plan has it; ``asked``: named in the question; ``slower``: whether a weaker
    lye gives that cup more minutes; ``cup``: the one that thickens first.
    """

    lye: float
    fluid: float | None
    needed: float | None
    rivers: str | None
    water: float | None = None
    own: bool = False
    asked: bool = False
    slower: bool = False
    cup: str = ""


@dataclass(frozen=True, slots=True)
class Gelled:
    """A plan with gel forced: its risk of overheating, the cups in which it may draw white veins (rivers).

    ``partial``: the risk that only the middle gels, as the plan stands; ``lye``: its strength; ``peak``: °C
    that the middle is reckoned to reach.
    """

    heat: str | None
    veins: tuple[str, ...]
    partial: str | None
    lye: float | None
    peak: float | None = None


@dataclass(frozen=True, slots=True)
class Warmed:
    """A plan with its batter at another temperature (°C): minutes of the tightest cup, and of the pour.

    ``asked``: named in the question; ``bound``: °C, the most that a rule bears, where this is past it.
    """

    at: float
    fluid: float | None
    needed: float | None
    asked: bool = False
    bound: float | None = None

    @property
    def leaves_time(self) -> bool:
        """Whether the cup that thickens first has its minutes and one to spare, within its bound."""
        return self.bound is None and self.has_time

    @property
    def has_time(self) -> bool:
        """Whether it has its minutes and one to spare, whatever a rule says of its warmth."""
        return self.fluid is not None and self.fluid - (self.needed or 0.0) >= 1.0


@dataclass(frozen=True, slots=True)
class Sold:
    """When a batch is called cured, and its weight: masses in g, ``net_ounces`` in oz; None until weighed.

    ``batch``: empty where nothing is poured yet; ``still``: what a bar may still lose from the day it was
    weighed, a fraction; ``fresh``: whether it was weighed before it is called cured; ``likely``: g after the
    book's cure loss, of a fresh one; ``lost``: what bars of ``lost_by`` lost in ``lost_days``, where weighed;
    ``planned``: g of a cured bar as the plan has it, where none is weighed;
    ``cure_loss``: the book's, a fraction of the fresh bar.
    """

    batch: str
    poured: date
    first: date
    last: date
    weighed: float | None
    weighed_on: date | None
    still: float
    net: float | None
    net_ounces: float | None
    today: date
    fresh: bool = False
    likely: float | None = None
    lost: float | None = None
    lost_days: int = 0
    lost_by: str = ""
    planned: float | None = None
    cure_loss: float | None = None


@dataclass(frozen=True, slots=True)
class QuickOil:
    """How quick an oil of a plan is, on whose word, and the cups that hold it.

    ``word``: of the scale of accelerations, None where nobody has said; ``seizes``: whether it is known to.
    """

    oil: str
    word: str | None
    seizes: bool
    evidence: str
    cups: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AskResult(Answer):
    """What was understood of a question, and the command that says more.

    ``near``: the nearest questions, to choose from where it is unsure.  ``lacks``: what must be named
    (oil | plan) before it can be answered.  ``typed``: what the plan writes of a colour in a cup.  ``sure``:
    no other question is about as near.  ``looks``: the maker's at the plan's last batch, else at cups that
    are made alike; ``looks_of_oils``: at every cup that held an oil that is named;
    ``words_of_oils``: seen by the entries of these oils themselves.  ``scale``: g of a step
    of the scale.  ``asked_of``: the colourants of a kind that is named ("micas"); ``usual_rates``:
    colourant → low and high, fractions of a cup's oils.   ``batches``: the
    plan's, as made.  ``filled``: its mould, or the one that is named.  ``resized``: the plan at the size that
    is named.  ``planned``: cup → oil → g as the plan stands, where no split fits.  ``taken``: the amounts
    that the answer takes up; of the others it is said that it does not.  ``found``: the answer of the call;
    ``beside``: the check of the plan beside a page of ``why``; ``by_batch``: both are of what the last batch
    was poured by, for the plan was changed since; ``seen_cured``: oils of which a cup's colour was noted
    once it was cured.
    """

    SCHEMA = "blendwise/ask/1"

    asked: str
    status: Status
    question: str = ""
    number: int | None = None
    near: tuple[Near, ...] = ()
    named: Named = Named()
    plan: str = ""
    call: str = ""
    command: tuple[str, ...] = ()
    lacks: str = ""
    sure: bool = False
    taken: tuple[str, ...] = ()
    dosed: Dosed | None = None
    half: HalfScented | None = None
    water: tuple[Watered, ...] = ()
    warmed: tuple[Warmed, ...] = ()
    gelled: Gelled | None = None
    sold: Sold | None = None
    typed: Mapping[str, str] = field(default_factory=dict)
    looks: tuple[OwnLook, ...] = ()
    looks_of_oils: tuple[OwnLook, ...] = ()
    words_of_oils: tuple[OwnWord, ...] = ()
    scale: float | None = None
    asked_of: tuple[str, ...] = ()
    usual_rates: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    batches: tuple[NotedBatch, ...] = ()
    filled: Filled | None = None
    resized: Resized | None = None
    planned: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    by_batch: bool = False
    today: date | None = None
    units: Units = hidden(METRIC)
    quick: tuple[QuickOil, ...] | None = hidden(None)
    tags: Mapping[str, str] | None = hidden(None)
    shelf: Mapping[str, ShelfWord] | None = hidden(None)
    on_shelf: Mapping[str, str] | None = hidden(None)
    planned_at: tuple[float | None, float | None] | None = hidden(None)
    spoons: Mapping[str, float] | None = hidden(None)
    found: Answer | None = hidden(None)
    beside: CheckResult | None = hidden(None)
    seen_cured: frozenset[str] | None = hidden(None)

    @property
    def not_taken(self) -> tuple[str, ...]:
        """Amounts and multiples of an oil in the question that the answer does not take up."""
        times = [text for _, text in self.named.doses if text.startswith("x ")]
        return tuple(each for each in (*self.named.amounts, *times) if each not in self.taken)

    def frame_rows(self) -> Iterator[Near]:
        """A row a question that is near."""
        return iter(self.near)
