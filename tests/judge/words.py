"""A small vocabulary and tables made by hand, for the judge's own tests."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from blendwise.facts.columns import YES_NO, AnyColumn, Column, Missing, SetColumn, Subject, Table, Word
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.records.kinds.rule import RuleRecord
from blendwise.records.place import Spot

INF = float("inf")
UNKNOWN = (-INF, INF)
BANDS = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
ALL = ("batch", "portion", "scent", "dose", "pair", "edge")


def _number(name: str, grain: str = "portion", **more: Any) -> Word:
    return Word(name, grain, (grain,), "number", **more)


WORDS = [
    _number("planned lightness", lowest=0.0, highest=100.0),
    Word("planned band", "portion", ("portion",), "word", scale=BANDS),
    Word("browning band", "portion", ("portion",), "word", scale=BANDS),
    Word("for skin", "portion", ("portion",), "flag", scale=YES_NO),
    Word("tags", "portion", ("portion",), "set"),
    _number(
        "scent load", dimension="FRACTION", basis="of portion oils", unit="% of portion oils", lowest=0.0
    ),
    _number("load cap", dimension="FRACTION", basis="of portion oils", unit="% of portion oils", lowest=0.0),
    _number("bar share", dimension="FRACTION", basis="of finished bar", unit="% of finished bar", lowest=0.0),
    _number("portion mass", dimension="MASS", unit="g", lowest=0.0),
    _number("minutes left", dimension="TIME", unit="min", lowest=0.0),
    _number("minutes needed", dimension="TIME", unit="min", lowest=0.0),
    _number("room", dimension="TEMPERATURE", unit="°C"),
    _number("superfat", dimension="FRACTION"),
    _number("contrast", "edge", lowest=0.0),
    _number("one lightness", "edge", lowest=0.0, highest=100.0),
    _number("other lightness", "edge", lowest=0.0, highest=100.0),
    Word("one tags", "pair", ("pair",), "set"),
    Word("other tags", "pair", ("pair",), "set"),
    _number("batch oils", "batch", dimension="MASS", unit="g", lowest=0.0),
]
VOCABULARY = {word.name: word for word in WORDS}


def record(**fields: Any) -> RuleRecord:
    """A rule record from keywords (``looks_at`` → ``looks at``), with the rest filled in."""
    body: dict[str, Any] = {
        "rule": "a-rule",
        "looks at": "portion",
        "else": "conflict",
        "because": "It shows.",
    }
    body |= {"try": "Move it.", "basis": "common practice"}
    body |= {key.rstrip("_").replace("_", " "): value for key, value in fields.items()}
    if "replace" in body:
        del body["rule"]
    return RuleRecord.model_validate(body)


def rule(**fields: Any) -> Rule:
    """A compiled rule from keywords."""
    return compile_rule(record(**fields), VOCABULARY)


Cell = float | str | tuple[float, float] | None | Sequence[str]


def column(name: str, cells: Sequence[Cell], asked: Sequence[bool] | None = None) -> AnyColumn:
    """A column from cells: a number, a word, an interval, None for unknown; a list of words for a set."""
    word = VOCABULARY[name]
    missing = {i: (Missing(f"row {i}", name),) for i, cell in enumerate(cells) if _is_open(cell)}
    there = None if asked is None else np.array(asked)
    if word.kind == "set":
        names = tuple(sorted({tag for cell in cells for tag in (cell if isinstance(cell, list) else ())}))
        has = [[tag in cell if isinstance(cell, list) else False for tag in names] for cell in cells]
        known = np.array([cell is not None for cell in cells])
        return SetColumn(
            names, np.array(has, dtype=bool).reshape(len(cells), len(names)), known, there, missing
        )
    ends = [_ends(cell, word) for cell in cells]
    low, high = np.array([e[0] for e in ends], dtype=float), np.array([e[1] for e in ends], dtype=float)
    return Column(low, high, word.scale, there, missing)


def _is_open(cell: Any) -> bool:
    return cell is None or (isinstance(cell, tuple) and cell[0] != cell[1])


def _ends(cell: Any, word: Word) -> tuple[float, float]:
    if cell is None:
        return UNKNOWN
    if isinstance(cell, tuple):
        return cell
    number = float(word.scale.index(cell)) if isinstance(cell, str) and word.scale else float(cell)
    return number, number


def table(grain: str = "portion", /, **columns: Any) -> Table:
    """A table whose rows are called a, b, c …; keywords are measures with underscores for blanks."""
    return table_of({name.replace("_", " "): values for name, values in columns.items()}, grain)


def table_of(
    cells: Mapping[str, Sequence[Any]],
    grain: str = "portion",
    asked: Mapping[str, Sequence[bool]] | None = None,
) -> Table:
    """A table from measure → cells; ``asked`` says for some measures where the thing exists."""
    rows = range(len(next(iter(cells.values()))))
    each = {"dose": 2, "pair": 3, "edge": 2}.get(grain, 1)
    names = [tuple(f"{chr(97 + i)}{k or ''}" for k in range(each)) for i in rows]
    subjects = [Subject(grain, name, Spot("plan", i + 1)) for i, name in enumerate(names)]
    flags = asked or {}
    return Table(grain, subjects, lambda name: column(name, cells[name], flags.get(name)))
