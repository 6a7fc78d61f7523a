"""What a look along the shelf answers: data only; sentences are made in ``show``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from blendwise.answers.answer import Answer, Range, hidden
from blendwise.answers.pair.result import Words, flat
from blendwise.facts.assumed import Assumed
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import METRIC, Units

ShelfWord = Literal["goes", "with care", "where it may brown", "not known", "does not go"]


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One oil of the shelf beside the asked one.

    ``mends``: rules that the asked oil breaks alone and the two together keep; ``minutes``: fluid from
    scenting, where a pour is asked.
    """

    name: str
    word: ShelfWord
    noted: Literal["good", "bad", "unsaid"]
    note: str | None
    bands: Words
    minutes: Range
    most: float | None
    stopped_by: str
    reasons: tuple[Finding, ...]
    mends: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShelfResult(Answer):
    """The shelf against one oil, the willing first.

    ``left_out``: by which filter how many; ``own``: what the rules say of the oil alone, held against no
    other; ``planned``: the band that the bar may become, where the oil itself browns.
    """

    SCHEMA = "blendwise/shelf/2"

    oil: str
    shares: tuple[float, float]
    load: float
    colour: str | None
    planned: str | None
    pour: str | None
    own: tuple[Finding, ...]
    rows: tuple[ShelfRow, ...]
    left_out: Mapping[str, int]
    said: tuple[Assumed, ...]
    units: Units = hidden(METRIC)

    @property
    def sound(self) -> bool:
        """Whether at least one oil of the shelf goes."""
        return any(row.word in ("goes", "with care", "where it may brown") for row in self.rows)

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row an oil of the shelf, its reasons as one text."""
        for row in self.rows:
            reasons = "; ".join(f"{reason.rule} ({reason.level})" for reason in row.reasons)
            yield {**{key: cell for key, cell in flat(row).items() if key != "reasons"}, "reasons": reasons}
