"""The lines that answer a question, taken from the short answer of the call that it stands for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain
from math import ceil, floor
from typing import Final

from blendwise.answers.ask.result import AskResult, HalfScented, Warmed, Watered
from blendwise.answers.ask.topics import topic_of
from blendwise.answers.assign.result import AssignResult
from blendwise.answers.check.result import CheckResult, Fact
from blendwise.answers.pair.result import PairResult
from blendwise.answers.review.result import ReviewResult
from blendwise.answers.scents.result import ScentResult
from blendwise.answers.why.result import WhyResult
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.quantity import Units
from blendwise.show.ask import words as say
from blendwise.show.blocks import Block, Line, Rows, Title
from blendwise.show.check.brief import SAFETY, brief_verdict, finding_lines, with_lever
from blendwise.show.check.levers import for_group, mended_above
from blendwise.show.check.says import says
from blendwise.show.numbers import amount, counted, grams
from blendwise.show.pair import brief as pairs
from blendwise.show.pair import words as pair_words
from blendwise.show.text import joined, sentence
from blendwise.show.words import TAGS, TIGHT_TAG, UNKNOWN_TAG, span

HEAVY: Final = ("stop", "conflict")
MELTS: Final = ("heats and melts embeds", "room under the embeds")
STEPS, CAUSES = 3, 2
"""Steps and causes of a symptom that stand in a short answer."""
AT_THE_POT: Final = "at the pot"


def of_pair(result: AskResult, found: PairResult) -> Iterator[Line]:
    """A pairing: what is said first, then what the question looks for."""
    yield from said_first(result.question)
    for part in PAIR_PARTS.get(result.question, ("verdict", "findings", "sides")):
        yield from _pair_part(part, result, found)


def said_first(question: str) -> Iterator[Line]:
    told = {
        "stabiliser": say.STABILISER,
        "certificate": say.CERTIFICATE,
        "one name": say.ONE_PRODUCT,
        "when to cut": say.CUT,
        "test cup": say.TEST_CUP,
    }
    if question in told:
        yield Line("", told[question])


PAIR_PARTS: Final = {
    "browns": ("sides", "about", "when"),
    "no vanillin": ("sides", "untested", "when"),
    "colours left": ("colours", "sides"),
    "part white": ("ways", "sides"),
    "get on": ("verdict", "noted", "findings", "ways"),
    "how strong": ("how much", "about", "used"),
    "certificate": ("how much", "about", "used"),
    "citrus lasts": ("fades", "about", "sides"),
    "quick in swirl": ("about", "pours", "sides"),
    "time": ("about", "pours", "sides"),
    "stabiliser": ("about", "sides"),
    "one name": ("label", "verdict"),
    "label": ("label",),
}


def _pair_part(part: str, result: AskResult, found: PairResult) -> Iterator[Line]:
    """One part of what is told of a pairing: its lines, of what the short answer says of it too."""
    both, units = found.together, found.units
    match part:
        case "verdict":
            yield Line("", pair_words.verdict(found, "comes with the command below"))
        case "about":
            yield from _about(result.question, pairs.as_asked(found.check))
        case "when":
            judged = f"from {pair_words.day(both.judge_from)} to {pair_words.day(both.judge_by)}"
            yield Line("", f"At {pair_words.rate(found.load, units)}; judge it {judged} if poured today")
        case "used":
            used = f"{pair_words.rate(found.load, units)} is {pair_words.of_bar(both.scent_in_bar)}"
            yield Line("", f"{used}; {pair_words.most_usual(units)}")
        case "label":
            names = joined(both.label_names) if both.label_names else "none that is known"
            lacking = f"; no complete sheet of {joined(both.label_unknown)}" if both.label_unknown else ""
            yield Line("", f"Names due on the label: {names}{lacking}")
        case _:
            yield from OF_PAIR[part](found)


def _sides(found: PairResult) -> Iterator[Line]:
    return (Line("", pair_words.short_side(oil)) for oil in found.sides)


def _untested(found: PairResult) -> Iterator[Line]:
    for oil in found.sides:
        if oil.browning_by not in ("own batch", "own cup"):
            yield Line("", say.UNTESTED.format(oil=oil.name))


OF_PAIR: Final[Mapping[str, Callable[[PairResult], Iterator[Line]]]] = {
    "findings": lambda found: finding_lines(pairs.as_asked(found.check)),
    "sides": _sides,
    "untested": _untested,
    "fades": lambda found: (Line("", say.fades(oil.name, oil.after_six_weeks)) for oil in found.sides),
    "noted": pairs.noted,
    "how much": pairs.how_much,
    "pours": lambda found: pairs.pours(found.pours),
    "colours": lambda found: pairs.colours(found.colours, every=True),
    "ways": lambda found: chain(pairs.ways(found.helps), pairs.as_it_turns(found.check)),
}
"""Part → its lines, where they hang on the pairing alone."""


def of_check(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """A plan: harm first, then the facts that answer and what the rules find on them."""
    if result.question == "plan as a whole":
        yield Line("", brief_verdict(found))
        yield from finding_lines(found)
        return
    yield from said_first(result.question)
    yield from _harm(found)
    yield from _stabiliser(result, found)
    if result.half is not None:
        yield from of_half(result.half, result.units)
    facts = list(_facts(result, found))
    yield from _in_time(result, found)
    yield from _gel(result, found)
    yield from of_water(result.water)
    yield from of_warmth(result.warmed, found)
    yield from facts[:3]
    yield from _in_cups(result, found)
    about = list(_about(result.question, found))
    yield from about
    yield from facts[3:]
    if not about and result.question not in ("mould volume", "colour rate"):
        yield Line(
            "",
            say.NOTHING_HERE
            if found.sound
            else say.ELSEWHERE.format(verdict=brief_verdict(found).rstrip(".")),
        )


def _stabiliser(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """Half to the whole of what the plan weighs of the oil that is named."""
    if result.question != "stabiliser":
        return
    for oil in result.named.oils:
        whole = sum(row.scents.get(oil, 0.0) for row in found.grams)
        if whole > 0:
            much = f"{grams(whole / 2, found.units)} to {grams(whole, found.units)} of it"
            yield Line("", f"{much} for the {grams(whole, found.units)} of {oil} in this plan")


def _in_time(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """Whether the pour can be made in time, by the cup with the least to spare."""
    if result.question not in ("time", "quick in swirl"):
        return
    spare = {f.subject: f.low for f in found.working if f.measure == "minutes to spare"}
    known = {name: minutes for name, minutes in spare.items() if isinstance(minutes, float)}
    quick = [each for each in found.findings if each.level in HEAVY and _is_about(result.question, each)]
    if any(each.status == "broken" for each in quick):
        yield Line("", say.NO_TIME)
    elif known and not quick:
        tightest = min(known, key=lambda name: known[name])
        yield Line("", say.spare(tightest, known[tightest]))


def _is_about(question: str, finding: Finding) -> bool:
    topic = topic_of(question)
    asked = {*topic.facts, *topic.minds} & {finding.measure, *finding.also}
    return bool(asked) and finding.status != "accepted" and not finding.hidden


def _harm(found: CheckResult) -> Iterator[Line]:
    """A plan that must not be poured is said to be one, whatever was asked."""
    if found.harm:
        yield Line(TAGS["stop"], brief_verdict(found))


def _about(question: str, found: CheckResult) -> Iterator[Line]:
    """What the rules find on the measures of a question, a line a rule, the heaviest first."""
    groups: dict[str, list[Finding]] = {}
    for each in found.findings:
        if _is_about(question, each):
            groups.setdefault(each.rule, []).append(each)
    names = [row.portion for row in found.grams]
    for held in sorted(groups.values(), key=lambda held: -LEVELS.index(held[0].level)):
        first = held[0]
        if first.status == "undecided":
            yield from _open(held)
        else:
            tag = TIGHT_TAG if first.status == "tight" else first.level
            yield Line(tag, _mended(held, found, names) if tag in HEAVY else says(held, found.units, names))


def _mended(held: Sequence[Finding], found: CheckResult, names: Sequence[str]) -> str:
    """What is found with the change that mends it, though it may have been worked out for another finding."""
    own = [each for each in found.levers if each.plan and for_group([each], held)]
    above = [each for each in found.levers if each.plan and mended_above([each], held)]
    told = tuple(replace(each, rule=held[0].rule, version=held[0].version) for each in (own or above)[:1])
    return with_lever(held, replace(found, levers=told), names)


def _open(held: Sequence[Finding]) -> Iterator[Line]:
    facts = dict.fromkeys(f"{gap.fact} of {gap.subject}" for each in held for gap in each.missing)
    if facts and held[0].level in HEAVY:
        yield Line(UNKNOWN_TAG, f"a {held[0].level} until it is written down: {joined(list(facts)[:3])}")


def _facts(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """The values of a question's measures, a line a measure, subjects of one value together."""
    of = {*result.named.portions, *result.named.oils, *result.named.colours}
    for measure in topic_of(result.question).facts:
        rows = [fact for fact in found.working if fact.measure == measure and fact.grain != "base oil"]
        own = [fact for fact in rows if of & set(fact.subject.split(" in "))]
        yield from _fact(measure, own or rows, result)


def _fact(measure: str, rows: Sequence[Fact], result: AskResult) -> Iterator[Line]:
    values: dict[str, list[str]] = {}
    for fact in rows:
        typed = result.typed.get(fact.subject, "")
        as_typed = f" ({typed})" if say.BY_SPOON.search(typed) else ""
        values.setdefault(f"{_value(fact, result.units)}{as_typed}", []).append(fact.subject)
    template = say.FACTS[measure]
    each = "; ".join(f"{joined(names)} {value}" for value, names in values.items())
    if values:
        yield Line("", template.format(each=each, v=next(iter(values))))


def _value(fact: Fact, units: Units) -> str:
    """A value as one says it; minutes of a deadline rounded down, and its basis left to the sentence."""
    low, high = fact.low, fact.high
    if fact.measure in say.DEADLINES and isinstance(low, float) and isinstance(high, float):
        low, high = float(floor(low)), float(floor(min(high, 1e6)))
    unit = "" if fact.measure in say.ALONE else fact.unit
    return span(low, high, unit, units).replace(" of portion oils", " of its oils")


def of_half(both: HalfScented, units: Units) -> Iterator[Line]:
    """The two ways with what each gives the scented part and the whole bar."""
    part = f"{amount(both.share, '%')} of the pot is scented"
    whole = amount(both.load * both.share, "% of batch oils", units)
    local = amount(both.same_total, "% of portion oils", units)
    verdict = "more than is usual" if both.same_total > both.usual else "within what is usual"
    once = amount(both.same_dose, "% of portion oils", units)
    yield Line("", f"Same dose ({part}): {once}, which is {whole} over the whole bar; it smells weaker")
    usual = amount(both.usual, "% of portion oils", units)
    yield Line("", f"All of the scent in that part: {local}, {verdict} ({usual})")
    advice = "Do not double it blindly; keep the dose" if both.same_total > both.usual else "Either serves"
    yield Line("", f"{advice}; the certificates bind the bar, and the part by itself is cautioned of")


def of_water(ways: Sequence[Watered]) -> Iterator[Line]:
    """What each strength of lye gives: minutes of the first cup to thicken against the pour, and veins."""
    told = []
    for each in ways:
        minutes = "minutes not known" if each.fluid is None else f"{floor(each.fluid)} min"
        veins = f", white veins {each.rivers}" if each.rivers else ""
        told.append(f"{amount(each.lye, '%')} lye: {minutes}{veins}")
    if told:
        needed = next((each.needed for each in ways if each.needed is not None), None)
        against = f" (the pour takes {needed:.0f} min)" if needed is not None else ""
        yield Line("", say.best_lye(best_lye(ways)))
        yield Line("", f"The first cup to thicken{against}: {'; '.join(told)}")


def of_warmth(ways: Sequence[Warmed], found: CheckResult) -> Iterator[Line]:
    """Between which temperatures the fats are clear and the tightest cup has its time; what each gives.

    Nothing where the maker states the minutes, which no warmth then moves.
    """
    if len({each.fluid for each in ways}) < 2:
        return
    clear = [f.high for f in found.working if f.measure == "clear temperature" and isinstance(f.high, float)]
    warm = [each.at for each in ways if each.leaves_time and each.at >= max(clear, default=0.0)]
    yield Line("", say.warmth(warm[0] if warm else None, warm[-1] if warm else None, found.units))
    told = [
        f"{amount(each.at, '°C', found.units)} {floor(each.fluid)} min"
        for each in ways
        if each.fluid is not None
    ]
    needed = next((each.needed for each in ways if each.needed is not None), None)
    if told and needed is not None:
        yield Line("", f"The first cup to thicken (the pour takes {ceil(needed)} min): {'; '.join(told)}")


def best_lye(ways: Sequence[Watered]) -> float | None:
    """The strongest lye with which the tightest cup still has its minutes: the less water, the fewer veins.

    None where no strength is known to leave them.
    """
    fits = [each.lye for each in ways if each.fluid is not None and each.fluid >= (each.needed or 0.0)]
    return max(fits, default=None)


def _in_cups(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """How much of the batter reaches the cups, and what stays behind."""
    whole = next((fact.low for fact in found.working if fact.measure == "batter mass"), None)
    if result.question != "mould volume" or not isinstance(whole, float) or not found.grams:
        return
    cups = sum(row.batter for row in found.grams)
    yield Line("", f"{grams(cups, found.units)} goes into the cups, colours in it; the rest stays in the pot")


def _gel(result: AskResult, found: CheckResult) -> Iterator[Line]:
    """Whether gel suits these colours, cup by cup, as one verdict."""
    if result.question != "gel":
        return
    if any(f.measure in MELTS and f.status in ("broken", "tight") for f in found.findings):
        yield Line("", say.EMBEDS_MELT)
        return
    suits = {f.subject: f.low for f in found.working if f.measure == "gel suits the colour"}
    deeper = [name for name, value in suits.items() if isinstance(value, float) and value > 0]
    duller = [name for name, value in suits.items() if isinstance(value, float) and value < 0]
    if len(duller) > len(deeper):
        yield Line("", f"No gel: it would spoil {joined(duller)}{_and(' and deepen ', deeper)}")
    elif deeper:
        yield Line("", f"Gel it all: it deepens {joined(deeper)}{_and(', at the cost of ', duller)}")
    else:
        yield Line("", "Either way suits these colours; decide on one, so that it does not gel in part")


def _and(words: str, names: Sequence[str]) -> str:
    return f"{words}{joined(names)}" if names else ""


def of_assign(found: AssignResult) -> Iterator[Line]:
    """The grams of each cup in a line, after the verdict."""
    from blendwise.show.assign.brief import assign_brief

    blocks = assign_brief(found)
    rows = [block for block in blocks if isinstance(block, Rows)]
    told = [block for block in blocks if block not in rows]
    return (line for line in _lines([*told[:1], *rows, *told[1:]]) if line.text != SAFETY)


def of_review(found: ReviewResult) -> Iterator[Line]:
    """What to repeat and to change before what differed."""
    from blendwise.show.review.brief import short_review

    lines = list(_lines(short_review(found)))
    first = [line for line in lines if line.tag in ("Repeat", "Change one thing")]
    return iter([*lines[:1], *first, *(line for line in lines[1:-1] if line not in first)])


def of_scent(found: ScentResult) -> Iterator[Line]:
    """The oil in short."""
    from blendwise.show.scents.brief import scent_brief

    return _lines(scent_brief(found))


def of_why(found: WhyResult) -> Iterator[Line]:
    """Safety, what to do now, the likeliest causes."""
    from blendwise.show.why import words as why_words
    from blendwise.show.why.brief import cause_lines, day_lines

    symptom = found.symptom
    assert symptom is not None
    verdict = Line("", why_words.verdict(found))
    left = len(symptom.now) - STEPS
    more = [f"{counted(left, 'more step').capitalize()} with the command below"] if left > 0 else []
    now = Line("now", " ".join(sentence(step) for step in [*symptom.now[:STEPS], *more]))
    at_the_pot = symptom.when == AT_THE_POT  # wet hands want what to do before whose fault it is
    yield from [Line(why_words.SAFETY, symptom.safety), now, verdict] if at_the_pot else [verdict]
    yield from day_lines(found.days)
    yield from [] if at_the_pot else [Line(why_words.SAFETY, symptom.safety), now]
    yield from list(cause_lines(found))[:CAUSES]


def _lines(blocks: Sequence[Block]) -> Iterator[Line]:
    """A short answer in lines: its verdict, then each line, a table of grams in one."""
    for block in blocks:
        if isinstance(block, Title):
            yield Line("", block.verdict)
        elif isinstance(block, Line):
            yield block
        elif isinstance(block, Rows):
            yield Line("", " ".join(sentence(line) for line in block.lines))
