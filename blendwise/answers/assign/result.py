"""Which portion takes which oil, its cost and clock, or what stands in the way; with its published document.

Numbers are canonical (fractions, g, min, °C, cm); files are shown relative to the book.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from blendwise.answers.answer import Answer, Range, Unbounded, hidden, told
from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers.result import Lever
from blendwise.facts.assumed import Assumed
from blendwise.quantity import METRIC, Units
from blendwise.records.place import Spot

AssignStatus = Literal[
    "proven", "best looked at", "best found", "nothing fits", "not decided", "lye first", "harm first"
]
ConflictKind = Literal["", "proved", "only with premixes", "only with steps"]
TOTALS = ("portion", "grams", "dose", "slack")


@dataclass(frozen=True, slots=True)
class Premix:
    """Scents mixed before they are divided, in grams; ``error`` is half a step against the smallest part."""

    name: str
    scents: Mapping[str, float]
    error: float | None = None

    @told
    def grams(self) -> float:
        """Grams of the whole premix."""
        return math.fsum(self.scents.values())


@dataclass(frozen=True, slots=True)
class Pour:
    """One portion of a split: grams of premixes and of single scents, its place in the scenting order,
    minutes from emulsion until which it is fluid, and the minutes to spare."""

    portion: str
    premixes: Mapping[str, float]
    scents: Mapping[str, float]
    dose: float
    order: int | None = None
    fluid_until: Range | None = None
    slack: Unbounded = None

    @told
    def grams(self) -> float:
        """Grams of scent in the portion."""
        return math.fsum(self.scents.values())


@dataclass(frozen=True, slots=True)
class Tight:
    """What stops a portion from taking more of a premix: it takes ``takes`` g, at ``at`` g the rule breaks.

    ``wants``: what the rule demands.  ``gain``: what solving without it would bring, in ``gain_in``.
    """

    portion: str
    rule: str
    subject: str
    gain: float | None = None
    gain_in: str = ""
    where: Spot | None = None
    premix: str = ""
    takes: float = 0.0
    at: float = 0.0
    wants: str = ""
    kind: str = "rule"


@dataclass(frozen=True, slots=True)
class Conflict:
    """A rule (``kind`` "rule") or a line of the plan ("plan") which cannot hold with the others.

    ``wants``: what the rule demands, in its own words ("browning band: at most planned band").
    """

    kind: Literal["rule", "plan"]
    name: str
    subject: str
    where: Spot | None = None
    wants: str = ""


@dataclass(frozen=True, slots=True)
class Bare:
    """A cup that is meant to be scented and stays bare: what has to hold and cannot with scent in it.

    ``because`` is irreducible: without any one of these the cup could take scent.  Empty where only the
    ``obstacle``, the scale's steps or the number of premixes, keeps it out.
    """

    portion: str
    because: tuple[Conflict, ...] = ()
    obstacle: str = ""


@dataclass(frozen=True, slots=True)
class GoalChange:
    """What a goal comes to in the best split and in another; all goals are better when less.

    A share of all scent: grams off the blend ("true to blend"), off an even dose ("even scent"), of browning
    oil in light cups; a share of the batter, the mean over the quick oils ("quick oils in little batter"); a
    number ("few weighings", cautions by weight); minus the share of a limit that is left ("wide margin").
    """

    goal: str
    best: float
    other: float


@dataclass(frozen=True, slots=True)
class WhyNone:
    """Why a cup takes none of an oil (``scent`` "": of any), as was asked; ``takes`` g where it does.

    The least that can be weighed was forced: ``because`` what then cannot all be, irreducible; ``obstacle``
    "steps" or "premixes" where these alone forbid it; else ``portions`` is the best split with it and
    ``worsens`` the first goal that it is worse in (None: in none; it is farther from the plan as written).
    """

    portion: str
    scent: str
    takes: float = 0.0
    because: tuple[Conflict, ...] = ()
    obstacle: str = ""
    worsens: GoalChange | None = None
    portions: tuple[Pour, ...] = ()


@dataclass(frozen=True, slots=True)
class Beside:
    """An answer that stands beside the best, for the maker to choose: ``goal`` comes first in it, or it
    ``scents`` a cup that a rule keeps bare and so ``breaks`` that rule; ``changes``: what each goal gains or
    costs."""

    goal: str = ""
    scents: str = ""
    breaks: tuple[Conflict, ...] = ()
    premixes: tuple[Premix, ...] = ()
    portions: tuple[Pour, ...] = ()
    changes: tuple[GoalChange, ...] = ()


@dataclass(frozen=True, slots=True)
class OffBlend:
    """An oil whose ``share`` of the bar cannot be what was ``asked``; ``because`` as of a bare cup."""

    scent: str
    share: float
    asked: float
    because: tuple[Conflict, ...] = ()


@dataclass(frozen=True, slots=True)
class Cost:
    """What the scents of a batch cost, in the book's currency; ``per_bar`` where the plan says how many bars.

    ``not_known``: oils without a price, which are not in the sum.  ``short``: grams that a bottle lacks.
    """

    batch: float
    per_bar: float | None
    not_known: tuple[str, ...] = ()
    short: Mapping[str, float] = field(default_factory=dict)
    currency: str = ""


@dataclass(frozen=True, slots=True)
class PotScented:
    """One blend for all: scenting the whole pot before it is split saves weighings and costs minutes.

    ``fluid_until``: minute until which all of it then stays fluid; ``instead_of``: until which the first
    portion to thicken does, scented in turn; ``needed``: the end of the pour.
    """

    saves: int
    fluid_until: float
    instead_of: float
    needed: float

    @told
    def fits(self) -> bool:
        """Whether the pour still ends in time."""
        return self.fluid_until >= self.needed


@dataclass(frozen=True, slots=True)
class WaitsOn:
    """A fact nobody knows on which a stop or conflict hangs: the split is the best *if* it turns out well."""

    subject: str
    fact: str
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AssignResult(Answer):
    """Which portion takes which oil, in weighable grams, judged again; or what stands in the way.

    ``status`` is "lye first" where the lye burns, "harm first" where every split would harm (an oil that is
    banned or not for skin): no split until that is mended; ``check`` says why.  "best looked at": a rule
    that only a finished split can be asked spoke against some, and of ``looked`` splits this one is the
    best.  ``levers``: what would make it fit; what mends a split that was found stands in ``check``.

    How long it took is not published: same answer, same bytes.
    """

    SCHEMA = "blendwise/assign/2"

    plan: str
    file: str
    status: AssignStatus
    scale_step: float
    scale_step_stated: bool
    premixes: tuple[Premix, ...] = ()
    portions: tuple[Pour, ...] = ()
    bare: tuple[Bare, ...] = ()
    off_blend: tuple[OffBlend, ...] = ()
    why: tuple[WhyNone, ...] = ()
    beside: tuple[Beside, ...] = ()
    tight: tuple[Tight, ...] = ()
    looked: int = 0
    runner_up: tuple[Pour, ...] = ()
    runner_up_costs: str = ""
    conflicts: tuple[Conflict, ...] = ()
    conflicts_kind: ConflictKind = ""
    levers: tuple[Lever, ...] = ()
    waits_on: tuple[WaitsOn, ...] = ()
    cost: Cost | None = None
    pot: PotScented | None = None
    assumptions: tuple[Assumed, ...] = ()
    check: CheckResult | None = None
    seconds: float = hidden(0.0)
    plan_text: str = hidden("")
    units: Units = hidden(METRIC)

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row a portion: its totals, then grams of each scent."""
        for pour in self.portions:
            totals = {key: getattr(pour, key) for key in TOTALS}
            yield totals | {name: pour.scents.get(name, 0.0) for name in self._scents()}

    def frame_columns(self) -> list[str]:
        """The totals, then every scent that any portion takes."""
        return [*TOTALS, *self._scents()]

    def _scents(self) -> list[str]:
        return list(dict.fromkeys(name for pour in self.portions for name in pour.scents))
