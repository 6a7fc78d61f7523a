"""A file read as nodes, validated by a model, with every fault led back to its line."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any, Final, TypeVar

from pydantic import BaseModel, ValidationError

from blendwise.records.place import Fault, Place, RecordError, read_fault
from blendwise.records.reading.complaints import complaint
from blendwise.records.reading.nodes import Node, decode, parse_nodes, read_bytes
from blendwise.records.reading.record import SPELLINGS, Record

R = TypeVar("R", bound=Record)
Path_ = Sequence[str | int]
_SPELT = {inside: typed for typed, inside in SPELLINGS.items()}


@dataclass(frozen=True, slots=True)
class Document:
    """A file's text, its nodes and a fingerprint of its bytes (sha256, hexadecimal)."""

    file: Path
    text: str
    root: Node
    fingerprint: str = ""
    faults: list[Fault] = field(default_factory=list, compare=False)

    def node(self, *path: str | int) -> Node:
        """The deepest node along ``path``; steps that are not in the file are passed over."""
        return self._walk(path)[0]

    def place(self, *path: str | int) -> Place:
        """Where the value at ``path`` begins, or the nearest thing above it that is written."""
        found = self._walk(path)[0]
        return Place(self.file, found.line, found.column)

    def key_place(self, *path: str | int) -> Place:
        """Where the name at the end of ``path`` is written (its value's place where it has no name)."""
        found = self._walk(path)[1]
        return Place(self.file, found.line, found.column)

    def _walk(self, path: Path_) -> tuple[Node, Node]:
        node, key = self.root, self.root
        for step in path:
            children = node.children or {}
            typed = step if step in children else _SPELT.get(str(step), step)
            if typed in children:
                key = (node.keys or {}).get(str(typed), children[typed])
                node = children[typed]
        return node, key


def read_document(file: Path, bare: bool = False) -> Document:
    """Read a file of at most 2 MB as a document; RecordError where it cannot be.

    ``bare``: a file without entries (remarks alone, or nothing) is an empty mapping rather than a fault.
    """
    data = read_bytes(file)
    text = decode(data, file)
    return Document(file, text, _nodes(text, file, bare), hashlib.sha256(data).hexdigest())


def _nodes(text: str, file: Path, bare: bool) -> Node:
    """The nodes of a text, which nobody changes: read once in a process as long as it stays as it is."""
    try:
        return _read_already(text, bare)
    except RecordError:
        return parse_nodes(text, file, bare)  # the same faults, in the file of this name


@lru_cache(maxsize=24)
def _read_already(text: str, bare: bool) -> Node:
    return parse_nodes(text, Path(), bare)


IN_MEMORY: Final = Path("text")
"""What faults call the file of a text that stands in none."""


def text_document(text: str, file: Path = IN_MEMORY) -> Document:
    """A document from a text in memory, under a file name of your choice."""
    return Document(file, text, parse_nodes(text, file), hashlib.sha256(text.encode()).hexdigest())


def validated(
    model: type[R],
    doc: Document,
    path: Path_ = (),
    extra: Mapping[str, str] | None = None,
    under: Mapping[str, Any] | None = None,
) -> R:
    """The record at ``path`` of a document; ``extra`` are fields that the file holds elsewhere (a key).

    ``under``: fields that stand unless the document says otherwise (of the file as a whole: instead of it).

    Raises RecordError with all faults found in this record, each at its own line and column.
    """
    node = doc.node(*path)
    data = node.plain
    if extra:
        data = _with_fields(model, doc, path, data, extra)
        data = {**(under or {}), **extra, **data}
    elif under is not None:
        data = under
    try:
        found = model.model_validate(data)
    except ValidationError as error:
        raise RecordError(_faults(error, model, doc, path)) from None
    set_places(found, node, doc.file)
    return found


def _with_fields(
    model: type[Record], doc: Document, path: Path_, data: Any, extra: Mapping[str, str]
) -> dict[Any, Any]:
    """The fields of an entry, those of its heading still apart; RecordError where it has none of its own."""
    if isinstance(data, str) and model.shorthand is not None and path:
        data = {model.shorthand: data}
    if not isinstance(data, dict):
        message = f'"{path[-1]}" must have fields below it.' if path else "Fields must stand here."
        raise RecordError([Fault(doc.place(*path), message, "Write them as `name: value`.")])
    if clash := extra.keys() & data.keys():
        name = clash.pop()
        message = f'"{name}" is already the heading of this entry.'
        raise RecordError([Fault(doc.key_place(*path, name), message, "Take this line out.")])
    return data


def _faults(error: ValidationError, model: type[Record], doc: Document, path: Path_) -> list[Fault]:
    found = []
    for item in error.errors(include_url=False, include_input=True):
        message, remedy, below, at_key = complaint(item, model)
        where = (*path, *item["loc"], *below)
        place = doc.key_place(*where) if at_key else doc.place(*where)
        found.append(Fault(place, message, remedy))
    return found


def set_places(record: Record, node: Node, file: Path) -> None:
    """Tell a record, and every record below it, where it is written."""
    todo: list[tuple[Any, Node]] = [(record, node)]
    while todo:
        value, at = todo.pop()
        if isinstance(value, Record):
            value._place = Place(file, at.line, at.column)
            fields = type(value).model_fields
            for name, child in value.__dict__.items():
                if isinstance(child, (BaseModel, list, dict, tuple)):
                    todo.append((child, _below(at, fields[name].alias or name)))
        elif isinstance(value, dict):
            todo.extend((child, _below(at, key)) for key, child in value.items())
        elif isinstance(value, (list, tuple)):
            todo.extend((child, _below(at, index)) for index, child in enumerate(value))


def _below(node: Node, step: str | int) -> Node:
    children = node.children or {}
    return children.get(step) or children.get(_SPELT.get(str(step), step)) or node


def mapping_entries(doc: Document, what: str) -> list[str]:
    """The names in a document that is one mapping of entries; RecordError where it is something else."""
    if not isinstance(doc.root.plain, dict):
        raise read_fault(
            doc.file, f"The file must list {what} by name.", "Write `name:` and its fields below it."
        )
    return list(doc.root.plain)
