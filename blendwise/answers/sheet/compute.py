"""The bench sheet: everything that is weighed, when, and what to do if it goes wrong, as data.

Which doses stand on it.  A maker expects the sheet to hold what the tool advises: where the plan writes
every dose, those; where it leaves doses open, the split that ``assign`` finds around what is written.
Where nothing fits, the open doses are spread evenly, as ``check`` does, and the sheet says that it is not
to be poured.  ``evenly`` asks for the even spread at once.  All doses are rounded to the step of the
scale first, and that is what is judged.  Past a harm the sheet holds no amounts at all; where only a paper
is missing it is whole.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from blendwise.answers.assign.compute import as_placed, assign_situation, mended
from blendwise.answers.check.compute import check_situation, relative
from blendwise.answers.check.versions import with_levers
from blendwise.answers.sheet import after_pour as after
from blendwise.answers.sheet import weigh
from blendwise.answers.sheet.clock import clock_of, trouble_of
from blendwise.answers.sheet.result import Sheet, Source
from blendwise.answers.small_amounts import small_amounts
from blendwise.facts.measures.dose import scale_step
from blendwise.facts.pour.minutes import hands_of
from blendwise.facts.pour.temperatures import split_temperature
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.pot import lye_step
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.science import flash

if TYPE_CHECKING:
    from blendwise.answers.assign.result import AssignResult
    from blendwise.answers.check.result import CheckResult
    from blendwise.answers.levers.result import Lever


def sheet_of(s: Situation, rulebook: Rulebook, *, evenly: bool = False, seconds: float = 20.0) -> Sheet:
    """The sheet of a plan worked out; ``seconds`` bounds the search for a split where doses are open."""
    settled, source, found = _settled(s, rulebook, evenly, seconds)
    poured = weigh.weighable(settled)
    check, ways = _judged(s, poured, rulebook, found)
    cups = weigh.cups(poured)
    label = after.label_of(poured, (aftermath := after.after_of(poured)).ready[1])
    sheet = Sheet(
        plan=s.plan.plan,
        file=relative(str(s.plan.place.file), s.book.folder) if s.plan.place else "",
        purpose=s.purpose,
        day=s.today,
        variation=s.variation,
        doses_from=source,
        assignment=None if found is None else found.status,
        levers=ways,
        small=tuple(small_amounts(poured)),
        check=check,
        pot=weigh.pot_sheet(poured, sum(cup.added for cup in cups)),
        portions=cups,
        mixes=weigh.mixes(poured),
        colour_order=_lightest_first(poured),
        stabilised=tuple(s.plan.scents.stabilised) if s.plan.scents else (),
        clock=clock_of(poured),
        trouble=trouble_of(poured, check.findings),
        after=aftermath,
        label_names=label.names,
        label_names_not_known_of=label.not_known,
        mould=after.mould_of(poured),
        pieces=after.pieces_of(poured),
        touching=s.pour.touching if s.pour else None,
        celsius=split_temperature(s),
        scale_step=scale_step(s),
        lye_step=lye_step(s.book),
        lots=_lots(poured),
        burns=_burns(poured),
        hands=hands_of(s),
        units=s.book.usual.units,
    )
    return _empty(sheet) if check.harm else sheet


def _lots(s: Situation) -> tuple[tuple[str, str | None], ...]:
    """The scents that are weighed, with the lot that the catalogue names."""
    return tuple((r.name, r.lot) for r, row in zip(s.scent_records, s.x, strict=True) if row.any())


def _burns(s: Situation) -> tuple[tuple[str, float | None], ...]:
    """The scents that are weighed whose bottle is a flammable liquid (category 1 to 4), or may be."""
    held = [r for r, row in zip(s.scent_records, s.x, strict=True) if row.any()]
    known = [(r.name, r.flash_point) for r in held]
    most = flash.CATEGORY_4_TO
    return tuple(
        (who, None if at is None else at.low)
        for who, at in known
        if at is None or at.low < most or (at.high or 0.0) <= most
    )


def _judged(
    s: Situation, poured: Situation, rulebook: Rulebook, found: AssignResult | None
) -> tuple[CheckResult, tuple[Lever, ...]]:
    """What is found on the sheet with what would mend it, and where nothing fits the ways out."""
    check = check_situation(poured, rulebook)
    ways = () if found is None else mended(found, s, rulebook).levers
    if check.sound or ways:
        return check, ways
    return with_levers(check, as_placed(s, found), rulebook, every=False), ways


def _empty(sheet: Sheet) -> Sheet:
    """The sheet past a harm: what the check says, and nothing that could be weighed or timed."""
    check = replace(sheet.check, grams=())
    return replace(sheet, check=check, pot=None, portions=(), mixes=(), clock=None, pieces=())


def _settled(
    s: Situation, rulebook: Rulebook, evenly: bool, seconds: float
) -> tuple[Situation, Source, AssignResult | None]:
    """The doses that go on the sheet, and whose they are."""
    if not s.x.any():
        return s, "no scent", None
    if not doses_open(s):
        return s, "the plan", None
    if evenly:
        return s, "an even spread", None
    result = assign_situation(s, rulebook, seconds=seconds, explain=False)
    if not result.portions:
        return s, "an even spread", result
    return assigned(s, result), "the assignment", result


def doses_open(s: Situation) -> bool:
    """Whether the plan leaves any dose to be spread."""
    return bool((np.isnan(s.scenting.written) & (s.x > 0)).any())


def assigned(s: Situation, result: AssignResult) -> Situation:
    """The situation at the doses of an assignment, its premixes weighed together."""
    x = np.zeros(s.shape)
    for p, pour in enumerate(result.portions):
        for name, grams in pour.scents.items():
            x[s.scents.index(name), p] = grams
    groups = tuple(tuple(s.scents.index(name) for name in mix.scents) for mix in result.premixes)
    return s.with_doses(x, groups)


def _lightest_first(s: Situation) -> tuple[str, ...]:
    """Common practice: coloured lightest first, so that dark is never carried into light."""
    order = np.argsort(-appearance(s).planned[:, 0], kind="stable")
    return tuple(s.portions[int(p)] for p in order)
