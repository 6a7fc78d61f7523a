"""The one word of a closed set that a cell means, and whether that is certain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

from blendwise.answers.spreadsheet.words.guesses import GUESSES, MANNERS, TURNING
from blendwise.answers.spreadsheet.words.headings import plainly
from blendwise.answers.spreadsheet.words.numbers import Unread
from blendwise.answers.spreadsheet.words.tongues import CELLS_ABROAD
from blendwise.answers.spreadsheet.words.vocabulary import WORDS
from blendwise.records.writing.edit import Plain

SCALES: Final = ("browns to", "acceleration", "ricing", "after six weeks")
"""Sets whose words stand in order, the worst last."""
LIKE: Final = 85.0
"""Likeness from which a slip is read as a word (judgement: one letter in seven)."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What was read; ``guess`` says what it was read as, where that is not what stands in the cell.

    ``sure``: whether it needs no asking; ``heading``: how the column had to be headed for it to be sure.
    """

    value: Plain
    guess: str = ""
    sure: bool = True
    heading: str = ""


@cache
def worded(what: str, text: str) -> Taken:
    """The one word of a set that a cell means: itself, a known word for it, a slip of it, or held in it."""
    plain, words = plainly(text), WORDS[what]
    sure = "?" not in text
    if plain in words:
        return Taken(plain, "" if sure else plain, sure)
    meanings = _meanings(what)
    if meaning := meanings.get(plain):
        return Taken(meaning, meaning, sure)
    if guess := guessed(what, text):
        raise Unread(f'"{text}" is none of {", ".join(words)}', guess)
    if what == "after six weeks" and MANNERS.keys() & set(plain.split()):
        raise Unread(f'"{text}" is none of {", ".join(words)}', over_weeks(text))
    if meaning := _slip(plain, tuple(meanings), meanings) or _held(what, plain, meanings):
        return Taken(meaning, meaning, sure=False)
    raise Unread(f'"{text}" is none of {", ".join(words)}')


def guessed(what: str, text: str) -> str:
    """What a word that is not certain most likely means; said with force counts for more."""
    known, plain = GUESSES.get(what, {}), plainly(text)
    forced = known.get(f"{plain}!") if "!" in text else None
    return forced or known.get(plain, "")


def over_weeks(text: str) -> str:
    """What "fades slowly" most likely leaves after six weeks: how it fades, or how it holds."""
    plain = plainly(text)
    verb = next((word for word in plain.split() if word in MANNERS), "")
    if not verb:
        return guessed("fades", text)
    rest = " ".join(_PLAINER.get(word, word) for word in plain.split() if word not in (verb, *_FILLING))
    return GUESSES[MANNERS[verb]].get(rest, "")


_FILLING: Final = ("it", "scent", "smell", "really", "out", "off", "away", "up", "still", "the", "in", "soap")
_PLAINER: Final = {
    **dict.fromkeys(("slowly", "slower"), "slow"),
    **dict.fromkeys(("quickly", "quicker", "faster", "rapidly"), "fast"),
    **dict.fromkeys(("slightly",), "slight"),
    **dict.fromkeys(("doesn't", "doesnt", "don't", "isn't"), "not"),
}


@cache
def _meanings(what: str) -> dict[str, str]:
    return {plainly(word): meaning for meaning, given in WORDS[what].items() for word in given}


def _slip(plain: str, known: tuple[str, ...], meanings: Mapping[str, str]) -> str:
    if len(plain) < 4:
        return ""
    near = _nearest(plain, tuple(word for word in known if len(word) > 3))
    return meanings[near] if near else ""


@cache
def _nearest(plain: str, known: tuple[str, ...]) -> str:
    from rapidfuzz import fuzz, process

    found = process.extractOne(plain, known, scorer=fuzz.ratio, score_cutoff=LIKE)
    return str(found[0]) if found else ""


def _held(what: str, plain: str, meanings: Mapping[str, str]) -> str:
    """The one meaning among the words of a longer text; none where a "not" could turn it round.

    Of two on one scale ("medium to fast") it is the worse.
    """
    if TURNING & set(plain.split()):
        return ""
    padded, found = f" {plain} ", dict[str, str]()
    for word in sorted(meanings, key=len, reverse=True):
        if len(word) > 2 and f" {word} " in padded:
            found[word] = meanings[word]
            padded = padded.replace(f" {word} ", " | ")
    if what in SCALES:
        return max(found.values(), key=list(WORDS[what]).index, default="")
    return next(iter(found.values())) if len(set(found.values())) == 1 else ""


@cache
def _abroad() -> dict[str, str]:
    return {plainly(word): english for english, words in CELLS_ABROAD.items() for word in words}


def in_english(text: str) -> str:
    """A cell of a closed set in English words; the very text where it is none of another tongue's.

    A doubt ("ja?") and force ("ja!") stay with it.
    """
    found = _abroad().get(plainly(text)) or _put_together(plainly(text).split())
    return text if found is None else f"{found}{''.join(sign for sign in text if sign in '?!')}"


def _put_together(words: list[str]) -> str | None:
    """Several words of other tongues in English, the longest first; None where one is of none of them."""
    if not words:
        return ""
    for count in range(min(len(words), LONGEST_ABROAD), 0, -1):
        english = _abroad().get(" ".join(words[:count]))
        if english is not None and (rest := _put_together(words[count:])) is not None:
            return f"{english} {rest}".strip()
    return None


LONGEST_ABROAD: Final = 4
"""Words of the longest entry of another tongue."""
