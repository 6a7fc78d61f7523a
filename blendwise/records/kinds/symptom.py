"""The entries of ``rules/symptoms.yaml``: what went wrong, its likely causes, and what others must answer.

A cause says in the measures and conditions of the rules what in a plan speaks ``for`` it and what
``against`` it; ``hits`` and ``misses`` are rows of facts that prove ``for``, as in the rules.  An entry with
``defer:`` in place of ``symptom:`` lists words of questions which belong to somebody else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import Field

from blendwise.records.kinds.rule import Conditions, Grain, Rows
from blendwise.records.place import Fault, RecordError, read_fault
from blendwise.records.reading.document import Document, read_document, validated
from blendwise.records.reading.fields import Name, OneOf, Text, YesNo
from blendwise.records.reading.record import Record, listing, mapping, maybe

Moment = Literal["at the pot", "at the cut", "in the cure", "before a repeat"]
SYMPTOMS_FILE: Final = "symptoms.yaml"


class Cause(Record):
    """One thing that may lie behind a symptom, and how a plan and the soap itself tell of it."""

    cause: Text = Field(description="the cause, in a few words")
    looks_at: Annotated[Grain, OneOf()] = Field(description="what in a plan it is asked of, one by one")
    for_: Conditions = mapping("what in the plan speaks for it; nothing if left out")
    against: Conditions = mapping("what in the plan speaks against it")
    because: Text = Field(description="why it does this, in one sentence")
    tell_apart: Text = Field(description="what to look at in the soap itself")
    next_time: Text = Field(description="one change to make")
    basis: Text | None = maybe("where it comes from, if not the basis of the whole entry")
    hits: Rows = listing("rows of facts that speak for it; `limit` is the limit of `for`")
    misses: Rows = listing("rows of facts that do not")


class Symptom(Record):
    """What a maker sees, the causes by repute, what to do, and when to stop."""

    symptom: Name = Field(description="its name, once in the file")
    when: Annotated[Moment, OneOf()] = Field(description="when it is met")
    phrases: list[Text] = Field(description="how makers say it; a question is matched against these")
    safety: Text = Field(description="said first, before any cause")
    now: list[Text] = Field(description="what to do, in the order to try it")
    causes: list[Cause] = Field(description="what may lie behind it, the likeliest by repute first")
    stop: Text = Field(description="when not to use or sell it")
    shows: list[Text] = listing("measures of the plan to lay beside the answer")
    falls_back: YesNo = Field(default=False, description="whether to name simpler pours for thicker batter")
    settles: YesNo = Field(default=False, description="whether to say on which days it can be judged")
    basis: Text = Field(description="where this comes from")


class Deferral(Record):
    """Questions that are left to others: the words that betray them, and whom to ask."""

    defer: Name = Field(description="what it is about")
    words: list[Text] = Field(description="any of these words in a question defers it")
    unless: list[Text] = listing("turns of phrase in which such a word means nothing of the kind")
    answer: Text = Field(description="what is said instead of an answer")
    ask: Text = Field(description="whom to ask")
    instead: Text | None = maybe("what can be shown instead")


AnySymptomEntry = Symptom | Deferral
"""One entry of the file (for schemas)."""


@dataclass(frozen=True, slots=True)
class Symptoms:
    """All entries that are known: the package's, then a maker's own laid over them by name.

    ``doc``: the package's file; ``docs`` and ``indices``: for each symptom, the document that it stands in
    and its place in that list.
    """

    doc: Document
    symptoms: tuple[Symptom, ...]
    deferrals: tuple[Deferral, ...]
    indices: tuple[int, ...]
    docs: tuple[Document, ...]


def symptoms_in(doc: Document) -> Symptoms:
    """The entries of a document, which is a list; RecordError with the faults of all of them."""
    tree = doc.root.plain
    if not isinstance(tree, list):
        raise read_fault(
            doc.file, "The file of symptoms is a list of entries.", "Begin each with `- symptom: its name`."
        )
    symptoms: list[Symptom] = []
    deferrals: list[Deferral] = []
    indices: list[int] = []
    faults: list[Fault] = []
    for index, entry in enumerate(tree):
        try:
            if isinstance(entry, dict) and "defer" in entry:
                deferrals.append(validated(Deferral, doc, (index,)))
            else:
                symptoms.append(validated(Symptom, doc, (index,)))
                indices.append(index)
        except RecordError as error:
            faults += error.faults
    faults += _repeated(doc, symptoms, indices)
    if faults:
        raise RecordError(faults)
    return Symptoms(doc, tuple(symptoms), tuple(deferrals), tuple(indices), (doc,) * len(symptoms))


def _repeated(doc: Document, symptoms: list[Symptom], indices: list[int]) -> list[Fault]:
    """Names and phrases that stand twice: a question could not tell them apart."""
    seen: dict[str, str] = {}
    faults = []
    for symptom, index in zip(symptoms, indices, strict=True):
        for phrase in (symptom.symptom, *symptom.phrases):
            owner = seen.setdefault(phrase.casefold(), symptom.symptom)
            if owner != symptom.symptom:
                message = f'"{phrase}" already leads to "{owner}".'
                faults.append(Fault(doc.place(index), message, "Keep it in one of the two."))
    return faults


def load_symptoms(rules: Path) -> Symptoms:
    """The symptoms of a ``rules`` folder; RecordError where they cannot be read."""
    return symptoms_in(read_document(rules / SYMPTOMS_FILE))


def laid_over(package: Symptoms, own: Symptoms) -> Symptoms:
    """A maker's symptoms over the package's: one of the same name takes its place, but its warnings stay.

    Deferrals are only added: what is left to others stays so.
    """
    held = {each.symptom: (each, i, d) for each, i, d in _rows(package)}
    for each, index, doc in _rows(own):
        before = held[each.symptom][0] if each.symptom in held else each
        warned = {name: _both(getattr(before, name), getattr(each, name)) for name in ("safety", "stop")}
        held[each.symptom] = (each.model_copy(update=warned), index, doc)
    symptoms, indices, docs = zip(*held.values(), strict=True)
    return Symptoms(package.doc, symptoms, (*package.deferrals, *own.deferrals), indices, docs)


def _rows(found: Symptoms) -> Iterator[tuple[Symptom, int, Document]]:
    yield from zip(found.symptoms, found.indices, found.docs, strict=True)


def _both(first: str, second: str) -> str:
    return first if second in first else f"{first} {second}"
