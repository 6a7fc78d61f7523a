"""A whole book examined: what cannot be read, what is not known, what has gone stale, what never speaks.

A broken file is a finding here and hides nothing else: what can be read is examined.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from blendwise.answers.check.compute import odd_at_home, relative
from blendwise.answers.check.odd import odd_of_book
from blendwise.answers.doctor.additives import additive_signs
from blendwise.answers.doctor.oils import shelf_signs, strange_names, table_signs
from blendwise.answers.doctor.own_rules import rule_signs
from blendwise.answers.doctor.plans import Examined, examined, no_longer_passing, rules_without_work
from blendwise.answers.doctor.result import WEIGHTS, DoctorResult, PlanLine, Sign
from blendwise.answers.note.due import due
from blendwise.beliefs.kept import believing
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.judge.rulebook.standing import standing
from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles, load_book, load_plan
from blendwise.records.notes.batches import Batch, batches_of
from blendwise.records.notes.notebook import Notebook, read_notebook
from blendwise.records.place import Fault, RecordError, Spot


def examine(folder: Path, today: date) -> DoctorResult:
    """Examine the book in a folder; nothing in it is changed and nothing is ever raised for a broken file."""
    notebook = read_notebook(folder)
    batches, impossible = batches_of(notebook, folder, today)
    faults = [*notebook.faults, *impossible, *_symptom_faults(folder)]
    try:
        book = load_book(folder)
        rulebook = standing(book, vocabulary())
    except RecordError as error:
        return _half(folder, today, [*error.faults, *faults], notebook, batches)
    return _whole(book, rulebook, today, faults, notebook, batches)


def _symptom_faults(folder: Path) -> Iterator[Fault]:
    from blendwise.answers.why.causes import read_causes
    from blendwise.answers.why.compute import symptoms_of

    try:
        found = symptoms_of(folder)
        for symptom in found.symptoms:
            read_causes(found, symptom, vocabulary())
    except RecordError as error:
        yield from error.faults


def _half(
    folder: Path, today: date, faults: list[Fault], notebook: Notebook, batches: Sequence[Batch]
) -> DoctorResult:
    """The book as far as it can be read by itself: its plans without a shelf to hold them against."""
    lines = []
    for path in sorted((folder / "plans").glob("*.yaml")):
        try:
            load_plan(path)
        except RecordError as error:
            faults.extend(error.faults)
        lines.append(PlanLine(path.stem, relative(str(path), folder), judged=False))
    signs = [*_broken(faults, folder), *_due(batches, today)]
    return _result(folder, today, False, 0, lines, notebook, 0, signs)


def _whole(
    book: BookFiles,
    rulebook: Rulebook,
    today: date,
    faults: list[Fault],
    notebook: Notebook,
    batches: Sequence[Batch],
) -> DoctorResult:
    learned = believing(book, AsOf(today))
    plans = [examined(path, book, rulebook, today, learned) for path in book.plan_paths()]
    faults += [fault for plan in plans for fault in plan.faults]
    signs = [
        *_broken(faults, book.folder),
        *rule_signs(book, rulebook),
        *strange_names(book, batches, _plan_names(plans), notebook),
        *no_longer_passing(plans, batches, book, rulebook),
        *shelf_signs(book, rulebook, plans, today),
        *_odd(book, today),
        *additive_signs(book, plans),
        *table_signs(today, _sells(plans)),
        *_due(batches, today),
        *rules_without_work(plans, rulebook),
    ]
    lines = [plan.line for plan in plans]
    whole = not faults
    return _result(book.folder, today, whole, len(book.scents), lines, notebook, len(rulebook.rules), signs)


def _result(
    folder: Path,
    today: date,
    whole: bool,
    scents: int,
    lines: Sequence[PlanLine],
    notebook: Notebook,
    rules: int,
    signs: Sequence[Sign],
) -> DoctorResult:
    ordered = sorted(signs, key=lambda sign: WEIGHTS.index(sign.weight))
    notes = len(notebook.rows)
    return DoctorResult(folder.as_posix(), today, whole, scents, notes, rules, tuple(lines), tuple(ordered))


def _sells(plans: Sequence[Examined]) -> bool:
    return any(plan.situation is not None and plan.situation.purpose != "home" for plan in plans)


def _plan_names(plans: Sequence[Examined]) -> list[str]:
    return [plan.line.plan for plan in plans]


def _broken(faults: Sequence[Fault], folder: Path) -> Iterator[Sign]:
    for fault in dict.fromkeys(faults):
        file = relative(str(fault.place.file), folder)
        spot = Spot(file, fault.place.line, fault.place.column)
        yield Sign("broken file", "wrong", file, (), fault.message, fault.remedy, None, spot)


def _odd(book: BookFiles, today: date) -> Iterator[Sign]:
    for each in (odd_at_home(aside, book.folder) for aside in odd_of_book(book, today)):
        yield Sign("odd figure", "hint", each.name, (each.what, each.why), each.message, where=each.where)


def _due(batches: Sequence[Batch], today: date) -> Iterator[Sign]:
    for each in due(batches, today):
        if each.days_over >= 0:
            names = (each.plan, each.look, each.day.isoformat())
            yield Sign("look due", "caution", each.batch, names, number=float(each.days_over))
