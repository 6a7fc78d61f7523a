"""The files of the notes, read as bytes, and a fingerprint of them all."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from blendwise.records.nodes import read_bytes
from blendwise.records.place import Fault, Place, RecordError

FORMAT: Final = "notes/1"


def notes_fingerprint(folder: Path) -> str:
    """The fingerprint that ``read_notebook`` would give, without reading what the notes say."""
    whole = hashlib.sha256(FORMAT.encode())
    for name, data in note_files(folder / "notes", []):
        whole.update(f"{name} {hashlib.sha256(data).hexdigest()}\n".encode())
    return whole.hexdigest()


def note_files(folder: Path, faults: list[Fault]) -> Iterator[tuple[str, bytes]]:
    try:
        names = sorted(name for name in os.listdir(folder) if name.endswith(".yaml"))
    except FileNotFoundError:
        return
    except OSError as error:
        faults.append(Fault(Place(folder), f"The notes cannot be read: {error.strerror or error}."))
        return
    for name in names:
        try:
            yield name, read_bytes(folder / name)
        except RecordError as error:
            faults.extend(error.faults)
