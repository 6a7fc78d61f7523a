"""What can be checked in a plan by itself: sums, names that must be there, ways that exclude each other."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.quantity import THE_REST, Amount, Dimension
from blendwise.records.kinds.checks.recipe_checks import check_recipe
from blendwise.records.kinds.plan import MOST_PREMIXES, Doses, Plan, Scents
from blendwise.records.place import Fault
from blendwise.records.reading.checking import SLACK, Named, Path_, percent, strangers, sum_fault
from blendwise.records.reading.document import Document


def check_plan(plan: Plan, doc: Document) -> list[Fault]:
    """Every fault in the plan that needs no book; each at its own line."""
    faults = [*_shares(plan, doc), *_portion_names(plan, doc), *_blend(plan, doc), *_dose_scents(plan, doc)]
    faults += _never_and_only(plan, doc)
    faults += _touching(plan, doc)
    faults += _premixes(plan, doc)
    if plan.recipe is not None:
        faults += check_recipe(plan.recipe, doc, ("recipe",))
    return faults


def _shares(plan: Plan, doc: Document) -> Iterator[Fault]:
    if not plan.portions:
        yield Fault(doc.place("portions"), "There is no portion.", "Write at least one.")
        return
    rests = [i for i, portion in enumerate(plan.portions) if portion.share == THE_REST]
    for index in rests[1:]:
        place = doc.place("portions", index, "share")
        yield Fault(place, "A second portion takes the rest.", "Only one can; give this one its share.")
    stated = [(i, p.share) for i, p in enumerate(plan.portions) if isinstance(p.share, Amount)]
    for index, share in stated:
        if share.value <= 0:
            place = doc.place("portions", index, "share")
            yield Fault(
                place, f'The share "{share}" is nothing.', "Give it a share, or leave the portion out."
            )
    yield from _share_sum(stated, bool(rests), doc)


def _share_sum(stated: list[tuple[int, Amount]], rest: bool, doc: Document) -> Iterator[Fault]:
    rates = [share for _, share in stated if share.dimension is Dimension.FRACTION]
    total = sum(share.value for share in rates)
    others = len(stated) > len(rates) or rest
    if others and total >= 1.0 - SLACK and rates:
        yield Fault(
            doc.place("portions"),
            f"The shares in per cent take {percent(total)}.",
            "Lower them: nothing is left for the others.",
        )
    elif not others and abs(total - 1.0) > SLACK:
        what = "more than the whole" if total > 1.0 else "not the whole"
        yield Fault(
            doc.place("portions"),
            f"The shares add up to {percent(total)}, {what}.",
            "Change them, or let one portion take `the rest`.",
        )


def _portion_names(plan: Plan, doc: Document) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for index, portion in enumerate(plan.portions):
        if portion.name in first:
            line = doc.place("portions", first[portion.name], "name").line
            place = doc.place("portions", index, "name")
            yield Fault(place, f'Portion "{portion.name}" is already at line {line}.', "Rename one of them.")
        first.setdefault(portion.name, index)
    yield from strangers(_named_portions(plan), [p.name for p in plan.portions], "portion", "The plan", doc)


def _named_portions(plan: Plan) -> Iterator[Named]:
    """Every place that names a portion: (name, path, whether the name is a key)."""
    for name in plan.doses:
        yield name, ("doses", name), True
    for version, variation in plan.variations.items():
        for name in variation.doses:
            yield name, ("variations", version, "doses", name), True
    for oil, returned in (plan.recipe.held_back if plan.recipe else {}).items():
        for name in returned:
            yield name, ("recipe", "held back", oil, name), True
    for index, (one, other) in enumerate(plan.touching or []):
        yield one, ("touching", index, 0), False
        yield other, ("touching", index, 1), False
    for index, name in enumerate(plan.order or []):
        yield name, ("order", index), False
    for verb in ("never", "only"):
        for index, entry in enumerate(getattr(plan, verb)):
            for nth, name in enumerate(entry.in_):
                yield name, (verb, index, "in", nth), False


def _blend(plan: Plan, doc: Document) -> Iterator[Fault]:
    if plan.scents is None:
        return
    blend = plan.scents.blend
    path: Path_ = ("scents", "blend")
    if not blend:
        yield Fault(doc.place(*path), "The blend names no scent.", "Name one, or leave `scents` out.")
    elif len({(amount.dimension, amount.basis) for amount in blend.values()}) > 1:
        message = "The blend mixes parts and per cent, or what they are of."
        yield Fault(doc.place(*path), message, "Write all of them in one way.")
    elif plan.scents.is_by_oils:
        yield from _rates_of_oils(plan.scents, doc, path)
    elif next(iter(blend.values())).dimension is Dimension.FRACTION:
        yield from sum_fault(blend, doc, path, "The scents of the blend")
    elif sum(amount.value for amount in blend.values()) <= 0:
        yield Fault(
            doc.place(*path), "The parts of the blend add up to nothing.", "Give a scent at least one part."
        )
    named = ((name, ("scents", "stabilised", i), False) for i, name in enumerate(plan.scents.stabilised))
    yield from strangers(named, list(blend), "scent", "The blend", doc)


def _rates_of_oils(scents: Scents, doc: Document, path: Path_) -> Iterator[Fault]:
    """Rates of the oils are the load already: one that is written beside them must say the same."""
    load, total = scents.load, sum(amount.value for amount in scents.blend.values())
    if total <= 0:
        yield Fault(doc.place(*path), "The rates of the blend add up to nothing.", "Give a scent some.")
    elif load is not None and abs(load.value - total) > SLACK:
        message = f"The rates of the blend add up to {percent(total)} of the oils; the load is {load}."
        yield Fault(doc.place("scents", "load"), message, "Leave `load:` out, or write parts in the blend.")


def _all_doses(plan: Plan) -> Iterator[tuple[Doses, Path_]]:
    yield plan.doses, ("doses",)
    for version, variation in plan.variations.items():
        yield variation.doses, ("variations", version, "doses")


def _dose_scents(plan: Plan, doc: Document) -> Iterator[Fault]:
    blend = list(plan.scents.blend) if plan.scents else []
    for doses, path in _all_doses(plan):
        named = (
            (scent, (*path, portion, scent), True) for portion, given in doses.items() for scent in given
        )
        yield from strangers(named, blend, "scent", "The blend", doc)
        yield from _overdrawn(doses, path, doc)


def _overdrawn(doses: Doses, path: Path_, doc: Document) -> Iterator[Fault]:
    """Fractions of one oil's total ("half of it") that take more than there is."""
    taken: dict[str, float] = {}
    for portion, given in doses.items():
        for scent, dose in given.items():
            taken[scent] = taken.get(scent, 0.0) + (dose.of_total or 0.0)
            if dose.of_total and taken[scent] > 1.0 + SLACK:
                message = f'More of "{scent}" is given away than there is ({percent(taken[scent])}).'
                yield Fault(doc.place(*path, portion, scent), message, "Lower one of its doses.")


def _never_and_only(plan: Plan, doc: Document) -> Iterator[Fault]:
    blend = list(plan.scents.blend) if plan.scents else []
    for verb in ("never", "only"):
        entries = getattr(plan, verb)
        named = ((entry.scent, (verb, index, "scent"), False) for index, entry in enumerate(entries))
        yield from strangers(named, blend, "scent", "The blend", doc)
    barred = {(entry.scent, name) for entry in plan.never for name in entry.in_}
    allowed = _allowed(plan)
    for doses, path in _all_doses(plan):
        for portion, given in doses.items():
            for scent, dose in given.items():
                outside = scent in allowed and portion not in allowed[scent]
                if dose.of_total != 0.0 and ((scent, portion) in barred or outside):
                    message = f'"{scent}" is given to "{portion}", from which the plan itself keeps it.'
                    yield Fault(
                        doc.place(*path, portion, scent), message, "Change the dose, or `never` and `only`."
                    )


def _allowed(plan: Plan) -> dict[str, set[str]]:
    """Scents under `only`, and the portions that are left to them."""
    found: dict[str, set[str]] = {}
    for entry in plan.only:
        found.setdefault(entry.scent, set()).update(entry.in_)
    return found


def _touching(plan: Plan, doc: Document) -> Iterator[Fault]:
    for index, (one, other) in enumerate(plan.touching or []):
        if one == other:
            yield Fault(doc.place("touching", index), f'"{one}" cannot touch itself.', "Name two portions.")
    seen: set[str] = set()
    for index, name in enumerate(plan.order or []):
        if name in seen:
            yield Fault(doc.place("order", index), f'"{name}" is in the order twice.', "Keep one.")
        seen.add(name)


def _premixes(plan: Plan, doc: Document) -> Iterator[Fault]:
    """Too many premixes, and oils that stand in two of them or in none of the blend."""
    if plan.premixes is not None and plan.premixes > MOST_PREMIXES:
        message = f"{plan.premixes} premixes are more than are ever reckoned with."
        yield Fault(doc.place("premixes"), message, f"Write 1 to {MOST_PREMIXES}.")
    written: list[Named] = [
        (scent, ("weigh together", index, nth), False)
        for index, premix in enumerate(plan.weigh_together)
        for nth, scent in enumerate(premix)
    ]
    yield from strangers(written, list(plan.scents.blend) if plan.scents else [], "scent", "The blend", doc)
    seen: set[str] = set()
    for scent, path, _ in written:
        if scent in seen:
            yield Fault(doc.place(*path), f'"{scent}" is in two premixes.', "Keep it in one.")
        seen.add(scent)
