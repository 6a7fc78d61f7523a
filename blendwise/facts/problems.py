"""What keeps a plan from being worked out: faults with their places, gathered so that all are told at once."""

from __future__ import annotations

from collections.abc import Iterable

from blendwise.records import Fault, Place, Record, RecordError


class Problems:
    """A list of faults that grows; ``raise_if_any`` ends the question with all of them."""

    def __init__(self) -> None:
        self.found: list[Fault] = []

    def add(self, record: Record, message: str, remedy: str, *path: str) -> None:
        """Report a fault at a record (or at a field of it, by attribute name)."""
        self.found.append(Fault(place_of(record, *path), message, remedy))

    def unknown(self, record: Record, field: str, name: str, kind: str, known: Iterable[str]) -> None:
        """Report a name that the catalogue does not have, with the nearest that it has."""
        from rapidfuzz import process

        near = process.extractOne(name, list(known), score_cutoff=60)
        remedy = f"the catalogue has '{near[0]}'" if near else f"add it to the catalogue as a {kind}"
        self.add(record, f"{kind} '{name}' is not in the catalogue", remedy, field)

    def raise_if_any(self) -> None:
        if self.found:
            raise RecordError(self.found)


def place_of(record: Record, *path: str) -> Place:
    """The place of a record, or of one of its fields where the record remembers it."""
    return record.place_at(*path) if path else record.place
