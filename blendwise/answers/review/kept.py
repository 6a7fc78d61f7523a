"""A whole review, worked out once and kept in the user's cache folder.

It is found by a fingerprint of everything that it hangs on: every note's bytes, every file of the book and
of its rules, the package's own files, the day, and what was asked.  What is kept is typed when it is read;
where anything differs, or a note cannot be read, it is worked out anew from the files.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Final, get_type_hints

from pydantic import BaseModel, ConfigDict, ValidationError, create_model

from blendwise.answers.review.result import ReviewResult
from blendwise.records.book import BookFiles
from blendwise.records.layer.own_files import own_files
from blendwise.records.notes.note_files import notes_fingerprint
from blendwise.records.place import RecordError
from blendwise.records.reading.nodes import read_bytes
from blendwise.records.shipped import starter_folder
from blendwise.records.writing.cache import cached, keep

FORMAT: Final = "review/1"
INSIDE: Final = "units"
"""What the book says at once and is not kept."""
Worked = Callable[[], tuple[ReviewResult, str]]


def kept_review(book: BookFiles, today: date, plan: str | None, work_out: Worked) -> ReviewResult:
    """The review as it was kept, else as ``work_out`` gives it, with the fingerprint of the notes it read.

    An empty fingerprint: something could not be read, and nothing is kept.
    """
    name = f"{hashlib.sha256(f'{book.folder.resolve()} {plan}'.encode()).hexdigest()[:24]}-review.json"
    found = cached(name)
    if isinstance(found, dict):
        state = _state(book, today, plan, notes_fingerprint(book.folder))
        result = review_from(found.get("review")) if state and found.get("state") == state else None
        if result is not None:
            return replace(result, units=book.usual.units)
    result, notes = work_out()
    state = _state(book, today, plan, notes) if notes else ""
    if state:
        keep(name, {"state": state, "review": plain_review(result)})
    return result


@cache
def _form() -> type[BaseModel]:
    """The fields of a review that are kept, with their types."""
    kept = {name: (kind, ...) for name, kind in get_type_hints(ReviewResult).items() if name in _kept()}
    made: type[BaseModel] = create_model("Kept", __config__=ConfigDict(extra="forbid"), **kept)  # type: ignore[call-overload]
    return made


@cache
def _kept() -> tuple[str, ...]:
    return tuple(each.name for each in fields(ReviewResult) if each.name != INSIDE)


def plain_review(result: ReviewResult) -> dict[str, Any]:
    """A review as plain values that JSON keeps."""
    said = {name: getattr(result, name) for name in _kept()}
    return _form().model_construct(**said).model_dump(mode="json", warnings="error")


def review_from(plain: Any) -> ReviewResult | None:
    """The review that was kept; None where it is something else."""
    try:
        found = _form().model_validate(plain)
    except ValidationError:
        return None
    return ReviewResult(**{name: getattr(found, name) for name in _kept()})


def _state(book: BookFiles, today: date, plan: str | None, notes: str) -> str:
    """A name for everything that a review hangs on; empty where a file of the rules cannot be read."""
    whole = hashlib.sha256("\n".join((FORMAT, today.isoformat(), str(plan), notes)).encode())
    for name, doc in sorted(book.docs.items()):
        whole.update(f"{name} {doc.fingerprint}\n".encode())
    try:
        for each in own_files(book.folder):
            digest = hashlib.sha256(read_bytes(each.path)).hexdigest()
            whole.update(f"{each.path} {digest}\n".encode())
    except RecordError:
        return ""
    for folder in (Path(__file__).resolve().parents[2], starter_folder("rules")):
        whole.update("\n".join(_files(folder)).encode())
    return whole.hexdigest()


def _files(folder: Path) -> Iterator[str]:
    """Names, sizes and times of a folder's files: who changes the code need not think of this."""
    for path, inner, names in os.walk(folder):
        inner[:] = sorted(name for name in inner if name != "__pycache__")
        for name in sorted(names):
            told = os.stat(os.path.join(path, name))
            yield f"{path} {name} {told.st_size} {told.st_mtime_ns}"
