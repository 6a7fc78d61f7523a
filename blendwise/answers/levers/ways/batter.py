"""Ways with the batter: warmth, gel, water, lye, what is held back, mixed in or dissolved, and embeds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from blendwise.answers.levers.case import Case, Way, mass_text, own_step, warmth_text, whole_steps
from blendwise.answers.plan_text import edits
from blendwise.facts.pour.minutes import hands_of
from blendwise.facts.pour.temperatures import split_temperature
from blendwise.facts.situation.appearance import gel_word
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Dimension, format_number, parse_amount
from blendwise.records.reading.document import Document
from blendwise.records.writing.edit import add_field, remove_field

TWO: Final = 2
DEGREES: Final = range(1, 19)
A_STEP: Final = 10 / 9
"""Two degrees Fahrenheit, in °C: the same ladder for every book, whatever its thermometer says."""
PARTS: Final = 16
WATERY: Final = 0.25
STRONG: Final = 0.40
"""Lye concentrations between which water is moved (common practice: 25 to 40 %)."""
USUAL_SUPERFAT: Final = 0.05
"""Common practice, where the book names no usual superfat."""
MOST_SUPERFAT: Final = 0.20
LYE_FIELDS: Final = ("NaOH", "water", "water to lye", "water of oils", "concentration")


def temperature(case: Case) -> Iterator[Way]:
    """Batter warmer, or cooler, at the split, to whole degrees of the book's thermometer."""
    s = case.s
    now = split_temperature(s)
    for sign in (-1.0, 1.0):
        yield Way(
            "temperature",
            [now + sign * A_STEP * n for n in DEGREES],
            lambda doc, to: edits.set_or_add(doc, ("process", "batter at split"), warmth_text(to, s)),
            lambda to: {"temperature": _read_back(to, s), "instead of": now},
            ordered=True,
        )


def _read_back(celsius: float, s: Situation) -> float:
    return float(parse_amount(warmth_text(celsius, s), Dimension.TEMPERATURE).value)


def more_hands(case: Case) -> Iterator[Way]:
    """A second pair of hands at the pour."""
    if hands_of(case.s) < TWO:
        yield Way(
            "more hands",
            (TWO,),
            lambda doc, hands: edits.set_or_add(doc, ("process", "hands"), str(hands)),
            lambda hands: {"hands": float(hands)},
            cut=lambda _: 1.0 if case.s.book.usual.hands else 0.0,
        )


def gel(case: Case) -> Iterator[Way]:
    """Another plan for the gel."""
    now = gel_word(case.s)
    yield Way(
        "gel",
        [word for word in ("avoid", "leave", "force") if word != now],
        lambda doc, word: edits.set_or_add(doc, ("process", "gel"), word),
        lambda word: {"gel": word},
    )


def own_lye(s: Situation, doc: Document, **fields: float) -> Document:
    """The plan's own lye with a concentration or a superfat changed; else as it is.

    Where it was weighed, it is from now on worked out from the oils: no grams of lye are written.
    """
    doc = _own_recipe(s, doc)
    lye = doc.root.plain["recipe"].get("lye")
    pot, usual = s.pot, s.book.usual.lye
    record = (s.plan.recipe.lye if s.plan.recipe else None) or usual
    strength = fields.get("concentration", pot.mixed_concentration)
    new: dict[str, str] = {}
    if "concentration" in fields or (record is not None and record.naoh is not None):
        new["concentration"] = f"{format_number(100 * strength)} %"
    if "superfat" in fields:
        new["superfat"] = f"{format_number(100 * fields['superfat'])} %"
    elif record is not None and record.naoh is not None:
        raise ValueError("lye that is weighed keeps its weight when only its water changes")
    if lye is None:
        said = s.book.docs["usual.yaml"].root.plain.get("lye", {}) if "usual.yaml" in s.book.docs else {}
        return add_field(doc, ("recipe",), "lye", _merged(said, new))
    for name, value in new.items():
        doc = edits.set_or_add(doc, ("recipe", "lye", name), value)
    for name in _gone(new) & set(lye) - set(new):
        doc = remove_field(doc, ("recipe", "lye", name))
    return doc


def _merged(said: Mapping[str, Any], new: Mapping[str, str]) -> dict[str, str]:
    """Fields of a lye with others in their place."""
    return {**{k: str(v) for k, v in said.items() if k not in _gone(new)}, **new}


def _gone(new: Mapping[str, str]) -> set[str]:
    """What a lye no longer says: a new concentration takes the place of all water, and of a weight."""
    return set(LYE_FIELDS) if "concentration" in new else set()


def _own_recipe(s: Situation, doc: Document) -> Document:
    """The plan with a recipe of its own, copied from the usual one where it has none."""
    if "recipe" in doc.root.plain:
        return doc
    return add_field(doc, (), "recipe", s.book.docs["usual.yaml"].root.plain["recipe"])


def water(case: Case) -> Iterator[Way]:
    """More water in the lye, or less, in whole per cents of its strength."""
    s = case.s
    now = s.pot.mixed_concentration
    below = [k / 100 for k in range(int(100 * now - 1e-6), round(100 * WATERY) - 1, -1)]
    above = [k / 100 for k in range(int(100 * now + 1 + 1e-6), round(100 * STRONG) + 1)]
    for values in (below, above):
        if values:
            yield Way(
                "water",
                values,
                lambda doc, c: own_lye(s, doc, concentration=c),
                lambda c: {"concentration": c, "instead of": now},
                ordered=True,
            )


def superfat(case: Case) -> Iterator[Way]:
    """Less lye, or more of it down to the book's usual superfat; only to mend a finding about the lye."""
    s = case.s
    if case.first.protects != "lye" and "superfat" not in case.first.measure:
        return
    now, usual = asked_superfat(s), s.book.usual.lye
    floor = usual.superfat.value if usual is not None and usual.superfat is not None else USUAL_SUPERFAT
    steps = [k / 200 for k in range(1, round(200 * MOST_SUPERFAT) + 1)]
    rising = [each for each in steps if each > now + 1e-9 and each >= floor - 1e-9]
    falling = [each for each in reversed(steps) if floor - 1e-9 <= each < now - 1e-9]
    for values in (rising, falling):
        if values:
            yield Way(
                "superfat",
                values,
                lambda doc, to: own_lye(s, doc, superfat=to),
                lambda to: {"superfat": to},
                ordered=True,
            )


def asked_superfat(s: Situation) -> float:
    """The superfat of the recipe as a whole: what the lye leaves of its oils."""
    return 1 - (s.pot.naoh * s.pot.purity - s.pot.acids_need) / s.pot.fat_need("named")


def held_back(case: Case) -> Iterator[Way]:
    """Less oil held back, all of it alike, or none."""
    s = case.s
    recipe = s.plan.recipe
    if recipe is None or not recipe.held_back:
        return

    def edit(doc: Document, k: int) -> Document:
        if k == PARTS:
            return remove_field(doc, ("recipe", "held back"))
        for oil, given in recipe.held_back.items():
            for portion, amount in given.items():
                mass = whole_steps(amount.value * (1 - k / PARTS), own_step(s))
                doc = edits.set_or_add(
                    doc, ("recipe", "held back", oil, portion), mass_text(mass, s) if mass else "0 g"
                )
        return doc

    yield Way(
        "held back",
        range(1, PARTS + 1),
        edit,
        lambda k: {"share": 1 - k / PARTS, "oil": ", ".join(recipe.held_back)},
        ordered=True,
    )


def less_mixed_in(case: Case) -> Iterator[Way]:
    """Less oil mixed into the portions on top of the pot, or none."""
    s = case.s
    rich = [p for p in case.portions if s.plan.portions[p].mixed_in]
    if not rich:
        return

    def edit(doc: Document, k: int) -> Document:
        for p in rich:
            if k == PARTS:
                doc = remove_field(doc, ("portions", p, "mixed in"))
                continue
            for oil, amount in s.plan.portions[p].mixed_in.items():
                mass = whole_steps(amount.value * (1 - k / PARTS), own_step(s))
                doc = edits.set_or_add(doc, ("portions", p, "mixed in", oil), mass_text(mass, s))
        return doc

    yield Way(
        "less mixed in",
        range(1, PARTS + 1),
        edit,
        lambda k: {"share": 1 - k / PARTS, "portion": ", ".join(s.portions[p] for p in rich)},
        ordered=True,
    )


def less_additive(case: Case) -> Iterator[Way]:
    """Less of one additive, or none of it."""
    recipe = case.s.plan.recipe
    yield from (_less_additive(case.s, name) for name in (recipe.additives if recipe else ()))


def _less_additive(s: Situation, name: str) -> Way:
    now = next(each.grams for each in s.pot.added if each.name == name)

    def grams(k: int) -> float:
        return whole_steps(now * (1 - k / PARTS), own_step(s))

    return Way(
        "less additive",
        range(1, PARTS + 1),
        lambda doc, k: _with_additive(doc, s, name, grams(k)),
        lambda k: {"additive": name, "grams": grams(k), "instead of": now},
        ordered=True,
    )


def _with_additive(doc: Document, s: Situation, name: str, mass: float) -> Document:
    if mass > 0:
        return edits.set_or_add(doc, ("recipe", "additives", name), mass_text(mass, s))
    only = len(doc.root.plain["recipe"]["additives"]) == 1
    return remove_field(doc, ("recipe", "additives") if only else ("recipe", "additives", name))


def embed_unscented(case: Case) -> Iterator[Way]:
    """Embeds without scent of their own."""
    scented = [n for n, embed in enumerate(case.s.plan.embeds) if embed.scents]

    def edit(doc: Document, _: None) -> Document:
        for n in scented:
            doc = remove_field(doc, ("embeds", n, "scents"))
        return doc

    if scented:
        yield Way("embed unscented", (None,), edit, lambda _: {})
