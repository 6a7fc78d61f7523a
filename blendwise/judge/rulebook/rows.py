"""Rows of facts as a maker types them beside a rule: ``{planned band: ivory, browning band: limit + 1}``.

A text may lean on the rule's own limit (``limit``, ``limit + 1``, ``limit - 0.5 %``), so that an adjusted
number does not break the row; on a scale of words ``limit + 1`` is the next word.  ``between`` has a
``lower limit`` and an ``upper limit``.  ``not known`` is not known, as is every fact that is not given.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from blendwise.facts.columns import Vocabulary, Word
from blendwise.judge.conditions.conditions import Atom, Limit
from blendwise.judge.conditions.limits import ConditionError, Steps, find_word, read_value, suggest
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.reading.fields import NOT_KNOWN

_LIMIT: Final = re.compile(r"(lower |upper )?limit(?:\s*([+-])\s*(.+))?")

Cell = float | frozenset[str] | None
Row = dict[str, Cell]


def read_row(rule: Rule, raw: Mapping[str, object], vocabulary: Vocabulary, path: Steps) -> Row:
    """A row of facts as typed → measure → value; texts that lean on the limit are read last."""
    row: Row = {}
    leaning: list[tuple[Word, re.Match[str]]] = []
    for measure, text in raw.items():
        try:
            word = find_word(measure, rule.looks_at, vocabulary)
            match = _LIMIT.fullmatch(text.strip()) if isinstance(text, str) else None
            if match is None:
                row[word.name] = _cell(word, text)
            else:
                leaning.append((word, match))
        except ConditionError as error:
            raise ConditionError(error.message, error.remedy, (*path, measure)) from error
    for word, match in sorted(leaning, key=lambda lean: _leans_on(rule, lean[0])):
        try:
            row[word.name] = _leaning(rule, word, match, row)
        except ConditionError as error:
            raise ConditionError(error.message, error.remedy, (*path, word.name)) from error
    return row


def _cell(word: Word, text: object) -> Cell:
    if text == NOT_KNOWN:
        return None
    if word.kind == "set" and isinstance(text, str | list):
        return frozenset([text] if isinstance(text, str) else map(str, text))
    if isinstance(text, str):
        return read_value(word, text)
    raise ConditionError(f'"{word.name}" needs one value here.', "A list stands only for a set of words.")


def _leans_on(rule: Rule, word: Word) -> int:
    """0 for a limit that is a number, 1 for one that is taken from another measure of the row."""
    return int(any(atom.limit_measures for atom in _bounds(rule, word)))


def _bounds(rule: Rule, word: Word) -> list[Atom]:
    """The lines that hold a measure against a limit, those of ``must`` before those of ``when``."""
    return [
        atom
        for condition in (rule.must, rule.when)
        for atom in condition
        if atom.limits and atom.word == word
    ]


def _leaning(rule: Rule, word: Word, match: re.Match[str], row: Row) -> float:
    side, sign, offset = match.groups()
    bounds = _bounds(rule, word)
    if not bounds:
        spoken = [atom.measure for condition in (rule.must, rule.when) for atom in condition if atom.limits]
        raise ConditionError(f'The rule sets no limit on "{word.name}".', suggest(word.name, spoken))
    atom = bounds[0]
    if atom.relation == "between" and side is None:
        raise ConditionError('"between" has two limits.', "Write `lower limit` or `upper limit`.")
    limit = limit_at(atom.limits[-1 if side == "upper " else 0], row)
    moved = limit + (_offset(word, offset) * (-1.0 if sign == "-" else 1.0) if offset else 0.0)
    if word.scale is not None and not 0 <= moved < len(word.scale):
        raise ConditionError(
            f'"{match[0]}" lies outside the words of "{word.name}".', suggest("", word.scale)
        )
    return moved


def limit_at(limit: Limit, row: Mapping[str, Cell]) -> float:
    """A limit's number in one row; ConditionError where the row does not give what it is taken from."""
    if not limit.measure:
        return limit.value
    other = row.get(limit.measure)
    if not isinstance(other, float):
        raise ConditionError(
            f'The row does not give "{limit.measure}", which the limit is taken from.', "Add it."
        )
    return limit.factor * other


def _offset(word: Word, text: str) -> float:
    """A distance in the measure's canonical unit; a whole number of words on a scale."""
    if word.scale is not None or word.dimension == "NUMBER":
        if not re.fullmatch(r"\d+(\.\d+)?", text, re.ASCII) or (word.scale and "." in text):
            raise ConditionError(
                f'"{text}" is not a distance on "{word.name}".', "Write it like `limit + 1`."
            )
        return float(text)
    unit = text.lstrip("0123456789. ")
    return read_value(word, text) - read_value(word, f"0 {unit}")
