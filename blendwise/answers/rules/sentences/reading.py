"""A sentence read against the shapes that are known: a controlled language, never a guess.

Every word must have its part; what has none is handed back, with the nearest shape.
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import islice, product
from typing import Final

from blendwise.answers.rules.sentences.draft import Draft, Unread
from blendwise.answers.rules.sentences.heard import Heard
from blendwise.answers.rules.sentences.lexicon import MOST, Lexicon, Token, lexicon_of, tokens
from blendwise.answers.rules.sentences.parts import Meaning, span_of_months
from blendwise.answers.rules.sentences.patterns import SHAPES
from blendwise.answers.rules.sentences.plain import is_plain, read_plain
from blendwise.answers.rules.sentences.terms import LEVELS, SMALL
from blendwise.records.book import BookFiles

_LEVEL: Final = re.compile(rf"\s*({'|'.join(LEVELS)}|warn me)\s*[:,]\s*", re.IGNORECASE)
_REASON: Final = re.compile(
    r"[,;]?\s*\b(?:because|otherwise|or else|else|since)\b(.*)$", re.IGNORECASE | re.DOTALL
)
MOST_WAYS: Final = 16
_HINT: Final = re.compile(rf"\b(?:{'|'.join(SMALL)})\b,?", re.IGNORECASE)
_LISTED: Final = re.compile(
    r"\W*(?:,|\b(?:and|or|nor|plus)\b|&|\+)\W*(?:(?:and|or|a|an|the)\b\W*)*", re.IGNORECASE
)


def read_sentence(sentence: str, book: BookFiles, basis: str = "") -> Draft | Unread:
    """The rule that a sentence says; what was not understood where it says none.

    ``basis``: what a rate is of, where the sentence does not say (one of ``draft.BASES``).
    """
    text = sentence[:MOST]
    if is_plain(text):
        return read_plain(text)
    level, start = _level(text)
    reason = _REASON.search(text, start)
    core = " " * start + text[start : reason.start() if reason else len(text)]
    hinted = _HINT.search(core) is not None
    core = _HINT.sub(lambda found: " " * len(found[0]), core)
    found = _read(core, book, lexicon_of(book), basis)
    if isinstance(found, Unread):
        return found
    return replace(found, level=level or ("hint" if hinted else found.level))


def reason_in(sentence: str) -> str:
    """What a sentence says after "because"; nothing where it gives no reason."""
    found = _REASON.search(sentence[:MOST])
    return "" if found is None or is_plain(sentence) else found[1].strip(" .,")


def _level(text: str) -> tuple[str, int]:
    found = _LEVEL.match(text)
    if found is None:
        return "", 0
    word = found[1].casefold()
    return ("caution" if word == "warn me" else word), found.end()


def _read(text: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | Unread:
    parts = tokens(text, lexicon)
    unknown = [part for part in parts if part.letter == "?"]
    ways = [_joined(way, text) for way in _ways([part for part in parts if part.letter != "?"])]
    if unknown or not ways[0]:
        return _unread(unknown, ways[0])
    drafts = {str(draft.body()): draft for draft in (_shaped(way, book, basis) for way in ways) if draft}
    if len(drafts) > 1:
        return _either(parts, ways[0])
    return next(iter(drafts.values()), None) or _unread([], ways[0])


def _shaped(parts: list[Token], book: BookFiles, basis: str) -> Draft | None:
    """The first shape that parts fit."""
    for shape in SHAPES:
        try:
            draft = shape.read(Heard.of(parts, Meaning(book), basis))
        except ValueError:  # kinds of words that no line of a rule takes together
            continue
        if draft is not None:
            return replace(draft, shape=shape.name)
    return None


def _ways(parts: list[Token]) -> list[list[Token]]:
    """Every way to take the parts that may be more than one thing ("honey": a tag, or an additive)."""
    choices: list[list[Token]] = []
    for at, part in enumerate(parts):
        following = parts[at + 1].letter[0] if at + 1 < len(parts) else ""
        letters = part.letter
        if set(letters) >= {"R", "g"}:  # "over" an amount, or an age
            letters = "g" if following == "Y" else "R"
        choices.append([_taken(part, letter) for letter in letters])
    return [list(way) for way in islice(product(*choices), MOST_WAYS)]


def _taken(part: Token, letter: str) -> Token:
    return replace(part, letter=letter, values=(part.values[part.letter.index(letter)],))


def _either(parts: list[Token], known: list[Token]) -> Unread:
    """A word that may mean two things, with the wordings that tell them apart."""
    part = next(part for part in parts if len(part.letter) > 1)
    wordings = {"X": "{} oils", "D": "additive {}", "Q": "{}, the constituent", "C": "{}, the colourant"}
    either = tuple(wordings.get(letter, "{}").format(part.value) for letter in part.letter)
    return replace(_unread([], known), spans=((part.start, part.end),), either=either)


def _joined(parts: list[Token], text: str) -> list[Token]:
    """Names in a list ("lime, litsea and cedar") as one part; words that only carry others left out."""
    found: list[Token] = []
    for at, part in enumerate(parts):
        before = found[-1] if found else None
        following = parts[at + 1].letter if at + 1 < len(parts) else ""
        carries = part.letter == "M" and part.value == "scent rate" and following == "X"
        if part.letter == "&" or (carries and (before is None or before.letter == "N")):
            continue
        if part.letter in "cs" and before is not None and before.letter in "WPXUE":
            continue
        if before is not None and part.letter == before.letter and part.letter in "XSPCBU":
            between = text[before.end : part.start]
            listed = _LISTED.fullmatch(between.replace("-", " "))
            if listed or part.letter == "S":
                span = part.letter == "S" and "to" in between.split()
                found[-1] = _together(before, part, span)
                continue
        found.append(part)
    return found


def _together(before: Token, part: Token, span: bool) -> Token:
    """Two parts of a kind as one; two months with "to" between them are a span."""
    values = (*before.values, *part.values)
    if span:
        values = span_of_months(before.values[-1], part.value)
    return replace(before, values=tuple(dict.fromkeys(values)), end=part.end)


def _unread(unknown: list[Token], known: list[Token]) -> Unread:
    letters = "".join(part.letter for part in known)
    nearest = max(SHAPES, key=lambda shape: shape.likeness(letters))
    return Unread(tuple((part.start, part.end) for part in unknown), nearest.name, nearest.example)
