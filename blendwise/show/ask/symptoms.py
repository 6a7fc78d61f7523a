"""A symptom in five lines: at the pot what to do; after it whether it is so, by the maker's own looks."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from math import floor
from typing import Final

from blendwise.answers.ask.result import AskResult, QuickOil
from blendwise.answers.ask.topics import WHY
from blendwise.answers.why.result import LikelyCause, WhyResult
from blendwise.quantity.prose import theirs
from blendwise.records.kinds.scent import BANDS
from blendwise.science.cure import CURE_DAYS
from blendwise.show.ask.facts import by_cup, of_measure
from blendwise.show.ask.own_notes import colours_seen, told_of
from blendwise.show.ask.reasons.browning import because, becomes, noted_otherwise, seen
from blendwise.show.ask.reasons.pace import likeliest, thickest
from blendwise.show.ask.reasons.warmth import veins
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount, counted
from blendwise.show.pair.words import ACCELERATION, day
from blendwise.show.text import joined, sentence
from blendwise.show.why import words as why_words
from blendwise.show.why.brief import cause_lines, day_lines
from blendwise.show.words import EVIDENCE

STEPS, CAUSES = 3, 2
"""Steps and causes of a symptom that stand in a short answer."""
AT_THE_POT: Final = "at the pot"
DARK_CORE: Final = re.compile(r"(?:dark|brown)\w*[^.]*\b(?:middle|cent\w+|core|inside)\b", re.IGNORECASE)
PALE_CORE: Final = re.compile(
    r"\b(?:outside|edges?|rim)\b[^.]*\b(?:dark|brown)|(?:pale|light)\w*[^.]*\b(?:inside|middle|core)",
    re.IGNORECASE,
)
CREEPS: Final = 14
"""Days before which a soft edge is no brown that crept: it moves over weeks (common practice)."""
APART: Final = 2
"""Bands between two cups from which a margin is likely to be seen: judgement."""

Lines = Iterator[Line]


def of_why(result: AskResult, found: WhyResult) -> Lines:
    """At the pot safety and what to do first; else the verdict, the own looks, then safety and what to do."""
    symptom = found.symptom
    assert symptom is not None
    verdict = Line("", _verdict(found))
    left = len(symptom.now) - STEPS
    more = [f"{counted(left, 'more step').capitalize()} with the command below"] if left > 0 else []
    steps = [theirs(step, found.units) for step in symptom.now[:STEPS]]
    now = Line("now", " ".join(sentence(step) for step in [*steps, *more]))
    safety = Line(why_words.SAFETY, symptom.safety)
    if symptom.when == AT_THE_POT:  # wet hands want what to do before whose fault it is
        yield from [safety, now]
        own = list(AT_THE_POT_TOO.get(symptom.symptom, _none)(result, found))
        yield from own or [verdict]
        rest = found.causes if result.quick is not None else ()
        spoken = found if not own else replace(found, causes=_not_against(found.causes) or rest)
        yield from list(cause_lines(spoken))[:CAUSES]
        return
    told = list(VERDICTS.get(result.question.removeprefix(WHY), _none)(result, found))
    yield from told or [verdict]
    if result.by_batch:
        yield Line("", AS_POURED.format(batch=result.looks[-1].batch if result.looks else "your last batch"))
    causes = list(cause_lines(_in_order(result, found)))[:CAUSES]
    yield safety
    yield from causes if told and not _is_final_colour(result) else ()
    yield from day_lines(found.days)
    yield now
    yield from () if told else causes


def _verdict(found: WhyResult) -> str:
    """What the plan speaks for; where it speaks for nothing, what it most often is."""
    spoken = why_words.verdict(found)
    left = _not_against(found.causes)
    if any(each.standing == "for" for each in left) or not left or left[0].standing == "open":
        return spoken
    rest = f"; your plan speaks for no cause of its own ({found.plan})" if found.plan else ""
    return f"Most often it is {left[0].cause}{rest}. {left[0].tell_apart}"


AS_POURED: Final = "By the doses that were poured in {batch}; your plan was changed since"


def _none(result: AskResult, found: WhyResult) -> Lines:
    yield from ()


def thicker(result: AskResult, found: WhyResult) -> Lines:
    """Why the cup that is named is thicker than the others, by the plan."""
    if result.beside is not None:
        cup = next(iter(result.named.portions), "") or likeliest(result.beside)
        yield from thickest(result.beside, cup)


def thinner(result: AskResult, found: WhyResult) -> Lines:
    """For how long the batter of the plan runs, so that it is known how long to wait."""
    facts = of_measure(result.beside, "unscented minutes").values() if result.beside is not None else ()
    for fact in facts:
        least, most = fact.low, fact.most if fact.most is not None else fact.high
        if isinstance(least, float) and isinstance(most, float):
            run = f"{floor(least)} to {floor(most)} min" if most - least >= 1 else f"{floor(least)} min"
            yield Line(
                "",
                f"By your plan it is too thick to pour {run} from emulsion, without scent: wait for light "
                "trace, well before that",
            )


def quickest(result: AskResult, found: WhyResult) -> Lines:
    """Which oil of the plan does it, on whose word, in which cups; or that none is known to."""
    oils = result.quick or ()
    seized = result.question == f"{WHY}it seized"
    stiff = [each for each in oils if each.seizes]
    fast = [each for each in oils if each.word in QUICKENS]
    if stiff or (fast and not seized):
        told = [f"{each.oil}, {_how_quick(each)}" for each in stiff or fast]
        yield Line("", f"In this plan it is {joined(told)}")
    elif oils:
        does = "seizes" if seized else "quickens"
        open_ = [each.oil for each in oils if each.word is None]
        unknown = f"; how quick {joined(open_)} is nobody has written down" if open_ else ""
        quick = f"; the quickest is {fast[0].oil}, {_how_quick(fast[0])}" if fast else ""
        yield Line("", f"No oil of this plan is known to be one that {does}{quick}{unknown}")


QUICKENS: Final = ("slight", "moderate", "fast")


def _how_quick(each: QuickOil) -> str:
    by = f" (by {EVIDENCE.get(each.evidence, each.evidence)})" if each.evidence else ""
    does = "seizes within a minute" if each.seizes else ACCELERATION[each.word or ""]
    return f"which {does}{by}, in {joined(list(each.cups))}"


AT_THE_POT_TOO: Final[Mapping[str, Callable[[AskResult, WhyResult], Lines]]] = {
    "one colour is thicker than the others": thicker,
    "it is too thin and the colours mix": thinner,
    "it thickens too fast": quickest,
    "it seized": quickest,
}
"""Symptom at the pot → what the plan says of it, in place of which causes it speaks for."""


def _becomes(result: AskResult) -> dict[str, str]:
    """What each cup becomes, as it was seen before or as it is expected; none without a plan."""
    return becomes(result, result.beside) if result.beside is not None else {}


def _bands(result: AskResult) -> dict[str, str]:
    """Of each cup the deepest band that is seen or expected."""
    if result.beside is None:
        return {}
    facts = of_measure(result.beside, "browning band").items()
    looks = seen(result, result.beside)
    told = {name: looks[name].told["colour"] if name in looks else fact.high for name, fact in facts}
    return {name: band for name, band in told.items() if isinstance(band, str)}


def stays(result: AskResult, found: WhyResult) -> Lines:
    """Whether the colour is final: what each cup still becomes, and when."""
    bands = _bands(result)
    dark = {name: band for name, band in bands.items() if band != BANDS[0]}
    if not bands:
        return
    told = by_cup(_becomes(result))
    if _is_final(result):
        yield Line("", f"What you see now stays, all but a little: it was final on {_by(result)}")
    elif dark:
        yield Line("", f"No, do not trust it yet: expect {told}{noted_otherwise(result)}")
    else:
        yield Line("", f"Likely: {told} expected; judge at six weeks")
    yield from colours_seen(result.looks)
    if result.beside is not None and not _is_final(result):
        yield from because(result, result.beside, list(dark))
    if not _is_final(result):
        yield Line("", f"Final {_final(result)}; until then every look is early")


def _is_final_colour(result: AskResult) -> bool:
    return result.question.removeprefix(WHY) == "will the colour stay" and _is_final(result)


def _is_final(result: AskResult) -> bool:
    """Whether a batch is noted whose colour no longer changes."""
    return bool(result.looks) and result.today is not None and result.today >= _last_day(result)


def _last_day(result: AskResult) -> date:
    look = result.looks[-1]
    return look.on + timedelta(days=CURE_DAYS[1] - look.days)


def _by(result: AskResult) -> str:
    return f"{day(_last_day(result))}, six weeks from the pour"


def _final(result: AskResult) -> str:
    if result.looks:
        poured = result.looks[-1].on - timedelta(days=result.looks[-1].days)
        first, last = (day(poured + timedelta(days=days)) for days in CURE_DAYS)
        return f"from {first} to {last} (four to six weeks from the pour)"
    return f"four to six weeks from the pour (day {CURE_DAYS[0]} to {CURE_DAYS[1]})"


def creeps(result: AskResult, found: WhyResult) -> Lines:
    """Whether brown creeps: it did, by the own looks; else by how far apart the bands are."""
    bad = [
        look
        for look in result.looks
        if look.told.get("edge") in ("soft", "bled") or look.told.get("halo", "none") != "none"
    ]
    late = [look for look in bad if look.days >= CREEPS]
    bands = _bands(result)
    depth = [BANDS.index(band) for band in bands.values() if band in BANDS]
    if late:
        cups = joined(list(dict.fromkeys(look.portion for look in late)))
        yield Line("", f"Yes: it did in your own {late[-1].batch} ({cups})")
        yield from told_of(result.looks, "edge")
    elif bad:
        look = bad[-1]
        cups = joined(list(dict.fromkeys(each.portion for each in bad)))
        yield Line(
            "",
            f"Not to be told yet: the edge of {cups} in your own {look.batch} was seen on day {look.days}, "
            "and brown creeps over weeks; so early it is smear or colour that bled",
        )
        yield from told_of(result.looks, "edge")
        yield Line("", f"Look again {_final(result)}")
    elif depth and max(depth) - min(depth) >= APART:
        yield Line("", f"It may, by a few millimetres over weeks: {by_cup(bands)}")
    elif depth:
        yield Line("", f"Hardly: the cups come out near one another ({by_cup(bands)})")
    if depth or bad:
        yield Line("", theirs("Allow more than 4 mm, or put a middle colour between the two", result.units))


def gone(result: AskResult, found: WhyResult) -> Lines:
    """Whether a scent that is gone may wake, by the age of the batch."""
    if not result.looks or result.today is None:
        return
    look = result.looks[0]
    weeks = (result.today - look.on).days + look.days
    faint = any(each.told.get("strength") in ("faint", "gone") for each in result.looks)
    if weeks >= CURE_DAYS[1]:
        seen = ", and it was faint at a look already" if faint else ""
        yield Line("", f"Gone, most likely: {weeks // 7} weeks old{seen}; scents that sleep wake by week six")
    else:
        yield Line("", f"Wait: it is {counted(weeks, 'day')} old, and some scents sleep until week six")
    yield from told_of(result.looks, "strength")


MEANT: Final = {
    "force": ". Your plan forces gel: the edges stayed too cool for it",
    "avoid": ". Your plan avoids gel: the middle grew warm all the same",
}
"""What a plan meant to do about gel, where it came out in part."""


DARK: Final = "Dark in the middle, there from day one, is partial gel"
GELLED: Final = "It is partial gel, as you noted it"
TOO_EARLY: Final = (
    "Pale inside so early is no browning by air, which takes weeks: it gelled in part, or not yet"
)


def ring(result: AskResult, found: WhyResult) -> Lines:
    """Which of the two rings it is, by what was said to be dark, and by a look at gel."""
    if PALE_CORE.search(result.asked):
        early = _too_early(result)
        yield Line(
            "",
            TOO_EARLY
            if early
            else "Dark outside and pale inside is browning by air; it evens out over weeks",
        )
    elif DARK_CORE.search(result.asked) or _gelled_in_part(result):
        facts = of_measure(result.beside, "gel").values() if result.beside is not None else ()
        plans = next((str(fact.low) for fact in facts), "")
        yield Line(
            "",
            f"{GELLED if _gelled_in_part(result) else DARK}; it often grows fainter through the cure"
            f"{MEANT.get(plans, '')}",
        )
    yield from told_of(result.looks, "gel")


def differs(result: AskResult, found: WhyResult) -> Lines:
    """What the notes hold to compare: a new bottle first, where that is what was said."""
    new = re.search(r"\b(?:bottle|jug|lot|batch of scent|supplier)\b", result.asked, re.IGNORECASE)
    for oil in result.named.oils if new else ():
        lot = next((each.lots[oil] for each in reversed(result.batches) if oil in each.lots), "")
        known = f"your notes say lot {lot}: write the new lot, and " if lot else ""
        yield Line(
            "", f"The new bottle first: another lot of {oil} is another oil; {known}set out a cup of each"
        )
    if len(result.batches) == 1:
        yield Line("", f"Only one batch is noted ({result.batches[0].batch}): nothing to compare with yet")
    room, batter = result.planned_at or (None, None)
    for each in result.batches[-2:]:
        held = [f"room {_beside(each.room, room, result)}"] if each.room is not None else []
        held += [f"batter {_beside(each.batter, batter, result)}"] if each.batter is not None else []
        held += [f"{name} lot {_lot(name, lot, result)}" for name, lot in each.lots.items()]
        if held:
            yield Line("", f"{each.batch} noted: {joined(held)}")
    told = {name for each in result.batches[-2:] for name in each.lots}
    rest = [f"{name} lot {lot}" for name, lot in (result.on_shelf or {}).items() if name not in told]
    if rest:
        unsaid = "" if result.batches else "; no batch of this plan is noted with its lots"
        yield Line("", f"On your shelf: {joined(rest)}{unsaid}")


def _beside(noted: float, planned: float | None, result: AskResult) -> str:
    """A temperature as it was noted beside the plan's."""
    text = amount(noted, "°C", result.units)
    plan = "" if planned is None else amount(round(planned * 10) / 10, "°C", result.units)
    return f"{text} (planned {plan})" if plan and plan != text else text


def _lot(name: str, lot: str, result: AskResult) -> str:
    """A lot as it was poured beside that on the shelf."""
    now = (result.on_shelf or {}).get(name, "")
    return f"{lot} ({'the same' if now == lot else now} on your shelf now)" if now else lot


def _not_against(causes: Sequence[LikelyCause]) -> tuple[LikelyCause, ...]:
    """The causes that the plan does not speak against."""
    return tuple(each for each in causes if each.standing not in ("against", "absent"))


def _in_order(result: AskResult, found: WhyResult) -> WhyResult:
    """The causes that the words and the own looks leave, the one first that they tell of."""
    pale, dark = PALE_CORE.search(result.asked), DARK_CORE.search(result.asked)
    gelled = found.symptom is not None and found.symptom.symptom == RING and _gelled_in_part(result)
    if not dark and not pale and not gelled:
        return found
    core = (dark and not pale) or (gelled and not pale)
    out = FROM_THE_FACES if core or _too_early(result) else ""
    causes = [each for each in found.causes if each.cause != out]
    causes.sort(key=lambda each: each.cause != (GEL_IN_PART if core or gelled else FROM_THE_FACES))
    told = [each for each in causes if pale or each.cause == GEL_IN_PART or each.standing != "against"]
    return replace(found, causes=tuple(_as_seen(each) if core or gelled else each for each in told))


RING: Final = "a dark ring or a pale core"


def _gelled_in_part(result: AskResult) -> bool:
    """Whether the maker noted that a cup of the batch gelled in part."""
    return any(look.told.get("gel") == "partial" for look in result.looks)


def _too_early(result: AskResult) -> bool:
    """Whether the batch is too young for a brown that takes weeks."""
    if not result.looks or result.today is None:
        return False
    first = result.looks[0]
    return (result.today - first.on).days + first.days < CREEPS


FROM_THE_FACES, GEL_IN_PART = "browning from the faces inwards", "partial gel"


def _as_seen(each: LikelyCause) -> LikelyCause:
    """What was seen outweighs what was planned: a dark middle is partial gel."""
    return (
        replace(each, standing="silent")
        if each.cause == GEL_IN_PART and each.standing in ("against", "absent")
        else each
    )


VERDICTS: Final[Mapping[str, Callable[[AskResult, WhyResult], Lines]]] = {
    "will the colour stay": stays,
    "brown creeps into the white": creeps,
    "the scent is gone": gone,
    "the scent is wrong": gone,
    "a dark ring or a pale core": ring,
    "same recipe, different result": differs,
    "white veins": veins,
}
"""Symptom → its verdict by what the maker noted; none where nothing is noted."""
