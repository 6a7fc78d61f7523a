"""What a look along the shelf answers: data only; sentences are made in ``show``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from blendwise.answers.pair.result import Ends, Words
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import METRIC, Units

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.shelf.documents import ShelfDoc

ShelfWord = Literal["goes", "with care", "where it may brown", "not known", "does not go"]


@dataclass(frozen=True)
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
    minutes: Ends
    most: float | None
    stopped_by: str
    reasons: tuple[Finding, ...]
    mends: tuple[str, ...]


@dataclass(frozen=True)
class ShelfResult:
    """The shelf against one oil, the willing first.

    ``left_out``: by which filter how many; ``own``: what the rules say of the oil alone, held against no
    other; ``planned``: the band that the bar may become, where the oil itself browns.
    """

    oil: str
    shares: tuple[float, float]
    load: float
    rows: tuple[ShelfRow, ...]
    left_out: Mapping[str, int]
    colour: str | None = None
    planned: str | None = None
    pour: str | None = None
    own: tuple[Finding, ...] = ()
    said: tuple[str, ...] = ()
    units: Units = METRIC

    @property
    def sound(self) -> bool:
        """Whether at least one oil of the shelf goes."""
        return any(row.word in ("goes", "with care", "where it may brown") for row in self.rows)

    def to_json(self) -> ShelfDoc:
        """The published document of ``blendwise pair A --with-all --json``."""
        from blendwise.answers.shelf.documents import shelf_doc

        return shelf_doc(self)

    def to_frame(self) -> pd.DataFrame:
        """A row an oil of the shelf."""
        import pandas as pd

        from blendwise.answers.shelf.documents import shelf_rows

        return pd.DataFrame(shelf_rows(self))
