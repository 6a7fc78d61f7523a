"""Schemas beside a book, and the line by which an editor finds the one of a file.

A book keeps them in ``.schemas/``, a file a kind, and every file of the book may begin with a comment that
names its own by a path that is right wherever the book is moved to.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Final

from blendwise.records.place import read_fault
from blendwise.records.writing.write import write_new

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
    older = [file for kind, file in files.items() if _is_ours(file, kind)]
    for file in older:
        file.unlink()
    for kind, file in files.items():
        write_new(file, schema_text(kind))
    return list(files.values())


def _is_ours(file: Path, kind: str) -> bool:
    """Whether a file is an older schema of this kind; RecordError where it is something else."""
    if not (file.exists() or file.is_symlink()):
        return False
    try:
        title = json.loads(file.read_text("utf-8"))["title"]
    except (OSError, ValueError, KeyError, TypeError):
        title = ""
    if title != f"Blendwise {kind}":
        raise read_fault(file, "This file is no schema of ours.", "Nothing is written over; choose a folder.")
    return True
