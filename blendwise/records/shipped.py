"""The package's own files: read and validated once in a process, and again only where one was changed."""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from blendwise.records.reading.document import Document, read_document

if TYPE_CHECKING:
    from blendwise.records.kinds.rule import RuleEntry

State = tuple[tuple[str, int, int], ...]


def starter_folder(name: str) -> Path:
    """The shipped ``rules`` or ``demo_catalog``: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "starter" / name
    return inside if inside.is_dir() else package.parent / name


def shipped_rules() -> tuple[RuleEntry, ...]:
    """The rules of the package; RecordError where they cannot be read."""
    return _rules(*_now())


def shipped_document(name: str) -> Document:
    """A file of the package's rulebook, such as ``pours.yaml``."""
    return _documents(*_now(), name)


def _now() -> tuple[Path, State]:
    """The rulebook's folder, and each file there with its time in ns and size in bytes."""
    folder = starter_folder("rules")
    files = sorted(os.scandir(folder), key=lambda entry: entry.name)
    return folder, tuple((each.name, each.stat().st_mtime_ns, each.stat().st_size) for each in files)


@lru_cache(maxsize=1)
def _rules(folder: Path, _state: State) -> tuple[RuleEntry, ...]:
    from blendwise.records.kinds.rule import load_rule_files

    return tuple(load_rule_files(folder))


@lru_cache(maxsize=4)
def _documents(folder: Path, _state: State, name: str) -> Document:
    return read_document(folder / name)
