"""What a measure may be held against: an amount with its unit, a word of its scale, another measure."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

from blendwise.facts.columns import Vocabulary, Word
from blendwise.judge.conditions.conditions import RELATIONS_OF, Limit
from blendwise.quantity.amount import Basis, Dimension, QuantityError
from blendwise.quantity.parse import parse_amount
from blendwise.records.nearest import nearest
from blendwise.records.reading.record import spelt

LONGEST_TEXT: Final = 200
"""Characters in one condition; a maker's sentence is far shorter, and a slip of the editor far longer."""
LISTED: Final = 12

Steps = tuple[str | int, ...]
DAYS: Final = 365.25
IN_YEARS: Final = {"day": 1 / DAYS, "week": 7 / DAYS, "month": 1 / 12, "year": 1.0}
_SPAN: Final = re.compile(r"(\d+(?:\.\d+)?|half a|an?)\s*(day|week|month|year)s?", re.ASCII)
_TIMES: Final = re.compile(r"(\d+(?:\.\d+)?)\s*[×x*]\s*(\S.*)", re.ASCII)


class ConditionError(ValueError):
    """A condition that cannot be read: ``message``, ``remedy``, and ``path`` inside the rule's entry."""

    def __init__(self, message: str, remedy: str = "", path: Steps = ()) -> None:
        super().__init__(f"{message} {remedy}".strip())
        self.message, self.remedy, self.path = message, remedy, path


def find_word(measure: str, grain: str, vocabulary: Vocabulary) -> Word:
    """The word for a measure; ConditionError where there is none, or none at this grain."""
    word = vocabulary.get(measure) or vocabulary.get(" ".join(map(spelt, measure.split())))
    if word is None:
        here = [name for name, known in vocabulary.items() if grain in known.grains]
        raise ConditionError(f'"{short(measure)}" is not a measure.', suggest(measure, here))
    if grain not in word.grains:
        raise ConditionError(
            f'"{measure}" belongs to {a(word.grain)} and cannot be asked of {a(grain)}.',
            f"Let the rule look at: {' or '.join(word.grains)}.",
        )
    return word


def read_limit(word: Word, text: str | tuple[str, ...], vocabulary: Vocabulary, grain: str) -> Limit:
    """The limit in a condition on ``word``: an amount, a word of its scale, or ``factor × measure``."""
    if not isinstance(text, str) or not text:
        raise ConditionError(f'Nothing follows for "{word.name}" to be held against.', what_may_stand(word))
    if word.scale is not None and text in word.scale:
        return Limit(float(word.scale.index(text)), text=text)
    times = _TIMES.fullmatch(text)
    name = times[2] if times else text
    if name in vocabulary:
        return _other_measure(
            word, float(times[1]) if times else 1.0, find_word(name, grain, vocabulary), text
        )
    if times and not re.match(r"[\d.]", times[2]):
        raise ConditionError(
            f'"{name}" is not a measure.', suggest(name, _comparable(word, vocabulary, grain))
        )
    return Limit(read_value(word, text, lambda: _comparable(word, vocabulary, grain)), text=text)


def _other_measure(word: Word, factor: float, other: Word, text: str) -> Limit:
    if other.name == word.name:
        raise ConditionError(f'"{word.name}" is held against itself.', "Name a number or another measure.")
    if not _alike(word, other):
        raise ConditionError(
            f'"{word.name}" ({kind_of(word)}) cannot be held against "{other.name}" ({kind_of(other)}).',
            "Hold it against a measure of its own kind, or against a value.",
        )
    if factor != 1.0 and word.kind != "number":
        raise ConditionError(
            f'A factor cannot stand before "{other.name}": it is {kind_of(other)}, not a number.',
            "Leave the factor out.",
        )
    if factor <= 0:
        raise ConditionError(
            f'The factor before "{other.name}" must be above zero.', f"Write it like 1.5 × {other.name}."
        )
    return Limit(measure=other.name, factor=factor, text=text)


def _alike(word: Word, other: Word) -> bool:
    return all(
        getattr(word, what) == getattr(other, what) for what in ("kind", "dimension", "basis", "scale")
    )


def _comparable(word: Word, vocabulary: Vocabulary, grain: str) -> list[str]:
    return [
        o.name for o in vocabulary.values() if o.name != word.name and grain in o.grains and _alike(word, o)
    ]


def read_value(word: Word, text: str, others: Callable[[], Iterable[str]] = tuple) -> float:
    """A number in the measure's canonical unit, or the index of a word in its scale.

    ``others`` gives the measures that could stand here too, for the ConditionError where it is neither.
    """
    if word.scale is not None:
        if text in word.scale:
            return float(word.scale.index(text))
        raise ConditionError(
            f'"{short(text)}" is not a word for "{word.name}".', suggest(text, (*word.scale, *others()))
        )
    text = _without_own_unit(word, text)
    age = _age(word, text)
    if age is not None:
        return age
    sign, digits = (-1.0, text[1:].strip()) if text[:1] in "-−" else (1.0, text)
    if word.dimension == "TEMPERATURE":
        sign, digits = 1.0, text
    try:
        bases = frozenset({Basis(word.basis)}) if word.dimension == "FRACTION" else frozenset()
        return sign * parse_amount(digits, Dimension[word.dimension], bases=bases, ranges=False).value
    except QuantityError as error:
        near = nearest(text[:LONGEST_TEXT], others())
        also = f' A measure like it is "{near}".' if near else ""
        message = f'{error.message} "{word.name}" is {kind_of(word)}.'
        raise ConditionError(message, f"{error.remedy}{also}".strip()) from error


def _without_own_unit(word: Word, text: str) -> str:
    """The number alone where a measure's own unit, as it is printed, stands behind it ("8 ΔE", "2 portions").

    A share printed "50 % of the portion's scent" keeps its "%", unless it has a basis that is read.
    """
    if word.dimension not in ("NUMBER", "FRACTION") or word.basis or not word.unit:
        return text
    head, sign, _ = word.unit.partition("%")
    kept = "%" if sign and not head.strip() else ""
    tail = word.unit[1:] if kept else word.unit
    return text.removesuffix(tail).strip() if tail and text.endswith(tail) else text


def _age(word: Word, text: str) -> float | None:
    """A span of calendar time ("12 months", "a year", "90 days") in a measure of years or of days."""
    match = _SPAN.fullmatch(text) if word.unit in ("years", "days") else None
    if match is None:
        return None
    count = {"a": 1.0, "an": 1.0, "half a": 0.5}.get(match[1]) or float(match[1])
    years = count * IN_YEARS[match[2]]
    return years if word.unit == "years" else years * DAYS


def suggest(wrong: str, allowed: Iterable[str]) -> str:
    """The nearest allowed word, then those that may stand here (at most twelve are listed)."""
    words = list(dict.fromkeys(allowed))
    near = nearest(wrong[:LONGEST_TEXT], words)
    first = f'The nearest is "{near}". ' if near else ""
    more = ", …" if len(words) > LISTED else ""
    return f"{first}Allowed: {', '.join(words[:LISTED])}{more}." if words else ""


def what_may_stand(word: Word) -> str:
    """What can be said of a measure, for the remedy of an error."""
    allowed = f"Say one of: {', '.join(RELATIONS_OF[word.kind])}."
    return f"{allowed} Its words: {', '.join(word.scale)}." if word.scale else allowed


def kind_of(word: Word) -> str:
    """What kind of thing a measure is, in words: "a rate of portion oils", "yes or no"."""
    if word.kind == "number":
        rate = f"a rate {word.basis}".strip()
        return rate if word.dimension == "FRACTION" else f"a {Dimension[word.dimension].value}"
    return {"word": "one of some words", "flag": "yes or no", "set": "a set of words"}[word.kind]


def a(grain: str) -> str:
    """A grain with its article."""
    return f"an {grain}" if grain[0] in "aeiou" else f"a {grain}"


def short(text: str) -> str:
    """A text of at most 60 characters, for a message."""
    return text if len(text) <= 60 else f"{text[:57]}…"
