"""Clauses beside a demand that hold nothing a rule is made of: "smelled like the dentist".

Only what is surely no part of the demand is set aside, and told to be; all else refuses the sentence.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from blendwise.answers.rules.sentences.lexicon import Lexicon, tokens
from blendwise.answers.rules.sentences.reasons.effects import (
    HAPPENS,
    MORE,
    NEGATED,
    PLACED,
    TELLING,
    without_effects,
)
from blendwise.answers.rules.sentences.reasons.effects import TABLE as _TABLE
from blendwise.answers.rules.sentences.terms import FILLERS

_MARK: Final = re.compile(r"[,;:.!?](?=\s|$)|\s[-–—]\s|—|[()]")
_MARKED: Final = re.compile(r"^\s*[,;:.!](?!\d)")
_OR: Final = re.compile(r"[,;]?\s*\b(?:or|else|or else|otherwise)\b\s+", re.IGNORECASE)
_WORD: Final = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
SUFFERS, GUARDED = _TABLE["suffers"], _TABLE["guarded"]
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
    if re.search(r"'s (?:an?|the|too|so|very|such) ", text.casefold().replace("’", "'")):  # "clove's a bully"
        return True
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
    clause = MORE.sub("it", _WATER.sub("hurts", clause))
    suffers = _suffers(_words(clause))
    if not (suffers or _is_told(clause, first=first)) or PLACED.search(clause):
        return False
    clause = clause if first else NEGATED.sub(lambda no: " " * len(no[0]), without_effects(clause))
    words = _words(clause)
    if any(sign.isdigit() or sign in "%°<>≤≥&+=/$" for sign in clause):
        return False
    bound = any(_binds(word, lexicon, suffers, told=not first) for word in words)
    return not bound and _unknown(clause, lexicon, suffers)


def may_demand(reason: str, lexicon: Lexicon) -> bool:
    """Whether a clause that no "because" opens may demand: a bound, a figure, a place, a "never"."""
    parts = tokens(NEGATED.sub("", without_effects(reason)), lexicon)
    told = {part.letter for part in parts if not set(_words(reason[part.start : part.end])) <= HAPPENS}
    return bool(told & set(_DEMANDS)) or PLACED.search(reason) is not None


_DEMANDS: Final = "ROAJHIYKzTEbUSWPVaeLN"
"""Letters of what a reason has no business to hold."""


def is_unclear(clause: str, lexicon: Lexicon) -> bool:
    """Whether a clause may be a reason or more, with nothing of a rule in it: "headache guaranteed"."""
    if PLACED.search(clause):
        return False
    clause = NEGATED.sub("", without_effects(clause))
    words = _words(clause)
    free = words and not any(sign.isdigit() or sign in "%°<>≤≥&+=/$" for sign in clause)
    return bool(free) and not any(_binds(word, lexicon, False, told=True) for word in words)


def unclear_in(core: str, lexicon: Lexicon) -> Iterator[tuple[int, int]]:
    """Where a clause behind the first begins and ends that may be a reason."""
    for start, end, first in _clauses(core):
        if not first and is_unclear(_OR.sub("", core[start:end]), lexicon):
            yield start, end


def _words(clause: str) -> list[str]:
    return _WORD.findall(clause.casefold().replace("’", "'"))


def _is_told(clause: str, *, first: bool) -> bool:
    """Whether a clause has who or what, and a verb that tells: "it bleeds", "becomes dirty"."""
    words = _words(clause)
    if not words or (first and (words[0] not in _TABLE["before"] or not set(words) & TELLING)):
        return False
    if words[0] in TELLING | HAPPENS:
        return True
    opened = words[0] in _TABLE["teller"]
    if first or not opened:
        return opened and bool(set(words) & TELLING)
    return any(_is_verb(word) for word in words[:5])


def _is_verb(word: str) -> bool:
    return word in TELLING | HAPPENS | _TABLE["are"] or "'" in word or (word.endswith("ed") and len(word) > 4)


def _binds(word: str, lexicon: Lexicon, suffers: bool, *, told: bool = False) -> bool:
    """Whether a word may be of the demand: a name or a slip of one, a word of rules, of time or place."""
    if told and word == "and":
        return False
    if word in _TABLE["bare"] or (suffers and word in _GETS):
        return word in lexicon.named
    if word in lexicon.named or word in GUARDED:
        return True
    if word in TELLING | SUFFERS | HAPPENS:
        return False
    if word in FILLERS:
        return not told
    return bool(lexicon.at((word,))) or bool(lexicon.nearest(word))


def _unknown(clause: str, lexicon: Lexicon, suffers: bool) -> bool:
    """Whether no run of its words has a part in a rule; what oils do of themselves is told."""
    return all(
        part.letter in "?&"
        or set(_words(clause[part.start : part.end])) <= (HAPPENS | _GETS if suffers else HAPPENS)
        for part in tokens(clause, lexicon)
    )
