"""After the pour: cover or cool, cut, look and judge with dates; and the names that the label must carry."""

from __future__ import annotations

from datetime import date, timedelta

from blendwise.answers.check import label as check
from blendwise.answers.sheet.result import After, Label, Mould, Piece
from blendwise.facts.columns import Column
from blendwise.facts.situation.appearance import gel_word
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.recipe import RecipeAmount
from blendwise.science import browning
from blendwise.science.cure import CURE_DAYS
from blendwise.science.setting import cut_days

LOOK_WEEKS = (1, 2, 4, 6)


def after_of(s: Situation) -> After:
    """Dates counted from the day of the pour."""
    day = s.today
    stabilised = bool(s.plan.scents and s.plan.scents.stabilised)
    first, last = (int(d) for d in browning.judgement_days(stabilised))
    cut = cut_days(gel_word(s), _liquid(s), s.pot.lye_concentration)
    looks = [("at the cut", day + timedelta(cut[0]))]
    looks += [(f"week {week}", day + timedelta(weeks=week)) for week in LOOK_WEEKS]
    amount = amount_of(s)
    bars = (amount.bars or amount.cavities) if amount else None
    return After(
        gel=gel_word(s),
        gel_at=_gel_at(s),
        cut=(day + timedelta(cut[0]), day + timedelta(cut[1])),
        bars=bars,
        thick=_thick(amount),
        looks=tuple(looks),
        judge=(day + timedelta(first), day + timedelta(last)),
        ready=(day + timedelta(CURE_DAYS[0]), day + timedelta(CURE_DAYS[1])),
        bar_grams=_bar(s) / bars if bars else None,
    )


def amount_of(s: Situation) -> RecipeAmount | None:
    """How much the recipe makes, as the plan (or the usual recipe) says."""
    recipe = s.plan.recipe or s.book.usual.recipe
    return recipe.amount if recipe else None


def _liquid(s: Situation) -> float:
    share = s.home("liquid oils")
    assert isinstance(share, Column)
    return float(share.low[0])


def _gel_at(s: Situation) -> float | None:
    process = s.plan.process
    plan = (process.gel_plan if process else None) or s.book.usual.gel_plan
    return plan.at.mid if plan and plan.at else None


def _thick(amount: RecipeAmount | None) -> float | None:
    """cm of one slice of a loaf."""
    if amount is None or amount.mould != "loaf" or not amount.bars or amount.inside is None:
        return None
    return amount.inside[0] / amount.bars


def _bar(s: Situation) -> float:
    return s.bar_constant + float(s.x.sum())


def label_of(s: Situation, placed: date) -> Label:
    """Names due by the sheets at hand on soap sold from a day; oils with a sheet that is not whole."""
    told = check.label_of(s, placed)
    return Label(tuple(line.name for line in told.due), told.not_known)


def mould_of(s: Situation) -> Mould | None:
    """The mould, where the plan says anything of it."""
    amount = amount_of(s)
    if amount is None or amount.mould is None:
        return None
    return Mould(amount.mould, amount.inside, amount.volume.value if amount.volume else None, amount.cavities)


def pieces_of(s: Situation) -> tuple[Piece, ...]:
    """Finished soap that is set into the batch."""
    return tuple(Piece(e.what, e.mass.value, e.softens.mid if e.softens else None) for e in s.plan.embeds)
