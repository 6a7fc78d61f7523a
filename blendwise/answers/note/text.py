"""The text of a note, as a maker could have typed it, read again before it is used; and its file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence, Set
from pathlib import Path
from typing import Final, TypeAlias

from blendwise.answers.note.frozen import Day
from blendwise.answers.refusals import NotAskable
from blendwise.records.notes.note import LOOKS, Note
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document, validated
from blendwise.records.writing.edit import flow
from blendwise.records.writing.write import write_new

Field: TypeAlias = "str | Sequence[str] | Mapping[str, str] | Mapping[str, Mapping[str, str]]"
MOST_OF_A_NAME: Final = 99
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


def note_name(fields: Mapping[str, Field], number: int) -> str:
    """Day, plan, version and look (none of a cup set out); a number where the name is taken."""
    parts = [fields["on"], fields["plan"], fields["variation"], str(fields["look"]).removeprefix("at the ")]
    parts = parts[:-1] if _set_out(fields) else parts
    name = "-".join(str(part).replace(" ", "-") for part in parts if part)
    plain = "".join(sign if sign.isalnum() or sign in "-_" else "-" for sign in name)[:110]
    return plain if number == 1 else f"{plain}-{number}"


def _set_out(fields: Mapping[str, Field]) -> bool:
    return bool(fields.get("test cup")) and not fields.get("portions") and not fields.get("after")


def write_note(
    folder: Path, fields: dict[str, Field], day: Day | None, dry_run: bool, known: Set[str]
) -> tuple[str, Path, str]:
    """Give the note a free name and write it: (name, file, text).  Never replaces anything.

    NotAskable where another run has noted the same first look meanwhile (a file that is not among
    ``known``): a batch is poured once, any other look is a look more.
    """
    notes = folder / "notes"
    if not dry_run:
        notes.mkdir(exist_ok=True)
    for number in range(1, MOST_OF_A_NAME + 1):
        name = note_name(fields, number)
        file = notes / f"{name}.yaml"
        taken = file.exists() or file.is_symlink()
        if taken and (file.name in known or fields["look"] != LOOKS[0]):
            continue
        text = note_text({"note": name, **fields}, day)
        if dry_run:
            return name, file, text
        if _wrote(file, text):
            return name, file, text
        if fields["look"] == LOOKS[0]:
            raise NotAskable(
                f'"{name}" has just been written by another run.',
                "Look at it; another batch of the same day is named with --batch CODE.",
            )
    raise NotAskable("There are too many notes of this look.", "Look whether one was meant to be corrected.")


def _wrote(file: Path, text: str) -> bool:
    """Whether the new file was written; False where somebody else has just taken its name."""
    try:
        write_new(file, text)
    except RecordError:
        if file.exists():
            return False
        raise
    return True
