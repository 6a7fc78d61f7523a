"""The cups that a question names though no plan stands after it: read from the plans of the book."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import Named

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door

_NAME: Final = re.compile(r"^\s*-\s*\{?\s*name:\s*[\"']?([^,}\"'\n]+)", re.MULTILINE)
"""A portion of a plan as it is written; no plan is worked out for a question that names none."""
_CUE_BEFORE: Final = r"(?:cups?|portions?|layer|in|into|of|beside|under|over)\s+(?:the\s+|my\s+)?"
_CUE_AFTER: Final = r"\s+(?:cups?|portions?|layer|part)"
_OF_THE_BAR: Final = r"(?!\s+(?:soap|bars?|lines?|batter|powder|mica))"
"""What makes a cup's name a mere colour."""
MANY: Final = 2
"""Cups of one plan from which they are meant wherever they stand."""


def cups_of(book: Door, plan: str | Path | None) -> dict[str, tuple[str, ...]]:
    """Plan → its portions by name: of the plan that is meant, else of every plan of the book."""
    files = sorted((book.folder / "plans").glob("*.yaml"))
    if plan is not None:
        files = [Path(plan)] if Path(plan).is_file() else [file for file in files if file.stem == str(plan)]
    return {file.stem: tuple(map(str.strip, _NAME.findall(_text(file)))) for file in files}


def _text(file: Path) -> str:
    try:
        return file.read_text("utf-8")
    except (OSError, UnicodeDecodeError):
        return ""


def with_cups(asked: str, named: Named, cups: Mapping[str, Collection[str]]) -> Named:
    """The names of a question with the cups of one plan: two and more, or one beside a word for a cup.

    Of several plans the one of which most are named.  A part of an oil's or a colour's name that is a cup's
    whole name is the cup's.
    """
    parts = {typed: name for typed, name in named.read_as.items() if len(re.findall(r"\w+", typed)) == 1}
    whole = (*named.oils, *named.colours, *named.plans)
    text = _without(asked, (*whole, *(typed for typed in named.read_as if typed not in parts)))
    found = [[cup for cup in dict.fromkeys(own) if _stands(cup, text)] for own in cups.values()]
    best = max(found, key=lambda own: (len(own), sum(_is_cued(cup, text) for cup in own)), default=[])
    if len(best) < MANY:
        best = [cup for cup in best if _is_cued(cup, text)]
    taken = {parts[typed] for typed in parts if typed.casefold() in {cup.casefold() for cup in best}}
    return replace(
        named,
        portions=tuple(best),
        oils=tuple(oil for oil in named.oils if oil not in taken),
        colours=tuple(each for each in named.colours if each not in taken),
        read_as={typed: name for typed, name in named.read_as.items() if name not in taken},
    )


def _without(asked: str, names: Collection[str]) -> str:
    """A question without the names that were read in it already."""
    for name in sorted(names, key=len, reverse=True):
        words = _words(name)
        asked = re.sub(rf"\b{words}\b", " , ", asked, flags=re.IGNORECASE) if words else asked
    return asked


def _words(name: str) -> str:
    """A name as a pattern, however its words are joined."""
    return r"[\s_-]*".join(map(re.escape, re.findall(r"\w+", name)))


def _stands(cup: str, text: str) -> bool:
    least = r"cups?\s+" if len(cup) < SHORT else ""
    return re.search(rf"\b{least}{_words(cup)}\b", text, re.IGNORECASE) is not None


SHORT: Final = 3
"""Letters below which a name counts only after the word cup."""


def _is_cued(cup: str, text: str) -> bool:
    words = _words(cup)
    return (
        re.search(rf"\b{_CUE_BEFORE}{words}\b{_OF_THE_BAR}|\b{words}{_CUE_AFTER}\b", text, re.IGNORECASE)
        is not None
    )
