"""Clauses beside a demand that hold nothing a rule is made of: "smelled like the dentist".

Only what is surely no part of the demand is set aside, and told to be; all else refuses the sentence.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Final

from blendwise.answers.rules.sentences.lexicon import Lexicon, tokens
from blendwise.answers.rules.sentences.terms import FILLERS, read_table

_MARK: Final = re.compile(r"[,;:.!](?=\s|$)|\s[-–—]\s|—|[()]")
_MARKED: Final = re.compile(r"^\s*[,;:.!](?!\d)")
_OR: Final = re.compile(r"[,;]?\s*\b(?:or|else|or else|otherwise)\b\s+", re.IGNORECASE)
_WORD: Final = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
_TABLE: Final = {
    term.letter: frozenset(term.said) for term in read_table(Path(__file__).with_name("asides.txt"))
}
TELLING, SUFFERS, GUARDED = (_TABLE[each] for each in ("telling", "suffers", "guarded"))
_CHATTERED: Final = "|".join(sorted(map(re.escape, _TABLE["chatter"]), key=len, reverse=True))
_CHATTER: Final = re.compile(rf"(?:^|[,;.!(])\s*(?:{_CHATTERED})\b(?=\s*[,;.!:]|\s*$)", re.IGNORECASE)
_GETS: Final = frozenset(("gets", "get"))
_WATER: Final = re.compile(r"(?<=\beyes )water\b", re.IGNORECASE)
"""Water is an additive, but not that of eyes."""


def without_chatter(core: str) -> tuple[str, tuple[str, ...]]:
    """A sentence with what carries nothing at all made blank, and this; places stay as they are."""
    found: list[str] = []
    core = _CHATTER.sub(lambda said: _kept(said[0], found), core)
    return _MARKED.sub(lambda marks: " " * len(marks[0]), core) if found else core, tuple(found)


def without_asides(core: str, lexicon: Lexicon) -> tuple[str, tuple[str, ...]]:
    """A sentence with each clause made blank that holds nothing of a rule, and these."""
    found: list[str] = []
    for start, end, first in tuple(_clauses(core)):
        text = core[start:end]
        clause = _MARK.sub("", _OR.sub("", text)).strip()
        if is_aside(clause, lexicon, first=first):
            found.append(clause)
            core = core[:start] + " " * len(text) + core[end:]
    return _MARKED.sub(lambda marks: " " * len(marks[0]), core), tuple(found)


def _kept(text: str, found: list[str]) -> str:
    found.append(text.strip(" ,;.:!"))
    return " " * len(text)


def _clauses(core: str) -> Iterator[tuple[int, int, bool]]:
    """Where each clause begins and ends, and whether it is the first; "or" opens one of what suffers."""
    marks = [0, *(mark.start() for mark in _MARK.finditer(core)), len(core)]
    for at, (start, end) in enumerate(pairwise(marks)):
        opened = next(reversed([*_OR.finditer(core, start + 1, end)]), None)
        if opened and _suffers(_WORD.findall(_WATER.sub("hurts", core[opened.end() : end].casefold()))):
            yield start, opened.start(), at == 0
            yield opened.start(), end, False
        elif core[start:end].strip(" ,;:.!()–—-"):
            yield start, end, at == 0


def tells(text: str) -> bool:
    """Whether what comes before a demand tells what happened, rather than where or for whom."""
    words = _WORD.findall(text.casefold().replace("’", "'"))
    if not words or words[0] in _TABLE["where"]:
        return False
    return any(word in _TABLE["happened"] | TELLING or word.endswith("ed") for word in words)


def _suffers(words: list[str]) -> bool:
    """Whether a clause is of hands, eyes and the like: "eyes water", "my hand gets tired"."""
    while words and words[0] in ("my", "the", "our", "your"):
        words = words[1:]
    return len(words) > 1 and words[0] in SUFFERS and (words[1] in TELLING or words[1] in _TABLE["are"])


def is_aside(clause: str, lexicon: Lexicon, *, first: bool = False) -> bool:
    """Whether a clause tells why, and holds no name, no figure and no word that a rule is made of.

    ``first``: it comes before the demand, where it may only tell what somebody met with.
    """
    clause = _WATER.sub("hurts", clause)
    words = _WORD.findall(clause.casefold().replace("’", "'"))
    if not words or any(sign.isdigit() or sign in "%°<>≤≥&+=/$" for sign in clause):
        return False
    suffers, met = _suffers(words), bool(set(words) & TELLING)
    if not (suffers or met) or (first and (words[0] not in _TABLE["before"] or not met)):
        return False
    if not (suffers or words[0] in _TABLE["teller"] | TELLING):
        return False
    return not any(_binds(word, lexicon, suffers) for word in words) and _unknown(clause, lexicon, suffers)


def _binds(word: str, lexicon: Lexicon, suffers: bool) -> bool:
    """Whether a word may be of the demand: a name or a slip of one, a word of rules, of time or place."""
    if word in _TABLE["bare"] or (suffers and word in _GETS):
        return word in lexicon.named
    if word in lexicon.named or word in GUARDED:
        return True
    if word in TELLING | SUFFERS:
        return False
    return word in FILLERS or word in lexicon.words or bool(lexicon.nearest(word))


def _unknown(clause: str, lexicon: Lexicon, suffers: bool) -> bool:
    """Whether no run of its words has a part in a rule."""
    return all(
        part.letter == "?" or (suffers and clause[part.start : part.end].casefold() in _GETS)
        for part in tokens(clause, lexicon)
    )
