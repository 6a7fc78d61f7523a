"""What ``scents list``, ``search``, ``show`` and ``compare`` answer: data, and their published documents."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from blendwise.answers.documents import HeadDoc, PlaceDoc
from blendwise.answers.scents.statements import Statement
from blendwise.answers.shapes import head, place_doc
from blendwise.quantity import METRIC, Units
from blendwise.records.place import Spot

if TYPE_CHECKING:
    import pandas as pd

SCENTS_SCHEMA = "blendwise/scents/1"
SCENT_SCHEMA = "blendwise/scent/1"
COMPARE_SCHEMA = "blendwise/compare/1"


class StatementDoc(TypedDict):
    """A fact as written, with whose word it is; amounts in ``text`` keep the units as typed."""

    fact: str
    text: str
    at: str
    evidence: str
    more: str
    line: int | None


class ScentLineDoc(TypedDict):
    """One oil of the shelf; ``on_hand`` in grams, null where not known."""

    name: str
    kind: str | None
    scent_note: str | None
    browns_to: str | None
    acceleration: str | None
    after_six_weeks: str | None
    tags: list[str]
    on_hand: float | None
    price: str | None
    evidence: str | None
    found_in: list[str]


class ScentsDoc(HeadDoc):
    """The document of ``blendwise scents list --json`` and ``scents search --json``."""

    words: list[str]
    read_as: dict[str, str]
    on_the_shelf: int
    scents: list[ScentLineDoc]


class SeenDoc(TypedDict):
    """What was seen on a day, in the maker's words."""

    on: str
    what: str


class UseDoc(TypedDict):
    """A plan that uses the oil; ``share`` of its blend, null where it only stands in an embed."""

    plan: str
    file: str
    share: float | None


class LookDoc(TypedDict):
    """A look at a batch that held the oil: what was seen of each portion it was in."""

    note: str
    plan: str
    look: str
    on: str
    portions: dict[str, str]


class ScentDoc(HeadDoc):
    """The document of ``blendwise scents show --json``."""

    name: str
    where: PlaceDoc | None
    statements: list[StatementDoc]
    not_known: list[str]
    seen: list[SeenDoc]
    plans: list[UseDoc]
    notes: list[LookDoc]
    unread: list[str]


class CompareRowDoc(TypedDict):
    """A fact of every oil that is compared; null where nobody has written it down."""

    fact: str
    differs: bool
    scents: dict[str, StatementDoc | None]


class CompareDoc(HeadDoc):
    """The document of ``blendwise scents compare --json``."""

    scents: list[str]
    facts: list[CompareRowDoc]


def _statement_doc(one: Statement) -> StatementDoc:
    return {
        "fact": one.fact,
        "text": one.text,
        "at": one.at.text if one.at else "",
        "evidence": one.evidence,
        "more": one.more,
        "line": one.line,
    }


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

    def body(self) -> ScentLineDoc:
        """The line as the published document."""
        return {
            "name": self.name,
            "kind": self.kind,
            "scent_note": self.scent_note,
            "browns_to": self.browns_to,
            "acceleration": self.acceleration,
            "after_six_weeks": self.after_six_weeks,
            "tags": list(self.tags),
            "on_hand": self.on_hand,
            "price": self.price,
            "evidence": self.evidence,
            "found_in": list(self.found_in),
        }


@dataclass(frozen=True, slots=True)
class ScentsResult:
    """Oils of the shelf; ``read_as``: words taken for near ones, ``total``: all there are."""

    lines: tuple[ScentLine, ...]
    total: int
    words: tuple[str, ...] = ()
    read_as: dict[str, str] = field(default_factory=dict)
    units: Units = METRIC

    def to_json(self) -> ScentsDoc:
        """The published document."""
        return {
            **head(SCENTS_SCHEMA),
            "words": list(self.words),
            "read_as": dict(self.read_as),
            "on_the_shelf": self.total,
            "scents": [line.body() for line in self.lines],
        }

    def to_frame(self) -> pd.DataFrame:
        """A row an oil, as in the document."""
        import pandas as pd

        rows = [{**line.body()} for line in self.lines]
        return pd.DataFrame(rows, columns=list(ScentLineDoc.__annotations__))


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
    portions: dict[str, str]


@dataclass(frozen=True, slots=True)
class ScentResult:
    """One oil whole: statements, what is not known, what was seen, its uses; ``unread``: files set aside."""

    name: str
    place: Spot | None
    statements: tuple[Statement, ...]
    not_known: tuple[str, ...]
    seen: tuple[tuple[str, str], ...]
    plans: tuple[PlanUse, ...]
    notes: tuple[LookUse, ...]
    unread: tuple[str, ...] = ()
    typed: str = ""
    units: Units = METRIC

    def to_json(self) -> ScentDoc:
        """The published document."""
        return {
            **head(SCENT_SCHEMA),
            "name": self.name,
            "where": place_doc(self.place),
            "statements": [_statement_doc(one) for one in self.statements],
            "not_known": list(self.not_known),
            "seen": [{"on": day, "what": what} for day, what in self.seen],
            "plans": [{"plan": use.plan, "file": use.file, "share": use.share} for use in self.plans],
            "notes": [
                {
                    "note": use.note,
                    "plan": use.plan,
                    "look": use.look,
                    "on": use.on,
                    "portions": dict(use.portions),
                }
                for use in self.notes
            ],
            "unread": list(self.unread),
        }

    def to_frame(self) -> pd.DataFrame:
        """A row a statement."""
        import pandas as pd

        rows = [{**_statement_doc(one)} for one in self.statements]
        return pd.DataFrame(rows, columns=list(StatementDoc.__annotations__))


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One fact of every oil that is compared, in their order; None where it is not known."""

    fact: str
    cells: tuple[Statement | None, ...]

    @property
    def differs(self) -> bool:
        """Whether the oils do not all say the same."""
        return len({cell.text if cell else None for cell in self.cells}) > 1


@dataclass(frozen=True, slots=True)
class CompareResult:
    """Several oils side by side."""

    names: tuple[str, ...]
    rows: tuple[CompareRow, ...]
    units: Units = METRIC

    def to_json(self) -> CompareDoc:
        """The published document."""
        return {
            **head(COMPARE_SCHEMA),
            "scents": list(self.names),
            "facts": [
                {
                    "fact": row.fact,
                    "differs": row.differs,
                    "scents": {
                        name: _statement_doc(cell) if cell else None
                        for name, cell in zip(self.names, row.cells, strict=True)
                    },
                }
                for row in self.rows
            ],
        }

    def to_frame(self) -> pd.DataFrame:
        """A row a fact, a column an oil; None where it is not known."""
        import pandas as pd

        rows = [[cell.text if cell else None for cell in row.cells] for row in self.rows]
        return pd.DataFrame(rows, index=[row.fact for row in self.rows], columns=list(self.names))
