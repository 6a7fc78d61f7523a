"""A question in a maker's own words: which is meant, of what, and the answer of the call behind it."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.after_the_pour import resized, sold
from blendwise.answers.ask.matching import Match
from blendwise.answers.ask.reading import FAR, understand
from blendwise.answers.ask.result import AskResult, Named, Near
from blendwise.answers.ask.slots import HERE
from blendwise.answers.ask.topics import HEALTH, NOT_OURS, PAGES, WHY, Topic, topic_of
from blendwise.answers.ask.ways import half_scented, warmed, watered
from blendwise.answers.refusals import NotAskable, is_of_health
from blendwise.answers.why.accidents import is_accident
from blendwise.quantity import QuantityError
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from blendwise.answers.answer import Answer
    from blendwise.answers.ask.door import Door

SURE: Final = (0.3, 0.5)
"""Score of the best, and part of it that the second may have, from which on no other is offered beside it."""
CLOSE: Final = (0.35, 0.9)
"""Score below which, and part from which on the second is as likely: the nearest are shown to choose from."""
CHOICES: Final = 3
PERSON: Final = re.compile(
    r"\b(?:she|wife|sister|daughter|friend|mother|mum|mom|customer|woman|women|ladies)\b[^.]{0,12}\bexpecting\b"
    r"|\b(?:lactat\w*|elderly|grand(?:ma|mother|pa|father)|sore skin|dry skin|itch\w*|rash\w*|sunburn\w*"
    r"|wounds?|acne|rosacea|hypoallergenic)\b"
    r"|\b(?:safe|ok|okay|alright|fine|bad|harm\w*|toxic|wash\w*|bath\w*|use|used|a?round|near|suit\w*|soaps?|oils?"
    r"|scents?|bars?)\b[^.]{0,25}\b(?:pets?|animals?|dogs?|cats?|pupp(?:y|ies)|horses?)\b"
    r"|\b(?:pets?|animals?|dogs?|cats?|pupp(?:y|ies)|horses?)\b[^.]{0,25}\b(?:wash\w*|bath\w*|soap\w*|safe|scents?)\b",
    re.IGNORECASE,
)
"""Further words of a question of health, beside those that every command defers on."""
BATCH: Final = re.compile(r"\b[A-Z]{1,6}-\d{4,8}\b")


def of_health(asked: str) -> bool:
    """Whether it is asked what an oil does to somebody."""
    return is_of_health(asked) or PERSON.search(asked) is not None


def ask(
    book: Door, asked: str, plan: str | Path | None = None, on: AsOf | None = None, pick: int = 0
) -> AskResult:
    """Answer a question of a plan, of the oils that it names, or of neither.

    ``pick``: which of the nearest questions is meant (1 for the first).  RecordError where the plan cannot
    be read.
    """
    on = on or AsOf()
    matches, named, strange = understand(asked, names_of(book, plan))
    plan = plan if plan is not None else _plan_named(book, asked, named)
    result = AskResult(asked, "answered", named=named, plan=_name(plan), units=book.files.usual.units)
    hurt = is_accident(asked)
    if hurt or of_health(asked) or matches[0].question == HEALTH:
        return _deferred(result, book, "lye or batter" if hurt else HEALTH)
    near = tuple(Near(each.question, round(each.score, 4)) for each in _ours(matches)[:CHOICES])
    result = replace(result, near=near)
    if strange:
        return replace(result, status="declined")
    if pick:
        return answer(replace(result, sure=True), near[min(pick, len(near)) - 1].question, book, plan, on)
    best, part = matches[0], matches[1].score / matches[0].score
    if best.score < FAR or (best.score < CLOSE[0] and part > CLOSE[1]):
        return replace(result, status="unsure")
    sure = best.score >= SURE[0] and part <= SURE[1]
    return answer(replace(result, sure=sure), best.question, book, plan, on)


def _ours(matches: list[Match]) -> list[Match]:
    return [each for each in matches if each.question not in (NOT_OURS, HEALTH)]


def _name(plan: str | Path | None) -> str:
    return "" if plan is None else str(plan)


def names_of(book: Door, plan: str | Path | None) -> dict[str, Collection[str]]:
    """Every name that a question of this book may hold, by its slot; portions are those of the plan."""
    folder = book.folder / "plans"
    plans = [file.stem for file in sorted(folder.glob("*.yaml"))] if folder.is_dir() else []
    record = book.plan(plan) if plan is not None else None
    portions = [each.name for each in record.portions] if record is not None else []
    return {
        "OIL": list(book.files.scents),
        HERE: list(record.scents.blend) if record is not None and record.scents else [],
        "CUP": portions,
        "COLOUR": list(book.files.colourants),
        "POUR": list(book.files.pours),
        "PLAN": plans,
    }


def _plan_named(book: Door, asked: str, named: Named) -> str | None:
    """The plan that a question names, or the one that a batch was poured by whose code it holds."""
    if named.plans:
        return named.plans[0]
    code = BATCH.search(asked)
    if code is None:
        return None
    from blendwise.records.notes.batches import batches_of
    from blendwise.records.notes.notebook import read_notebook

    batches, _ = batches_of(read_notebook(book.folder), book.folder, AsOf().today)
    return next((batch.plan for batch in batches if batch.key == code[0]), None)


def _deferred(result: AskResult, book: Door, about: str) -> AskResult:
    from blendwise.answers.why.compute import deferred, symptoms_of

    found = deferred(result.asked, symptoms_of(book.folder), about)
    return replace(result, status="deferred", question=HEALTH, number=11, found=found)


def answer(result: AskResult, question: str, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """The answer to a question that was understood; ``lacks`` where nothing is named that it is asked of."""
    topic = topic_of(question)
    result = replace(result, question=question, number=topic.number)
    call = topic.plan if plan is not None else topic.without
    if result.named.oils and topic.oils not in ("", "why") and not _of_plan(topic, result.named, book, plan):
        call = topic.oils
    if not call:
        lacks = "oil" if topic.oils and not topic.plan else "plan" if not topic.oils else "oil or plan"
        return replace(result, status="not named", lacks=lacks, command=("ask",))
    made: dict[str, object] = {"call": call}
    return CALLS[call](replace(result, **made), book, plan, on)  # type: ignore[arg-type]


def _of_plan(topic: Topic, named: Named, book: Door, plan: str | Path | None) -> bool:
    """Whether a question that names oils is asked of the plan that holds them, not of the oils."""
    return (
        plan is not None and bool(topic.plan) and not topic.of_oil and set(named.oils) <= _oils_of(book, plan)
    )


def _oils_of(book: Door, plan: str | Path | None) -> set[str]:
    assert plan is not None
    scents = book.plan(plan).scents
    return set(scents.blend) if scents and scents.blend else set()


def _pair(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    named = result.named
    colour = next(iter(named.colours), "")
    pour = next(iter(named.pours), "")
    load = _load(result)
    stabilised = named.oils if result.question == "stabiliser" else ()
    found = book.pair(*named.oils, colour=colour, pour=pour, load=load, stabilised=stabilised, on=on)
    said = {"--colour": colour, "--pour": pour, "--load": load}
    words = [part for option, value in said.items() if value for part in (option, value)]
    return replace(result, found=found, command=("pair", *named.oils, *words, "--more"))


def _load(result: AskResult) -> str:
    """A dose that was named, where the question is how strong."""
    if result.question not in ("how strong", "browns", "quick in swirl"):
        return ""
    return next((each for each in result.named.amounts if "%" in each or "ppo" in each.casefold()), "")


def _check(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    found = book.check(plan, on=on, working=True, levers="best")
    result = replace(result, found=found, command=("check", _name(plan), "--more"))
    if result.question == "half scented":
        return replace(result, half=half_scented(found, result.named.portions))
    if result.question == "water":
        return replace(result, water=watered(book, plan, on))
    if result.question == "temperature":
        return replace(result, warmed=warmed(book, plan, on))
    if result.question == "colour rate":
        return replace(result, typed=_typed(book, plan))
    return result


def _typed(book: Door, plan: str | Path) -> dict[str, str]:
    """What the plan writes of each colour in each cup, by "colour in cup"."""
    return {
        f"{name} in {portion.name}": amount.text
        for portion in book.plan(plan).portions
        for name, amount in portion.colourants.items()
    }


def _said(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """What is true of every oil, where none is named; of a test cup, the command that weighs it out."""
    if result.question == "test cup":
        return replace(result, command=("cup", *(result.named.oils or ("OIL",))))
    return replace(result, command=("ask", f"{result.asked} OIL"))


def _label(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    return replace(result, found=book.label(plan, on=on), command=("label", _name(plan)))


def _sold(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    return replace(result, sold=sold(book, plan, on), command=("label", _name(plan), "--weights", "112 g, …"))


def _resized(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """The plan at the size that is named; the page where none is, or where it cannot be written so."""
    assert plan is not None
    try:
        found = resized(book, plan, result.named.amounts, result.asked, on)
    except (RecordError, QuantityError, NotAskable):
        found = None
    if found is None:
        return _why(result, book, plan, on)
    split, option = found
    return replace(result, found=split, command=("assign", _name(plan), *option, "--more"))


def _half(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """Both ways without a plan: half of a pot at the book's usual load."""
    from blendwise.answers.ask.ways import half_of_usual

    return replace(result, half=half_of_usual(book), command=("ask", result.asked, "PLAN"))


def _assign(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    return replace(result, found=book.assign(plan, on=on), command=("assign", _name(plan), "--more"))


def _scent(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    name = result.named.oils[0]
    return replace(result, found=book.scent(name), command=("scents", "show", name, "--more"))


def _review(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    name = Path(plan).stem
    found = book.review(name, on=on)
    return replace(result, found=found, command=("review", name, "--more"))


def _why(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    symptom = PAGES.get(result.question) or result.question.removeprefix(WHY)
    within = next((each for each in (*result.named.portions, *result.named.oils)), "") if plan else ""
    if plan is not None and within in result.named.oils and within not in _oils_of(book, plan):
        within = ""
    found: Answer = book.why(symptom, plan, within=within, on=on)
    words = [symptom, *([_name(plan)] if plan else []), *(["--in", within] if within else [])]
    return replace(result, found=found, command=("why", *words, "--more"))


CALLS: Final = {
    "pair": _pair,
    "check": _check,
    "assign": _assign,
    "scent": _scent,
    "review": _review,
    "why": _why,
    "half": _half,
    "said": _said,
    "label": _label,
    "sold": _sold,
    "resized": _resized,
}
