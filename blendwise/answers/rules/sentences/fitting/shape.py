"""What every shape is made of: an example, its letters, its reader; and what readers share."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

from blendwise.answers.rules.sentences.draft import Conditions, Draft, merged
from blendwise.answers.rules.sentences.heard import Heard
from blendwise.answers.rules.sentences.lexicon import Token

Read = Callable[[Heard], Draft | None]


@dataclass(frozen=True)
class Shape:
    """One shape: its name, an example, its letters, and its reader (None where it does not fit)."""

    name: str
    example: str
    letters: str
    read: Read


def fits(pattern: str, heard: Heard, aside: str = "c") -> bool:
    """Whether the core's letters are so, some left aside."""
    return re.fullmatch(pattern, heard.without(aside)) is not None


def made_of(heard: Heard, needed: str, optional: str = "", aside: str = "c") -> bool:
    """Whether the core is of the needed letters, each as often, and any optional one once, in any order."""
    have, need = Counter(heard.without(aside)), Counter(needed)
    rest = have - need
    return not need - have and all(letter in optional and count == 1 for letter, count in rest.items())


def only_of_a_bound(heard: Heard) -> bool:
    """Whether each "only" stands before a bound: "only below 38 °C"; another is a demand of its own."""
    return re.search(r"O(?![kw]?R)", heard.letters) is None


def grown(heard: Heard, when: Conditions) -> Conditions:
    """Conditions with those that the sentence sets apart."""
    return merged(when, heard.when)


def made(heard: Heard, looks_at: str, when: Conditions, must: Conditions, level: str = "conflict") -> Draft:
    """A draft that tells what its words count as."""
    return Draft(looks_at, when, must, level, "", dict(heard.meaning.counts))


def excepting(heard: Heard, token: Token) -> Conditions:
    """Who is meant, less who is excepted; ValueError where the exception is none of them."""
    when = heard.meaning.oils(token)
    if heard.unless is None:
        return when
    ((measure, said),) = heard.meaning.oils(heard.unless).items()
    words = [said] if isinstance(said, str) else list(said)
    if measure not in ("tags", "scent", "kind") or not _among(heard, token, measure, words):
        raise ValueError(measure)
    return merged(when, {measure: {"none of": words}})


def _among(heard: Heard, token: Token, measure: str, words: list[str]) -> bool:
    """Whether what is excepted may be of those who are meant: no rosemary is excepted from limes."""
    scents = heard.meaning.book.scents
    if any(value in scents for value in token.values):
        return False
    if measure != "scent" or not any(set(token.values) & set(each.tags or ()) for each in scents.values()):
        return True
    return all(set(token.values) & set(scents[word].tags or ()) for word in words)
