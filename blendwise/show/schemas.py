"""JSON Schemas: of the published answers and of the files of a book, made from the types that judge them."""

from __future__ import annotations

from typing import Any

from blendwise.answers.again.result import AgainResult
from blendwise.answers.answer import Answer
from blendwise.answers.ask.result import AskResult
from blendwise.answers.assign.result import AssignResult
from blendwise.answers.check.result import CheckResult
from blendwise.answers.cup.result import CupResult
from blendwise.answers.doctor import result as doctor_results
from blendwise.answers.draft.result import DraftResult
from blendwise.answers.failure import Failure
from blendwise.answers.label.result import LabelDraft
from blendwise.answers.note import result as note_results
from blendwise.answers.pair.result import PairResult
from blendwise.answers.review import result as review_results
from blendwise.answers.rules import result as rule_results
from blendwise.answers.rules import taught as rules_taught
from blendwise.answers.rules import words as rule_words
from blendwise.answers.scents import result as shelf
from blendwise.answers.sheet import result as sheet_results
from blendwise.answers.shelf.result import ShelfResult
from blendwise.answers.spreadsheet import result as sheets
from blendwise.answers.start import result as starting
from blendwise.answers.why import result as why_results
from blendwise.records.reading import schema as files

ANSWERS: dict[str, type[Answer]] = {
    "ask": AskResult,
    "check": CheckResult,
    "assign": AssignResult,
    "sheet": sheet_results.Sheet,
    "label": LabelDraft,
    "cup": CupResult,
    "pair": PairResult,
    "shelf": ShelfResult,
    "scent-list": shelf.ScentsResult,
    "scent": shelf.ScentResult,
    "compare": shelf.CompareResult,
    "import": sheets.ImportResult,
    "export": sheets.ExportResult,
    "start": starting.StartResult,
    "rename": shelf.RenameResult,
    "rule-list": rule_results.RulesResult,
    "new-rule": rules_taught.Taught,
    "rule-cases": rules_taught.Proven,
    "rule-words": rule_words.WordsResult,
    "rule-report": rule_results.RuleReport,
    "note-written": note_results.NoteResult,
    "looks-due": note_results.DueResult,
    "review": review_results.ReviewResult,
    "adopt": review_results.AdoptResult,
    "doctor": doctor_results.DoctorResult,
    "draft": DraftResult,
    "why": why_results.WhyResult,
    "symptom-list": why_results.Known,
    "again": AgainResult,
    "error": Failure,
}
"""Kind of answer → its type, which names its ``schema`` key."""
SAID = ("ask", "check", "assign", "cup", "pair", "shelf", "scent", "review", "why")
"""Kinds whose document, where a command prints it, says the short answer too (``says``)."""

KINDS = (*files.KINDS, *ANSWERS)


def schema_of(kind: str) -> dict[str, Any]:
    """The schema of one kind (KeyError for a kind which does not exist)."""
    return _answer_schema(kind) if kind in ANSWERS else files.schema(kind)


def _answer_schema(kind: str) -> dict[str, Any]:
    from pydantic import TypeAdapter

    from blendwise.show.published import document

    entry = ANSWERS[kind]
    name = entry.SCHEMA
    made = TypeAdapter(document(entry)).json_schema()
    made["properties"]["schema"]["const"] = name
    if kind in SAID:
        made["properties"]["says"] = {"type": "array", "items": {"type": "string"}}
    return {"$schema": files.DIALECT, "$id": f"urn:{name.replace('/', ':')}", **_closed(made)}


def _closed(schema: Any) -> Any:
    """The schema with no keys allowed beyond those it names, at every depth."""
    if isinstance(schema, list):
        return [_closed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {key: _closed(each) for key, each in schema.items()}
    return {**closed, "additionalProperties": False} if "properties" in closed else closed
