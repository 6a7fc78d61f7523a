"""A test cup as data: what is weighed, how it is told apart, when it is looked at; canonical units."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from blendwise.answers.answer import Answer, Range, hidden, told
from blendwise.answers.check.result import CheckResult
from blendwise.answers.sheet.result import Dye, Weighed
from blendwise.quantity import METRIC, Units

SKIN: Final = "limits"
"""What a rule protects that speaks of how much skin bears."""


@dataclass(frozen=True, slots=True)
class TestCup:
    """One cup: the control (no scents), or a dose or lot of the oils asked for.

    ``dose``: scent on the cup's own oils, a fraction; ``drops``: (least, most) of each scent;
    ``looking_only``: more than skin limits allow; ``thick``: minutes from the scent's contact, as believed.
    """

    __test__ = False

    name: str
    dose: float
    batter: Weighed
    scents: tuple[Weighed, ...]
    dyes: tuple[Dye, ...]
    drops: tuple[Range, ...]
    looking_only: bool
    thick: Range | None
    band: tuple[str, ...]

    @property
    def is_control(self) -> bool:
        """Whether it holds no scent."""
        return not self.scents


@dataclass(frozen=True, slots=True)
class LookDay:
    """A look and its day."""

    look: str
    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class CupResult(Answer):
    """A test cup and its control, of one small pot.

    Refused (``refused``), it holds nothing to weigh.  ``name``: what ``note`` calls it; ``kept``: the file
    of its record, None where it is not kept.  ``spare``: batter that clings to the pot; ``superfat``: of
    what is weighed, beside the ``asked``; ``coarse``: how far half a step of the scale is of the
    least dose, a fraction, where that is more than a twentieth; else 0.
    """

    SCHEMA = "blendwise/cup/1"
    WHOLE = ("check",)

    name: str
    day: date
    oils: tuple[str, ...]
    plan: str | None
    portion: str | None
    refused: bool
    pot: tuple[Weighed, ...]
    spare: float
    cups: tuple[TestCup, ...]
    superfat: float | None
    asked: float | None
    concentration: float
    celsius: float
    hottest: float
    hard: tuple[str, ...]
    coarse: float
    kept: str | None
    check: CheckResult
    looks: tuple[LookDay, ...]
    judge: tuple[date, date] = hidden()
    is_spread: bool = hidden(False)
    units: Units = hidden(METRIC)

    @property
    def sound(self) -> bool:
        """Whether nothing worse than a caution stands against pouring it, be it for looking only."""
        return not self.refused and self.besides_skin.sound

    @property
    def besides_skin(self) -> CheckResult:
        """The check without the limits of skin, past which a cup is for looking only."""
        others = tuple(each for each in self.check.findings if each.protects != SKIN)
        return replace(self.check, findings=others)

    @told
    def whole(self) -> float:
        """Grams of everything in the pot."""
        return sum(each.grams for each in self.pot)

    def frame_rows(self) -> Iterator[Weighed]:
        """Everything that is weighed, a row each."""
        yield from self.pot
        for cup in self.cups:
            yield from (cup.batter, *(dye.weighed for dye in cup.dyes), *cup.scents)
