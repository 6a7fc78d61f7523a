"""The maker's files as typed records that know their file and line; safe new files; byte-true edits.

Names are fetched from their modules when first asked for, so that a command pays only for what it uses.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blendwise.quantity import Amount, Basis, Dimension
    from blendwise.records.book import BookFiles, find_book, load_book, load_notes, load_plan, read_plan
    from blendwise.records.kinds.additive import OwnAdditive
    from blendwise.records.kinds.colourant import Colourant
    from blendwise.records.kinds.oil import BaseOil
    from blendwise.records.kinds.plan import Accept, Embed, NeverRule, Plan, Portion, Scents, Variation
    from blendwise.records.kinds.pour import PourStyle
    from blendwise.records.kinds.recipe import Lye, Process, Recipe, RecipeAmount
    from blendwise.records.kinds.scales import Scales
    from blendwise.records.kinds.scent import Scent
    from blendwise.records.kinds.usual import Units, Usual
    from blendwise.records.notes.note import Look, Note
    from blendwise.records.place import Fault, Place, RecordError
    from blendwise.records.reading.document import Document, read_document, text_document, validated
    from blendwise.records.reading.fields import Dose
    from blendwise.records.reading.record import Record

_HOME: Final = {
    "blendwise.quantity": "Amount Basis Dimension",
    "blendwise.records.book": "BookFiles find_book load_book load_notes load_plan read_plan",
    "blendwise.records.kinds.additive": "OwnAdditive",
    "blendwise.records.kinds.colourant": "Colourant",
    "blendwise.records.reading.document": "Document read_document text_document validated",
    "blendwise.records.reading.fields": "Dose",
    "blendwise.records.notes.note": "Look Note",
    "blendwise.records.kinds.oil": "BaseOil",
    "blendwise.records.place": "Fault Place RecordError",
    "blendwise.records.kinds.plan": "Accept Embed NeverRule Plan Portion Scents Variation",
    "blendwise.records.kinds.pour": "PourStyle",
    "blendwise.records.kinds.recipe": "Lye Process Recipe RecipeAmount",
    "blendwise.records.reading.record": "Record",
    "blendwise.records.kinds.scales": "Scales",
    "blendwise.records.kinds.scent": "Scent",
    "blendwise.records.kinds.usual": "Units Usual",
}
_MODULE_OF: Final = {name: module for module, names in _HOME.items() for name in names.split()}

__all__ = [
    "Accept",
    "Amount",
    "BaseOil",
    "Basis",
    "BookFiles",
    "Colourant",
    "Dimension",
    "Document",
    "Dose",
    "Embed",
    "Fault",
    "Look",
    "Lye",
    "NeverRule",
    "Note",
    "OwnAdditive",
    "Place",
    "Plan",
    "Portion",
    "PourStyle",
    "Process",
    "Recipe",
    "RecipeAmount",
    "Record",
    "RecordError",
    "Scales",
    "Scent",
    "Scents",
    "Units",
    "Usual",
    "Variation",
    "find_book",
    "load_book",
    "load_notes",
    "load_plan",
    "read_document",
    "read_plan",
    "text_document",
    "validated",
]


def __getattr__(name: str) -> object:
    module = _MODULE_OF.get(name)
    if module is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(module), name)
