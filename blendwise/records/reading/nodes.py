"""A maker's file → nodes that know their place.  Every scalar stays text; nothing is guessed.

Built from PyYAML's C parser events in one loop, so that no depth of input can exhaust the stack.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import yaml

from blendwise.records.place import Fault, Place, RecordError, read_fault
from blendwise.records.reading.slips import empty_value, in_plain_words, unusable_name

LARGEST_FILE: Final = 2_000_000
DEEPEST: Final = 20
MOST_NODES: Final = 100_000
MOST_ENTRIES: Final = 5_000
MOST_FAULTS: Final = 30
_CONTROL: Final = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
BOM: Final = b"\xef\xbb\xbf"
_LOADER: Final[Any] = getattr(yaml, "CLoader", yaml.Loader)


@dataclass(slots=True, eq=False)
class Node:
    """A scalar (``plain`` is its text), a list or a mapping (``plain`` is the Python value, filled below).

    ``line``, ``column`` count from 1; ``start``, ``end`` are character offsets into the document's text;
    ``style`` is the quote or block sign of a scalar.  ``children`` are the values by key or index,
    ``keys`` the key nodes of a mapping.
    """

    plain: Any
    line: int
    column: int
    start: int
    end: int
    style: str = ""
    flow: bool = False
    children: dict[str | int, Node] | None = None
    keys: dict[str, Node] | None = None

    @property
    def is_scalar(self) -> bool:
        """Whether it is a single text."""
        return self.children is None


def copied(value: Any) -> Any:
    """A value as the reader of a file gives it: texts, dictionaries and lists of its own."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {key: copied(item) for key, item in value.items()}
    return [copied(item) for item in value]


def read_bytes(file: Path) -> bytes:
    """The bytes of an ordinary file of bearable size; RecordError otherwise, without reading it."""
    try:
        status = os.stat(file)
        if not stat.S_ISREG(status.st_mode):
            raise read_fault(file, "This is not an ordinary file.", "Name a text file.")
        if status.st_size > LARGEST_FILE:
            size = status.st_size / 1e6
            raise read_fault(
                file,
                f"The file is {size:.1f} MB; at most {LARGEST_FILE / 1e6:.0f} MB are read.",
                "See whether it is the right file.",
            )
        with open(file, "rb", buffering=0) as stream:
            data = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise read_fault(file, "There is no such file.", "Look at its name and its folder.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise read_fault(file, f"The file cannot be read: {reason}.", "See that you may read it.") from None
    if len(data) > LARGEST_FILE:
        raise read_fault(file, "The file grew while it was read.", "Try again once it is saved.")
    return data


def decode(data: bytes, file: Path) -> str:
    """The text of a file in UTF-8, without a byte order mark; RecordError at the first bad byte."""
    try:
        return data.removeprefix(BOM).decode("utf-8")
    except UnicodeDecodeError as error:
        before = error.object[: error.start]
        place = Place(file, before.count(b"\n") + 1, error.start - (before.rfind(b"\n") + 1) + 1)
        raise RecordError(
            [Fault(place, "The file is not in UTF-8.", "Save it as UTF-8 (also called Unicode).")]
        ) from None


def parse_nodes(text: str, file: Path, bare: bool = False) -> Node:
    """The root node of a document.  Raises RecordError with every fault that can be told at once.

    ``bare``: where there is no entry, the root is an empty mapping.
    """
    _refuse_tabs(text, file)
    builder = _Builder(text, file)
    try:
        _take_all(text, builder.take)
    except _TooMuch:
        pass
    except yaml.YAMLError as error:
        builder.faults.append(in_plain_words(error, text, file))
    except RecursionError:  # pragma: no cover - the pure Python parser, were it ever used
        builder.fault(1, 1, "The file is nested too deeply.")
    if builder.faults:
        raise RecordError(builder.faults)
    if builder.root is None and bare:
        return Node({}, 1, 1, 0, 0, children={}, keys={})
    if builder.root is None:
        raise read_fault(file, "The file is empty.", "Write at least one entry, or remove the file.")
    return builder.root


def _take_all(text: str, take: Callable[[Any], None]) -> None:
    """Every event of a text in turn, as ``yaml.parse`` gives them, without its detours."""
    loader = _LOADER(text)
    following = loader.get_event
    try:
        while type(event := following()) is not yaml.StreamEndEvent:
            take(event)
    finally:
        loader.dispose()


def _refuse_tabs(text: str, file: Path) -> None:
    if "\t" not in text:
        return
    for number, line in enumerate(text.split("\n"), start=1):
        indent = line[: len(line) - len(line.lstrip(" \t"))]
        if "\t" in indent and line.strip():
            place = Place(file, number, indent.index("\t") + 1)
            raise RecordError([Fault(place, "This line is indented with a tab.", "Indent with spaces.")])


class _TooMuch(yaml.YAMLError):
    """Raised to stop reading; the fault is already noted."""


class _Builder:
    """Takes events one at a time and grows the tree; ``stack`` holds the open collections."""

    def __init__(self, text: str, file: Path) -> None:
        self.text = text
        self.file = file
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self.stack: list[Node] = []
        self.waiting: list[Node | None] = []
        self.count = 0
        self.documents = 0

    def fault(self, line: int, column: int, message: str, remedy: str = "") -> None:
        self.faults.append(Fault(Place(self.file, line, column), message, remedy))
        if len(self.faults) >= MOST_FAULTS:
            raise _TooMuch

    def take(self, event: Any) -> None:
        kind = type(event)
        if kind is yaml.ScalarEvent:
            if event.anchor is not None or event.tag is not None:
                self._decorated(event)
            self._scalar(event)
        elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
            self._decorated(event)
            self._open(event, kind is yaml.MappingStartEvent)
        elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
            closed = self.stack.pop()
            self.waiting.pop()
            closed.end = event.end_mark.index
        elif kind is yaml.AliasEvent:
            self._stop(event, "Aliases (`*name`) are not read.", "Write the value out.")
        elif kind is yaml.DocumentStartEvent:
            self._document(event)

    def _stop(self, event: Any, message: str, remedy: str = "") -> None:
        self.fault(event.start_mark.line + 1, event.start_mark.column + 1, message, remedy)
        raise _TooMuch

    def _document(self, event: Any) -> None:
        self.documents += 1
        if self.documents > 1:
            self._stop(event, "A second document begins here (`---`).", "Keep one document in a file.")

    def _decorated(self, event: Any) -> None:
        if event.anchor is not None:
            self._stop(event, "Anchors (`&name`) are not read.", "Write the value out where it is needed.")
        if event.tag is not None:
            self._stop(
                event, f"Tags (`{event.tag}`) are not read.", "Put the text in quotes if it begins with `!`."
            )

    def _node(self, event: Any, plain: Any, style: str = "") -> Node:
        self.count += 1
        if self.count > MOST_NODES:
            self._stop(event, f"The file has more than {MOST_NODES:,} values.")
        start = event.start_mark
        return Node(plain, start.line + 1, start.column + 1, start.index, event.end_mark.index, style)

    def _scalar(self, event: Any) -> None:
        value = event.value
        node = self._node(event, value, event.style or "")
        if self.waiting and self.waiting[-1] is None and self.stack[-1].keys is not None:
            self._key(node)
            return
        if not value or not value.isprintable():
            self._checked(node)
        self._place(node)

    def _checked(self, node: Node) -> None:
        """Refuse empty values and control characters; the value itself is kept, so that reading goes on."""
        if not node.plain and not node.style:
            parent = self.stack[-1] if self.stack else None
            key = self.waiting[-1] if self.waiting else None
            if parent is not None:
                line, column = (key.line, key.column) if key else (node.line, node.column)
                previous = self._before(parent, key)
                self.fault(
                    line, column, *empty_value(key.plain if key else None, previous, self.text, node.start)
                )
        elif _CONTROL.search(node.plain):
            self.fault(node.line, node.column, "This text holds a control character.", "Remove it.")

    def _before(self, parent: Node, key: Node | None) -> str | None:
        """The text of the scalar written just before ``key`` in the same mapping."""
        previous: Node | None = None
        for name, child in (parent.children or {}).items():
            if key is not None and name == key.plain:
                break
            previous = child
        return previous.plain if previous is not None and previous.is_scalar else None

    def _key(self, node: Node) -> None:
        parent = self.stack[-1]
        assert parent.keys is not None
        slip = unusable_name(node.plain)
        if slip is not None:
            self.fault(node.line, node.column, *slip)
        earlier = parent.keys.get(node.plain)
        if earlier is not None:
            where = f"line {earlier.line}, column {earlier.column}"
            self.fault(node.line, node.column, f'"{node.plain}" is already written at {where}.', "Keep one.")
        else:
            parent.keys[node.plain] = node
        self.waiting[-1] = node

    def _open(self, event: Any, mapping: bool) -> None:
        if self.stack and self.stack[-1].keys is not None and self.waiting[-1] is None:
            self._stop(event, "A name must stand here, not a list or a mapping.")
        node = self._node(event, {} if mapping else [])
        node.flow = bool(event.flow_style)
        node.children = {}
        node.keys = {} if mapping else None
        self._place(node)
        if len(self.stack) >= DEEPEST:
            self._stop(event, f"This is nested more than {DEEPEST} deep.")
        self.stack.append(node)
        self.waiting.append(None)

    def _place(self, node: Node) -> None:
        if not self.stack:
            self.root = node
            return
        parent = self.stack[-1]
        assert parent.children is not None
        if len(parent.children) >= MOST_ENTRIES:
            message = f"There are more than {MOST_ENTRIES:,} entries here."
            self.fault(node.line, node.column, message, "Divide the file.")
            raise _TooMuch
        if parent.keys is None:
            parent.children[len(parent.plain)] = node
            parent.plain.append(node.plain)
            return
        key = self.waiting[-1]
        assert key is not None
        self.waiting[-1] = None
        parent.children.setdefault(key.plain, node)
        parent.plain.setdefault(key.plain, node.plain)
