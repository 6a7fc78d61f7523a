"""The plan's text with a lever of its check."""

from __future__ import annotations

from pathlib import Path

from blendwise.answers.check.result import CheckResult
from blendwise.records.place import Fault, Place, RecordError


def with_lever(result: CheckResult, number: int = 1) -> str:
    """The text with the lever of this number (from 1, those counted that can be written)."""
    written = [each.plan for each in result.levers if each.plan]
    if 1 <= number <= len(written):
        return written[number - 1]
    there = f"There are {len(written)} to choose from." if written else "No change was found that helps."
    raise RecordError(
        [Fault(Place(Path(result.file), 1, 1), f"There is no change {number} to write.", there)]
    )
