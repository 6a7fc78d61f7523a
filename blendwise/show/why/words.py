"""The English of ``why``: standings, clues, what the plan shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Final, get_args

from blendwise.answers.why.result import Clue, KnownSymptom, LikelyCause, SimplerPour, Standing, WhyResult
from blendwise.quantity import Units, prose
from blendwise.records.kinds.symptom import Moment
from blendwise.records.place import Spot
from blendwise.show.flag_words import plainly
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted, sentence
from blendwise.show.words import place, span

MOMENTS: Final[tuple[str, ...]] = get_args(Moment)
SAFETY, STOP, ASK, INSTEAD = "safety", "stop", "ask", "Instead"
NOW, SIMPLER, SHOWN, LOOKS = "Now", "Pours that bear thicker batter", "What your plan says", "When to look"
CAUSES, CAUSES_WITHOUT = "Likely causes, the likeliest in this plan first", "Causes by repute"
PLAN, TELL, NEXT = "Your plan", "Tell it by", "Next time"
STANDINGS: Final[Mapping[Standing, str]] = {
    "for": "likely",
    "open": "open",
    "silent": "possible",
    "against": "unlikely",
    "absent": "not here",
}
SURE: Final = 0.7
"""Below this nearness the answer says what it was taken from."""
MOST_SUBJECTS: Final = 3
"""Subjects of a cause that are named; the others are counted."""
LIST = "What `blendwise why` knows"
LIST_VERDICT = "Say what you see in your own words; it finds the nearest of these."
LIST_NOTE = 'Add a plan to rank the causes by its facts: blendwise why "dark ring" PLAN.'
WITHOUT_PLAN = "Name a plan to rank the causes by its facts."


def title(symptom: str, plan: str, within: str) -> str:
    """What is answered, and of which plan and portion."""
    where = f", {plan}" if plan else ""
    return f"{symptom}{where}{f' ({within})' if within else ''}"


def verdict(result: WhyResult) -> str:
    """What the plan speaks for, or that it does not say; words that were hardly understood are repeated."""
    assert result.symptom is not None
    taken = "" if result.symptom.nearness >= SURE else f"This is the nearest to {quoted(result.asked)}. "
    return taken + _spoken_for(result)


def _spoken_for(result: WhyResult) -> str:
    if not result.plan:
        return f"{counted(len(result.causes), 'cause').capitalize()} by repute. {WITHOUT_PLAN}"
    likely = [each.cause for each in result.causes if each.standing == "for"]
    waits = _waits(sum(each.standing == "open" for each in result.causes))
    if likely:
        return f"Your plan speaks for {joined([quoted(cause) for cause in likely])}.{waits}"
    return f"Your plan speaks for none of the causes; tell them apart by the soap.{waits}"


def _waits(number: int) -> str:
    if not number:
        return ""
    hang = "hangs" if number == 1 else "hang"
    return f" {counted(number, 'cause').capitalize()} {hang} on facts that nobody has written down."


def clues(weighed: LikelyCause, units: Units) -> str:
    """What the plan says of a cause: "thickening (at least 1.5): brick 1.8 × unscented"."""
    said = "; ".join(_together(list(rows), units) for _, rows in groupby(weighed.clues, key=_asked_of))
    if weighed.standing == "open":
        facts = joined([f"{each.fact} of {quoted(each.subject)}" for each in weighed.missing])
        unknown = f"not known: {facts}" if facts else "what is known does not settle it"
        return f"{said}; {unknown}" if said else unknown
    if weighed.standing == "absent":
        return "there is nothing of the kind in it"
    if weighed.standing == "silent":
        return f"{said}, neither for nor against" if said else "no fact of it tells; look at the soap"
    return said


def where(weighed: LikelyCause) -> str:
    """In what the plan speaks for a cause: " (crown and body)"; nothing where it speaks of the whole."""
    named = dict.fromkeys(clue.subject for clue in weighed.clues if clue.side == "for")
    subjects = list(named)[:MOST_SUBJECTS]
    more = [f"{len(named) - MOST_SUBJECTS} more"] if len(named) > MOST_SUBJECTS else []
    return f" ({joined([*subjects, *more])})" if subjects else ""


def _asked_of(clue: Clue) -> tuple[str, str]:
    return clue.measure, clue.asked


def _together(rows: Sequence[Clue], units: Units) -> str:
    """One measure over the subjects that it speaks of, with what was asked of it."""
    first = rows[0]
    values = [span(each.low, each.high, each.unit, units) for each in rows]
    said = plainly(first.measure, values[0])
    if said is not None:
        return f"{joined([each.subject for each in rows])}: {said}"
    limit = first.asked if first.asked.startswith("is not ") else first.asked.removeprefix("is ")
    asked = prose.asked(limit, first.unit, units)
    return f"{first.measure} ({asked}): {_listed(rows, values)}"


def _listed(rows: Sequence[Clue], values: Sequence[str]) -> str:
    """Subjects with their values; neighbours of one value share it: "milk and sage tan, soil brown"."""
    shared = groupby(zip(values, rows, strict=True), key=lambda pair: pair[0])
    return ", ".join(f"{joined([row.subject for _, row in pairs])} {value}" for value, pairs in shared)


def shown(measure: str, rows: Sequence[Clue], units: Units) -> str:
    """One measure over its subjects, highest first: "thickening: bark 1.9, sky 1.2"."""
    values = [span(each.low, each.high, each.unit, units) for each in rows]
    flags = [plainly(measure, value) for value in values]
    return f"{measure}: {_listed(rows, [flag or value for flag, value in zip(flags, values, strict=True)])}"


def pour(style: SimplerPour) -> str:
    """A simpler pour: its batter, its minutes and how it is done."""
    how = f". {style.how}" if style.how else ""
    minutes = f"{style.minutes_low:g} to {style.minutes_high:g} minutes"
    return f"{style.pour} ({style.batter} batter, {minutes}){how}"


def also(names: Sequence[str]) -> str:
    """Other symptoms that the words could mean."""
    return f"If you meant something else: {joined([quoted(name) for name in names], 'or')}."


def known(symptom: KnownSymptom) -> str:
    """A symptom of the list with the first ways to say it."""
    others = [phrase for phrase in symptom.phrases if phrase != symptom.symptom]
    return f"{symptom.symptom} (also: {', '.join(others[:3])})"


def deferred(about: str, asked: str) -> str:
    """That a question is not answered here, and which."""
    return f"Not for Blendwise to answer ({about}): {quoted(asked)}"


def footing(basis: str, spot: Spot | None) -> str:
    """On what the answer rests."""
    return sentence("; ".join(part for part in (basis, place(spot)) if part))
