"""The text of a note, as a maker could have typed it; read again before it is used."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, TypeAlias

from blendwise.answers.note.frozen import Day
from blendwise.records.notes.note import Note
from blendwise.records.reading.document import text_document, validated
from blendwise.records.writing.edit import flow

Field: TypeAlias = "str | Sequence[str] | Mapping[str, str] | Mapping[str, Mapping[str, str]]"
UNLIKELY: Final = re.compile(r"[\r\x85\u2028\u2029\ufeff]|[ \t]\n|\n[ \t]*\t")


def note_text(fields: Mapping[str, Field], day: Day | None) -> str:
    """A note's YAML; RecordError where it would not be read back as it was meant."""
    lines = [line for key, value in fields.items() if value for line in _field(key, value, "")]
    if day is not None:
        lines += ["frozen:", *(line for line in _frozen(day))]
    text = "\n".join(lines) + "\n"
    read = validated(Note, text_document(text))
    if day is not None and day.plan_text and (read.frozen is None or read.frozen.plan_text != day.plan_text):
        raise AssertionError("the plan's text was not kept as it is")
    return text


def _field(key: str, value: Field, indent: str) -> Iterator[str]:
    if isinstance(value, Mapping) and any(isinstance(each, Mapping) for each in value.values()):
        yield f"{indent}{key}:"
        for name, inner in value.items():
            yield f"{indent}  {flow(name)}: {flow(inner)}"
    else:
        yield f"{indent}{key}: {flow(value)}"


def _frozen(day: Day) -> Iterator[str]:
    yield f"  rules: {flow(day.rules)}"
    for key, value in (
        ("doses", day.doses),
        ("portions", day.portions),
        ("predictions", {p: said for p, said in day.predictions.items() if said}),
    ):
        if value:
            yield from _field(key, value, "  ")
    for key, said in day.pour.items():
        yield f"  {key}: {flow(said)}"
    if day.flagged:
        yield "  flagged:"
        yield from (f"    {flow(rule)}: {flow(list(names))}" for rule, names in day.flagged.items())
    if day.plan_text:
        yield from _plan(day.plan_text)


def _plan(text: str) -> Iterator[str]:
    """The plan's text as a block, or in quotes where a block would not keep every sign."""
    if UNLIKELY.search(text) or not text.strip() or text.startswith((" ", "\n")):
        yield f"  plan text: {flow(text)}"
        return
    ends = len(text) - len(text.rstrip("\n"))
    yield f"  plan text: |{'-' if ends == 0 else '' if ends == 1 else '+'}"
    body = text.removesuffix("\n") if ends else text
    yield from (f"    {line}" if line else "" for line in body.split("\n"))
