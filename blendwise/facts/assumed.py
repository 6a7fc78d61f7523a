"""What is taken for granted because nobody wrote it down: data, its sentence is made in ``show``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

Detail = float | str | bool | None | tuple[str, ...] | tuple[tuple[str, float | None], ...]


@dataclass(frozen=True, slots=True)
class Assumed:
    """One thing assumed.  ``kind`` names its sentence; ``details`` fill it in, in canonical units."""

    kind: str
    details: Mapping[str, Detail] = field(default_factory=dict)


def assumed(kind: str, **details: Detail) -> Assumed:
    """The same from words."""
    return Assumed(kind, details)
