"""The files of the notes, read as bytes, and a fingerprint of them all."""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Iterator
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Final

from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.nodes import read_bytes

FORMAT: Final = "notes/4"
A_MOMENT: Final = 2_000_000_000  # nanoseconds


def notes_fingerprint(folder: Path) -> str:
    """The fingerprint that ``read_notebook`` would give, without reading what the notes say."""
    whole = hashlib.sha256(FORMAT.encode())
    for name, digest in _digests(folder / "notes"):
        whole.update(f"{name} {digest}\n".encode())
    return whole.hexdigest()


def _digests(folder: Path) -> Iterator[tuple[str, str]]:
    """The digest of every note, in order; a file that has not changed since is not read twice in a run.

    One that changed a moment ago is: clocks of file systems are too coarse to tell two such changes apart.
    """
    moment = time.time_ns() - A_MOMENT
    try:
        with os.scandir(folder) as found:
            entries = sorted((each.name, each) for each in found if each.name.endswith(".yaml"))
    except OSError:
        return
    for name, entry in entries:
        with suppress(RecordError, OSError):
            told = entry.stat()
            digest = _digest if told.st_mtime_ns < moment else _digest.__wrapped__
            yield name, digest(entry.path, told.st_mtime_ns, told.st_size, told.st_ino)


@lru_cache(maxsize=4096)
def _digest(file: str, changed: int, size: int, number: int) -> str:
    return hashlib.sha256(read_bytes(Path(file))).hexdigest()


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
