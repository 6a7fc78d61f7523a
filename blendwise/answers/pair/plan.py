"""The plan in memory behind a question: one portion of the maker's usual recipe, or a few side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from blendwise.answers.pair.question import PLAIN_MASS, Question
from blendwise.answers.refusals import NotAskable
from blendwise.facts.situation.appearance import ASSUMED_RATE
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.quantity import Amount, Basis, Dimension
from blendwise.records.book import BookFiles
from blendwise.records.kinds.colourant import Colourant
from blendwise.records.kinds.plan import Plan, Portion, Scents
from blendwise.records.kinds.recipe import Process, Recipe, RecipeAmount
from blendwise.records.reading.fields import Dose

BAR: Final = "bar"
NOTHING_ELSE: Final[dict[str, Any]] = {
    **{name: [] for name in ("embeds", "never", "only", "prefer", "accept", "weigh_together")},
    **{name: {} for name in ("variations",)},
}
"""What a plan in memory leaves empty; nothing ever writes to it."""


def recipe_of(book: BookFiles) -> tuple[Recipe | None, Process | None]:
    """The usual recipe with an amount (None where usual.yaml gives it whole, and the plan need not).

    NotAskable where usual.yaml has no recipe or no lye to reckon with.
    """
    recipe = book.usual.recipe
    if recipe is None or (recipe.lye or book.usual.lye) is None:
        lacking = "recipe" if recipe is None else "lye"
        raise NotAskable(
            f"usual.yaml names no {lacking}, and without batter nothing can be reckoned.",
            f"Write your usual `{lacking}:` into usual.yaml.",
        )
    if recipe.amount is not None or any(a.dimension is Dimension.MASS for a in recipe.oils.values()):
        return None, None
    oils = Amount(PLAIN_MASS, PLAIN_MASS, Dimension.MASS, None, f"{PLAIN_MASS:g} g")
    whole = recipe.model_copy(update={"amount": RecipeAmount.model_construct(oils=oils)})
    return whole, Process.model_construct(stays_fluid=book.usual.stays_fluid)


@dataclass(frozen=True, slots=True)
class Cup:
    """A portion of a plan made in memory; ``scents`` as rates of its oils, None for the blend at its load."""

    name: str
    share: float = 1.0
    colour: str | None = None
    scents: Mapping[str, float] | None = None
    may_become: str | None = None


def situation(question: Question, cups: Sequence[Cup] = (), pour: str | None = None) -> Situation:
    """A plan in memory worked out: one portion by default, else these.

    A cup without scents of its own takes the blend at the load.
    """
    held = cups or (Cup(BAR, colour=question.colour, may_become=question.may_become),)
    return work_out(_plan(question, held, pour), question.book, question.today, believing=question.believing)


def _plan(question: Question, cups: Sequence[Cup], pour: str | None) -> Plan:
    book, (recipe, process) = question.book, recipe_of(question.book)
    own = {
        cup.name: {s: _dose(rate) for s, rate in cup.scents.items()} for cup in cups if cup.scents is not None
    }
    # Every field is given, since pydantic looks each default up anew, which is slower than the sums.
    return Plan.model_construct(
        plan=question.title,
        for_=question.purpose,
        recipe=recipe,
        process=process,
        pour=pour,
        portions=[_portion(cup, book) for cup in cups],
        scents=None if all(cup.scents == {} for cup in cups) else _scents(question, len(cups)),
        doses=own,
        **NOTHING_ELSE,
    )


def _scents(question: Question, cups: int) -> Scents:
    parts = zip(question.oils, question.shares, strict=True)
    return Scents.model_construct(
        blend={name: _parts(share) for name, share in parts},
        load=question.load,
        dosing="same dose in each scented portion" if cups > 1 else None,
        stabilised=list(question.stabilised),
    )


def _portion(cup: Cup, book: BookFiles) -> Portion:
    tint = {} if cup.colour is None else {cup.colour: tint_of(book.colourants[cup.colour])}
    return Portion.model_construct(
        name=cup.name,
        share=_parts(cup.share),
        colourants=tint,
        mixed_in={},
        may_become=cup.may_become,
        scented=False if cup.scents == {} else None,
    )


def tint_of(colourant: Colourant) -> Amount:
    """How much of a colourant is tried: the rate of its colour, else its usual middle, else 1 %."""
    noted = colourant.at or colourant.usual_rate
    if noted is None:
        return _rate(ASSUMED_RATE)
    of_batter = noted.basis in (Basis.BATTER, Basis.PORTION_BATTER)
    return replace(_rate(noted.mid), basis=Basis.PORTION_BATTER if of_batter else Basis.PORTION_OILS)


def _parts(value: float) -> Amount:
    return Amount(value, value, Dimension.PARTS, None, f"{value:g}")


def _rate(value: float) -> Amount:
    return Amount(value, value, Dimension.FRACTION, Basis.PORTION_OILS, f"{100 * value:g} % of portion oils")


def _dose(rate: float) -> Dose:
    return Dose(_rate(rate), None, "")


def load_on_oils(s: Situation) -> float:
    """The load of a situation as a fraction of its portions' oils."""
    return s.scenting.load
