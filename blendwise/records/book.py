"""A maker's book: the folder with catalogue, rules, usual ways, plans and notes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from blendwise.records.against import check_plan_against, check_usual
from blendwise.records.kinds.additive import OwnAdditive
from blendwise.records.kinds.checks.plan_checks import check_plan
from blendwise.records.kinds.colourant import Colourant
from blendwise.records.kinds.oil import BaseOil
from blendwise.records.kinds.plan import Plan
from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent
from blendwise.records.kinds.usual import Usual
from blendwise.records.layer.layer import OwnLayer, pours_of, read_own_layer, scales_of
from blendwise.records.place import Fault, RecordError, read_fault
from blendwise.records.reading.document import (
    Document,
    mapping_entries,
    read_document,
    text_document,
    validated,
)
from blendwise.records.reading.record import Record
from blendwise.records.shipped import shipped_document, shipped_rules

if TYPE_CHECKING:
    from blendwise.records.kinds.rule import RuleEntry
    from blendwise.records.notes.note import Note

R = TypeVar("R", bound=Record)
T = TypeVar("T")
FURTHEST_UP: Final = 30


@dataclass(frozen=True, slots=True)
class BookFiles:
    """Everything in a book but its plans and notes, which are read when asked for."""

    folder: Path
    scents: dict[str, Scent]
    colourants: dict[str, Colourant]
    oils: dict[str, BaseOil]
    usual: Usual
    rules: list[RuleEntry]
    pours: dict[str, PourStyle]
    scales: Scales
    docs: dict[str, Document] = field(default_factory=dict)
    layer: OwnLayer = field(default_factory=OwnLayer)
    shipped_pours: Mapping[str, PourStyle] = field(default_factory=dict)
    additives: dict[str, OwnAdditive] = field(default_factory=dict)

    def pour_named(self, name: str | None) -> PourStyle | None:
        """The pour that a plan means: by its name, or by another word of the trade for it."""
        if name is None or name in self.pours:
            return self.pours.get(name or "")
        return next((pour for pour in self.pours.values() if pour.is_called(name)), None)

    def guard_pour(self, name: str | None) -> PourStyle | None:
        """The pour as a rule reads it that nobody may loosen: the package's, where it has one of the name."""
        pour = self.pour_named(name)
        return self.shipped_pours.get(pour.name, pour) if pour else None

    def plan_paths(self) -> list[Path]:
        """The plans of the book, by name."""
        return sorted((self.folder / "plans").glob("*.yaml"))


def find_book(start: Path) -> Path:
    """The nearest folder at or above ``start`` with ``scents.yaml``; RecordError if none."""
    here = start.absolute()
    for folder in [here, *here.parents][:FURTHEST_UP]:
        if (folder / "scents.yaml").is_file():
            return folder
    raise read_fault(
        start,
        "No book was found here or in a folder above.",
        "A book is a folder with `scents.yaml`: name it with --book, or begin one with `blendwise start`.",
    )


def load_book(folder: Path) -> BookFiles:
    """Read and check the whole book but its plans and notes.

    Raises RecordError with the faults of all its files together.
    """
    faults: list[Fault] = []
    docs: dict[str, Document] = {}
    reading = _Reading(folder, faults, docs)
    scents = reading.catalogue(Scent, "scents.yaml", "scents", needed=True)
    colourants = reading.catalogue(Colourant, "colourants.yaml", "colourants")
    oils = reading.catalogue(BaseOil, "oils.yaml", "base oils")
    additives = reading.catalogue(OwnAdditive, "additives.yaml", "additives")
    usual = reading.single(Usual, "usual.yaml") or Usual()
    if not faults:
        faults += check_usual(usual, oils, docs.get("usual.yaml"))
    rulebook = reading.attempt(lambda: _rulebook(folder))
    if faults or rulebook is None:
        raise RecordError(faults)
    docs |= rulebook.docs
    return BookFiles(
        folder,
        scents,
        colourants,
        oils,
        usual,
        [*shipped_rules(), *rulebook.layer.rules],
        rulebook.pours,
        rulebook.scales,
        docs,
        rulebook.layer,
        rulebook.shipped_pours,
        additives,
    )


@dataclass(frozen=True, slots=True)
class _Rulebook:
    """Pours and scales as they count, the maker's layer, and the documents by name."""

    pours: dict[str, PourStyle]
    shipped_pours: dict[str, PourStyle]
    scales: Scales
    layer: OwnLayer
    docs: dict[str, Document]


def _rulebook(folder: Path) -> _Rulebook:
    own, pours_doc = read_own_layer(folder), shipped_document("pours.yaml")
    pours, shipped_pours = pours_of(pours_doc, own)
    scales, scales_doc = scales_of(shipped_document("scales.yaml"), own)
    docs = {"pours.yaml": pours_doc, "scales.yaml": scales_doc}
    return _Rulebook(pours, shipped_pours, scales, own, docs)


class _Reading:
    """The reading of one book: faults of all files are gathered, documents are kept by name."""

    def __init__(self, folder: Path, faults: list[Fault], docs: dict[str, Document]) -> None:
        self.folder = folder
        self.faults = faults
        self.docs = docs

    def attempt(self, do: Callable[[], T]) -> T | None:
        try:
            return do()
        except RecordError as error:
            self.faults.extend(error.faults)
            return None

    def document(self, name: str, needed: bool, bare: bool = False) -> Document | None:
        file = self.folder / name
        if not needed and not file.exists():
            return None
        doc = self.attempt(lambda: read_document(file, bare))
        if doc is not None:
            self.docs[name] = doc
        return doc

    def single(self, model: type[R], name: str, needed: bool = False) -> R | None:
        doc = self.document(name, needed)
        return None if doc is None else self.attempt(lambda: validated(model, doc))

    def catalogue(self, model: type[R], name: str, what: str, needed: bool = False) -> dict[str, R]:
        doc = self.document(name, needed, bare=True)
        if doc is None:
            return {}
        return self.attempt(lambda: entries(model, doc, what)) or {}


def entries(model: type[R], doc: Document, what: str) -> dict[str, R]:
    """All records of a catalogue document by name; RecordError with the faults of all of them."""
    found: dict[str, R] = {}
    faults: list[Fault] = []
    for name in mapping_entries(doc, what):
        try:
            found[name] = validated(model, doc, (name,), {"name": name})
        except RecordError as error:
            faults.extend(error.faults)
    if faults:
        raise RecordError(faults)
    return found


def load_plan(path: Path, book: BookFiles | None = None) -> Plan:
    """Read a plan and check it in itself and, where a book is given, against the book's names.

    Raises RecordError with every fault found.
    """
    return plan_of(read_document(path), book)


def read_plan(text: str, book: BookFiles | None = None, file: Path = Path("plan.yaml")) -> Plan:
    """A plan from its text; as ``load_plan``."""
    return plan_of(text_document(text, file), book)


IN_MEMORY: Final = Path("plan in memory")
"""What faults call the file of a plan that has none."""


def is_text(plan: str) -> bool:
    """Whether it is the text of a plan, not its name or path: a text has lines, or is written in braces."""
    return "\n" in plan or plan.lstrip().startswith("{")


def plan_in_memory(plan: str | Plan, book: BookFiles) -> Plan:
    """A plan from its text, or a record checked as it stands; as ``load_plan``.

    A record that no longer says what its text says parts with the text: nothing may be written from it.
    """
    if isinstance(plan, str):
        return read_plan(plan, book, IN_MEMORY)
    doc = plan.doc or text_document("plan:", IN_MEMORY)
    if faults := [*check_plan(plan, doc), *check_plan_against(book, plan, doc)]:
        raise RecordError(faults)
    if plan.doc is None or plan_of(plan.doc) == plan:
        return plan
    changed = plan.model_copy()
    changed._doc = None
    return changed


def plan_of(doc: Document, book: BookFiles | None = None) -> Plan:
    """The plan in a document; as ``load_plan``."""
    plan = validated(Plan, doc)
    plan._doc = doc
    faults = check_plan(plan, doc)
    if book is not None:
        faults += check_plan_against(book, plan, doc)
    if faults:
        raise RecordError(faults)
    return plan


def load_note(path: Path) -> Note:
    """Read one note; RecordError with every fault found."""
    from blendwise.records.notes.note import Note

    return validated(Note, read_document(path))


def load_notes(folder: Path) -> tuple[list[Note], list[Fault]]:
    """All notes of a book in order of day and file name, and what is wrong with those set aside.

    A damaged note never hides the others.
    """
    notes: list[tuple[Note, str]] = []
    faults: list[Fault] = []
    for path in sorted((folder / "notes").glob("*.yaml")):
        try:
            notes.append((load_note(path), path.name))
        except RecordError as error:
            faults.extend(error.faults)
    notes.sort(key=lambda pair: (pair[0].on, pair[1]))
    return [note for note, _ in notes], faults
