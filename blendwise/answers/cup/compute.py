"""A test cup: the maker's recipe small, some cups and a control, judged as a pot would be.

The judge is asked twice.  Of all cups together, about everything but skin: a ban or a stop about lye
refuses the cup, as it refuses a plan.  Of each cup alone, about the limits of skin, for no other cup
thins it: past those it is for looking only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

from blendwise.answers.answer import Range
from blendwise.answers.check.compute import at_home, check_situation, judge_situation
from blendwise.answers.check.result import CheckResult
from blendwise.answers.cup import batter
from blendwise.answers.cup.batter import CONTROL, Cup, SmallPot
from blendwise.answers.cup.question import Wanted
from blendwise.answers.cup.result import SKIN, CupResult, LookDay, TestCup
from blendwise.answers.pair.pours import without_pours
from blendwise.answers.sheet.result import Weighed
from blendwise.answers.sheet.weigh import dye
from blendwise.facts.columns import Column
from blendwise.facts.measures.making import hottest_end
from blendwise.facts.pour.minutes import base_of
from blendwise.facts.pour.temperatures import split_temperature
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.notes.note import DAYS_OF_LOOKS
from blendwise.science.browning import judgement_days

ANSWERED: Final = ("evidence", "test cup")
"""Topics of the rules that ask for the very cup."""
OF_A_CUP: Final = ("rates", "lye", "heat", "additives")
"""Topics of the cautions that speak of a cup; the others judge a design."""
OF_A_DESIGN: Final = frozenset({"times the load", "steps of the scale"})
"""What is measured against a load, or mended by a premix: a cup has neither, and tells its own error."""
DROPS: Final = (20.0, 40.0)
"""Drops to a gram of oil, by bottle and dropper: common practice; a drop is no measure."""
MOST_OF_A_NAME: Final = 60
COARSE: Final = 0.05
"""Error of a dose from which its scale is too coarse: half of ten steps, as in the rules."""


@dataclass(frozen=True, eq=False)
class Poured:
    """A cup worked out: what is weighed, and all cups beside one another as a situation."""

    wanted: Wanted
    small: SmallPot
    cups: tuple[Cup, ...]
    s: Situation
    name: str


def poured_of(wanted: Wanted) -> Poured:
    """The small pot and its cups; RecordError where the recipe cannot be worked out."""
    small = batter.small_pot(wanted)
    cups = batter.cups_of(wanted, small)
    name = name_of(wanted)
    return Poured(wanted, small, cups, batter.in_memory(wanted, small, cups, name), name)


def name_of(wanted: Wanted) -> str:
    """What the cup is called: ``cup``, its oils, its portion; letters, digits and hyphens."""
    parts = [*wanted.oils, *([wanted.portion] if wanted.portion else [])]
    plain = ("".join(sign if sign.isalnum() else "-" for sign in part) for part in parts)
    return re.sub("-+", "-", "-".join(["cup", *plain]))[:MOST_OF_A_NAME].strip("-")


def cup(poured: Poured, rulebook: Rulebook) -> CupResult:
    """The answer; past a harm that is not skin's it holds nothing to weigh."""
    skin = {each.name: tuple(_of_skin(poured, each, rulebook)) for each in poured.cups[1:]}
    check = _check(poured, rulebook, [finding for found in skin.values() for finding in found])
    result = _result(poured, check, skin)
    return _empty(result) if result.refused else result


def _of_skin(poured: Poured, each: Cup, rulebook: Rulebook) -> Iterator[Finding]:
    """The limits that one cup passes, were it a bar."""
    alone = batter.in_memory(poured.wanted, poured.small, (each,), each.name)
    rules = [rule for rule in rulebook.rules if rule.record.protects == SKIN]
    for finding in judge_situation(alone, rulebook, moved=rules).findings:
        if finding.protects == SKIN and finding.level == "stop" and finding.stands:
            yield at_home(finding, alone.book.folder)


def _check(poured: Poured, rulebook: Rulebook, skin: Sequence[Finding]) -> CheckResult:
    """What the rules say of the pot and the cups."""
    asked = replace(rulebook, rules=tuple(_asked_of_cups(rulebook.rules)))
    check = check_situation(poured.s, asked)
    return replace(check, findings=(*skin, *(each for each in check.findings if each.protects != SKIN)))


def _asked_of_cups(rules: Sequence[Rule]) -> Iterator[Rule]:
    """What guards lye, skin, fire or law, and what can be asked of cups that no pour brings together.

    Not what asks for this very cup, nor what speaks of a design.
    """
    free = {rule.name for rule in without_pours(rules)}
    for rule in rules:
        apart = rule.looks_at != "edge" and not OF_A_DESIGN & rule.measures and rule.level != "hint"
        topic, heavy = rule.record.topic, rule.level == "conflict"
        here = topic in OF_A_CUP or (heavy and topic not in ANSWERED)
        if rule.is_locked or (apart and here and rule.name in free):
            yield rule


def _result(poured: Poured, check: CheckResult, skin: dict[str, tuple[Finding, ...]]) -> CupResult:
    s, small, wanted = poured.s, poured.small, poured.wanted
    day, step = s.today, batter.scent_step(wanted.base)
    first, last = (int(d) for d in judgement_days(False))
    smallest = min((g for each in poured.cups for g in each.scents.values()), default=0.0)
    return CupResult(
        name=poured.name,
        day=day,
        oils=wanted.oils,
        plan=wanted.plan,
        portion=wanted.portion,
        refused=any(stop.protects != SKIN for stop in check.harm),
        pot=tuple(_pot(s, small, batter.scent_step(wanted.base))),
        spare=small.spare,
        cups=tuple(_cup(poured, n, bool(skin.get(each.name))) for n, each in enumerate(poured.cups)),
        superfat=batter.superfat(s),
        asked=batter.superfat(wanted.base),
        concentration=s.pot.mixed_concentration,
        celsius=split_temperature(wanted.base),
        hottest=hottest_end(s),
        hard=tuple(n for n in s.pot.oils if s.book.oils[n].hardness in ("hard", "soft")),
        coarse=step / 2 / smallest if smallest and step / 2 > COARSE * smallest else 0.0,
        kept=None,
        check=check,
        looks=tuple(LookDay(look, day + timedelta(days)) for look, days in DAYS_OF_LOOKS.items()),
        is_spread=wanted.is_spread,
        judge=(day + timedelta(first), day + timedelta(last)),
        units=s.book.usual.units,
    )


def _empty(result: CupResult) -> CupResult:
    """Past a harm: what the check says, and nothing that could be weighed."""
    check = replace(result.check, grams=())
    return replace(result, check=check, pot=(), cups=(), spare=0.0, looks=())


def _pot(s: Situation, small: SmallPot, fine: float) -> Iterator[Weighed]:
    step = small.step
    for name, grams in small.oils.items():
        yield Weighed("pot", "oil", name, grams, step)
    for name, grams in small.additives.items():
        if grams > 0:
            yield Weighed("pot", "additive", name, grams, min(step, fine))
    yield Weighed("jug", "water", "water", small.water, step)
    yield Weighed("jug", "lye", "sodium hydroxide", small.naoh, step)


def _cup(poured: Poured, n: int, looking_only: bool) -> TestCup:
    s, each = poured.s, poured.cups[n]
    step = batter.scent_step(poured.wanted.base)
    return TestCup(
        name=each.name,
        dose=sum(each.scents.values()) / poured.small.cup_oils,
        batter=Weighed(each.name, "batter", "batter", poured.small.size, poured.small.step),
        scents=tuple(
            Weighed(each.name, "scent", oil, grams, step, each.lots.get(oil) or s.book.scents[oil].lot)
            for oil, grams in each.scents.items()
        ),
        dyes=tuple(
            dye(each.name, s.book.colourants[name], grams, (), step) for name, grams in each.colours.items()
        ),
        drops=tuple(Range(grams * DROPS[0], grams * DROPS[1]) for grams in each.scents.values()),
        looking_only=looking_only,
        thick=_thick(s, n),
        band=_band(s, n),
    )


def _thick(s: Situation, n: int) -> Range | None:
    """Minutes to thick from the scent's contact; None where nobody knows how it quickens."""
    q, base = s.home("thickening"), base_of(s)
    assert isinstance(q, Column)
    low, high = q.outer
    if not (low[n] > 0 and high[n] < float("inf")):
        return None
    return Range(base.low / float(high[n]), base.high / float(low[n]))


def _band(s: Situation, n: int) -> tuple[str, ...]:
    """The words of the colour that it is believed to brown to; empty where nobody knows."""
    column = s.home("browning band")
    assert isinstance(column, Column)
    assert column.scale is not None
    low, high = float(column.low[n]), float(column.high[n])
    if not high < len(column.scale):
        return ()
    return tuple(dict.fromkeys((column.scale[int(low)], column.scale[int(high)])))


def _number(s: Situation, measure: str, row: int) -> float:
    column = s.home(measure)
    assert isinstance(column, Column)
    return float(column.low[row])


__all__ = ["CONTROL", "Poured", "cup", "name_of", "poured_of"]
