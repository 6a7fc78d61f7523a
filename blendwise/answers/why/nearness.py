"""Plain words matched to what is known by nearness: "went grainy" finds the phrase "grains".

Words are brought to their stems, each is weighed by how few entries use it, and misspelt ones count by how
like they are (rapidfuzz, imported only here and only when asked).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from blendwise.records.reading.trade_words import SPELLING

LIKE: Final = 82.0
"""Two words of four letters or more that are at least so like (of 100) count as one misspelt."""
NEAR_ENOUGH: Final = 0.5
"""Below this score (of 1) a question is taken for one that nobody knows."""
_ENDINGS: Final = ("ening", "ened", "ing", "ies", "ed", "es", "er", "en", "ly", "s", "y", "e")
_SHORTEST: Final = 3
MOST_WORDS: Final = 40
"""Words of a question that are read; nobody needs more to say what they see."""
_SAME: Final = {
    **{said: read for said, read in SPELLING.items() if " " not in read},
    "ran": "run",
    "sticky": "tacky",  # else its stem is that of "soap on a stick"
}
"""Words that stand for another."""
_VESSEL: Final = re.compile(r"\b(?:in|inside|into|of|off|from) (?:the|my|a|its) mou?ld\b")
"""Where it happened, and not what: "stuck in the mould" is not mouldy."""
_IDLE: Final = frozenset(
    [
        *("a", "an", "and", "any", "are", "as", "at", "be", "been", "but", "by", "did", "do", "does", "for"),
        *("from", "had", "has", "have", "how", "i", "if", "in", "into", "is", "it", "its", "me", "more"),
        *("my", "of", "on", "or", "our", "so", "some", "still", "than", "that", "the", "them", "then"),
        *("there", "they", "this", "to", "too", "very", "was", "we", "went", "were", "what", "when", "where"),
        *("which", "why", "will", "with", "you", "your", "get", "gets", "getting", "got", "after", "each"),
        *("other", "soap", "batter", "bar", "bars", "look", "looks", "seems"),
    ]
)
"""Words that tell nothing of what went wrong."""


@dataclass(frozen=True, slots=True)
class Near:
    """An entry and how near a question comes to it (0 to 1)."""

    name: str
    score: float


def words_of(text: str) -> list[str]:
    """The words of a text that say something, in order."""
    found = _split(_VESSEL.sub(" ", text.casefold()))
    return [word for word in found if word not in _IDLE] or found or _split(text)


def _split(text: str) -> list[str]:
    found = re.findall(r"[^\W_]+", text.casefold().replace("'", ""))[:MOST_WORDS]
    return [_SAME.get(word, word) for word in found]


@lru_cache(maxsize=4096)
def stem(word: str) -> str:
    """A word without its commonest endings ("thickening", "thicker" and "thick" are one)."""
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= _SHORTEST:
            word = word.removesuffix(ending)
            break
    return word[:-1] if len(word) > _SHORTEST and word[-1] == word[-2] else word


def nearest_entries(question: str, entries: Mapping[str, Iterable[str]]) -> list[Near]:
    """Every entry with its score, the nearest first (ties: in the order given).

    ``entries``: name → the phrases by which it is known.
    """
    asked = words_of(question)
    known = {name: [words_of(phrase) for phrase in (name, *phrases)] for name, phrases in entries.items()}
    weights = _weights(known.values())
    scored = [Near(name, _score(asked, phrases, weights)) for name, phrases in known.items()]
    return sorted(scored, key=lambda near: -near.score)


def _weights(entries: Iterable[Sequence[Sequence[str]]]) -> dict[str, float]:
    """Stem → weight: the fewer entries use it, the more it tells (1 for a word of all of them)."""
    bags = [{stem(word) for phrase in phrases for word in phrase} for phrases in entries]
    words = {word for bag in bags for word in bag}
    return {word: 1 + math.log(len(bags) / sum(word in bag for bag in bags)) for word in words}


def _score(asked: Sequence[str], phrases: Sequence[Sequence[str]], weights: Mapping[str, float]) -> float:
    """Half by the nearest single phrase, half by how much of the question the entry knows at all.

    A question that holds a whole phrase and goes on about something else is always near enough.
    """
    bag = list(dict.fromkeys(word for phrase in phrases for word in phrase))
    best = max((_shared(asked, phrase, weights) for phrase in phrases), default=0.0)
    known = _covered(asked, bag, weights)
    stems = set(map(stem, asked))
    whole = any(set(map(stem, phrase)) <= stems for phrase in phrases)
    return max(0.5 * best + 0.5 * known, (NEAR_ENOUGH + 0.3 * known) if whole else 0.0)


def _shared(asked: Sequence[str], phrase: Sequence[str], weights: Mapping[str, float]) -> float:
    """How far question and phrase cover each other: the harmonic mean of both coverings."""
    there, back = _covered(asked, phrase, weights), _covered(phrase, asked, weights)
    return 2 * there * back / (there + back) if there + back else 0.0


def _covered(words: Sequence[str], others: Sequence[str], weights: Mapping[str, float]) -> float:
    """The weight of those words that the others hold too, of the weight of all."""
    usual = sum(weights.values()) / len(weights)
    weighed = [(weights.get(stem(word), usual), _likeness(word, others)) for word in words]
    total = sum(weight for weight, _ in weighed)
    return sum(weight * like for weight, like in weighed) / total if total else 0.0


def _likeness(word: str, others: Sequence[str]) -> float:
    """1 where the others hold its stem, less where one of them is only like it, else 0."""
    if stem(word) in map(stem, others):
        return 1.0
    if len(word) <= _SHORTEST:
        return 0.0
    from rapidfuzz import fuzz

    best = max((fuzz.ratio(word, other) for other in others if len(other) > _SHORTEST), default=0.0)
    return best / 100 if best >= LIKE else 0.0


def speaks_of(question: str, words: Iterable[str], unless: Iterable[str] = ()) -> str:
    """The first of the words (or turns of phrase) that a question holds, misspelt or not; "" if none.

    Turns of phrase in ``unless`` are taken out of the question first.
    """
    said = _split(question)
    for phrase in unless:
        at = _found(_split(phrase), said)
        if at is not None:
            said[at : at + len(_split(phrase))] = []
    return next((word for word in words if _found(_split(word), said) is not None), "")


def _found(phrase: Sequence[str], said: Sequence[str]) -> int | None:
    """Where the words of a phrase stand one after another in what was said; None if nowhere."""
    for at in range(len(said) - len(phrase) + 1):
        beside = [*zip(phrase, said[at:], strict=False)]
        if all(word[0] == typed[0] and _likeness(stem(word), [stem(typed)]) for word, typed in beside):
            return at
    return None
