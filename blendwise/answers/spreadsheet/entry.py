"""The cells of one row → one entry of a catalogue, validated by the record itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from pydantic import ValidationError

from blendwise.answers.spreadsheet.words.vocabulary import NAME, SIZE, SUPPLIER, TESTED_AT
from blendwise.records.kinds.scent import Scent
from blendwise.records.reading.complaints import complaint
from blendwise.records.writing.edit import Plain, flow

_PARTS: Final = {
    "browns to": ("band", ("at", "evidence", "on")),
    "acceleration": ("is", ("at", "evidence", "against", "control", "scented")),
}
MEASURED: Final = ("control", "scented")
"""Parts that say enough without a word."""
ORDER: Final = tuple((info.alias or name) for name, info in Scent.model_fields.items() if name != "name")
LONGEST_REMARK: Final = 300


@dataclass(slots=True)
class Entry:
    """An oil on its way into a catalogue: fields as a book writes them, remarks kept beside them."""

    name: str
    fields: dict[str, Plain] = field(default_factory=dict)
    remarks: list[tuple[str, str]] = field(default_factory=list)

    def lines(self) -> list[str]:
        """The entry as lines of YAML; remarks become comments, so that nothing of the sheet is lost."""
        ordered = [(key, self.fields[key]) for key in ORDER if key in self.fields]
        head = f"{flow(self.name)}:" if ordered else f"{flow(self.name)}: {{}}"
        return [head, *(line for key, value in ordered for line in _field(key, value)), *self._comments()]

    def _comments(self) -> list[str]:
        return [f"  # {_tame(heading)}: {_tame(cell)}" for heading, cell in self.remarks]


def _field(key: str, value: Plain) -> list[str]:
    if isinstance(value, list) and value and isinstance(value[0], Mapping):
        return [f"  {key}:", *(f"    - {flow(item)}" for item in value)]
    return [f"  {key}: {flow(value)}"]


def _tame(text: str) -> str:
    """A text that can stand in a comment: one line, nothing that a terminal or a parser would obey."""
    flat = " ".join(text.split())
    shown = flat
    if not (flat.isascii() and flat.isprintable()):
        shown = "".join(sign if sign.isprintable() and ord(sign) < 0x10000 else "�" for sign in flat)
    return shown if len(shown) <= LONGEST_REMARK else shown[: LONGEST_REMARK - 2] + " …"


def assembled(found: Mapping[str, Plain], evidence: str) -> dict[str, Plain]:
    """Fields of an entry from the columns' values: parts put in their whole, helpers used and dropped."""
    fields = {key: value for key, value in found.items() if key in ORDER}
    for whole, (head, parts) in _PARTS.items():
        if whole in found or any(f"{whole} {part}" in found for part in MEASURED):
            fields[whole] = _whole(found, whole, head, parts)
    if "limit in bar" in found:
        papers = {
            "certificate": found.get("certificate"),
            "category": found.get("certificate category"),
            "dated": found.get("certificate dated"),
        }
        kept = {key: value for key, value in papers.items() if value is not None}
        fields["limit in bar"] = {"most": found["limit in bar"], **kept}
    sheet = fields.get("allergen sheet")
    if isinstance(sheet, Mapping) and found.get("sheet complete") is not None:
        fields["allergen sheet"] = {**sheet, "complete": found["sheet complete"]}
    if evidence:
        fields.setdefault("evidence", evidence)
    return fields


def _whole(found: Mapping[str, Plain], whole: str, head: str, parts: tuple[str, ...]) -> Plain:
    said = {part: found[f"{whole} {part}"] for part in parts if f"{whole} {part}" in found}
    if TESTED_AT in found:
        said.setdefault("at", found[TESTED_AT])
    if whole not in found:
        return said
    return {head: found[whole], **said} if said else found[whole]


def left_over(found: Mapping[str, Plain], fields: Mapping[str, Plain]) -> list[str]:
    """Columns whose value had no field to go into, such as a certificate without its limit."""
    used = {*fields, NAME, SIZE, SUPPLIER}
    for whole, (_, parts) in _PARTS.items():
        if whole in fields:
            used |= {f"{whole} {part}" for part in parts} | {TESTED_AT}
    if "limit in bar" in fields:
        used |= {"certificate", "certificate category", "certificate dated"}
    if "allergen sheet" in fields:
        used.add("sheet complete")
    return [key for key in found if key not in used]


def refused(name: str, fields: Mapping[str, Plain]) -> list[tuple[str, str]] | Scent:
    """The record, or (field, why) of all that it would refuse; ("", why) where it is the entry itself."""
    try:
        return Scent.model_validate({NAME: name, **fields})
    except ValidationError as error:
        told = [(item, complaint(item, Scent)) for item in error.errors(include_url=False)]
        return [(str([*item["loc"], *said[2], ""][0]), f"{said[0]} {said[1]}".strip()) for item, said in told]
