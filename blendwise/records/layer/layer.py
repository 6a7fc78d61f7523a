"""A book's layer over the package's rulebook: what counts of it, and what is told of the rest."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.rule import LEVEL_WORDS, AdjustRecord, RuleEntry, entries_in
from blendwise.records.kinds.scales import Scales
from blendwise.records.layer.aside import Aside
from blendwise.records.layer.own_files import OwnFile, not_read, own_files
from blendwise.records.place import Fault, RecordError, read_fault
from blendwise.records.reading.document import Document, mapping_entries, read_document, validated
from blendwise.records.reading.nodes import copied, read_bytes

if TYPE_CHECKING:
    from blendwise.records.layer.copies import Copies, Figure


@dataclass(frozen=True, slots=True)
class OwnLayer:
    """The maker's entries, adjustments found in copies, files of pours and scales, and what is told.

    ``figures``: numbers changed in copied pours and scales, by kind.
    """

    rules: tuple[RuleEntry, ...] = ()
    copied: tuple[AdjustRecord, ...] = ()
    pours: tuple[Document, ...] = ()
    scales: tuple[Document, ...] = ()
    figures: Mapping[str, list[Figure]] | None = None
    asides: tuple[Aside, ...] = ()


def read_own_layer(book: Path) -> OwnLayer:
    """Read a book's ``rules/``.  A bad rule stops nothing: it is told, and counts as a stop if it may be one.

    RecordError where the maker's own pours or scales cannot be read.
    """
    files = own_files(book)
    mine = [file for file in files if file.layer == "mine"]
    copies = _compared([file for file in files if file.layer == "copy" and file.kind != "symptoms"], book)
    entries: list[RuleEntry] = []
    asides = [*(copies.asides if copies else ()), *_unread(files, book)]
    for file in mine:
        if file.kind == "rules":
            read, told = _rules(file, book)
            entries += read
            asides += told
    return OwnLayer(
        tuple(entries),
        tuple(copies.rules) if copies else (),
        tuple(read_document(file.path, bare=True) for file in mine if file.kind == "pours"),
        tuple(read_document(file.path, bare=True) for file in mine if file.kind == "scales"),
        copies.figures if copies else {},
        tuple(asides),
    )


def _compared(files: list[OwnFile], book: Path) -> Copies | None:
    """What was changed in copies that 0.1.0 made; None, and nothing loaded for it, where there are none."""
    if not files:
        return None
    from blendwise.records.layer.copies import compare

    return compare(files, book)


def _unread(files: list[OwnFile], book: Path) -> list[Aside]:
    return [
        not_read(file.path, book)
        for file in files
        if file.layer == "unread" and not _readme_of_0_1_0(file.path)
    ]


def _readme_of_0_1_0(path: Path) -> bool:
    from blendwise.records.layer.released import is_released_file

    try:
        return is_released_file(f"{path.parent.name}/{path.name}", read_bytes(path))
    except RecordError:
        return False


def _rules(file: OwnFile, book: Path) -> tuple[list[RuleEntry], list[Aside]]:
    """The entries of one file of the maker's that can be read, and what is told of the others."""
    name = file.path.relative_to(book).as_posix() if file.path.is_relative_to(book) else file.path.name
    try:
        read, bad = entries_in(read_document(file.path, bare=True))
    except RecordError as error:
        place, told = error.faults[0].place, error.faults[:2]  # one slip often leaves a second behind it
        message, remedy = (" ".join(filter(None, texts)) for texts in zip(*map(_texts, told), strict=True))
        return [], [Aside("cannot be read", "file", name, place, stop=True, message=message, remedy=remedy)]
    for entry in read:
        entry._mine = True
    return read, [unreadable(each.tree, each.faults[0]) for each in bad]


def _texts(fault: Fault) -> tuple[str, str]:
    return fault.message, fault.remedy


def unreadable(tree: object, fault: Fault) -> Aside:
    """An entry that cannot be read: it counts as a stop where its level says so, or cannot be read itself.

    A line that only loosens (``off``) or adjusts guards nothing by itself unless it says ``stop``.
    """
    said = tree if isinstance(tree, dict) else {}
    name = next((str(said[verb]) for verb in ("rule", "replace", "adjust", "off") if verb in said), "")
    level = next((each for each in (said.get("else"), said.get("to")) if each in LEVEL_WORDS), "")
    changes_only = "off" in said or ("adjust" in said and isinstance(said.get("to"), dict))
    stop = level == "stop" or (not level and not changes_only)
    return Aside("cannot be read", "rule", name, fault.place, level, True, stop, fault.message, fault.remedy)


def pours_of(shipped: Document, own: OwnLayer) -> tuple[dict[str, PourStyle], dict[str, PourStyle]]:
    """(pours that count, the package's); a maker's entry changes single fields of a pour, or adds one."""
    package = {
        name: validated(PourStyle, shipped, (name,), {"name": name})
        for name in mapping_entries(shipped, "pour styles")
    }
    trees: dict[str, dict[str, Any]] = copied(shipped.root.plain)
    found = dict(package)
    for figure in (own.figures or {}).get("pours", []):
        name = figure.entry.name
        if name in trees:
            _put(trees[name], figure.steps, figure.text)
            found[name] = validated(PourStyle, figure.doc, figure.entry.path, {"name": name}, trees[name])
    for doc in own.pours:
        for name in mapping_entries(doc, "pour styles"):
            found[name] = validated(PourStyle, doc, (name,), {"name": name}, trees.get(name))
    return found, package


def scales_of(shipped: Document, own: OwnLayer) -> tuple[Scales, Document]:
    """The scales that count and their document, whose fingerprint follows them."""
    figures = (own.figures or {}).get("scales", [])
    if not figures and not own.scales:
        return validated(Scales, shipped), shipped
    tree = copied(shipped.root.plain)
    for figure in figures:
        _put(_entry_at(tree, figure.entry.name), figure.steps, figure.text)
    scales = _copied_scales(shipped, tree, figures)
    for doc in own.scales:
        _over(tree, doc)
        scales = validated(Scales, doc, (), None, tree)
    print_ = hashlib.sha256(json.dumps(tree, sort_keys=True).encode()).hexdigest()
    return scales, replace(shipped, fingerprint=print_)


def _copied_scales(shipped: Document, tree: dict[str, Any], figures: list[Figure]) -> Scales:
    if not figures:
        return validated(Scales, shipped)
    return validated(Scales, figures[-1].doc, (), None, tree)


def _entry_at(tree: dict[str, Any], name: str) -> Any:
    """The entry "bands/ivory" of a tree of scales; an empty one to write into where there is none."""
    scale, _, word = name.partition("/")
    held = tree.get(scale)
    if isinstance(held, list):
        return next((each for each in held if each.get("word") == word), {})
    return held.get(word, {}) if isinstance(held, dict) else {}


def _over(tree: dict[str, Any], doc: Document) -> None:
    """Lay the maker's words over the package's, field by field."""
    own = copied(doc.root.plain)
    if not isinstance(own, dict):
        raise read_fault(doc.file, "The file of scales is a mapping.", "Begin it with `bands:`.")
    for scale, held in own.items():
        if isinstance(held, list) and isinstance(tree.get(scale), list):
            for each in held:
                known = _entry_at(tree, f"{scale}/{each.get('word', '')}") if isinstance(each, dict) else {}
                known.update(each if isinstance(each, dict) else {})
        elif isinstance(held, dict) and isinstance(tree.get(scale), dict):
            for word, fields in held.items():
                known = tree[scale].get(word)
                tree[scale][word] = {**known, **fields} if _both(known, fields) else fields
        else:
            tree[scale] = held


def _both(one: object, other: object) -> bool:
    return isinstance(one, dict) and isinstance(other, dict)


def _put(tree: Any, steps: tuple[str | int, ...], text: str) -> None:
    *outer, last = steps
    for step in outer:
        tree = tree[step]
    tree[last] = text
