"""Ways with the blend: a lower load, less of one oil, another oil, one left out; a portion left bare."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from blendwise.answers.levers.case import Case, Way, mass_text, names, own_step, rate_text, whole_steps
from blendwise.answers.levers.costs import LEAST_DOSE, OF_AN_OIL
from blendwise.answers.plan_text import edits
from blendwise.beliefs.browners import BROWNER_TAGS
from blendwise.facts.measures.scent import said_for_skin
from blendwise.facts.situation.doses import dose_mass
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity.units import OUNCES_PER_POUND
from blendwise.records.kinds.plan import Doses
from blendwise.records.kinds.scent import Scent
from blendwise.records.reading.document import Document
from blendwise.records.writing.edit import add_field, remove_field

MOST_SCENTS: Final = 3
MOST_VALUES: Final = 9
LOAD_STEP: Final = {"percent": 0.001, "ppo": 0.01 / OUNCES_PER_POUND}
LEAST_LOAD: Final = 0.01
OF_NO_FAMILY: Final = BROWNER_TAGS | {"fixative", "amine", "aldehyde", "expressed", "folded", "distilled"}
"""Tags that say what an oil does or how it was made, and nothing of how it smells."""
SAME_DOSE: Final = "same dose in each scented portion"


def _scaled_doses(doc: Document, s: Situation, factor: float, only: str = "") -> Document:
    """Every dose that is written as an amount, less; a share of a total ("half of it") follows by itself."""
    tables: list[tuple[tuple[str, ...], Doses]] = [(("doses",), s.plan.doses)]
    tables += [(("variations", name, "doses"), each.doses) for name, each in s.plan.variations.items()]
    less: dict[edits.DocPath, str] = {}
    for path, doses in tables:
        for portion, given in doses.items():
            for scent, dose in given.items():
                if dose.amount is not None and only in ("", scent):
                    now = dose_mass(dose, 0.0, s.portions.index(portion), s.pot, s.split)
                    less[*path, portion, scent] = mass_text(whole_steps(now * factor, own_step(s)), s)
    return edits.set_all(doc, less)


def less_of_all(case: Case) -> Iterator[Way]:
    """A lower load, and the maker's own doses with it."""
    s = case.s
    now, step = s.scenting.load, LOAD_STEP[s.book.usual.units.rates]
    loads = [k * step for k in range(int(now / step - 1e-9), 0, -1) if k * step >= LEAST_LOAD]
    if s.plan.scents is None or not loads:
        return
    yield Way(
        "less of all",
        loads,
        lambda doc, load: edits.set_or_add(
            _scaled_doses(doc, s, load / now), ("scents", "load"), rate_text(load, s)
        ),
        lambda load: {"load": load, "instead of": now},
        ordered=True,
        cut=lambda load: 1.0 if load < LEAST_DOSE <= now else 1 - load / now,
    )


def less_of_one(case: Case) -> Iterator[Way]:
    """Less of one oil in the blend, the others filling its place."""
    s = case.s
    blended = [i for i in case.scents if s.scenting.blend[i] > 0]
    if int((s.scenting.blend > 0).sum()) > 1:
        yield from (_less_of(s, i) for i in blended[:MOST_SCENTS])


def _less_of(s: Situation, i: int) -> Way:
    now, name = float(s.scenting.blend[i]), s.scents[i]
    return Way(
        "less of one",
        _shares_below(now),
        lambda doc, share: edits.with_parts(_scaled_doses(doc, s, share / now, name), _parts(s, i, share)),
        lambda share: {"scent": name, "share": share, "instead of": now},
        ordered=True,
        cut=lambda share: OF_AN_OIL * (1 - share / now),
    )


def _shares_below(now: float) -> list[float]:
    """Shares of the blend below the present one, in half per cents."""
    return [k / 200 for k in range(int(200 * now - 1e-9), 0, -1)]


def _parts(s: Situation, i: int, share: float) -> dict[str, float]:
    """Per cents of the blend with one oil at a share, the others filling its place as they stand."""
    rest = (1 - share) / (1 - float(s.scenting.blend[i]))
    found = {
        name: 100 * (share if j == i else float(s.scenting.blend[j]) * rest)
        for j, name in enumerate(s.scents)
        if s.scenting.blend[j] > 0
    }
    return {name: round(part, 2) for name, part in found.items()}


def same_dose(case: Case) -> Iterator[Way]:
    """What is left unscented takes its scent out of the bar, not into the other portions."""
    if case.s.plan.scents is not None and case.s.scenting.same_total:
        yield Way(
            "same dose",
            (None,),
            lambda doc, _: edits.set_or_add(doc, ("scents", "dosing"), SAME_DOSE),
            lambda _: {},
        )


def bare(case: Case) -> Iterator[Way]:
    """A portion left without scent."""
    if len(case.portions) < len(case.s.portions):

        def edit(doc: Document, _: None) -> Document:
            for p in case.portions:
                doc = edits.leave_unscented(doc, p)
            return doc

        yield Way("bare", (None,), edit, lambda _: {"portion": names(case.s.portions, case.portions)})


def leave_out(case: Case) -> Iterator[Way]:
    """An oil out of this bar altogether."""
    if int((case.s.scenting.blend > 0).sum()) > 1:
        yield from (_leave_out(case.s, i) for i in case.scents[:MOST_SCENTS])


def _leave_out(s: Situation, i: int) -> Way:
    told = {"scent": s.scents[i]}
    return Way("leave out", (None,), lambda doc, _: _without(doc, s, i), lambda _: told)


def _without(doc: Document, s: Situation, i: int) -> Document:
    """The plan without one oil, wherever it is named."""
    name = s.scents[i]
    doc = remove_field(doc, ("scents", "blend", name))
    said = doc.root.plain["scents"].get("stabilised")
    if said and name in said:
        doc = _refield(doc, ("scents",), "stabilised", [each for each in said if each != name])
    for key in ("never", "only"):
        if key in doc.root.plain:
            doc = _refield(doc, (), key, [each for each in doc.root.plain[key] if each["scent"] != name])
    mixes = [[n for n in mix if n != name] for mix in doc.root.plain.get("weigh together", [])]
    if mixes:
        doc = _refield(doc, (), "weigh together", [mix for mix in mixes if len(mix) > 1])
    paths = [("doses",), *(("variations", each, "doses") for each in doc.root.plain.get("variations", {}))]
    for path in paths:
        for portion, given in dict(_at(doc, path)).items():
            if name in given:
                alone = len(given) == 1
                doc = edits.set_or_add(doc, (*path, portion, name), edits.NO_DOSE) if alone else doc
                doc = doc if alone else remove_field(doc, (*path, portion, name))
    return doc


def _at(doc: Document, path: tuple[str, ...]) -> dict[str, dict[str, str]]:
    found = doc.root.plain
    for step in path:
        found = found.get(step, {})
    return dict(found)


def _refield(doc: Document, path: tuple[str, ...], key: str, value: list[Any]) -> Document:
    """A field written anew, or taken out where nothing is left of it."""
    doc = remove_field(doc, (*path, key))
    return add_field(doc, path, key, value) if value else doc


def other_oil(case: Case) -> Iterator[Way]:
    """Another oil of the shelf in its place, the most alike first."""
    s = case.s
    yield from (_other_oil(s, i) for i in case.scents[:1] if s.scenting.blend[i] > 0)


def _other_oil(s: Situation, i: int) -> Way:
    old = s.scents[i]
    return Way(
        "other oil",
        _alike(s, i),
        lambda doc, name: _renamed(doc, old, name),
        lambda name: {"scent": old, "by": name},
    )


def _alike(s: Situation, i: int) -> tuple[str, ...]:
    """Oils of the shelf that smell alike, by how many tags they share with one; nothing undescribed.

    Alike is a family in common, or the same note where one has no tags (`_same_nose`).  What is not sold for
    skin is never named as a way, not even as the first step of two.
    """
    mine = s.scent_records[i]
    tags = set(mine.tags)
    shelf = [
        r
        for name, r in s.book.scents.items()
        if name not in s.scents and r.acceleration is not None and said_for_skin(r, s.today) is not False
        if _same_nose(mine, r)
    ]
    shelf.sort(key=lambda r: (-len(tags & set(r.tags)), r.scent_note != mine.scent_note, r.name))
    return tuple(r.name for r in shelf[:MOST_VALUES])


def _same_nose(one: Scent, other: Scent) -> bool:
    """Whether two oils may stand for each other: a tag of a family in common, else the same note; where
    neither is told, nobody can say that they differ."""
    mine, its = ({tag.casefold() for tag in oil.tags} - OF_NO_FAMILY for oil in (one, other))
    if mine and its:
        return not mine.isdisjoint(its)
    return None in (one.scent_note, other.scent_note) or one.scent_note == other.scent_note


def _renamed(doc: Document, old: str, new: str) -> Document:
    """One oil in the blend for another, and in the maker's own doses."""
    part = str(doc.root.plain["scents"]["blend"][old])
    doc = edits.set_or_add(doc, ("scents", "blend", new), part)
    doc = remove_field(doc, ("scents", "blend", old))
    for portion, doses in dict(doc.root.plain.get("doses", {})).items():
        if old in doses:
            doc = edits.set_or_add(doc, ("doses", portion, new), str(doses[old]))
            doc = remove_field(doc, ("doses", portion, old))
    return doc
