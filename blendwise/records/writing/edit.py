"""Byte-true edits of a maker's file: one value replaced, one entry added; every other byte stays.

Each function returns a new document in memory with the fingerprint of the file it came from; ``save``
writes it only where the file on disk is still that one.  Every edit is read again before it is returned:
if anything but the wanted change came out, nothing is changed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final, TypeAlias

from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.document import Document
from blendwise.records.reading.nodes import BOM, Node, copied, parse_nodes, read_bytes
from blendwise.records.writing.write import replace_whole

Plain: TypeAlias = "str | Mapping[str, Plain] | Sequence[Plain]"
Path_ = tuple[str | int, ...]
_BARE: Final = re.compile(r"[^\W_](?:[\w °%./+-]*[\w°%.])?")
_ESCAPES: Final = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def flow(value: Plain) -> str:
    """A value on one line of YAML, in quotes where needed: ``{on: 2026-02-11, what: "So: clean."}``."""
    if isinstance(value, str):
        return _scalar(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_scalar(key)}: {flow(item)}" for key, item in value.items()) + "}"
    return "[" + ", ".join(flow(item) for item in value) + "]"


def _scalar(text: str) -> str:
    if _BARE.fullmatch(text):
        return text
    return '"' + "".join(_escaped(sign) for sign in text) + '"'


def _escaped(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    return sign if sign.isprintable() else f"\\U{ord(sign):08x}"


def set_value(doc: Document, path: Path_, value: str) -> Document:
    """Replace the single text at ``path``; RecordError where there is none or it has several lines."""
    return set_values(doc, {path: value})


def set_values(doc: Document, values: Mapping[Path_, str]) -> Document:
    """Replace several single texts, each at its path, and read once; RecordError as ``set_value``."""
    if not values:
        return doc
    nodes = {path: _single(doc, path) for path in values}
    text, wanted = doc.text, copied(doc.root.plain)
    for path, node in sorted(nodes.items(), key=lambda item: -item[1].start):
        text = text[: node.start] + flow(values[path]) + text[node.end :]
        if path:
            _at(wanted, path[:-1])[path[-1]] = values[path]
        else:
            wanted = values[path]
    return _read_again(doc, text, wanted, next(iter(nodes.values())).start)


def _single(doc: Document, path: Path_) -> Node:
    """The single text of one line at a path; RecordError where there is none."""
    node = _exactly(doc, path)
    if not node.is_scalar:
        raise _refused(doc, node, "This is not a single value.")
    if node.style in ("|", ">") or "\n" in doc.text[node.start : node.end]:
        raise _refused(doc, node, "This text runs over several lines.")
    return node


def add_field(doc: Document, path: Path_, key: str, value: Plain) -> Document:
    """Add ``key: value`` last in the mapping at ``path``; RecordError where the key is there already."""
    node = _exactly(doc, path)
    if node.keys is None:
        raise _refused(doc, node, "This is not a mapping.")
    if key in node.keys:
        raise _refused(doc, node.keys[key], f'"{key}" is there already.')

    def change(plain: Any) -> Any:
        _at(plain, path)[key] = copied(value)
        return plain

    if node.flow:
        return _into_flow(doc, node, f"{_scalar(key)}: {flow(value)}", change)
    first = next(iter(node.keys.values()))
    return _below(doc, node, _field_lines(key, value, " " * (first.column - 1)), change)


def _field_lines(key: str, value: Plain, indent: str) -> list[str]:
    """The lines of a new field of a block mapping; a list of mappings gets a line an entry."""
    if isinstance(value, (str, Mapping)) or not any(isinstance(item, Mapping) for item in value):
        return [f"{indent}{_scalar(key)}: {flow(value)}"]
    return [f"{indent}{_scalar(key)}:", *(f"{indent}  - {flow(item)}" for item in value)]


def add_item(doc: Document, path: Path_, item: Plain) -> Document:
    """Append an entry to the list at ``path``; where only the list is missing, it is begun."""
    parent = _exactly(doc, path[:-1]) if path else doc.root
    if path and parent.keys is not None and path[-1] not in parent.keys:
        return add_field(doc, path[:-1], str(path[-1]), [item])
    node = _exactly(doc, path)
    if node.is_scalar or node.keys is not None:
        raise _refused(doc, node, "This is not a list.")

    def change(plain: Any) -> Any:
        _at(plain, path).append(copied(item))
        return plain

    if node.flow:
        return _into_flow(doc, node, flow(item), change)
    return _below(doc, node, [f"{' ' * (node.column - 1)}- {flow(item)}"], change)


def remove_field(doc: Document, path: Path_) -> Document:
    """Take ``key: value`` out of a mapping that keeps at least one other; remarks on its lines go with it."""
    parent, key = _exactly(doc, path[:-1]), str(path[-1])
    if parent.keys is None or parent.children is None or key not in parent.keys:
        raise _refused(doc, parent, f'There is no "{key}" here.')
    if len(parent.keys) == 1:
        raise _refused(doc, parent, f'"{key}" is all there is.')

    def change(plain: Any) -> Any:
        del _at(plain, path[:-1])[key]
        return plain

    start, end = (_span_in_flow if parent.flow else _span_in_block)(doc, parent, key)
    return _edited(doc, start, end, "", change)


def _span_in_flow(doc: Document, parent: Node, key: str) -> tuple[int, int]:
    keys, children = parent.keys or {}, parent.children or {}
    names = list(keys)
    place = names.index(key)
    if place + 1 < len(names):
        return keys[key].start, keys[names[place + 1]].start
    return _content_end(children[names[place - 1]], doc.text), _content_end(children[key], doc.text)


def _span_in_block(doc: Document, parent: Node, key: str) -> tuple[int, int]:
    """Whole lines: from the key's line to the end of its value's last line."""
    keys, children = parent.keys or {}, parent.children or {}
    start = doc.text.rfind("\n", 0, keys[key].start) + 1
    end = doc.text.find("\n", _content_end(children[key], doc.text))
    return start, len(doc.text) if end < 0 else end + 1


def save(doc: Document) -> None:
    """Write an edited document; RecordError where the file has changed since it was read."""
    mark = BOM if read_bytes(doc.file).startswith(BOM) else b""
    replace_whole(doc.file, mark + doc.text.encode("utf-8"), doc.fingerprint)


def _into_flow(doc: Document, node: Node, entry: str, change: Callable[[Any], Any]) -> Document:
    """Write ``entry`` last inside ``{ }`` or ``[ ]``."""
    children = list((node.children or {}).values())
    if not children:
        return _edited(doc, node.start + 1, node.start + 1, entry, change)
    at = _content_end(children[-1], doc.text)
    return _edited(doc, at, at, f", {entry}", change)


def _below(doc: Document, node: Node, lines: list[str], change: Callable[[Any], Any]) -> Document:
    """Write ``lines`` after the last line of a block mapping or list."""
    end = _content_end(node, doc.text)
    at = doc.text.find("\n", end)
    at = len(doc.text) if at < 0 else at
    if doc.text[at - 1 : at] == "\r":
        at -= 1
    newline = "\r\n" if "\r\n" in doc.text else "\n"
    return _edited(doc, at, at, "".join(newline + line for line in lines), change)


def _content_end(node: Node, text: str) -> int:
    """Where the last sign of a node stands; the parser's own end of a block lies beyond remarks below it."""
    while node.children and not node.flow:
        node = list(node.children.values())[-1]
    return node.start + len(text[node.start : node.end].rstrip())


def _edited(doc: Document, start: int, end: int, new: str, change: Callable[[Any], Any]) -> Document:
    text = doc.text[:start] + new + doc.text[end:]
    return _read_again(doc, text, change(copied(doc.root.plain)), start)


def _read_again(doc: Document, text: str, wanted: object, start: int) -> Document:
    """The new text as a document; RecordError where anything but what was wanted came out."""
    try:
        root = parse_nodes(text, doc.file)
    except RecordError:
        root = None
    if root is None or root.plain != wanted:
        message = "This place of the file cannot be changed without touching what is around it."
        raise RecordError([Fault(_place(doc, start), message, "Change it by hand.")])
    return Document(doc.file, text, root, doc.fingerprint)


def _place(doc: Document, offset: int) -> Place:
    before = doc.text[:offset]
    return Place(doc.file, before.count("\n") + 1, offset - (before.rfind("\n") + 1) + 1)


def _exactly(doc: Document, path: Path_) -> Node:
    """The node at ``path``; RecordError where the file does not have it."""
    node = doc.root
    for step in path:
        if step not in (node.children or {}):
            raise _refused(doc, node, f'There is no "{step}" here.')
        node = (node.children or {})[step]
    return node


def _at(plain: Any, path: Path_) -> Any:
    for step in path:
        plain = plain[step]
    return plain


def _refused(doc: Document, node: Node, message: str) -> RecordError:
    return RecordError([Fault(Place(doc.file, node.line, node.column), message, "Nothing was changed.")])
