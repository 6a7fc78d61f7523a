"""Texts of the rulebook that were ever released, as fingerprints: what tells a copy from a maker's change.

``released.json``, made by ``python -m blendwise.records.layer.make_released``:
release → ``files`` (name → fingerprint of the bytes) and ``rules``, ``pours``, ``scales``, ``symptoms``
(name → ``Text``).  A fingerprint is of what the reader makes of an entry: remarks and white space do not
count.  Its ``shape`` is the fingerprint with every number blanked, so that a change of numbers alone is seen.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

DATA: Final = Path(__file__).with_name("released.json")
DIGITS: Final = 16
DEMAND: Final = ("looks at", "when", "must", "protects")
"""What of a rule says when it is broken; its level, its words and its proofs stand beside."""
_NUMBER: Final = re.compile(r"[-−]?\d+(?:[.,]\d+)?(?:\s+to\s+[-−]?\d+(?:[.,]\d+)?)?")


@dataclass(frozen=True, slots=True)
class Text:
    """One released entry: fingerprint, shape, level (of a rule), and the texts with numbers, in order."""

    print: str
    shape: str
    level: str
    leaves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Release:
    """All entries of one release by kind and name, and the bytes of its files."""

    files: Mapping[str, str]
    texts: Mapping[str, Mapping[str, Text]]


def fingerprint(tree: Any) -> str:
    """A name for exactly this content: keys in any order, white space inside texts folded."""
    said = json.dumps(_folded(tree), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(said.encode()).hexdigest()[:DIGITS]


def of_bytes(data: bytes) -> str:
    """A name for the bytes of a file, ends of lines as on any system."""
    return hashlib.sha256(data.replace(b"\r\n", b"\n")).hexdigest()[:DIGITS]


def text_of(tree: Mapping[str, Any], kind: str) -> Text:
    """An entry as it is compared; of a rule the shape is that of its demand alone."""
    demand = {key: tree[key] for key in DEMAND if key in tree} if kind == "rules" else tree
    level = str(tree.get("else", "")) if kind == "rules" else ""
    texts = tuple(text for _, text in leaves(demand) if _NUMBER.search(text)) if kind != "symptoms" else ()
    return Text(fingerprint(tree), fingerprint(_blanked(demand)), level, texts)


def leaves(tree: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Every text of a tree with its path, keys in their alphabet's order."""
    if isinstance(tree, Mapping):
        for key in sorted(tree):
            yield from leaves(tree[key], (*path, key))
    elif isinstance(tree, list):
        for index, each in enumerate(tree):
            yield from leaves(each, (*path, index))
    else:
        yield path, " ".join(str(tree).split())


def numbered(tree: Mapping[str, Any], kind: str) -> list[tuple[tuple[str | int, ...], str]]:
    """The texts with numbers of an entry, in the order of ``Text.leaves``, with their paths."""
    demand = {key: tree[key] for key in DEMAND if key in tree} if kind == "rules" else tree
    return [(path, text) for path, text in leaves(demand) if _NUMBER.search(text)]


def _folded(tree: Any) -> Any:
    if isinstance(tree, Mapping):
        return {str(key): _folded(each) for key, each in tree.items()}
    if isinstance(tree, list):
        return [_folded(each) for each in tree]
    return " ".join(str(tree).split())


def _blanked(tree: Any) -> Any:
    if isinstance(tree, Mapping):
        return {str(key): _blanked(each) for key, each in tree.items()}
    if isinstance(tree, list):
        return [_blanked(each) for each in tree]
    return _NUMBER.sub("#", " ".join(str(tree).split()))


@cache
def releases() -> tuple[Release, ...]:
    """Every release that left copies in books."""
    read = json.loads(DATA.read_text("utf-8"))
    return tuple(
        Release(said["files"], {kind: _texts(held) for kind, held in said["texts"].items()})
        for said in read.values()
    )


def _texts(held: Mapping[str, list[Any]]) -> dict[str, Text]:
    return {
        name: Text(print_, shape, level, tuple(texts)) for name, (print_, shape, level, texts) in held.items()
    }


def is_released_file(name: str, data: bytes) -> bool:
    """Whether a file is to the byte one that a release wrote into a new book."""
    print_ = of_bytes(data)
    return any(release.files.get(name) == print_ for release in releases())


def released(kind: str, name: str) -> list[Text]:
    """Every text that was ever released for an entry, the newest last."""
    found = (release.texts[kind].get(name) for release in releases())
    return [text for text in found if text is not None]
