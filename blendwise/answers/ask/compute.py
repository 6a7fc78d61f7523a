"""A question in a maker's own words: which is meant, of what, and the answer of the call behind it."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from blendwise.answers.ask.after_the_pour import example_bars, sold
from blendwise.answers.ask.doses.asked import at_doses, loaded, question_of_dose
from blendwise.answers.ask.doses.colours import of_kind, spoons, typed, usual_rates
from blendwise.answers.ask.doses.cups_named import cups_of, with_cups
from blendwise.answers.ask.doses.named import is_a_dose
from blendwise.answers.ask.matching import Match
from blendwise.answers.ask.own_looks import (
    alike,
    as_poured,
    batches_noted,
    last_batch,
    noted,
    own_looks,
    own_words,
    planned_warmth,
    seen_cured,
    shelf_lots,
    shelf_words,
)
from blendwise.answers.ask.reading import FAR, speaks_of_another, understand
from blendwise.answers.ask.result import AskResult, Named, Near
from blendwise.answers.ask.sizes import at_size, filled_mould, resized, size_named, sizes_in
from blendwise.answers.ask.slots import HERE
from blendwise.answers.ask.topics import (
    AGAIN,
    BESIDE,
    HEALTH,
    KIN,
    MADE,
    NOT_OURS,
    OF_ONE_CUP,
    PAGES,
    PERSON,
    QUICK,
    WAYS_OF_ITS_OWN,
    WHY,
    WITHOUT_LOOKS,
    Topic,
    topic_of,
)
from blendwise.answers.ask.ways import (
    degrees,
    gelled,
    half_of_usual,
    half_scented,
    quick_oils,
    strength,
    warmed,
    watered,
)
from blendwise.answers.refusals import NotAskable, is_of_health
from blendwise.answers.why.accidents import is_accident
from blendwise.quantity import QuantityError
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.answers.pair.result import PairResult
    from blendwise.answers.why.result import WhyResult
    from blendwise.records.kinds.plan import Plan

SURE: Final = (0.3, 0.5)
"""Score of the best, and part of it that the second may have, from which on no other is offered beside it."""
CLOSE: Final = (0.35, 0.9)
"""Score below which, and part from which on the second is as likely: the nearest are shown to choose from."""
CHOICES: Final = 3
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
    result = meant(book, asked, plan, pick)
    if result.status != "answered":
        return result
    return answer(result, result.question, book, result.plan or None, on)


def meant(book: Door, asked: str, plan: str | Path | None = None, pick: int = 0) -> AskResult:
    """Which question it is, of what, and how sure that is; nothing is worked out yet.

    RecordError where the plan cannot be read.
    """
    matches, named, strange = understand(asked, names_of(book, plan))
    plan = plan if plan is not None else _plan_named(book, asked, named)
    if not named.portions:
        named = with_cups(asked, named, cups_of(book, plan))
    result = AskResult(asked, "answered", named=named, plan=_name(plan), units=book.files.usual.units)
    hurt = is_accident(asked)
    of_somebody = matches[0].question == HEALTH and _is_near(matches, named)
    if hurt or of_health(asked) or (not strange and (of_somebody or KIN.search(asked) is not None)):
        return _deferred(result, book, "lye or batter" if hurt else HEALTH)
    if below := next((each for each in named.amounts if each.startswith("-") and is_a_dose(each)), ""):
        raise QuantityError(f'"{below}" is negative.', "Look for a slip of the pen: a sign or a unit.")
    near = tuple(Near(each.question, round(each.score, 4)) for each in _ours(matches)[:CHOICES])
    result = replace(result, near=near)
    if strange or (matches[0].question == HEALTH and not named.oils):
        return replace(result, status="declined")
    if matches[0].question == HEALTH:  # hardly meant; what else it may be is offered, and nothing is answered
        return replace(result, status="unsure")
    if pick:
        return replace(result, sure=True, question=near[min(pick, len(near)) - 1].question)
    best, part = matches[0], matches[1].score / matches[0].score
    if best.score < CLOSE[0] and any(oil for oil, _ in named.doses):
        return replace(result, question="how strong")
    if best.score < FAR or (best.score < CLOSE[0] and part > CLOSE[1]):
        return replace(result, status="unsure")
    sure = best.score >= SURE[0] and part <= SURE[1] and not speaks_of_another(asked)
    return replace(result, sure=sure, question=question_of_dose(best.question, named, asked))


def _is_near(matches: Sequence[Match], named: Named) -> bool:
    """Whether the nearest is meant, and not only the least far: of what is far off nothing is known."""
    return matches[0].score >= (OF_AN_OIL if named.oils else CLOSE[0])


OF_AN_OIL: Final = 0.24
"""Score from which what is nearest to health is of health, where an oil is named."""


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
    batches = noted(book, AsOf())
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
    looked, oils = question not in WITHOUT_LOOKS, result.named.oils
    looks, of_oils = own_looks(book, plan, oils, on) if looked else ((), ())
    scale = step.value if (step := book.files.usual.scale_step) is not None else None
    words = own_words(book, oils, on) if looked else ()
    cured = seen_cured(book, on) if looked and plan is not None else None
    result = replace(result, looks=looks, looks_of_oils=of_oils, words_of_oils=words, seen_cured=cured)
    shelf = shelf_words(book, oils)
    result = replace(result, call=call, scale=scale, today=on.today, shelf=shelf)
    return CALLS[call](result, book, plan, on)


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
    result = replace(result, tags=_tags(book, named.oils))
    if result.question == "colours left":
        result = replace(result, asked_of=of_kind(book, result.asked))
    colour, pour = next(iter(named.colours), ""), next(iter(named.pours), "")
    if plan is not None and not pour and result.question in ("quick in swirl", "time"):
        pour = book.plan(plan).pour or ""
    stabilised = named.oils if result.question == "stabiliser" else ()

    def asked_at(load: str) -> PairResult:
        return book.pair(*named.oils, colour=colour, pour=pour, load=load, stabilised=stabilised, on=on)

    result, load, found = loaded(result, asked_at)
    if result.question == "certificate":
        result = replace(result, taken=tuple(each for each in named.amounts if "%" in each))
    said = {"--colour": colour, "--pour": pour, "--load": load}
    words = [part for option, value in said.items() if value for part in (option, value)]
    return replace(result, found=found, command=("pair", *named.oils, *words, "--more"))


def _tags(book: Door, oils: Sequence[str]) -> dict[str, str]:
    """What kind each oil is, by its tags and its name."""
    return {oil: " ".join((*book.files.scents[oil].tags, oil)).casefold() for oil in oils}


def _check(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    if result.question == "mould volume":
        return _filled(result, book, plan, on)
    at_dose = at_doses(result, book, plan, on)
    if at_dose is not None:
        return at_dose
    levers: Literal["none", "best"] = "none" if result.question in WAYS_OF_ITS_OWN else "best"
    found = book.check(plan, on=on, working=True, levers=levers)
    looks = result.looks or (() if result.question in WITHOUT_LOOKS else alike(book, found, on))
    result = replace(result, found=found, looks=looks, command=("check", _name(plan), "--more"))
    match result.question:
        case "half scented":
            half = half_scented(found, result.named.portions, result.asked)
            both = tuple(text for _, text in result.named.doses if text.startswith("x "))
            return replace(result, half=half, taken=both)
        case "water":
            water = watered(book, plan, on, result.named.amounts)
            taken = tuple(each for each in result.named.amounts if strength(each))
            return replace(result, water=water, taken=taken if water else ())
        case "temperature":
            amounts = result.named.amounts
            taken = tuple(each for each in amounts if degrees(each))
            return replace(result, warmed=warmed(book, plan, on, found, amounts), taken=taken)
        case "gel":
            return replace(result, gelled=gelled(book, plan, on, found))
        case "colour rate":
            rates = usual_rates(book)
            return replace(result, typed=typed(book, plan), usual_rates=rates, spoons=spoons(book))
    return result


def _filled(result: AskResult, book: Door, plan: str | Path, on: AsOf) -> AskResult:
    """The plan in the mould that is named, else in its own."""
    option = size_named(book, plan, result.named.amounts, result.asked, on)
    named: str | Path | Plan = plan
    try:
        named = at_size(book, plan, option, on) if option else plan
    except (RecordError, QuantityError, NotAskable):
        option = None
    found = book.check(named, on=on, working=True)
    command = ("assign", _name(plan), *option, "--more") if option else ("check", _name(plan), "--more")
    taken = sizes_in(result.named.amounts) if option else ()
    filled = filled_mould(book, named, on, own=option is None)
    return replace(result, found=found, filled=filled, command=command, taken=taken)


def _said(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """What is true of every oil, where none is named; of a test cup, the command that weighs it out."""
    if result.question == "test cup":
        return replace(result, command=("cup", *(result.named.oils or ("OIL",))))
    percent = tuple(each for each in result.named.amounts if "%" in each)
    if result.question == "certificate" and percent and book.files.scents:
        any_oil = next(iter(book.files.scents))  # what a share of the bar is of the oils, whatever the oil
        result = replace(result, found=book.pair(any_oil, on=on), taken=percent)
    return replace(result, command=("ask", f"{result.asked} OIL"))


def _label(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    return replace(result, found=book.label(plan, on=on), command=("label", _name(plan)))


def _sold(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    found = sold(book, plan, on)
    return replace(result, sold=found, command=("label", _name(plan), "--weights", example_bars(book, found)))


def _resized(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """The plan at the size that is named; the page where none is, or where it cannot be written so."""
    assert plan is not None
    option = size_named(book, plan, result.named.amounts, result.asked, on)
    if option is None:
        return _why(result, book, plan, on)
    try:
        bigger = at_size(book, plan, option, on)
        size = resized(book, plan, bigger, on)
        split = book.assign(bigger, on=on)
    except (RecordError, QuantityError, NotAskable):
        return _why(result, book, plan, on)
    command = ("assign", _name(plan), *option, "--more")
    taken = sizes_in(result.named.amounts)
    return replace(result, found=split, resized=size, command=command, taken=taken)


def _half(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    """Both ways without a plan: half of a pot at the book's usual load."""
    return replace(result, half=half_of_usual(book, result.asked), command=("ask", result.asked, "PLAN"))


def _assign(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    found = book.assign(plan, on=on)
    result = replace(result, found=found, command=("assign", _name(plan), "--more"))
    if found.portions or found.status != "nothing fits":
        return result
    check = book.check(plan, on=on)
    planned = {} if check.harm else {row.portion: row.scents for row in check.grams}
    return replace(result, planned=planned)


def _scent(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    (name, *_) = result.named.oils
    return replace(result, found=book.scent(name), command=("scents", "show", name, "--more"))


def _review(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    assert plan is not None
    name = Path(plan).stem
    if last_batch(book, plan, on) is None:  # nothing to look back on: what to change before the pour
        check = book.check(plan, on=on, levers="best")
        return replace(result, found=check, command=("check", _name(plan), "--more"))
    found = book.review(name, on=on)
    return replace(result, found=found, command=("review", name, "--more"))


def _why(result: AskResult, book: Door, plan: str | Path | None, on: AsOf) -> AskResult:
    symptom = PAGES.get(result.question) or result.question.removeprefix(WHY)
    within = next((each for each in (*result.named.portions, *result.named.oils)), "") if plan else ""
    if plan is not None and within in result.named.oils and within not in _oils_of(book, plan):
        within = ""
    poured = as_poured(book, plan, on) if plan is not None and symptom in MADE else None
    of: str | Path | Plan | None = plan if poured is None else poured
    found: WhyResult = book.why(symptom, of, within=within, on=on)
    if within in result.named.portions and symptom not in OF_ONE_CUP and found.speaks_for_none:
        within = ""  # the cups that are named are where it shows; what makes it so may be the whole pot
        found = book.why(symptom, of, on=on)
    if plan is not None and of is not None:
        result = replace(result, batches=batches_noted(book, plan, on), by_batch=poured is not None)
        if symptom == AGAIN:
            lots = shelf_lots(book, plan, result.named.oils)
            result = replace(result, on_shelf=lots, planned_at=planned_warmth(book, plan, on))
        if symptom in QUICK:
            result = replace(result, quick=quick_oils(book, of, on))
        if symptom in BESIDE:
            result = replace(result, beside=book.check(of, on=on, working=True))
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
