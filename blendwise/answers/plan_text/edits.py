"""Changes to a plan's text, as a maker would write them: every other byte, remark and order stays."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from pathlib import Path

from blendwise.quantity import Dimension, Units, format_number, in_units
from blendwise.records.place import read_fault
from blendwise.records.reading.document import Document, text_document
from blendwise.records.reading.fields import FieldError, parse_name
from blendwise.records.writing.edit import Plain, add_field, flow, set_value, set_values

DocPath = tuple[str | int, ...]

NO_DOSE = "none"
TYPED_DIGITS, NOTED = 4, 0.0005  # digits of a dose that anybody types; grams by which a note rounds it


def set_or_add(doc: Document, path: DocPath, value: str) -> Document:
    """Set a field, written or not; the mappings above it are begun where they are missing."""
    if _there(doc, path):
        return set_value(doc, path, value)
    known = next(depth for depth in range(len(path) - 1, -1, -1) if _there(doc, path[:depth]))
    entry: Plain = value
    for step in reversed(path[known + 1 :]):
        entry = {str(step): entry}
    return add_field(doc, path[:known], str(path[known]), entry)


def set_all(doc: Document, values: Mapping[DocPath, str]) -> Document:
    """``set_or_add`` of many: what is written already is replaced in one go, the rest is added in order."""
    written = {path: value for path, value in values.items() if _there(doc, path)}
    doc = set_values(doc, written)
    for path, value in values.items():
        doc = doc if path in written else set_or_add(doc, path, value)
    return doc


def _there(doc: Document, path: DocPath) -> bool:
    node = doc.root
    for step in path:
        if step not in (node.children or {}):
            return False
        node = (node.children or {})[step]
    return True


def let_become(doc: Document, portion: int, band: str) -> Document:
    """The portion may brown to a band."""
    return set_or_add(doc, ("portions", portion, "may become"), band)


def leave_unscented(doc: Document, portion: int) -> Document:
    """No scent in this portion, whatever its own doses said."""
    name = _portion_name(doc, portion)
    if _there(doc, ("doses", name)):
        doc = set_values(doc, {("doses", name, scent): NO_DOSE for scent in doc.root.plain["doses"][name]})
    return set_or_add(doc, ("portions", portion, "scented"), "no")


def _portion_name(doc: Document, portion: int) -> str:
    return str(doc.root.plain["portions"][portion]["name"])


def with_pour(doc: Document, pour: str) -> Document:
    """Another style of pour."""
    return set_or_add(doc, ("pour",), pour)


def with_parts(doc: Document, parts: Mapping[str, float]) -> Document:
    """Other parts of the blend."""
    return set_values(doc, {("scents", "blend", name): format_number(part) for name, part in parts.items()})


def with_split(
    doc: Document,
    grams: Mapping[str, Mapping[str, float]],
    units: Units,
    mixed: Collection[str] = (),
) -> Document:
    """The split as doses in the book's unit of mass: portion → scent → grams (0 stands as ``none``).

    ``mixed``: oils that are weighed together, whose digits keep them in one ratio in every portion.
    """
    told = {p: {s: mass(g, units, s not in mixed) for s, g in row.items()} for p, row in grams.items()}
    if not _there(doc, ("doses",)):
        return with_lines(doc, "doses", told)
    return set_all(doc, {("doses", p, s): dose for p, row in told.items() for s, dose in row.items()})


def mass(grams: float, units: Units, alone: bool = True) -> str:
    """A dose as it is written: six digits, so that whole steps of the scale come out as such, and what was
    typed in ounces as typed, though a note keeps it in milligrams (of an oil that is weighed ``alone``)."""
    number, unit = in_units(grams, Dimension.MASS, units)
    short = round(number, TYPED_DIGITS)
    as_typed = alone and grams > 0 and abs(short / number - 1) * grams <= NOTED
    return f"{format_number(short if as_typed else number, 6)} {unit}" if grams > 0 else NO_DOSE


def named(text: str, file: Path) -> Document:
    """The text of a plan under the name that its file has; RecordError where that can be no name."""
    try:
        name = parse_name(file.stem)
    except FieldError as error:
        raise read_fault(file, f"A plan cannot be called so: {error.message}", error.remedy) from None
    return set_value(text_document(text, file), ("plan",), name)


def with_lines(doc: Document, key: str, rows: Mapping[str, Plain]) -> Document:
    """A new field at the end of the file, a line an entry, so that it can be read and changed by hand."""
    newline = "\r\n" if "\r\n" in doc.text else "\n"
    lines = [f"{key}:", *(f"  {flow(name)}: {flow(row)}" for name, row in rows.items())]
    text = doc.text.rstrip() + newline + newline.join(lines) + newline
    return replace(text_document(text, doc.file), fingerprint=doc.fingerprint)


def mixed_together(doc: Document, premixes: list[list[str]]) -> Document:
    """Which oils are mixed before they are weighed."""
    if not premixes or _there(doc, ("weigh together",)):
        return doc
    return add_field(doc, (), "weigh together", premixes)
