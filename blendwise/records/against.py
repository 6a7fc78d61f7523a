"""A plan against the book: every scent, colourant, oil and pour style that it names must be there."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Protocol

from blendwise.records.kinds.checks.recipe_checks import check_lye, check_recipe
from blendwise.records.kinds.plan import Plan
from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.recipe import Recipe
from blendwise.records.kinds.usual import Usual
from blendwise.records.place import Fault
from blendwise.records.reading.checking import Named, Path_, strangers
from blendwise.records.reading.document import Document


class _Names(Protocol):
    """As much of a book as is needed: its names."""

    @property
    def scents(self) -> Collection[str]: ...
    @property
    def colourants(self) -> Collection[str]: ...
    @property
    def oils(self) -> Collection[str]: ...
    @property
    def pours(self) -> Mapping[str, PourStyle]: ...
    @property
    def usual(self) -> Usual: ...


def check_plan_against(book: _Names, plan: Plan, doc: Document) -> list[Fault]:
    """Names in a plan that the book does not have, each with the nearest one stated."""
    styles = book.pours.values()
    named = plan.pour is None or any(style.is_called(plan.pour) for style in styles)
    pours: list[Named] = [] if named or plan.pour is None else [(plan.pour, ("pour",), False)]
    names = [name for style in styles for name in (style.name, *style.also_called)]
    faults = [
        *strangers(_scents(plan), book.scents, "scent", "The catalogue", doc),
        *strangers(_colourants(plan), book.colourants, "colourant", "The catalogue", doc),
        *strangers(_oils(plan), book.oils, "base oil", "The book", doc),
        *strangers(pours, names, "pour style", "The rulebook", doc),
    ]
    if plan.recipe is None and book.usual.recipe is None:
        faults.append(
            Fault(
                doc.place(), "The plan has no recipe, and the book no usual one.", "Write `recipe:` into one."
            )
        )
    return faults


def check_usual(usual: Usual, oils: Collection[str], doc: Document | None) -> list[Fault]:
    """What is wrong with the usual ways in themselves and against the book's base oils."""
    if doc is None:
        return []
    faults = check_lye(usual.lye, doc, ("lye",)) if usual.lye else []
    if usual.recipe is not None:
        faults += check_recipe(usual.recipe, doc, ("recipe",))
        named = _recipe_oils(usual.recipe, ("recipe",))
        faults += strangers(named, oils, "base oil", "The book", doc)
    return faults


def _scents(plan: Plan) -> Iterator[Named]:
    for name in plan.scents.blend if plan.scents else ():
        yield name, ("scents", "blend", name), True
    for index, embed in enumerate(plan.embeds):
        for name in embed.scents:
            yield name, ("embeds", index, "scents", name), True


def _colourants(plan: Plan) -> Iterator[Named]:
    for index, portion in enumerate(plan.portions):
        for name in portion.colourants:
            yield name, ("portions", index, "colourants", name), True


def _oils(plan: Plan) -> Iterator[Named]:
    if plan.recipe is not None:
        yield from _recipe_oils(plan.recipe, ("recipe",))
    for index, portion in enumerate(plan.portions):
        for name in portion.mixed_in:
            yield name, ("portions", index, "mixed in", name), True


def _recipe_oils(recipe: Recipe, path: Path_) -> Iterator[Named]:
    for name in recipe.oils:
        yield name, (*path, "oils", name), True
