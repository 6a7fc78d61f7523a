"""The few questions of a new book: what each asks, what may be answered, what is taken where nothing is."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from blendwise.answers.draft.checks import amount, amount_words
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import QuantityError, ShownIn
from blendwise.quantity.typed import with_unit
from blendwise.records.kinds.usual import Usual
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document, validated
from blendwise.records.writing.edit import flow


@dataclass(frozen=True, slots=True)
class Question:
    """One question: ``key`` is the option's name, ``words`` a closed set where there is one."""

    key: str
    asks: str
    default: str
    words: tuple[str, ...] = ()
    ounces: str = ""
    fahrenheit: str = ""


QUESTIONS: Final = (
    Question("mass", "Do you weigh in g or oz", "g", ("g", "oz")),
    Question("temperature", "Temperatures in C or F", "C", ("C", "F")),
    Question("rates", "Rates as percent, or ppo (ounces per pound of oils)", "percent", ("percent", "ppo")),
    Question("oils", "Base oils of a usual batch, all together", "1000 g", ounces="36 oz"),
    Question("concentration", "Lye concentration", "31 %"),
    Question("superfat", "Superfat", "5 %"),
    Question("load", "Scent, all together", "4 % of batch oils", ounces="0.6 oz ppo"),
    Question("scale step", "Smallest step of the scale for scent", "0.1 g", ounces="0.01 oz"),
    Question("lye scale step", "Smallest step of the scale for lye", "1 g", ounces="0.05 oz"),
    Question("hands", "Pairs of hands at the pour", "1", ("1", "2")),
    Question("batter", "Temperature of the batter at the split", "33 °C", fahrenheit="91 °F"),
    Question("room", "Temperature of the room", "20 °C", fahrenheit="68 °F"),
    Question("purpose", "Is the soap for sale or for home", "home", ("sale", "home")),
    Question("currency", "Word after a price (may stay empty)", ""),
)
_SEVERAL: Final = re.compile(
    r"(?P<first>\d+(?:[.,]\d+)?)(?P<unit>\s*%?)(?:\s+|\s*[;/]\s*|,\s+)\d+(?:[.,]\d+)?\s*%?"
)
_FIELDS: Final = {
    "concentration": "lye: {concentration: %s, superfat: 5 %%}",
    "superfat": "lye: {concentration: 31 %%, superfat: %s}",
    "load": "load: %s",
    "scale step": "scale step: %s",
    "lye scale step": "lye scale step: %s",
    "batter": "batter at split: %s",
    "room": "room: %s",
    "currency": "currency: %s",
}


SAID_OTHERWISE: Final = {
    **dict.fromkeys(("gram", "grams", "gramme", "grammes", "gr", "metric"), "g"),
    **dict.fromkeys(("ounce", "ounces", "ozs", "lb", "lbs", "pounds", "imperial"), "oz"),
    **dict.fromkeys(("celsius", "centigrade", "deg c"), "C"),
    **dict.fromkeys(("fahrenheit", "deg f"), "F"),
    **dict.fromkeys(("%", "per cent", "percents", "percentage"), "percent"),
    **dict.fromkeys(("one", "alone"), "1"),
    "two": "2",
    **dict.fromkeys(("sell", "for sale", "selling", "to sell"), "sale"),
    **dict.fromkeys(("for home", "myself", "family", "own use", "gifts"), "home"),
}
"""What people type for one of the words of a question."""


def default_of(question: Question, answers: Mapping[str, str]) -> str:
    """What is taken where nothing is said, in the units chosen before."""
    if question.ounces and answers.get("mass") == "oz":
        return question.ounces
    if question.fahrenheit and answers.get("temperature") == "F":
        return question.fahrenheit
    return question.default


def answered(question: Question, text: str, before: Mapping[str, str] = MappingProxyType({})) -> str:
    """The answer as a book writes it; NotAskable with what may be written where it cannot be one.

    ``before``: answers that say in what units a bare number is.
    """
    answer = with_unit(text, _unit(question, before))
    if question.words:
        bare = answer.strip(" °.")
        said = SAID_OTHERWISE.get(bare.casefold(), bare)
        found = next((word for word in question.words if word.casefold() == said.casefold()), None)
        if found is None:
            raise NotAskable(
                f'"{text}" is no answer to "{question.asks}".', f"Write {' or '.join(question.words)}."
            )
        return found
    if question.key == "oils":
        return _amount(answer, before)
    if answer:
        _one_figure(question, answer)
        _readable(question, answer)
    return answer


def _one_figure(question: Question, answer: str) -> None:
    """Two figures at once ("33% 5%" for lye and superfat): the first is offered."""
    found = _SEVERAL.fullmatch(answer.strip())
    if found is not None and question.key in ("concentration", "superfat"):
        unit = found["unit"].strip() or "%"
        raise NotAskable(
            f'{question.asks}: "{answer}" is two figures.',
            f"Write one, such as {found['first']} {unit}; each has a question of its own.",
        )


def _unit(question: Question, before: Mapping[str, str]) -> str:
    """The unit of a bare number, an empty text where it has none."""
    if question.key in ("batter", "room"):
        return f"°{before.get('temperature', 'C')}"
    if question.key in ("oils", "scale step", "lye scale step"):
        return before.get("mass", "g")
    if question.key == "load":
        return "oz ppo" if before.get("rates") == "ppo" else "% of batch oils"
    return "%" if question.key in ("concentration", "superfat") else ""


def _amount(answer: str, before: Mapping[str, str]) -> str:
    """A mass of oils, or a mould in the units asked in, in the words in which it is asked for."""
    fields = amount(answer, ShownIn(before.get("mass", "g"), "C", "percent"))
    _readable_as("recipe: {oils: {olive: 100 %%}, amount: %s}", "Base oils", flow(fields))
    return amount_words(fields)


def _readable(question: Question, answer: str) -> None:
    """The book itself says whether it could read this answer."""
    _readable_as(_FIELDS[question.key], question.asks, flow(answer))


def _readable_as(field: str, asks: str, answer: str) -> None:
    try:
        written = field % answer
        validated(Usual, text_document(written))
    except (RecordError, QuantityError) as error:
        fault = error.faults[0] if isinstance(error, RecordError) else error
        raise NotAskable(f"{asks}: {fault.message}", fault.remedy) from None
