"""The English of a review."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from blendwise.answers.review.result import Advice, BatchLine, OwnPace, ReviewResult, Tally
from blendwise.answers.review.rule_record import Record
from blendwise.answers.review.versions import Contest
from blendwise.beliefs.changes import FIELD, Change, word_of
from blendwise.beliefs.expected import Compared
from blendwise.quantity import Units, format_number
from blendwise.records.kinds.scales import Scales
from blendwise.show.numbers import amount, counted
from blendwise.show.text import command, joined
from blendwise.show.words import batches_or_cups

WHAT: Final = {"minutes fluid": "fluid", "after six weeks": "strength at six weeks", "ricing": "ricing"}
COMPARED: Final = {
    "minutes fluid": "fluid",
    "browning band": "colour",
    "after six weeks": "scent at six weeks",
}
CAUTION: Final = (
    "What was seen never loosens a limit, a lye figure, a ban, a label or a flash point: "
    "those follow papers alone."
)
SHORT_CAUTION: Final = "What was seen never loosens a limit, a ban or the lye."
TROUBLE: Final = {
    "riced": "riced",
    "thick too soon": "thick before its pour was done",
    "browned too far": "browned further than the plan allows",
    "brown crept in": "browned from a soft edge inwards, and holds nothing known to brown: it crept in",
    "riced without scent": "riced, and holds no scent",
    "thick too soon without scent": "thick before its pour was done, and holds no scent",
    "browned too far without scent": "browned further than the plan allows, and holds no scent",
    "bled": "bled into its neighbour",
    "soft edge": "soft at the edge",
    "faint at six weeks": "faint or gone at six weeks",
    "partial gel": "gelled in part",
    "rivers": "had rivers",
    "ash": "had ash",
    "spots": "had spots",
}

TRY: Final = {
    "riced": "fold {oil} into {portion} by hand, thinned with a little warm oil, or leave it out",
    "thick too soon": "give {oil} to the portion that is poured first after scenting, or less of it",
    "brown crept in": "a middle colour between {portion} and the darker beside it, or plan it at {seen}",
    "browned too far": "keep {oil} out of {portion}, or plan {portion} at {seen}",
    "riced without scent": "melt the hard fats to clear, and keep {portion} warmer: set fats look like rice",
    "thick too soon without scent": "blend {portion} less and pour it sooner, or start warmer",
    "browned too far without scent": "look at the edge of {portion} (a soft one: brown crept in), at its "
    "milk and sugar, or plan it at {seen}",
    "bled": "pour {portion} a little thicker, or use a colour in it that does not bleed",
    "faint at six weeks": "hold {oil} in {portion} with a base note, or give its place to one that lasts",
    "spots": "lower the superfat of {portion}, and look at the age of its oils",
    "partial gel": "keep the mould cool, or force gel throughout",
    "rivers": "take less water, or less white, in {portion}",
    "ash": "cover the mould, or take less water",
    "soft edge": "pour {portion} a little thicker",
}


def pace(own: OwnPace) -> str:
    """ "circling lines takes you 1.3 times the rulebook's minutes (2 timed pours; 80 % of the next …)"."""
    return (
        f"{own.style} takes you {own.factor:.2g} times the rulebook's minutes "
        f"({counted(own.batches, 'timed pour')}; 80 % of the next {own.least:.2g} to {own.most:.2g} times)"
    )


def shown(row: Compared) -> str:
    """ "milk: cream by week 4, expected ivory" with the version and the batch named elsewhere."""
    portion = f"{row.portion} ({row.variation})" if row.variation else row.portion
    when = (
        row.look
        if row.look.startswith("at ")
        else f"by {row.look}"
        if row.look != "later"
        else f"on {row.on}"
    )
    what = WHAT.get(row.what, "")
    seen = f"{what} {row.seen}".strip() if row.what not in ("minutes fluid",) else row.seen
    expected = _expected(row)
    end = {"as expected": ", as expected", "": f", {expected}" if expected else ""}.get(
        row.verdict, f", {expected}: {row.verdict}"
    )
    return f"{portion}: {seen} {when}{end}"


def differed(row: Compared) -> str:
    """Of what kind a difference is: "colour darker than expected", "thick sooner than expected"."""
    sooner = (row.what, row.verdict) == ("minutes fluid", "sooner")
    return f"{'thick' if sooner else COMPARED.get(row.what, row.what)} {row.verdict} than expected"


def _expected(row: Compared) -> str:
    if not row.expected:
        return "nothing was written down to expect"
    more = "fluid for " if row.what == "minutes fluid" else ""
    return f"expected {more}{row.expected}"


def verdict(result: ReviewResult) -> str:
    """The review in one sentence."""
    if not result.batches:
        return "No batch is noted yet; begin with `blendwise note PLAN`."
    good = sum(line.as_expected for line in result.batches)
    other = sum(line.otherwise for line in result.batches)
    looks = sum(line.looks for line in result.batches)
    many = f"{counted(len(result.batches), 'batch', 'batches')}, {counted(looks, 'look')}"
    return f"{upper(many)}: {good} of {good + other} expectations came out as expected."


def upper(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]


def tally(each: Tally, units: Units) -> str:
    """ "riced in 2 of 3 batches of lot L-7; batter at 30 to 32 °C where it did, at 40 °C where not"."""
    lot = f" of lot {each.lot}" if each.lot else ", lot not written"
    warm = [
        f"batter at {_span(found, units)} where {what}"
        for found, what in ((each.warm_came, "it did"), (each.warm_stayed, "it did not"))
        if found
    ]
    told = f"{TROUBLE[each.kind]} in {each.came} of {batches(each.of)}{lot}"
    return "; ".join([told, ", ".join(warm)] if warm else [told])


def _span(degrees: Sequence[float], units: Units) -> str:
    """The least and the most of some degrees Celsius, as the book shows them."""
    low, high = (amount(end, "°C", units) for end in (degrees[0], degrees[-1]))
    return low if low == high else f"{low.split(' ')[0]} to {high}"


def looked_at(number: int, change: Change) -> str:
    """A count of what a change rests on: batches, test cups, or both."""
    one, many = batches_or_cups(change.batches, change.cups)
    return f"{number} {one if number == 1 else many}"


def batches(number: int) -> str:
    """A count of batches in digits, to stand beside another count."""
    return f"{number} batch" if number == 1 else f"{number} batches"


def batch_line(line: BatchLine) -> str:
    """One batch in short."""
    parts = [f"{line.batch} ({line.plan}, poured {line.poured}): {counted(line.looks, 'look')}"]
    if line.as_expected + line.otherwise:
        parts.append(f"{line.as_expected} of {line.as_expected + line.otherwise} as expected")
    if line.repeat is not None:
        parts.append("to be made again" if line.repeat else "not to be made again")
    if line.favourites:
        parts.append(f"liked best: {joined(line.favourites)}")
    if line.past is not None:
        parts.append("poured past a stop: do not use it, gloves on")
    return ", ".join(parts)


def proposal(change: Change) -> str:
    """ "vetiver acceleration: slight → moderate; 3 of 4 batches"."""
    return f"{change.oil} {FIELD[change.trait]}: {change.was or 'not known'} → {change.now}; {count(change)}"


def count(change: Change) -> str:
    """How many batches say so, and how many there are."""
    if change.agreeing:
        return f"{change.agreeing} of {looked_at(len(change.told), change)}"
    if change.beyond:
        return f"{len(change.beyond)} of {looked_at(len(change.told), change)} went beyond it"
    return f"by {looked_at(change.batches, change)} in which it was one of several"


def how_to_adopt(change: Change) -> str:
    """The command that writes it."""
    return command("review", "--adopt", change.oil)


def belief(change: Change, scales: Scales, numbers: bool) -> str:
    """What the evidence says of one trait: the word, how sure, the entry, the counts."""
    low, high = (word_of(change.trait, end, scales, change.dose) for end in (change.low, change.high))
    sure = (
        f"{change.now}, as good as sure"
        if low == high
        else f"{change.now}, with 80 % confidence {low} to {high}"
    )
    entry = "the catalogue does not say" if change.was is None else f"the catalogue says {change.was}"
    at = f" at {format_number(100 * change.dose)} % of oils" if change.dose is not None else ""
    one, many = batches_or_cups(change.batches, change.cups)
    looks = f"{counted(change.looks, 'look')} in {counted(change.batches, one, many)}"
    told = f"; {many} by themselves: {', '.join(change.told)}" if change.told else ""
    text = f"{FIELD[change.trait]}{at}: {sure}; {entry} ({looks}{told})"
    return f"{text}; {in_numbers(change)}" if numbers else text


def in_numbers(change: Change) -> str:
    """The numbers on request: centre and the interval of 80 %, beside those of the catalogue."""
    unit = {"acceleration": "× unscented", "browning": "% of the oil browns", "after six weeks": "% is left"}
    values = [_plain(change, value) for value in (change.mean, change.low, change.high, change.prior_mean)]
    middle, least, most, before = (format_number(value) for value in values)
    return f"{middle} {unit[change.trait]}, 80 % between {least} and {most}; before any look {before}"


def _plain(change: Change, value: float) -> float:
    if change.trait == "acceleration":
        return math.exp(value)
    return 100 * (math.exp(value) if change.trait == "browning" else min(max(value, 0.0), 1.0))


def record(record: Record) -> str:
    """A rule's record in a sentence: how often it spoke, was right, was silent, and when it last mattered."""
    warned = TROUBLE[record.warns_of]
    parts = [f"spoke {_times(record.flagged + record.open)}"]
    if record.flagged:
        parts.append(f"right in {record.flagged_and_seen} of {record.flagged} that somebody looked at")
    if record.last:
        parts.append(f"last right of the pour of {record.last}")
    if record.seen_and_not_flagged:
        parts.append(f"silent {_times(record.seen_and_not_flagged)} where it came so")
    return f"{record.rule} (warns: {warned}): {', '.join(parts)}; {says(record)}"


def _times(number: int) -> str:
    return {0: "never", 1: "once"}.get(number, f"{number} times")


def switched_off(record: Record) -> str:
    """What is said of a rule that is switched off, where its record speaks for it; else nothing."""
    if record.flagged == 0 or record.flagged_and_seen * 2 <= record.flagged:
        return ""
    return f"you have switched off a rule that was right {record.flagged_and_seen} of {record.flagged} times"


def missed(record: Record) -> str:
    """A rule that never spoke, beside what was seen."""
    return f"{record.rule}: {record.seen_and_not_flagged} times {TROUBLE[record.warns_of]}"


def says(record: Record) -> str:
    """What the record is worth."""
    if record.flagged == 0:
        return "nobody looked"
    if record.says == "too few to say":
        return "too few to say"
    where = counted(record.batches, "batch", "batches")
    return (
        f"{record.says}, in {where}: with 80 % confidence it is right in "
        f"{100 * record.low:.0f} to {100 * record.high:.0f} % of batches"
    )


def contest(each: Contest) -> str:
    """Who won, or that it is too close to call."""
    votes = joined([f"{name} {count}" for name, count in each.votes.items()])
    if each.winner is None:
        return f"{each.plan}: {votes}; too close to call"
    return f"{each.plan}: {each.winner} won ({votes})"


def repeat(advice: Advice) -> str:
    """What to repeat."""
    liked = f"; liked best: {advice.portion}" if advice.portion else ""
    came = (
        f"{advice.times} of {advice.of} expectations came out"
        if advice.of
        else "nothing was written to expect"
    )
    return f"{advice.plan} as poured in {advice.batch} ({came}{liked})"


def change(advice: Advice) -> str:
    """The one thing to change."""
    seen = f"{advice.portion} {TROUBLE[advice.kind]}"
    if advice.seen:
        seen += f" ({advice.seen}, where {advice.expected or 'ivory'} was the most)"
    times = f"in {advice.times} of {batches(advice.of)}"
    wanted = TRY[advice.kind].format(
        oil=advice.oil or "the scent", portion=advice.portion, seen=advice.seen or "what it becomes"
    )
    return f"{advice.plan}: {wanted}. {upper(seen)} {times}"
