"""The same plan for another amount: every mass in its text is scaled, in the unit it was typed in."""

from __future__ import annotations

import re
from collections.abc import Iterator

from blendwise.answers.plan_text.edits import set_or_add
from blendwise.answers.refusals import NotAskable
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.quantity import Dimension, QuantityError, format_number, parse_amount
from blendwise.records.book import plan_of
from blendwise.records.place import Fault, RecordError
from blendwise.records.reading.document import Document
from blendwise.records.writing.edit import remove_field, set_value

DocPath = tuple[str | int, ...]
MASSES: tuple[tuple[str, ...], ...] = (
    ("recipe", "oils", "*"),
    ("recipe", "amount", "oils"),
    ("recipe", "lye", "NaOH"),
    ("recipe", "lye", "water"),
    ("recipe", "additives", "*"),
    ("recipe", "held back", "*", "*"),
    ("portions", "*", "share"),
    ("portions", "*", "colourants", "*"),
    ("portions", "*", "mixed in", "*"),
    ("embeds", "*", "mass"),
    ("embeds", "*", "scents", "*"),
    ("scents", "load"),
    ("doses", "*", "*"),
    ("variations", "*", "doses", "*", "*"),
)
"""Where a plan may hold masses; * stands for every key or place."""
NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def scaled(s: Situation, oils: float) -> Document:
    """The plan's text for ``oils`` grams of oils in all; RecordError where it cannot be rewritten."""
    return _with_oils(_masses_times(_plan_doc(s), oils / s.pot.oils_total), oils)


def _masses_times(doc: Document, factor: float) -> Document:
    for path in list(_paths(doc)):
        text = doc.root.plain
        for step in path:
            text = text[step]
        doc = set_value(doc, path, _times(str(text), factor))
    return doc


def scaled_plan(s: Situation, bars: int | None, oils: str, mould: str) -> Document:
    """The plan's text for so many bars, so much oil, or a mould (the first that is given)."""
    if bars is not None:
        doc = scaled(s, bars_to_oils(s, bars))
        return set_value(doc, ("recipe", "amount", "bars"), str(bars))
    if oils:
        return scaled(s, parse_amount(oils, Dimension.MASS).value)
    return _for_mould(s, mould)


def _for_mould(s: Situation, mould: str) -> Document:
    """The plan for another mould: its oils follow from the size, every other mass from the oils."""
    doc = _plan_doc(s)
    amount = doc.root.plain.get("recipe", {}).get("amount", {})
    sizes = [size for size in ("oils", "volume", "fill", "inside", "bars") if size in amount]
    doc = set_or_add(doc, ("recipe", "amount", "inside"), mould)
    for size in sizes:
        if size != "inside":
            doc = remove_field(doc, ("recipe", "amount", size))
    bigger = work_out(plan_of(doc, s.book), s.book, s.today).pot.oils_total
    return _masses_times(doc, bigger / s.pot.oils_total)


def bars_to_oils(s: Situation, bars: int) -> float:
    """Grams of oils for so many bars, from the bars that the plan says it makes."""
    recipe = s.plan.recipe or s.book.usual.recipe
    made = recipe.amount.bars if recipe and recipe.amount else None
    if made is None:
        place = s.plan.place
        assert place is not None
        raise RecordError(
            [Fault(place, "The plan does not say how many bars it makes.", "Write `bars:` under `amount:`.")]
        )
    return s.pot.oils_total * bars / made


def _plan_doc(s: Situation) -> Document:
    if s.plan.doc is None:
        raise NotAskable(
            "A plan made in memory has no text in which its masses could be scaled.",
            "Give the plan as its text, or change the amount in the record.",
        )
    return s.plan.doc


def _with_oils(doc: Document, oils: float) -> Document:
    """State the oils, where the recipe stood in per cent and a mould or a mass filled it."""
    recipe = doc.root.plain.get("recipe")
    if recipe is None or all(_is_mass(str(v)) for v in recipe.get("oils", {}).values()):
        return doc
    doc = set_or_add(doc, ("recipe", "amount", "oils"), f"{format_number(oils, 6)} g")
    for size in ("inside", "volume", "fill"):
        if size in doc.root.plain["recipe"]["amount"]:
            doc = remove_field(doc, ("recipe", "amount", size))
    return doc


def _paths(doc: Document) -> Iterator[DocPath]:
    """Every place in the plan that holds a mass or a spoonful."""
    for pattern in MASSES:
        for path, text in _match(doc.root.plain, pattern, ()):
            if _is_mass(text):
                yield path


def _match(tree: object, pattern: tuple[str, ...], path: DocPath) -> Iterator[tuple[DocPath, str]]:
    if not pattern:
        if isinstance(tree, str):
            yield path, tree
        return
    head, rest = pattern[0], pattern[1:]
    steps: list[str | int] = []
    if isinstance(tree, dict):
        steps = list(tree) if head == "*" else [head] if head in tree else []
    elif isinstance(tree, list) and head == "*":
        steps = list(range(len(tree)))
    for step in steps:
        yield from _match(tree[step], rest, (*path, step))  # type: ignore[index]


def _is_mass(text: str) -> bool:
    try:
        amount = parse_amount(text, Dimension.MASS, Dimension.VOLUME)
    except QuantityError:
        return False
    return amount.dimension in (Dimension.MASS, Dimension.VOLUME)


def _times(text: str, factor: float) -> str:
    """The same amount times a factor, in the unit it was typed in."""
    return NUMBER.sub(lambda found: format_number(float(found.group()) * factor, 6), text)


__all__ = ["bars_to_oils", "scaled", "scaled_plan"]
