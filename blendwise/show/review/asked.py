"""What a review was asked for, as pictures: each rule's record, what was seen of an oil by dose, votes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blendwise.answers.review.result import ReviewResult, ScentLook
from blendwise.answers.review.rule_record import Record
from blendwise.answers.review.versions import Contest
from blendwise.quantity import METRIC, Units
from blendwise.records.kinds.scent import BANDS, RICING_WORDS, STRENGTH_WORDS
from blendwise.records.notes.notebook import Seen
from blendwise.show.blocks import Blocks, Title
from blendwise.show.charts import measured, shifts, stacked
from blendwise.show.check.blocks import own_dose
from blendwise.show.numbers import counted, in_units
from blendwise.show.pages.answer import Figure
from blendwise.show.pages.render import day, said
from blendwise.show.review import words

if TYPE_CHECKING:
    from markupsafe import Markup

RIGHT, NOTHING, MISSED, UNSEEN = 0, 1, 2, 7  # fillings of charts/stacked.py
KEY = (
    (RIGHT, "it spoke and was right"),
    (NOTHING, "it spoke for nothing"),
    (MISSED, "it came so, and it was silent"),
    (UNSEEN, "it spoke, nobody looked"),
)
RECORDS = "How each rule came out"
RECORDS_SAID = "Under what each warns of; counted in portions of which such a thing can be told."
OF_OILS = "% of portion oils"
SEEN = "What was seen, by dose"
SEEN_SAID = "A disc is a portion of a batch as it was last looked at, over the dose of the oil in it."
ROW = (
    "<div class=turn><div class=who><strong><bdi>{name}</bdi></strong></div><div class=face>{bar}</div>"
    "<div class=small>{told}</div></div>"
)
HEADS = (
    "<div class='turn heads'><div class=who>{who}</div><div class=face><span class=small>{unit}</span>"
    "{axis}</div><div>{told}</div></div>"
)


def heading(blocks: Blocks, result: ReviewResult) -> str:
    """What the page is about, with the day of the answer."""
    about = next((each.text for each in blocks if isinstance(each, Title)), "What came of it")
    return about if str(result.today) in about else f"{about}, {day(result.today)}"


def figures(result: ReviewResult) -> Iterator[Figure]:
    """The pictures of what was asked; none where there is nothing to draw."""
    yield from of_rules(result.rules)
    yield from of_doses(result.looks, result.units)
    yield from of_votes(result.contests)


def of_rules(records: Sequence[Record]) -> Iterator[Figure]:
    """A bar a rule: right, for nothing, silent where it came so, not looked at; in portions."""
    told = [each for each in records if _counts(each)]
    if not told:
        return
    top = 1.05 * max(sum(_counts(each).values()) for each in told)
    by_kind: dict[str, list[Record]] = {}
    for each in told:
        by_kind.setdefault(each.warns_of, []).append(each)
    groups = [
        said("<h3>{kind}</h3>", kind=words.upper(words.TROUBLE[rows[0].warns_of]))
        + said("").join(_record(each, top) for each in rows)
        for rows in by_kind.values()
    ]
    key = (said("<span>{it}{told}</span>", it=stacked.sample(filling), told=told) for filling, told in KEY)
    drawn = said(
        "{fillings}<p class=key>{key}</p><div class='clock chart'>{head}{rows}</div>",
        fillings=stacked.fillings(),
        key=said("").join(key),
        head=_heads("rule", "portions", top, "how often it was right"),
        rows=said("").join(groups),
    )
    yield Figure(RECORDS, drawn, RECORDS_SAID)


def _counts(record: Record) -> dict[int, int]:
    """By filling, how many portions; those without any left out."""
    counts = {
        RIGHT: record.flagged_and_seen,
        NOTHING: record.flagged_and_not,
        MISSED: record.seen_and_not_flagged,
        UNSEEN: record.open,
    }
    return {filling: count for filling, count in counts.items() if count}


def _record(record: Record, top: float) -> Markup:
    parts = []
    if record.flagged:
        parts.append(f"right in {record.flagged_and_seen} of {record.flagged}")
    elif not record.open:
        parts.append("never spoke")
    if record.seen_and_not_flagged:
        parts.append(f"silent in {record.seen_and_not_flagged}")
    if record.open:
        parts.append(f"nobody looked at {record.open}")
    worth = f"; {record.says}" if record.flagged else ""
    told = f"{', '.join(parts)}{worth}"
    bar = stacked.stacked(top, list(_counts(record).items()), f"{record.rule}: {told}")
    return said(ROW, name=record.rule, bar=bar, told=told)


def _heads(who: str, unit: str, top: float, told: str) -> Markup:
    return said(HEADS, who=who, unit=unit, axis=measured.axis(top, unit), told=told)


def of_doses(looks: Sequence[ScentLook], units: Units = METRIC) -> Iterator[Figure]:
    """For each thing looked for a line for each answer, on one axis of the dose that the portion held."""
    dosed = [each for each in looks if each.dose]
    found = {head: held for head, kind in KINDS.items() if (held := _by_seen(dosed, kind))}
    if not found:
        return
    most = 1.15 * max(each.dose or 0.0 for each in dosed)
    top, unit = in_units(most, OF_OILS, units)
    groups = [
        said("<h3>{head}</h3>", head=head)
        + said("").join(_seen(seen, doses, most, units) for seen, doses in held.items())
        for head, held in found.items()
    ]
    head = _heads("seen", unit, top, "portions at each dose")
    drawn = said("<div class='clock chart'>{head}{rows}</div>", head=head, rows=said("").join(groups))
    yield Figure(SEEN, drawn, SEEN_SAID)


def _by_seen(looks: Sequence[ScentLook], kind: Kind) -> dict[str, list[float]]:
    """What was last seen of each portion of each batch, in the order of its scale, with the doses."""
    last = {
        (look.batch, look.portion, look.dose or 0.0): told
        for look in sorted(looks, key=lambda look: look.on)
        if (told := kind.read(look.whole))
    }
    found: dict[str, list[float]] = {}
    for (_, _, dose), told in sorted(last.items(), key=lambda held: held[0][2]):
        found.setdefault(told, []).append(dose)
    places = {told: kind.scale.index(told) if told in kind.scale else len(kind.scale) for told in found}
    return {told: found[told] for told in sorted(found, key=lambda told: places[told])}


def _minutes(seen: Seen) -> str:
    if seen.minutes is not None:
        return f"thick at {seen.minutes[0]:.0f} min"
    return f"still fluid at {seen.fluid_at:.0f} min" if seen.fluid_at is not None else ""


@dataclass(frozen=True, slots=True)
class Kind:
    """A thing looked for: how it is read, and the order of its answers, the least trouble first."""

    read: Callable[[Seen], str | None]
    scale: tuple[str, ...] = ()


KINDS: Final = {
    "Colour": Kind(lambda seen: seen.colour, BANDS),
    "Ricing": Kind(lambda seen: seen.ricing, RICING_WORDS),
    "Minutes": Kind(_minutes),
    "Strength": Kind(lambda seen: seen.strength, STRENGTH_WORDS),
}


def _seen(seen: str, doses: Sequence[float], most: float, units: Units) -> Markup:
    counts = Counter(own_dose(dose, units) for dose in doses)
    told = ", ".join(f"{many} at {dose}" for dose, many in counts.items())
    bar = shifts.dots([100 * dose / most for dose in doses], f"{seen}: {told}")
    return said(ROW, name=seen, bar=bar, told=told)


def of_votes(contests: Sequence[Contest]) -> Iterator[Figure]:
    """A bar a version of each plan, on one axis of votes."""
    most = max((votes for each in contests for votes in each.votes.values()), default=0)
    if not most:
        return
    top = math.ceil(1.05 * most)
    groups = [
        said("<h3><bdi>{plan}</bdi></h3>", plan=each.plan)
        + said("").join(
            said(
                ROW,
                name=name,
                bar=stacked.stacked(top, [(RIGHT, votes)], f"{name}: {counted(votes, 'vote')}"),
                told=f"{counted(votes, 'vote')}{', won' if name == each.winner else ''}",
            )
            for name, votes in each.votes.items()
        )
        for each in contests
    ]
    head = _heads("version", "votes", top, "")
    drawn = said("<div class='clock chart'>{head}{rows}</div>", head=head, rows=said("").join(groups))
    yield Figure("How the votes fell", drawn)
