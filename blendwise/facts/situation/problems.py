"""What keeps a plan from being worked out: faults with their places, gathered to be told together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from blendwise.records import Fault, Place, Record, RecordError
from blendwise.records.reading.document import Document
from blendwise.records.reading.nodes import Node


class Problems:
    """A list of faults that grows; ``raise_if_any`` ends the question with all of them.

    ``docs``: the documents in which a fault's line is looked up (the plan's, and the book's own).
    """

    def __init__(self, docs: Iterable[Document] = ()) -> None:
        self.found: list[Fault] = []
        self._docs = tuple(docs)

    def add(self, record: Record, message: str, remedy: str, *path: str) -> None:
        """Report a fault at a record, or at a field below it (by the words of the file)."""
        self.found.append(Fault(self._place(record, path), message, remedy))

    def unknown(self, record: Record, field: str, name: str, kind: str, known: Iterable[str]) -> None:
        """Report a name that the catalogue does not have, with the nearest that it has."""
        from rapidfuzz import process

        near = process.extractOne(name, list(known), score_cutoff=60)
        remedy = f'The catalogue has "{near[0]}".' if near else f"Add it to the catalogue as a {kind}."
        self.add(record, f'The {kind} "{name}" is not in the catalogue.', remedy, field, name)

    def raise_if_any(self) -> None:
        """End with a RecordError that holds every fault so far, if there is one."""
        if self.found:
            raise RecordError(self.found)

    def _place(self, record: Record, path: tuple[str, ...]) -> Place:
        place = record.place
        if place is None:
            return Place(Path("plan"))
        for doc in self._docs:
            node = _node_at(doc, place) if doc.file == place.file else None
            if node is not None:
                below = _below(node, path)
                return Place(doc.file, below.line, below.column)
        return place


def _node_at(doc: Document, place: Place) -> Node | None:
    """The mapping that begins at a place."""
    here = (n for n in _mappings(doc.root) if (n.line, n.column) == (place.line, place.column))
    return next(here, None)


def _mappings(root: Node) -> Iterator[Node]:
    todo = [root]
    while todo:
        node = todo.pop()
        if node.keys is not None:
            yield node
        todo.extend((node.children or {}).values())


def _below(node: Node, path: tuple[str, ...]) -> Node:
    """The deepest node along a path of names; steps that are not written are passed over."""
    for step in path:
        children = node.children or {}
        node = children.get(step, node)
    return node
