"""Which of the questions that are known a text comes nearest to: for ``ask``, and for the page of ``why``."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Collection, Mapping
from functools import cache
from typing import Any, Final

import numpy as np

from blendwise.answers.ask.lexicon import FILE, Lexicon, read_lexicon, split
from blendwise.answers.ask.matching import Counted, Match, Wordings, counted_features
from blendwise.answers.ask.result import Named
from blendwise.answers.ask.slots import read
from blendwise.answers.ask.topics import NOT_OURS, WHY
from blendwise.records.writing.cache import cached, code_state, keep
from blendwise.version import __version__

FAR: Final = 0.18
"""Below this score nothing is near: the question is declined."""
MOST: Final = 400
"""Letters of a question that are read."""
KEPT_AS: Final = "wordings.json"
"""The features of the wordings in the cache folder: working them out costs a seventh of a second."""
CLEARLY: Final = 1.25
"""How much nearer another question must be than every symptom, for a text to be no symptom's."""


@cache
def wordings() -> Wordings:
    """Every wording that ships."""
    lexicon = read_lexicon()
    return Wordings(lexicon, prepared(lexicon))


@cache
def common_words() -> frozenset[str]:
    """The words that questions are made of."""
    lexicon = wordings().lexicon
    return frozenset(word.casefold() for _, text in lexicon.wordings for word in split(text))


def understand(asked: str, known: Mapping[str, Collection[str]]) -> tuple[list[Match], Named, bool]:
    """The questions that are known, the nearest first, what is named, and whether it is no question of ours.

    ``known``: kind → names.
    """
    slots, named = read(NO_BODYS.sub(_peel, asked[:MOST]), known, common_words())
    lexicon = wordings().lexicon
    words = lexicon.words(" ".join(slots))
    matches = wordings().match(words)
    other = matches[0].question == NOT_OURS
    far = other or matches[0].score < FAR
    ours = lexicon.ours_alone(words) or (not other and lexicon.of_the_trade(words))
    strange = (far and not ours) or wordings().strange(words)
    if strange and not other and _is_named(named):
        strange = lexicon.of_another_craft(words)  # "how much Harbour Mint in a lotion" is none of ours
    if not strange:
        matches = [each for each in matches if each.question != NOT_OURS]
    return matches, named, strange


def _peel(skin: re.Match[str]) -> str:
    return f"{skin['of']} peel" if skin["of"] else "peel"


def _is_named(named: Named) -> bool:
    """Whether an oil of the book is named by two words and more: nobody does so by chance."""
    parts = {name: typed for typed, name in named.read_as.items()}
    return any(len(BLANK.split(parts.get(oil, oil))) > 1 for oil in named.oils)


PLANTS: Final = r"onion|garlic|grape|fruit|potato|orange|lemon|lime|citrus|apple|plum|almond|avocado"
NO_BODYS: Final = re.compile(
    rf"\b(?:(?P<of>{PLANTS})[ -]skins?\b"
    r"|skin\b(?= (?:on|over) (?:the |my |top of the )?(?:batter|lye|milk|loaf|pot|soap|bowl|surface|top)\b))",
    re.IGNORECASE,
)
"""A skin that is nobody's: a plant's, or one that grows on what stands in the pot."""
BLANK: Final = re.compile(r"[\s_-]+")


def speaks_of_another(asked: str) -> bool:
    """Whether a word of another subject stands in what is asked: no answer to it is sure then."""
    lexicon = wordings().lexicon
    return any(map(lexicon.of_another, lexicon.words(asked[:MOST])))


def nearest_symptom(asked: str, names: Collection[str]) -> tuple[str, float, str]:
    """The symptom that a text comes nearest to by its wordings, its score, and the question it is instead.

    The symptom is empty where nothing is near; the question where no other is clearly nearer.
    """
    matches, _, strange = understand(asked, {})
    own = (each for each in matches if each.question.removeprefix(WHY) in names)
    best = next(own, None)
    if strange or best is None or best.score < FAR:
        return "", 0.0, ""
    first = matches[0]
    other = (
        first.question if first.score > CLEARLY * best.score and not first.question.startswith(WHY) else ""
    )
    return best.question.removeprefix(WHY), best.score, other


def prepared(lexicon: Lexicon) -> Counted:
    """The features of the shipped wordings, as kept for this very file and code, else worked out."""
    key = _key(lexicon)
    found = _usable(cached(KEPT_AS), key, len(lexicon.wordings))
    if found is None:
        found = counted_features(lexicon)
        keep(KEPT_AS, {"key": key, "counted": _packed(found)})
    return found


def _key(lexicon: Lexicon) -> str:
    """A name for all that the features hang on: how they are made, and every word that is read."""
    why = FILE.parent.parent / "why"  # stems are made there
    read = (lexicon.wordings, lexicon.same, lexicon.alike, sorted(lexicon.little))
    said = [__version__, *code_state(FILE.parent), *code_state(why), repr(read)]
    return hashlib.sha256("\n".join(said).encode()).hexdigest()


def _packed(counted: Counted) -> list[str]:
    """The features as text that is read fast: names a line each, figures as bytes in base 64."""
    names, *figures = counted
    arrays = [np.array(each, dtype=kind) for each, kind in zip(figures, KINDS, strict=True)]
    return ["\n".join(names), *(base64.b64encode(each.tobytes()).decode() for each in arrays)]


def _unpacked(names: str, *figures: str) -> Counted:
    """What was packed; ValueError or TypeError for what is none."""
    many, column, value = (
        np.frombuffer(base64.b64decode(each, validate=True), dtype=kind).tolist()
        for each, kind in zip(figures, KINDS, strict=True)
    )
    return names.split("\n"), many, column, value


KINDS: Final = ("<i4", "<i4", "<f8")
"""How many, which and how much, as bytes."""


def _usable(kept: Any, key: str, wordings: int) -> Counted | None:
    """What was kept, where it is of this key and hangs together."""
    try:
        if kept["key"] != key:
            return None
        names, many, column, value = _unpacked(*kept["counted"])
        whole = sum(many) == len(column) == len(value) and max(column) < len(names)
    except (TypeError, KeyError, ValueError, AttributeError):
        return None
    return (names, many, column, value) if whole and len(many) == wordings else None
