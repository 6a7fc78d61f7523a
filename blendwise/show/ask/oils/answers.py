"""What is told of oils that a question names: the verdict, its figures, the maker's own looks, what to do."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from blendwise.answers.ask.doses.planned import OF_DOSE
from blendwise.answers.ask.result import AskResult
from blendwise.answers.check.result import CheckResult
from blendwise.answers.pair.result import ColourFit, PairResult, Side
from blendwise.judge.findings.finding import Finding
from blendwise.show.ask import words as say
from blendwise.show.ask.about import is_about
from blendwise.show.ask.oils.dose import with_dose
from blendwise.show.ask.oils.strength import (
    OWN,
    QUICK,
    batch,
    certificate,
    how_strong,
    speed,
    told_limit,
)
from blendwise.show.ask.own_notes import colours_seen, darker, minutes_seen, words_seen
from blendwise.show.ask.reasons.lasting import lasting, lasts
from blendwise.show.ask.reasons.own_pace import shelf_colour
from blendwise.show.blocks import Line
from blendwise.show.check.brief import finding_lines
from blendwise.show.numbers import amount, grams, minutes_left
from blendwise.show.pair import brief as pairs
from blendwise.show.pair import words as pair_words
from blendwise.show.pair.bounds import most_of, of_the_oils
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE, TAGS

# Found against a white that nobody has planned; against a load that nobody has asked for.
OF_COLOUR: Final = ("browning band", "cured lightness")
NOT_ASKED: Final = (*OF_DOSE, "short by")

Lines = Iterator[Line]


def of_pair(result: AskResult, found: PairResult) -> Lines:
    """The verdict of a pairing first, then what the question looks for; a stop whatever was asked."""
    answer = ANSWERS.get(result.question, get_on)
    checked = _checked(result, found)
    if result.dosed is not None:
        yield with_dose(result, result.dosed, found.check, checked)
    lines, told = list(answer(result, found)), list(finding_lines(checked))
    if answer is get_on:  # what the two do to one another is told before the rest
        first = {line.text for line in _react(found)}
        told = [line for line in told if line.text not in first]
    stops = [line for line in told if line.tag == TAGS["stop"]]
    yield from lines[:1]
    yield from stops  # before any caution, and never folded away behind one
    yield from lines[1:]
    yield from (line for line in told if line not in stops)


def _checked(result: AskResult, found: PairResult) -> CheckResult:
    """The check with what was asked of alone: no white that nobody planned, no load that nobody named."""
    kept = tuple(each for each in found.check.findings if _is_told(result, found, each))
    return replace(pairs.as_asked(found.check), findings=kept, rules_off=0)


def _is_told(result: AskResult, found: PairResult, each: Finding) -> bool:
    if each.measure in OF_COLOUR and found.colour is None:
        return False
    if each.measure == "certificate" and result.question == "certificate" and told_limit(result) is not None:
        return False  # the paper is in the maker's hand
    whole = result.question == "get on"
    if each.level == "stop" and each.stands:
        return whole or "--load" in result.command or each.measure not in NOT_ASKED
    return whole or (is_about(result.question, each) and each.level != "hint")


def browns(result: AskResult, found: PairResult) -> Lines:
    """How brown at the load, on whose word, by what; the own looks; from when it is final."""
    for oil in found.sides:
        known = _browned(oil, result)
        yield Line("", f"{known} at {pair_words.rate(found.load, found.units)}{_by(oil, found)}")
        yield from shelf_colour(result, oil)
    yield from colours_seen(result.looks_of_oils, of=found.oils)
    yield from words_seen(result.words_of_oils)
    blended = [look for look in result.looks_of_oils if not set(look.doses) <= set(result.named.oils)]
    if blended and len(blended) == len(result.looks_of_oils) and not result.words_of_oils:
        held = joined(list(found.oils))
        yield Line("", f"Those cups held other oils too: nobody here has seen {held} alone in white")
    yield from _final(found)


def _browned(oil: Side, result: AskResult) -> str:
    low, high = oil.bands.low, oil.bands.high
    if high is None or (low == "ivory" and high == "chocolate"):
        if any(each.oil == oil.name for each in result.words_of_oils):
            return f"No colour is written down of {oil.name}"
        return f"Not known: nobody here has seen how {oil.name} browns"
    if high == "ivory":
        seen = "" if oil.browning_by in OWN else ", as far as is written down"
        return f"Hardly: {oil.name} leaves soap white or ivory{seen},"
    return f"{pair_words.from_to(oil.bands).capitalize()}: that is what {oil.name} turns white soap to"


def _by(oil: Side, found: PairResult) -> str:
    """On whose word, and by how much of what."""
    word = f", by {EVIDENCE.get(oil.browning_by, oil.browning_by)}" if oil.browning_by else ""
    known = {name: part for name, part in oil.browners.items() if part}
    if not known:
        return word if oil.browners or oil.browning_by else f"{word}; nothing is said of its vanillin"
    word = word or ", reckoned from its sheet"
    unsaid = [name for name in ("vanillin", "ethyl vanillin") if oil.browners.get(name) is None]
    names = joined([f"{name} {amount(part, '%')}" for name, part in known.items()])
    dose = sum(known.values()) * found.load * oil.share
    return f"{word}; it holds {names}: {amount(float(f'{dose:.2g}'), '%')} of the oils{_unsaid(unsaid)}"


def _unsaid(names: Sequence[str]) -> str:
    """A browner of which nothing is written down: unknown is not none."""
    return f"; of its {joined(list(names))} nothing is known, which could be more" if names else ""


def _final(found: PairResult) -> Lines:
    both = found.together
    judged = f"{pair_words.day(both.judge_from)} to {pair_words.day(both.judge_by)}"
    yield Line("", f"It comes over weeks: poured today it is final from {judged}, not before")


def no_vanillin(result: AskResult, found: PairResult) -> Lines:
    """Whether it is fit for white: not before somebody looked."""
    for oil in found.sides:
        yield Line("", _fit_for_white(oil, result))
        named = {name: part for name, part in oil.browners.items() if part is None or part > 0}
        if "vanillin" not in oil.browners:
            yield Line("", say.NO_FIGURE.format(oil=oil.name))
        for name, part in named.items():
            how = say.BROWNERS.get(name, "it can brown or yellow too")
            held = "an unknown amount" if part is None else amount(part, "%")
            yield Line("", f"It holds {name}, {held}: {how}")
    yield from colours_seen(result.looks_of_oils, of=found.oils)
    yield from words_seen(result.words_of_oils)
    judged = f"{pair_words.day(found.together.judge_from)} to {pair_words.day(found.together.judge_by)}"
    yield Line("", f"Set out a white cup of it today and judge that from {judged}")


def _fit_for_white(oil: Side, result: AskResult) -> str:
    seen = darker(result.looks_of_oils, "ivory")
    if oil.bands.high not in (None, "ivory") and not (
        oil.bands.low == "ivory" and oil.bands.high == "chocolate"
    ):
        return f"No: {oil.name} turns white soap {pair_words.from_to(oil.bands)}"
    if oil.browning_by in OWN and oil.bands.high == "ivory" and not seen:
        return f"Yes: {EVIDENCE[oil.browning_by]} with {oil.name} stayed white or ivory"
    if any(each.oil == oil.name for each in result.words_of_oils):
        return say.NOT_JUDGED.format(oil=oil.name)
    return say.NOT_YET.format(oil=oil.name)


def colours(result: AskResult, found: PairResult) -> Lines:
    """Which colours to take, what the others become; of the kind alone that was asked of."""
    fits = [each for each in found.colours if not result.asked_of or each.colourant in result.asked_of]
    keep = [each for each in fits if each.word in ("stays", "warms")]
    turned = pair_words.from_to(found.together.bands)
    reason = f"white turns {turned} at {pair_words.rate(found.load, found.units)}"
    use = f"Use {_named(keep)}" if keep else "None of them keeps its name"
    lost = any(each.word == "lost" for each in fits)
    yield Line("", f"{use}; light colours are lost, for {reason}" if lost else f"{use}; {reason}")
    for word, said in (("turns", "Turn to another colour"), ("lost", "Lost")):
        those = [each for each in fits if each.word == word]
        if those:
            yield Line("", f"{said}: {_named(those, every=len(fits) <= MANY)}")
    yield from (Line("", _reason(oil)) for oil in found.sides if oil.browners)


MANY: Final = 8
"""Colours up to which each is told with what it becomes."""


def _named(fits: list[ColourFit], every: bool = True) -> str:
    told = [f"{each.colourant} ({_becomes(each)})" for each in fits]
    if every or len(told) <= pairs.FEW:
        return joined(told)
    return joined([*told[: pairs.FEW - 1], f"{len(told) - pairs.FEW + 1} more"])


def _becomes(fit: ColourFit) -> str:
    words = dict.fromkeys(fit.cured_words)
    besides = f", {joined(fit.besides)}" if fit.besides else ""
    if set(words) == {fit.planned_word}:
        return f"stays {fit.planned_word}{besides}"
    return f"{fit.planned_word} to {' or '.join(words)}{besides}"


def _reason(oil: Side) -> str:
    held = [f"{name} {amount(part, '%')}" for name, part in oil.browners.items() if part]
    seen = EVIDENCE.get(oil.browning_by, oil.browning_by)
    by = f"; how it browns you know by {seen}" if oil.browning_by in OWN else ""
    return f"{oil.name} holds {joined(held) or 'no vanillin'} by what its sheet says{by}"


def part_white(result: AskResult, found: PairResult) -> Lines:
    """Each oil in a cup of its own, or none in the white one."""
    browner = [oil.name for oil in found.sides if oil.bands.high not in (None, "ivory")]
    if browner:
        yield Line("", f"Yes, where {joined(browner)} stays out of that part; with it in, it browns")
    yield from pairs.ways(found.helps)
    yield Line("", say.FOR_WHITE)
    yield from colours_seen(result.looks_of_oils, of=found.oils)


def get_on(result: AskResult, found: PairResult) -> Lines:
    """Whether they may be put together, what they do in white, and how quick they are."""
    heavy = [each for each in found.check.findings if each.level in ("stop", "conflict") and each.stands]
    of_colour = [each for each in heavy if each.measure in OF_COLOUR and found.colour is None]
    rest = [each for each in heavy if each not in of_colour]
    yield Line("", _together(found, rest))
    if of_colour:
        turned = pair_words.from_to(found.together.bands)
        yield Line("", f"In white it turns {turned}: put it in a dark cup, or plan it as {turned}")
    why = "; ".join(_why_they_react(found))
    yield from (Line(line.tag, f"{line.text}. {why}" if why else line.text) for line in _react(found))
    yield from _known_of_both(result, found)
    unknown = [oil.name for oil in found.sides if oil.acceleration is None]
    if unknown:
        verb = "thickens" if len(unknown) == 1 else "thicken"
        yield Line("", f"How fast {joined(unknown)} {verb} is not known: a test cup answers")
    quick = [oil for oil in found.sides if oil.acceleration in QUICK]
    for oil in quick:
        yield Line("", f"{speed(oil, result, found)}{_pours_left(found)}")
    yield from pairs.noted(found)


def _known_of_both(result: AskResult, found: PairResult) -> Lines:
    """In which own batch they were in one cup, how quick they are, and how much of both the papers allow."""
    both = [look for look in result.looks_of_oils if set(found.oils) <= set(look.doses)]
    batches = joined(list(dict.fromkeys(look.batch for look in both)))
    told = [f"you poured them together in {batches}"] if both and len(found.oils) > 1 else []
    calm = [each for each in found.sides if each.acceleration not in (None, *QUICK)]
    told += [speed(each, result, found) for each in calm]
    most, _ = most_of(found)
    together = "together " if len(found.oils) > 1 else ""
    bound = any(each.measure == "limit used" and each.status == "broken" for each in found.check.findings)
    if most is not None and not bound:  # else the stop says to what it is to be lowered: one figure
        told.append(f"{together}at most {of_the_oils(most, found.units)}")
    if told:
        text = "; ".join(told)
        yield Line("", f"{text[:1].upper()}{text[1:]}")


REACT: Final = ("together", "noted together")


def _react(found: PairResult) -> Lines:
    """What the two do to one another, before what only the label asks."""
    kept = tuple(each for each in found.check.findings if each.measure in REACT)
    yield from finding_lines(replace(found.check, findings=kept, rules_off=0))


def _why_they_react(found: PairResult) -> Iterator[str]:
    """What of each oil it is that joins, by the shelf, and the reason and basis of the rule."""
    held = {
        oil.name: joined([f"{name} {amount(part, '%')}" for name, part in oil.browners.items() if part])
        for oil in found.sides
    }
    for each in found.check.findings:
        if each.measure != "together" or not each.stands or not each.because:
            continue
        own = [f"{oil} holds {held[oil]}" for oil in each.subject if held.get(oil)]
        by = f"{joined(own)} by your shelf. " if own else ""
        basis = f" ({each.basis})" if each.basis else ""
        yield f"{by}{each.because.rstrip('.')}{basis}"


def _together(found: PairResult, rest: list[Finding]) -> str:
    if not rest:
        known = " as far as is known" if found.check.open_questions else ""
        cautions = any(e.level == "caution" and e.status == "broken" for e in found.check.findings)
        reacts = any(e.measure in REACT and e.stands for e in found.check.findings)
        nothing = "" if reacts else ": no rule says that they harm one another"
        return f"They get on{known}, with care" if cautions and reacts else f"They get on{known}{nothing}"
    at = pair_words.rate(found.load, found.units)
    if all(each.measure == "short by" for each in rest):
        return f"They get on, but there is too little of one for {batch(found)} at {at}"
    return f"Not as asked, at {at} in {batch(found)}"


def _pours_left(found: PairResult) -> str:
    names = [fit.pour for fit in found.pours if fit.word == "time enough"]
    return (
        f"; time enough only for {joined(names[:4])}" if names else "; no pour that parts the batter has time"
    )


def quick(result: AskResult, found: PairResult) -> Lines:
    """Which pours have the time, and the minutes."""
    yield Line("", _fits(result, found))
    both = found.together
    if both.minutes.low is not None and both.minutes.high is not None:
        left = minutes_left(both.minutes.low)
        yield Line(
            "", f"At {pair_words.rate(found.load, found.units)} it leaves {left} min from its scenting"
        )
        most = both.most_on_oils
        if most is not None and found.load > most:
            times = f"{found.load / most:.2g} times what its certificate allows"
            yield Line("", f"That dose is {times}: at most {of_the_oils(most, found.units)}")
    yield from minutes_seen(result.looks_of_oils)
    lacking = [fit for fit in found.pours if fit.word == "no time"]
    if lacking:
        yield Line(
            "", f"No time for: {pairs.few([f'{fit.pour} ({fit.minutes:.0f} min)' for fit in lacking])}"
        )


def _fits(result: AskResult, found: PairResult) -> str:
    """Yes, no, or not known, of the pour that is meant, else of all; how quick the oils are."""
    how = joined([speed(oil, result, found) for oil in found.sides])
    words = {fit.pour: fit.word for fit in found.pours if found.pour in (None, "", fit.pour)}
    enough = [pour for pour, word in words.items() if word == "time enough"]
    alone = f" for your {found.pour}" if found.pour else ""
    if any(oil.acceleration is None for oil in found.sides):
        return f"Not to be told yet{alone}: {how}; a test cup answers"
    if all(word != "no time" for word in words.values()):
        return f"Yes{alone}: {how}"
    if enough:
        return f"Only for {joined(enough)}: {how}"
    return f"No, not{alone}: {how}" if alone else f"Not for a pour that parts the batter: {how}"


def kept_from_seizing(result: AskResult, found: PairResult) -> Lines:
    """What keeps an oil from seizing, where no plan says its degrees."""
    yield Line("", say.KEEP_FROM_SEIZING)
    yield Line("", say.COOLER_AT.format(at=amount(COOL, "°C", found.units)))
    yield Line("", joined([speed(oil, result, found) for oil in found.sides]))
    for oil in found.sides:
        if oil.acceleration == "seizes":
            yield Line("", say.STILL_SEIZES.format(oil=oil.name))
    yield from minutes_seen(result.looks_of_oils)


COOL: Final = 30.0
"""°C at which makers work with a quick scent: common practice."""


def stabiliser(result: AskResult, found: PairResult) -> Lines:
    """How much for the usual batch, and that it only delays."""
    for oil in found.sides:
        whole = found.load * found.batch_oils * oil.share
        much = f"{grams(whole / 2, found.units)} to {grams(whole, found.units)}"
        load = pair_words.rate(found.load, found.units)
        at = f"{grams(whole, found.units)} of {oil.name} ({batch(found)}, {load})"
        yield Line("", f"{much} for the {at}: half to the whole of the oil's mass is common")
        yield Line(
            "", f"It delays browning, it does not stop it: expect {pair_words.from_to(oil.bands)} in the end"
        )
    yield Line("", say.STABILISER)
    yield from colours_seen(result.looks_of_oils, of=found.oils)


def one_name(result: AskResult, found: PairResult) -> Lines:
    """One product, one name; what the label must name; which of them lasts."""
    yield Line("", say.ONE_PRODUCT)
    yield from lasting({oil.name: oil.after_six_weeks for oil in found.sides})
    yield from label(result, found)


def label(result: AskResult, found: PairResult) -> Lines:
    """The names due on the label, and whose sheet is missing."""
    both = found.together
    names = joined(both.label_names) if both.label_names else "none that is known"
    lacking = f"; no complete sheet of {joined(both.label_unknown)}: ask for it" if both.label_unknown else ""
    yield Line("", f"Names due on the label: {names}{lacking}")


ANSWERS: Final[Mapping[str, Callable[[AskResult, PairResult], Lines]]] = {
    "browns": browns,
    "no vanillin": no_vanillin,
    "colours left": colours,
    "part white": part_white,
    "get on": get_on,
    "how strong": how_strong,
    "certificate": certificate,
    "citrus lasts": lasts,
    "quick in swirl": quick,
    "keep from seizing": kept_from_seizing,
    "time": quick,
    "stabiliser": stabiliser,
    "one name": one_name,
    "label": label,
}
