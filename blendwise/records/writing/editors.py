"""Schemas beside a book, and the line by which an editor finds the one of a file.

A book keeps them in ``.schemas/``, a file a kind, and every file of the book may begin with a comment that
names its own by a path that is right wherever the book is moved to.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Final

from blendwise.records.place import read_fault
from blendwise.records.writing.write import put_whole

FOLDER: Final = ".schemas"
MARK: Final = "# yaml-language-server: $schema="


def schema_line(kind: str, depth: int = 0) -> str:
    """The comment that names a kind's schema, for a file ``depth`` folders inside its book."""
    return f"{MARK}{'../' * depth}{FOLDER}/{kind}.json"


def with_schema_line(text: str, kind: str, depth: int = 0) -> str:
    """The text of a file with the line for its schema at its head (as it is where it has one)."""
    return text if MARK in text else f"{schema_line(kind, depth)}\n{text}"


def for_editors(text: str, kind: str, file: Path) -> str:
    """As ``with_schema_line``, where the book that ``file`` lies in a folder of keeps its schemas."""
    kept = file.absolute().parent.parent / FOLDER / f"{kind}.json"
    return with_schema_line(text, kind, 1) if kept.is_file() else text


def schema_text(kind: str) -> str:
    """A kind's schema as it stands in a file."""
    from blendwise.records.reading.schema import schema

    return json.dumps(schema(kind), indent=1, ensure_ascii=False) + "\n"


def write_schemas(folder: Path) -> list[Path]:
    """Write the schema of every kind of file into a folder, over older ones of ours and nothing else.

    Returns the files.  RecordError where a file of such a name is no schema of ours, or nothing can be
    written.
    """
    from blendwise.records.reading.schema import KINDS

    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise read_fault(folder, f"The folder cannot be made: {reason}.") from None
    files = {kind: folder / f"{kind}.json" for kind in KINDS}
    for kind, file in files.items():
        _none_but_ours(file, kind)
    for kind, file in files.items():
        put_whole(file, schema_text(kind).encode("utf-8"))
    return list(files.values())


def _none_but_ours(file: Path, kind: str) -> None:
    """RecordError where a file stands there that is no older schema of this kind."""
    if not (file.exists() or file.is_symlink()):
        return
    try:
        title = json.loads(file.read_text("utf-8"))["title"]
    except (OSError, ValueError, KeyError, TypeError):
        title = ""
    if title != f"Blendwise {kind}":
        raise read_fault(file, "This file is no schema of ours.", "Nothing is written over; choose a folder.")
