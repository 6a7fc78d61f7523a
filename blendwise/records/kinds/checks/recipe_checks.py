"""What can be checked in a recipe by itself, in a plan or among the usual ways."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from blendwise.quantity import Amount, Dimension
from blendwise.records.kinds.recipe import Lye, Recipe, RecipeAmount
from blendwise.records.place import Fault
from blendwise.records.reading.checking import Path_, strangers, sum_fault
from blendwise.records.reading.document import Document


def check_recipe(recipe: Recipe, doc: Document, path: Path_) -> list[Fault]:
    """What is wrong with a recipe in itself (in a plan or in the usual ways)."""
    faults = [*_recipe_oils(recipe, doc, path)]
    if recipe.lye is not None:
        faults += check_lye(recipe.lye, doc, (*path, "lye"))
    if recipe.amount is not None:
        weighed = any(amount.dimension is Dimension.MASS for amount in recipe.oils.values())
        faults += _amount_ways(recipe.amount, doc, (*path, "amount"), weighed)
    named = ((oil, (*path, "held back", oil), True) for oil in recipe.held_back)
    return faults + list(strangers(named, list(recipe.oils), "oil", "The recipe", doc))


def _recipe_oils(recipe: Recipe, doc: Document, path: Path_) -> Iterator[Fault]:
    where = (*path, "oils")
    dimensions = {amount.dimension for amount in recipe.oils.values()}
    if not recipe.oils:
        yield Fault(doc.place(*where), "The recipe names no oil.", "Name at least one.")
    elif len(dimensions) > 1:
        yield Fault(doc.place(*where), "The oils mix masses and per cent.", "Write all of them in one way.")
    elif Dimension.FRACTION in dimensions:
        yield from sum_fault(recipe.oils, doc, where, "The oils")
    elif sum(amount.value for amount in recipe.oils.values()) <= 0:
        yield Fault(doc.place(*where), "The oils weigh nothing.", "Give their masses.")
    elif recipe.amount is not None and any(_sizes(recipe.amount).values()):
        place = doc.key_place(*path, "amount")
        yield Fault(
            place, "The oils are given by mass and `amount` as well.", "Give shares, or leave `amount` out."
        )


def check_lye(lye: Lye, doc: Document, path: Path_) -> list[Fault]:
    """Lye or water given in two ways at once."""
    faults: list[Fault] = []
    waters = {
        "concentration": lye.concentration,
        "water": lye.water,
        "water to lye": lye.water_to_lye,
        "water of oils": lye.water_of_oils,
    }
    _one_way(waters, "water", doc, path, faults)
    _one_way({"superfat": lye.superfat, "NaOH": lye.naoh}, "lye", doc, path, faults)
    return faults


def _one_way(
    ways: Mapping[str, Amount | None], what: str, doc: Document, path: Path_, faults: list[Fault]
) -> None:
    used = [name for name, amount in ways.items() if amount is not None]
    if len(used) > 1:
        both = " and ".join(f"`{name}`" for name in used)
        place = doc.key_place(*path, used[1])
        faults.append(Fault(place, f"The {what} is given both ways, as {both}.", "Keep one of them."))


def _sizes(amount: RecipeAmount) -> dict[str, object]:
    """The ways of saying how much; what is not written is None."""
    return {"inside": amount.inside, "volume": amount.volume, "oils": amount.oils}


def _amount_ways(amount: RecipeAmount, doc: Document, path: Path_, weighed: bool) -> Iterator[Fault]:
    """``weighed``: whether the oils are given by mass, so that only the sort of mould is left to say."""
    sizes = _sizes(amount)
    used = [name for name, value in sizes.items() if value is not None]
    if len(used) > 1:
        both = " and ".join(f"`{name}`" for name in used)
        yield Fault(doc.key_place(*path, used[1]), f"How much is given in two ways, as {both}.", "Keep one.")
    elif not used and not weighed:
        yield Fault(doc.place(*path), "This does not say how much.", "Write `oils:`, `inside:` or `volume:`.")
    if amount.mould == "cavities" and amount.cavities is None and amount.oils is None and not weighed:
        yield Fault(doc.place(*path), "The mould has cavities, but not how many.", "Write `cavities:`.")
