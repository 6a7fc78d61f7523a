"""What is in an oil by its papers and its names: one reader for the allergen sheet, what browns, and names.

Names are read as papers spell them.  Two names of one substance on one sheet are summed (geranial and neral
are both citral), which is never too little; where two statements give one substance, the higher counts.  What
nobody knows is kept apart as unread: it is not harmless.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from blendwise.quantity import Amount
from blendwise.quantity.cas import cas_numbers
from blendwise.records.kinds.scent import Scent
from blendwise.science.constituents import Constituent, candidates, known, nearest, slip_of

Named = tuple[tuple[str, float, float, bool], ...]
"""Names as typed, each with the ends of its share of the oil, and whether the share is not known."""

WHOLE_OILS = frozenset({"essential oil", "absolute", "resinoid"})
OF_A_PLANT = frozenset({"oil", "absolute", "resin", "resinoid", "balsam", "extract", "concrete"})


@dataclass(frozen=True, slots=True)
class Content:
    """One substance in an oil: ``name`` as our tables have it, ends as fractions of the oil.

    ``spellings``: what the papers call it; ``open``: named, but nobody says how much.
    """

    name: str
    kind: str
    low: float
    high: float
    spellings: tuple[str, ...]
    open: bool


@dataclass(frozen=True, slots=True)
class Unread:
    """A name that stands for no one substance of our tables: ``high`` of the oil at most.

    ``could_be``: the several that share its number, or the one that it seems to be a slip of; ``nearest``:
    the spelling most like it; ``numbered``: whether it came with a CAS number, which says what it is.
    """

    spelling: str
    high: float
    could_be: tuple[str, ...]
    nearest: str
    numbered: bool


@dataclass(frozen=True, slots=True)
class Contents:
    """All that papers and names say is in an oil.

    ``on_sheet``: the part of ``parts`` that the allergen sheet gives; ``stated``: what the entry says beside
    it (`vanillin`, `browns by`); ``own``: what the oil is by its own name or its label name.
    """

    parts: tuple[Content, ...]
    on_sheet: tuple[Content, ...]
    unread: tuple[Unread, ...]
    own: tuple[Constituent, ...]
    stated: tuple[Content, ...] = ()

    @property
    def tops(self) -> dict[str, float]:
        """Each substance whose share is told, by its range's top; what nobody knows under the name typed."""
        return {
            **{unread.spelling: unread.high for unread in self.unread},
            **{part.name: part.high for part in self.parts if not part.open},
        }

    @property
    def twice(self) -> tuple[Content, ...]:
        """Substances that one sheet gives under several names."""
        return tuple(part for part in self.on_sheet if len(part.spellings) > 1)

    def on_sheet_of(self, name: str) -> Content | None:
        """A substance as the sheet gives it; None where it does not name it."""
        return next((part for part in self.on_sheet if part.name == name), None)

    def is_named(self, name: str) -> bool:
        """Whether anything names a substance."""
        return any(part.name == name for part in self.parts) or any(own.name == name for own in self.own)


def contents_of(scent: Scent) -> Contents:
    """What is in an oil; worked out once for the same words."""
    sheet = scent.allergen_sheet.names if scent.allergen_sheet else {}
    vanillins = {"vanillin": scent.vanillin, "ethyl vanillin": scent.ethyl_vanillin}
    told = _named({name: amount for name, amount in vanillins.items() if amount is not None})
    own = (scent.name.replace("-", " ").replace("_", " "), scent.label_name or "", scent.kind or "")
    return _contents(_named(sheet), (*told, *_named(scent.browns_by)), own)


def _named(amounts: Mapping[str, Amount | None]) -> Named:
    """Names with their ends; what has no amount may be all of the oil."""
    return tuple(
        (name, 0.0, 1.0, True) if amount is None else (name, amount.low, amount.high, False)
        for name, amount in amounts.items()
    )


@lru_cache(maxsize=2048)
def _contents(sheet: Named, stated: Named, own: tuple[str, str, str]) -> Contents:
    on_sheet, lost = _read(sheet)
    browners, also_lost = _read(stated)
    parts = {part.name: part for part in on_sheet}
    for part in browners:
        parts[part.name] = _higher(parts[part.name], part) if part.name in parts else part
    unread = {each.spelling: each for each in (*lost, *also_lost)}
    return Contents(tuple(parts.values()), on_sheet, tuple(unread.values()), tuple(_own(*own)), browners)


def _read(named: Named) -> tuple[tuple[Content, ...], tuple[Unread, ...]]:
    """The substances of one list, those of one name summed, and the names that nobody knows."""
    found: dict[str, Content] = {}
    unread = []
    for spelling, low, high, is_open in named:
        row = known(spelling)
        if row is None:
            unread.append(_unread(spelling, high, candidates(spelling)))
            continue
        before = found.get(row.name)
        part = Content(row.name, row.kind, low, high, (spelling,), is_open)
        found[row.name] = part if before is None else _summed(before, part)
    return tuple(found.values()), tuple(unread)


def _summed(one: Content, other: Content) -> Content:
    low, high = min(1.0, one.low + other.low), min(1.0, one.high + other.high)
    return Content(one.name, one.kind, low, high, (*one.spellings, *other.spellings), one.open)


def _higher(one: Content, other: Content) -> Content:
    spellings = tuple(dict.fromkeys((*one.spellings, *other.spellings)))
    told = [each for each in (one, other) if not each.open] or [one]
    low, high = max(each.low for each in told), max(each.high for each in told)
    return Content(one.name, one.kind, low, high, spellings, told[0].open)


def _unread(spelling: str, high: float, meant: tuple[Constituent, ...]) -> Unread:
    slip = None if meant else slip_of(spelling)
    near = None if meant else nearest(spelling)
    could_be = tuple(row.name for row in (meant or (() if slip is None else (slip,))))
    return Unread(spelling, high, could_be, near[0] if near else "", bool(cas_numbers(spelling)))


def _own(name: str, label_name: str, kind: str) -> Iterator[Constituent]:
    """What an oil is by its label name and its own.

    A fragrance oil may be called after a flower without holding any of it: then a plant's name counts only
    where it says oil, absolute, balsam or the like.
    """
    said = candidates(label_name) if label_name else ()
    yield from said
    of_plant = kind != "fragrance oil" or not OF_A_PLANT.isdisjoint(name.casefold().split())
    for row in candidates(name):
        if row not in said and (of_plant or row.kind != "whole oil"):
            yield row


FOLDED: Final = re.compile(r"\bfold(ed)?\b|\b\d+ ?x\b", re.IGNORECASE)


def is_folded(scent: Scent) -> bool:
    """Whether an oil is a citrus that had terpenes taken off, by its tags or its name."""
    words = " ".join((scent.name.replace("-", " ").replace("_", " "), *scent.tags))
    return FOLDED.search(words) is not None
