"""What in an oil turns soap, by its papers: contents by family of colour, each constituent by its weight."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.beliefs.contents import Content, Contents, contents_of
from blendwise.quantity import Amount
from blendwise.records.kinds.scent import Scent
from blendwise.science import casts
from blendwise.science.casts import Family
from blendwise.science.constituents import known

VANILLINS = ("Vanillin", "Ethyl vanillin")
# A maker's own words for an oil that browns, where no figure says how much.
BROWNER_TAGS = frozenset({"browner", "browns", "browning", "vanilla", "discolours", "discolors"})


def browning_content(scent: Scent) -> tuple[float, tuple[str, ...]]:
    """Vanillin-like content (g per g of the oil) by what is stated, and the names of what is not known.

    A range counts by its top.  A stated vanillin figure is the trade's "vanillin content" (ethyl vanillin in
    it unless it stands apart), so that a missing ethyl vanillin opens nothing once vanillin is stated.  What
    the sheet gives of both, by any of their names, counts where it is more.  Of what else browns, each counts
    by its weight, what nobody has listed as vanillin itself; what turns yellow or pink counts there.
    """
    found = contents_of(scent)
    missing = ("vanillin",) * (scent.vanillin is None and found.on_sheet_of("Vanillin") is None)
    missing += tuple(name for name, part in scent.browns_by.items() if part is None and _brown(name) > 0)
    return _vanillins(scent, found) + sum(_others(scent, found)), missing


def _vanillins(scent: Scent, found: Contents) -> float:
    on_sheet, ethyl_on_sheet = (found.on_sheet_of(name) for name in VANILLINS)
    vanillin = _higher(scent.vanillin, on_sheet)
    ethyl = _higher(scent.ethyl_vanillin, ethyl_on_sheet) or 0.0
    if scent.ethyl_vanillin is None and scent.vanillin is not None:
        ethyl = max(0.0, (on_sheet.high if on_sheet else 0.0) + ethyl - (vanillin or 0.0))
    return (vanillin or 0.0) + ethyl


def _others(scent: Scent, found: Contents) -> Iterator[float]:
    """What else browns: as `browns by` says it, and what the sheet gives besides."""
    said = {_name(name) for name in scent.browns_by}
    for name, part in scent.browns_by.items():
        if part is not None:
            yield part.value * _brown(name)
    for row in found.on_sheet:
        if row.name not in said and row.name not in VANILLINS and not row.open:
            yield row.high * casts.weight(row.name, "brown")


def cast_content(scent: Scent, family: Family) -> float:
    """What of an oil turns soap yellow, or pink (g per g of the oil, each constituent by its weight)."""
    parts = contents_of(scent).parts
    return float(sum(part.high * casts.weight(part.name, family) for part in parts if not part.open))


def is_tagged(scent: Scent) -> bool:
    """Whether the maker's own words call it a browner."""
    return not BROWNER_TAGS.isdisjoint(tag.casefold() for tag in scent.tags)


def _brown(name: str) -> float:
    """Weight as a browner of what `browns by` names; what the table does not know counts as vanillin."""
    listed = _name(name)
    return casts.weight(listed, "brown") if casts.is_listed(listed) else 1.0


def _name(name: str) -> str:
    row = known(name)
    return row.name if row is not None else name


def _higher(stated: Amount | None, on_sheet: Content | None) -> float | None:
    """Of two statements of one content, the higher counts; a range counts by its top."""
    tops = [stated.value if stated is not None else None, on_sheet.high if on_sheet is not None else None]
    return max((top for top in tops if top is not None), default=None)
