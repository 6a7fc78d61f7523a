"""Changes to a plan's text, as a maker would write them: every other byte, remark and order stays."""

from __future__ import annotations

from collections.abc import Mapping

from blendwise.quantity import format_number
from blendwise.records.document import Document
from blendwise.records.edit import add_field, remove_field, set_value

NO_DOSE = "none"


def _set(doc: Document, path: tuple[str | int, ...], value: str) -> Document:
    """Set a field, written or not; the mappings above it are begun where they are missing."""
    holder, missing = path[:-1], str(path[-1])
    if _there(doc, path):
        return set_value(doc, path, value)
    if _there(doc, holder):
        return add_field(doc, holder, missing, value)
    return add_field(doc, holder[:-1], str(holder[-1]), {missing: value})


def _there(doc: Document, path: tuple[str | int, ...]) -> bool:
    node = doc.root
    for step in path:
        if step not in (node.children or {}):
            return False
        node = (node.children or {})[step]
    return True


def let_become(doc: Document, portion: int, band: str) -> Document:
    """The portion may brown to a band."""
    return _set(doc, ("portions", portion, "may become"), band)


def leave_unscented(doc: Document, portion: int) -> Document:
    """No scent in this portion, whatever its own doses said."""
    name = _portion_name(doc, portion)
    if _there(doc, ("doses", name)):
        for scent in list(doc.root.plain["doses"][name]):
            doc = set_value(doc, ("doses", name, scent), NO_DOSE)
    return _set(doc, ("portions", portion, "scented"), "no")


def _portion_name(doc: Document, portion: int) -> str:
    return str(doc.root.plain["portions"][portion]["name"])


def no_dose(doc: Document, portion: str, scent: str) -> Document:
    """The scent stays out of the portion."""
    return _set(doc, ("doses", portion, scent), NO_DOSE)


def with_load(doc: Document, load: float) -> Document:
    """Another load, in per cent of batch oils."""
    return _set(doc, ("scents", "load"), f"{format_number(100 * load)} % of batch oils")


def with_pour(doc: Document, pour: str) -> Document:
    """Another style of pour."""
    return _set(doc, ("pour",), pour)


def with_concentration(doc: Document, concentration: float) -> Document:
    """Another lye concentration (only where the plan states one)."""
    return set_value(doc, ("recipe", "lye", "concentration"), f"{format_number(100 * concentration)} %")


def without_scent(doc: Document, scent: str) -> Document:
    """The oil leaves the blend, and the plan's own doses of it."""
    doc = remove_field(doc, ("scents", "blend", scent))
    for portion, doses in dict(doc.root.plain.get("doses", {})).items():
        if scent in doses:
            doc = set_value(doc, ("doses", portion, scent), NO_DOSE)
    return doc


def with_share(doc: Document, portion: int, share: float) -> Document:
    """Another share of the batter, in per cent (a portion that takes the rest stays so)."""
    if doc.root.plain["portions"][portion].get("share") == "the rest":
        return doc
    return set_value(doc, ("portions", portion, "share"), f"{format_number(100 * share)} %")


def with_parts(doc: Document, parts: Mapping[str, float]) -> Document:
    """Other parts of the blend."""
    for scent, part in parts.items():
        doc = set_value(doc, ("scents", "blend", scent), format_number(part))
    return doc


def with_split(doc: Document, grams: Mapping[str, Mapping[str, float]]) -> Document:
    """The split as doses in grams: portion → scent → grams (0 stands as ``none``)."""
    for portion, doses in grams.items():
        for scent, mass in doses.items():
            doc = _set(doc, ("doses", portion, scent), f"{format_number(mass, 6)} g" if mass > 0 else NO_DOSE)
    return doc


def mixed_together(doc: Document, premixes: list[list[str]]) -> Document:
    """Which oils are mixed before they are weighed."""
    if not premixes or _there(doc, ("weigh together",)):
        return doc
    return add_field(doc, (), "weigh together", premixes)
