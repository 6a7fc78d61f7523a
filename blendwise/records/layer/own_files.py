"""The files under a book's ``rules/``: the maker's own, copies that 0.1.0 made, and what is not read.

``rules/mine/**`` holds the maker's layer, in files that end in ``.yaml`` or ``.yml``.  Files of rules
directly in ``rules/`` are copies of a release, to be compared with it.  All else is named.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from blendwise.records.kinds.rule import MINE
from blendwise.records.layer.aside import Aside
from blendwise.records.place import Place, RecordError
from blendwise.records.reading.nodes import read_bytes

Layer = Literal["mine", "copy", "unread"]
Kind = Literal["rules", "pours", "scales", "symptoms"]
RULES: Final = "rules"
KINDS: Final[dict[str, Kind]] = {"pours": "pours", "scales": "scales", "symptoms": "symptoms"}
DEEPEST: Final = 8
MOST_FILES: Final = 2_000
SYSTEMS_OWN: Final = frozenset({".ds_store", "thumbs.db", "desktop.ini", ".gitkeep", ".gitignore"})
_RULE: Final = re.compile(rb"""\b(?:rule|replace|adjust)["']?\s*:""", re.IGNORECASE)
_STOP: Final = re.compile(rb"\bstop\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class OwnFile:
    """One file under ``rules/``: its layer, and what it holds."""

    path: Path
    layer: Layer
    kind: Kind = "rules"


def own_files(book: Path) -> list[OwnFile]:
    """Every file under the book's ``rules/`` by name, whatever its ending; ``rules`` in any letters."""
    return [
        _sorted_out(path, steps) for folder in _named(book, RULES) for path, steps in _walk(folder, (), set())
    ]


def begun_before(book: Path) -> bool:
    """Whether a book's ``rules/`` still holds files by the names of those that a release copied there."""
    copies = [file for file in own_files(book) if file.layer == "copy"]
    if not copies:
        return False
    from blendwise.records.layer.released import releases

    return any(file.path.name in release.files for file in copies for release in releases())


def _named(folder: Path, name: str) -> list[Path]:
    """Folders of a name, whatever its capitals."""
    try:
        with os.scandir(folder) as found:
            return sorted(Path(each.path) for each in found if each.name.casefold() == name and each.is_dir())
    except OSError:
        return []


def _walk(
    folder: Path, steps: tuple[str, ...], seen: set[tuple[int, int]]
) -> Iterator[tuple[Path, tuple[str, ...]]]:
    """Files with the folders above them, links followed, each folder once."""
    try:
        status = folder.stat()
        with os.scandir(folder) as found:
            inside = sorted(found, key=lambda each: each.name)
    except OSError:
        yield folder, steps
        return
    key = (status.st_dev, status.st_ino)
    if key in seen or len(steps) > DEEPEST:
        return
    seen.add(key)
    for each in inside[:MOST_FILES]:
        if each.is_dir():
            yield from _walk(folder / each.name, (*steps, each.name), seen)
        elif each.name.casefold() not in SYSTEMS_OWN:
            yield folder / each.name, steps


def _sorted_out(path: Path, steps: tuple[str, ...]) -> OwnFile:
    readable = path.suffix.casefold() in (".yaml", ".yml") and not path.name.startswith(".")
    kind = KINDS.get(path.stem.casefold(), "rules")
    if readable and steps and steps[0].casefold() == MINE:
        return OwnFile(path, "mine", kind)
    return OwnFile(path, "copy" if readable and not steps else "unread", kind)


def not_read(path: Path, book: Path, message: str = "", remedy: str = "") -> Aside:
    """That a file is not read; told by every check where it may hold a stop."""
    name = path.relative_to(book).as_posix() if path.is_relative_to(book) else path.as_posix()
    return Aside(
        "file not read", "file", name, Place(path), told=_may_stop(path), message=message, remedy=remedy
    )


def _may_stop(path: Path) -> bool:
    """Whether a file may hold a rule at stop, in whatever way it is written down."""
    try:
        data = read_bytes(path).replace(b"\0", b"")  # UTF-16 as well
    except RecordError:
        return path.suffix.casefold() in (".yaml", ".yml")
    return bool(_RULE.search(data) and _STOP.search(data))
