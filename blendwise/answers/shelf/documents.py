"""The published shape of a look along the shelf."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any, cast

from typing_extensions import TypedDict

from blendwise.answers import documents as doc
from blendwise.answers import shapes
from blendwise.answers.pair.documents import EndsDoc, flat, plain

if TYPE_CHECKING:
    from blendwise.answers.shelf.result import ShelfResult, ShelfRow

SHELF_SCHEMA = "blendwise/shelf/1"


class ShelfRowDoc(TypedDict):
    """One oil of the shelf beside the asked one."""

    name: str
    word: str
    noted: str
    note: str | None
    bands: EndsDoc
    minutes: EndsDoc
    most: float | None
    stopped_by: str
    reasons: list[doc.FindingDoc]
    mends: list[str]


class ShelfDoc(doc.HeadDoc):
    """The document of ``blendwise pair A --with-all --json``."""

    oil: str
    shares: list[float]
    load: float
    colour: str | None
    planned: str | None
    pour: str | None
    own: list[doc.FindingDoc]
    rows: list[ShelfRowDoc]
    left_out: dict[str, int]
    said: list[str]


def shelf_doc(result: ShelfResult) -> ShelfDoc:
    """A ShelfResult as the published document."""
    rows = [
        {**_without_reasons(row), "reasons": [shapes.finding_doc(each) for each in row.reasons]}
        for row in result.rows
    ]
    body = {
        "oil": result.oil,
        "shares": list(result.shares),
        "load": result.load,
        "colour": result.colour,
        "planned": result.planned,
        "pour": result.pour,
        "own": [shapes.finding_doc(each) for each in result.own],
        "rows": rows,
        "left_out": dict(result.left_out),
        "said": list(result.said),
    }
    return cast(ShelfDoc, {**shapes.head(SHELF_SCHEMA), **body})


def _without_reasons(row: ShelfRow) -> dict[str, Any]:
    return {name: plain(getattr(row, name), name) for name in row.__dataclass_fields__ if name != "reasons"}


def shelf_rows(result: ShelfResult) -> list[dict[str, Any]]:
    """The shelf as flat rows for a frame, the reasons as one text."""
    return [
        {**flat({k: v for k, v in asdict(row).items() if k != "reasons"}),
         "reasons": "; ".join(f"{reason.rule} ({reason.level})" for reason in row.reasons)}
        for row in result.rows
    ]  # fmt: skip
