"""A question in which a dose is named: which is meant, and its answer with that dose in it."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.doses.named import is_load
from blendwise.answers.ask.result import AskResult, Dosed, Named
from blendwise.answers.ask.topics import WHY
from blendwise.answers.ask.ways import part_named
from blendwise.quantity import QuantityError, format_number
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.answers.pair.result import PairResult

NOT_OF_A_DOSE: Final = (
    f"{WHY}a bigger mould",
    f"{WHY}the lye may be there twice",
    "mould volume",
    "oil as a whole",
)
"""Questions that words of a multiple or an amount lead to, and that are not meant where it is an oil's."""
OF_A_PART: Final = re.compile(r"\b(?:only|part|cups?|portions?|layers?|colou?rs?)\b", re.IGNORECASE)
TAKE_DOSES: Final = frozenset(
    (
        "how strong",
        "browns",
        "no vanillin",
        "part white",
        "colours left",
        "get on",
        "citrus lasts",
        "one name",
    )
) | {"quick in swirl", "time", "order", "plan as a whole"}
"""Questions that are answered of a plan, or of an oil, at the doses that are named."""


def question_of_dose(question: str, named: Named, asked: str) -> str:
    """The question that is meant where a dose of an oil is named: its multiple is none of the batch."""
    part = part_named(asked) or named.portions or OF_A_PART.search(asked)
    if named.doses and (question in NOT_OF_A_DOSE or (question == "half scented" and not part)):
        return "how strong"
    return question


def loaded(result: AskResult, asked_at: Callable[[str], PairResult]) -> tuple[AskResult, str, PairResult]:
    """The pairing at the dose that is named, as a load; at the usual one where none is, or none can be it."""
    from blendwise.answers.ask.doses.planned import dose_grams

    named = result.named
    one = named.doses[0] if len(named.doses) == 1 == len(named.oils) else None
    if one is None or result.question not in TAKE_DOSES or one[1][:2] in ("x ", "+ "):
        load = _load(result)
        return replace(result, taken=(load,) if load else ()), load, asked_at(load)
    usual = asked_at("")
    oil, text = one
    mass = dose_grams(text, usual.batch_oils, 0.0)
    if mass is None:
        return result, "", usual
    rate = mass / usual.batch_oils
    dose = Dosed((text,), {oil: mass}, {}, usual.batch_oils)
    result = replace(result, dosed=dose, taken=(text,))
    loads = [text] if is_load(text) else []
    for load in (*loads, f"{format_number(100 * rate, 6)} %"):  # of a range the pairing takes its top alone
        with suppress(QuantityError, RecordError):
            return result, load, asked_at(load)
    return replace(result, dosed=replace(dose, beyond=True)), "", usual


def _load(result: AskResult) -> str:
    """A load of several oils that was named, where the question is how strong."""
    if result.question not in ("how strong", "browns", "quick in swirl"):
        return ""
    return next((each for each in result.named.amounts if is_load(each)), "")


AS_PLANNED: Final = "x 1"
"""The dose of an oil that is asked for its most, where none is named."""


def at_doses(result: AskResult, book: Door, plan: str | Path, on: AsOf) -> AskResult | None:
    """The check of the plan at the doses that are named; None where none is, or it is not asked at a dose.

    The oil alone at its dose says more.
    """
    from blendwise.answers.ask.doses.planned import dosed

    named = result.named
    if result.question == "how strong" and not named.doses and len(named.oils) == 1:
        named = replace(named, doses=((named.oils[0], AS_PLANNED),))
    taken_up = result.question in TAKE_DOSES and named.doses
    both = dosed(book, plan, named, on) if taken_up else None
    if both is None:
        return None
    found, dose = both
    command: tuple[str, ...] = ("check", str(plan), "--more")
    if len(dose.wanted) == 1 and not dose.beyond:
        oil, mass = next(iter(dose.wanted.items()))
        command = ("pair", oil, "--load", f"{format_number(100 * mass / dose.oils, 3)} %", "--more")
    taken = (*dose.told, *(each.removeprefix("+ ") for each in dose.told))
    return replace(result, found=found, dosed=dose, taken=taken, command=command)
