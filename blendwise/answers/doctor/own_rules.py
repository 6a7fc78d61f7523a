"""The maker's own layer of rules: what is written wrong, does not count, is never asked, or is not read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blendwise.answers.check.compute import relative
from blendwise.answers.doctor.result import Kind, Sign, Weight
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.guards import faults_of_guards
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.judge.rulebook.lint import lint
from blendwise.records.book import BookFiles
from blendwise.records.layer.aside import Aside
from blendwise.records.layer.copies import compare
from blendwise.records.layer.own_files import own_files
from blendwise.records.place import Fault, Place, Spot

MOST_LINT: Final = 50


def rule_signs(book: BookFiles, rulebook: Rulebook) -> Iterator[Sign]:
    """Every sign of the book's own rules; a fault is told once."""
    told: set[Place] = set()
    for aside in (*rulebook.asides, *_symptoms(book)):
        told.add(aside.place)
        yield _sign(aside, book)
    shipped = [rule for rule in rulebook.rules if not rule.record.is_mine]
    mine = (each.fault for each in lint(book.rules, vocabulary()) if _is_own(each.fault, book))
    faults = [*faults_of_guards(rulebook.rules, book, shipped), *mine]
    for fault in [each for each in faults if each.place not in told][:MOST_LINT]:
        place = _spot(fault.place, book)
        yield Sign("rule written wrong", "caution", place.file, (), fault.message, fault.remedy, None, place)


def _is_own(fault: Fault, book: BookFiles) -> bool:
    return fault.place.file.is_relative_to(book.folder / "rules") or fault.place.file.is_relative_to(
        book.folder.absolute() / "rules"
    )


def _symptoms(book: BookFiles) -> Iterator[Aside]:
    """Symptoms changed in a copy: ``why`` alone reads them, so that no check speaks of it."""
    files = [f for f in own_files(book.folder) if f.layer == "copy" and f.kind == "symptoms"]
    yield from compare(files, book.folder).asides


KINDS: Final[dict[str, tuple[Kind, Weight]]] = {
    "cannot be read": ("broken file", "wrong"),
    "never asked": ("rule can never be asked", "wrong"),
    "locked rule changed": ("locked rule changed", "caution"),
    "not counted": ("rule not counted", "caution"),
    "file not read": ("file not read", "caution"),
}


def _sign(aside: Aside, book: BookFiles) -> Sign:
    kind, weight = KINDS[aside.why]
    place = _spot(aside.place, book)
    lighter: Weight = weight if aside.told else "hint"
    names = (aside.name, aside.what)
    return Sign(kind, lighter, place.file, names, aside.message, aside.remedy, None, place)


def _spot(place: Place, book: BookFiles) -> Spot:
    return Spot(relative(str(place.file), book.folder), place.line, place.column)
