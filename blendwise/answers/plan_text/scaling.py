"""The same plan for another amount: every mass in its text is scaled, exactly, in the unit it was typed in.

Which fields are masses is read off the records themselves (``records/reading/walk``).  A plan that leaves its
recipe, or masses of lye, to the usual ways is first given them, so that nothing stays behind unscaled.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from blendwise.answers.plan_text.edits import set_or_add
from blendwise.answers.refusals import NotAskable
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.quantity import Dimension, QuantityError, format_number, in_units, parse_amount
from blendwise.quantity.exact import exact_grams, times
from blendwise.records.book import plan_of
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import Fault, RecordError
from blendwise.records.reading.document import Document
from blendwise.records.reading.walk import masses_written
from blendwise.records.writing.edit import add_field, remove_field, set_value, set_values

ASSUMED_STEP: Final = 0.1
"""Grams of the scale's step where usual.yaml names none."""
SIZES: Final = ("oils", "volume", "fill", "inside", "bars")
MOULD: Final = ("inside", "volume", "fill")
DIGITS: Final = 6


def scaled_plan(s: Situation, bars: int | None, oils: str, mould: str) -> Document:
    """The plan's text for so many bars, so much oil, or a mould.

    RecordError or QuantityError where it cannot be rewritten, or more than one of them is said.
    """
    if (bars is not None) + bool(oils) + bool(mould) > 1:
        raise QuantityError("More than one size is said.", "Say one: bars, oils or a mould.")
    doc = with_own_recipe(s)
    if bars is not None:
        return _for_bars(s, doc, bars)
    if oils:
        return scaled(s, doc, exact_grams(oils) / oils_of(s, doc), oils.strip())
    return _for_mould(s, doc, mould)


def with_own_recipe(s: Situation) -> Document:
    """The plan's text with what it leaves to the usual ways and is a mass: its recipe, its lye by weight."""
    doc, usual = _plan_doc(s), s.book.docs.get("usual.yaml")
    said = usual.root.plain if usual is not None else {}
    if "recipe" not in doc.root.plain:
        if "recipe" not in said:
            raise _refused(doc, "The plan has no recipe of its own, and usual.yaml has none to copy.")
        doc = add_field(doc, (), "recipe", said["recipe"])
    lye = s.book.usual.lye
    if "lye" not in doc.root.plain["recipe"] and lye is not None and (lye.naoh or lye.water):
        if "lye" not in said:
            raise _refused(doc, "The lye is given by weight in the usual ways, which cannot be copied.")
        doc = add_field(doc, ("recipe",), "lye", said["lye"])
    return doc


def scaled(s: Situation, doc: Document, factor: Fraction, oils: str = "") -> Document:
    """Every mass of the plan times ``factor``; ``oils``: how all oils are written, if at all."""
    if factor <= 0:
        raise _refused(doc, "A batch of nothing cannot be made.")
    return _with_oils(s, _masses_times(s, doc, factor), factor, oils)


def oils_of(s: Situation, doc: Document) -> Fraction:
    """Grams of all oils: exactly as written, or as worked out where they follow from a mould."""
    recipe = doc.root.plain["recipe"]
    shares = [str(share) for share in recipe["oils"].values()]
    if all(_is_mass(share) for share in shares):
        return sum((exact_grams(share) for share in shares), Fraction(0))
    stated = _amount(doc).get("oils")
    return exact_grams(str(stated)) if stated is not None else Fraction(s.pot.oils_total)


def _masses_times(s: Situation, doc: Document, factor: Fraction) -> Document:
    step = scale_step(s)
    masses = [(path, text) for path, text in masses_written(Plan, doc.root.plain) if _is_mass(text)]
    return set_values(doc, {path: times(text, factor, step) for path, text in masses})


def scale_step(s: Situation) -> Fraction:
    """The finest step of the book's scales (g): what is written is never coarser than that."""
    steps = [step.value for step in (s.book.usual.scale_step, s.book.usual.lye_scale_step) if step]
    return Fraction(min([ASSUMED_STEP, *steps]))


def _for_bars(s: Situation, doc: Document, bars: int) -> Document:
    """For so many bars, from the bars (or the cavities) that the plan says it makes."""
    amount = _amount(doc)
    counted = "bars" if "bars" in amount or amount.get("mould") != "cavities" else "cavities"
    made = amount.get(counted)
    if made is None:
        place = doc.place("recipe")
        raise RecordError(
            [Fault(place, "The plan does not say how many bars it makes.", "Write `bars:` under `amount:`.")]
        )
    doc = scaled(s, doc, Fraction(bars, int(made)))
    return set_value(doc, ("recipe", "amount", counted), str(bars))


def _for_mould(s: Situation, doc: Document, mould: str) -> Document:
    """The plan for another mould: its oils follow from the size, every other mass from the oils."""
    if isinstance(doc.root.plain["recipe"].get("amount"), str):
        doc = add_field(remove_field(doc, ("recipe", "amount")), ("recipe",), "amount", {"inside": mould})
    else:
        sizes = [size for size in SIZES if size in _amount(doc)]
        doc = set_or_add(doc, ("recipe", "amount", "inside"), mould)
        for size in sizes:
            if size != "inside":
                doc = remove_field(doc, ("recipe", "amount", size))
    bigger = work_out(plan_of(doc, s.book), s.book, s.today).pot.oils_total
    return _masses_times(s, doc, Fraction(bigger) / Fraction(s.pot.oils_total))


def _with_oils(s: Situation, doc: Document, factor: Fraction, said: str) -> Document:
    """State the oils, where the recipe stands in per cent and a mould or a mass fills it."""
    recipe, amount = doc.root.plain["recipe"], _amount(doc)
    if all(_is_mass(str(share)) for share in recipe["oils"].values()):
        return doc
    if isinstance(recipe["amount"], str):
        return set_value(doc, ("recipe", "amount"), said) if said else doc
    if said or "oils" not in amount:
        text = said or _in_the_book_s_unit(s, float(Fraction(s.pot.oils_total) * factor))
        doc = set_or_add(doc, ("recipe", "amount", "oils"), text)
    for size in MOULD:
        if size in _amount(doc):
            doc = remove_field(doc, ("recipe", "amount", size))
    return doc


def _in_the_book_s_unit(s: Situation, grams: float) -> str:
    number, unit = in_units(grams, Dimension.MASS, s.book.usual.units)
    return f"{format_number(number, DIGITS)} {unit}"


def _amount(doc: Document) -> dict[str, Any]:
    """What the recipe says under ``amount``; a bare mass there is of oils."""
    amount = doc.root.plain["recipe"].get("amount", {})
    return {"oils": amount} if isinstance(amount, str) else dict(amount)


def _plan_doc(s: Situation) -> Document:
    if s.plan.doc is None:
        raise NotAskable(
            "A plan made in memory has no text in which its masses could be scaled.",
            "Give the plan as its text, or change the amount in the record.",
        )
    return s.plan.doc


def _refused(doc: Document, message: str) -> RecordError:
    return RecordError([Fault(doc.place(), message, "Write `recipe:` with its masses into the plan.")])


def _is_mass(text: str) -> bool:
    try:
        amount = parse_amount(text, Dimension.MASS, Dimension.VOLUME)
    except QuantityError:
        return False
    return amount.dimension in (Dimension.MASS, Dimension.VOLUME)
