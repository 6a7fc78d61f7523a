"""What ``scents list``, ``search``, ``show`` and ``compare`` answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from blendwise.answers.answer import Answer, hidden, keys, published, told
from blendwise.answers.scents.statements import Statement
from blendwise.beliefs.changes import Change
from blendwise.quantity import METRIC, Units
from blendwise.records.place import Spot

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True, slots=True)
class ScentLine:
    """One oil in a line; ``on_hand`` in grams; ``found_in``: where a search met it."""

    name: str
    kind: str | None
    scent_note: str | None
    browns_to: str | None
    acceleration: str | None
    after_six_weeks: str | None
    tags: tuple[str, ...]
    on_hand: float | None
    price: str | None
    evidence: str | None
    found_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ScentsResult(Answer):
    """Oils of the shelf; ``read_as``: words taken for near ones, ``on_the_shelf``: how many there are."""

    SCHEMA = "blendwise/scents/1"

    scents: tuple[ScentLine, ...]
    on_the_shelf: int
    words: tuple[str, ...] = ()
    read_as: Mapping[str, str] = field(default_factory=dict)
    units: Units = hidden(METRIC)

    def frame_rows(self) -> Iterator[Any]:
        """A row an oil, as in the document."""
        return (published(each) for each in self.scents)

    def frame_columns(self) -> list[str]:
        """All that a line says."""
        return [key for key, _ in keys(ScentLine)]


@dataclass(frozen=True, slots=True)
class SeenOn:
    """What was seen on a day (ISO 8601), in the maker's words."""

    on: str
    what: str


@dataclass(frozen=True, slots=True)
class PlanUse:
    """A plan that uses an oil; ``share`` of the blend by mass, None where it stands in an embed alone."""

    plan: str
    file: str
    share: float | None


@dataclass(frozen=True, slots=True)
class LookUse:
    """A look at a batch that held an oil: portion → what was seen, in words."""

    note: str
    plan: str
    look: str
    on: str
    portions: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ScentResult(Answer):
    """One oil whole: statements, what is not known, what was seen, its uses; ``unread``: files set aside.

    ``learned``: what own looks say of it, beside the catalogue's word; which closes what was not known.
    """

    SCHEMA = "blendwise/scent/1"

    name: str
    where: Spot | None
    statements: tuple[Statement, ...]
    not_known: tuple[str, ...]
    seen: tuple[SeenOn, ...]
    plans: tuple[PlanUse, ...]
    notes: tuple[LookUse, ...]
    unread: tuple[str, ...] = ()
    learned: tuple[Change, ...] = ()
    typed: str = hidden("")
    units: Units = hidden(METRIC)

    def frame_rows(self) -> Iterator[Statement]:
        """A row a statement."""
        return iter(self.statements)

    def frame_columns(self) -> list[str]:
        """All that a statement says."""
        return ["fact", "text", "at", "evidence", "more", "line"]


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One fact of every oil that is compared, in their order; None where it is not known."""

    fact: str
    scents: Mapping[str, Statement | None]

    @told
    def differs(self) -> bool:
        """Whether the oils do not all say the same."""
        return len({one.text if one else None for one in self.scents.values()}) > 1


@dataclass(frozen=True, slots=True)
class CompareResult(Answer):
    """Several oils side by side."""

    SCHEMA = "blendwise/compare/1"

    scents: tuple[str, ...]
    facts: tuple[CompareRow, ...]
    units: Units = hidden(METRIC)

    def to_frame(self) -> pd.DataFrame:
        """A row a fact, a column an oil; None where it is not known."""
        import pandas as pd

        rows = [[one.text if one else None for one in row.scents.values()] for row in self.facts]
        return pd.DataFrame(rows, index=[row.fact for row in self.facts], columns=list(self.scents))


@dataclass(frozen=True, slots=True)
class RenamedIn:
    """A file that speaks of an oil by name: its kind, the lines, and how often besides in sentences."""

    file: str
    kind: Literal["shelf", "plan", "note", "rule"]
    lines: tuple[int, ...]
    in_sentences: int


@dataclass(frozen=True, slots=True)
class RenameResult(Answer):
    """Where an oil is spoken of, and whether it bears its new name there now.

    ``unread``: files that cannot be read, so that nobody knows what they speak of.
    """

    SCHEMA = "blendwise/rename/1"

    old: str
    new: str
    files: tuple[RenamedIn, ...]
    unread: tuple[str, ...] = ()
    written: bool = False

    def frame_rows(self) -> Iterator[RenamedIn]:
        """A row a file."""
        return iter(self.files)
