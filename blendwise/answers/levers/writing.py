"""The plan's text with a lever."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from blendwise.answers.levers.result import Lever
from blendwise.records.place import Fault, Place, RecordError


def with_lever(levers: Sequence[Lever], file: str, number: int = 1) -> str:
    """The text with the lever of this number (from 1, those counted that can be written)."""
    written = [each.plan for each in levers if each.plan]
    if 1 <= number <= len(written):
        return written[number - 1]
    there = f"There are {len(written)} to choose from." if written else "No change was found that helps."
    raise RecordError([Fault(Place(Path(file), 1, 1), f"There is no change {number} to write.", there)])
