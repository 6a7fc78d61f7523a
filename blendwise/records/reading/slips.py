"""Slips of the pen in YAML, in plain words with their remedy."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from blendwise.records.place import Fault, Place
from blendwise.records.reading.fields import LONGEST_NAME

_REMARK: Final = re.compile(r"[ \t]*#")
_REMARK_VALUE: Final = re.compile(r"(?:[,\[{][ \t]*|[:-][ \t]+)#")
LOOKED_BACK: Final = 40
SHOWN: Final = 57
_DIGITS: Final = re.compile(r"[+-]?\d+", re.ASCII)
_TAKEN: Final = "The # and what follows was read as a remark: put the value in quotes."


@lru_cache(maxsize=4096)
def unusable_name(name: str) -> tuple[str, str] | None:
    """What is wrong with a key (message, remedy), or None."""
    if not name.strip():
        return "A name is missing before the colon.", "Write one."
    if len(name) > LONGEST_NAME:
        return f"This name has {len(name)} characters; at most {LONGEST_NAME} are read.", "Shorten it."
    if not name.isprintable():
        return "This name holds a control character or a line break.", "Remove it."
    return None


def empty_value(key: str | None, previous: str | None, text: str, at: int) -> tuple[str, str]:
    """What to say of a key (or, with None, a list item) that has no value; ``at`` is where it should be."""
    if key is None:
        return "An entry of the list is empty.", _TAKEN if _REMARK.match(
            text, at
        ) else "Remove its mark, or fill it."
    shown = key if len(key) <= LONGEST_NAME else f"{key[:SHOWN]}…"
    message = f'"{shown}" has no value.'
    if _REMARK.match(text, at):
        return message, _TAKEN
    if previous is not None and _DIGITS.fullmatch(previous) and key[:1].isdigit():
        return message, f'If "{previous},{key}" was meant with a decimal comma, write {previous}.{key}'
    return message, "Write a value, or leave the name out where nothing is known."


_PLAIN_WORDS: Final = (
    (
        "mapping values are not allowed",
        "A second colon stands here.",
        "Put a text that holds a colon in quotes.",
    ),
    ("cannot start any token", "A value cannot begin with this sign.", "Put the value in quotes."),
    ("special characters are not allowed", "A control character stands here.", "Remove it."),
    ("unexpected end of stream", "The file ends inside a quoted text.", "Close the quotes."),
    ("unexpected end of the stream", "The file ends inside a quoted text.", "Close the quotes."),
    ("did not find expected ',' or '}'", "A { … } is not closed, or a comma is missing.", ""),
    ("did not find expected ',' or ']'", "A [ … ] is not closed, or a comma is missing.", ""),
    ("exceeded maximum nesting depth", "This is nested too deeply.", "Bring it into fewer levels."),
    ("did not find expected node content", "A value is missing, or a bracket is not closed.", ""),
    (
        "did not find expected key",
        "This line does not fit the ones above.",
        "Look at the indentation and quotes.",
    ),
    (
        "did not find expected '-' indicator",
        "This line does not fit the list above.",
        "Look at the indentation.",
    ),
    ("could not find expected ':'", "A colon is missing after a name.", "Write `name: value`."),
    (
        "unknown escape character",
        "A backslash stands in double quotes.",
        "Use single quotes, or two backslashes.",
    ),
)


def in_plain_words(error: Any, text: str, file: Path) -> Fault:
    """A parser's complaint as a Fault with its place and, for the commonest slips, a remedy."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    problem = str(getattr(error, "problem", None) or "it cannot be read")
    begun = getattr(error, "context_mark", None)
    if mark is None and isinstance(getattr(error, "position", None), int):
        return _bad_sign(error.position, text, file)
    for words, message, remedy in _PLAIN_WORDS:
        if words in problem:
            if not remedy and begun is not None:
                place, remedy = _unclosed(text, place, Place(file, begun.line + 1, begun.column + 1))
            return Fault(place, message, remedy)
    return Fault(
        place,
        f"This is not well-formed YAML: {problem}.",
        "Look at this line and the one above; a text that holds `: `, `#` or a bracket needs quotes.",
    )


def _bad_sign(position: int, text: str, file: Path) -> Fault:
    """A sign that YAML does not allow, at a character offset."""
    before = text[:position]
    place = Place(file, before.count("\n") + 1, len(before) - before.rfind("\n"))
    return Fault(place, "A control character stands here.", "Remove it.")


def _unclosed(text: str, place: Place, begun: Place) -> tuple[Place, str]:
    """Where and why a bracket did not close: a # may have taken the rest of a line, bracket and all."""
    lines = text.splitlines()[: place.line]
    for number in range(len(lines), max(0, len(lines) - LOOKED_BACK), -1):
        slip = _REMARK_VALUE.search(lines[number - 1])
        before = lines[number - 1][: slip.end()] if slip else ""
        if before.count("{") + before.count("[") > before.count("}") + before.count("]"):
            return Place(place.file, number, len(before)), _TAKEN
    return place, "" if begun == place else f"It was opened at line {begun.line}, column {begun.column}."
