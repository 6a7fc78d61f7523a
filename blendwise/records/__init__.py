"""The maker's files as typed records that know their file and line; safe new files; byte-true edits.

Names are fetched from their modules when first asked for, so that a command pays only for what it uses.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blendwise.quantity import Amount, Basis, Dimension
    from blendwise.records.book import BookFiles, find_book, load_book, load_notes, load_plan, read_plan
    from blendwise.records.colourant import Colourant
    from blendwise.records.document import Document, read_document, text_document, validated
    from blendwise.records.fields import Dose
    from blendwise.records.note import Look, Note
    from blendwise.records.oil import BaseOil
    from blendwise.records.place import Fault, Place, RecordError
    from blendwise.records.plan import Accept, Embed, NeverRule, Plan, Portion, Scents, Variation
    from blendwise.records.pour import PourStyle
    from blendwise.records.recipe import Lye, Process, Recipe, RecipeAmount
    from blendwise.records.record import Record
    from blendwise.records.scales import Scales
    from blendwise.records.scent import Scent
    from blendwise.records.usual import Units, Usual

_HOME: Final = {
    "blendwise.quantity": "Amount Basis Dimension",
    "blendwise.records.book": "BookFiles find_book load_book load_notes load_plan read_plan",
    "blendwise.records.colourant": "Colourant",
    "blendwise.records.document": "Document read_document text_document validated",
    "blendwise.records.fields": "Dose",
    "blendwise.records.note": "Look Note",
    "blendwise.records.oil": "BaseOil",
    "blendwise.records.place": "Fault Place RecordError",
    "blendwise.records.plan": "Accept Embed NeverRule Plan Portion Scents Variation",
    "blendwise.records.pour": "PourStyle",
    "blendwise.records.recipe": "Lye Process Recipe RecipeAmount",
    "blendwise.records.record": "Record",
    "blendwise.records.scales": "Scales",
    "blendwise.records.scent": "Scent",
    "blendwise.records.usual": "Units Usual",
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
