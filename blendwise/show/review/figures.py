"""A review as pictures: colours through the weeks, what is believed of each oil, and how that came about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from blendwise.answers.review.over_time import Story, Weeks, gone
from blendwise.answers.review.result import ReviewResult
from blendwise.beliefs.changes import Change
from blendwise.beliefs.lessons import EIGHTY
from blendwise.records.kinds.scales import Scales
from blendwise.science.colour_words import hex_of_word
from blendwise.show.charts import measured
from blendwise.show.charts import weeks as weeks_chart
from blendwise.show.charts.narrowing import Band, narrowing
from blendwise.show.pages.render import short_day
from blendwise.show.review import words

if TYPE_CHECKING:
    from markupsafe import Markup

WIDEST = {"acceleration": (-0.4, 2.2), "browning": (-8.0, -1.5), "after six weeks": (0.0, 1.3)}
"""The ends of each trait's axis: log of the speed, log of the content, part left."""
ENDS = {
    "acceleration": ("as slow as unscented", "nine times as quick"),
    "browning": ("no browning", "brown"),
    "after six weeks": ("gone", "as strong as on the first day"),
}
TRAITS = {"acceleration": "how it quickens", "browning": "how it browns", "after six weeks": "how it lasts"}


@dataclass(frozen=True, slots=True)
class Learnt:
    """What is believed of one trait: its bar, and the same in words; ``narrowed``: part of the doubt gone."""

    oil: str
    trait: str
    drawn: Markup
    told: str
    narrowed: float


@dataclass(frozen=True, slots=True)
class Told:
    """A belief over time: its picture, the ends of both axes, what is believed now."""

    oil: str
    trait: str
    drawn: Markup
    ends: tuple[str, str]
    since: str
    until: str
    told: str
    narrowed: float


@dataclass(frozen=True, slots=True)
class Strip:
    """One portion's colours: its picture, the colours seen with their looks, and the colour expected."""

    portion: str
    drawn: Markup
    seen: tuple[tuple[str, str], ...]
    expected: str


@dataclass(frozen=True, slots=True)
class Strips:
    """A batch's portions."""

    plan: str
    batch: str
    rows: tuple[Strip, ...]


def hex_of(text: str) -> str:
    """Hex code of a colour word; of a span its darker end; "" of what is none."""
    return hex_of_word(text.split(" to ")[-1]) or ""


def strips(weeks: Sequence[Weeks]) -> Iterator[Strips]:
    """Each batch's colours through the weeks, the batch that was poured last first."""
    batches: dict[tuple[str, str], list[Strip]] = {}
    for each in weeks:
        batches.setdefault((each.plan, each.batch), []).append(_strip(each))
    for (plan, batch), rows in reversed(batches.items()):
        yield Strips(plan, batch, tuple(rows))


def _strip(each: Weeks) -> Strip:
    seen = [(shade.days, hex_of(shade.word)) for shade in each.shades]
    words_seen = tuple((shade.look, shade.word) for shade in each.shades)
    told = ", ".join(f"{look} {word}" for look, word in words_seen)
    label = f"{each.portion} of {each.batch}: {told}; expected {each.expected or 'nothing'}"
    version = f" ({each.version})" if each.version else ""
    drawn = weeks_chart.strip(hex_of(each.expected), seen, label)
    return Strip(f"{each.portion}{version}", drawn, words_seen, each.expected)


def told(story: Story, scales: Scales) -> Told:
    """One belief over time."""
    change, trait = story.change, story.change.trait
    first = story.moments[0].since
    span = max((story.today - first).days, 1)
    bands = [
        Band(
            100 * (each.since - first).days / span,
            *(_at(v, trait) for v in (each.low, each.middle, each.high)),
        )
        for each in story.moments
    ]
    now = words.belief(change, scales, False)
    label = f"{change.oil}, {TRAITS[trait]}: {gone(change):.0%} of the doubt is gone; {now}"
    ends = ENDS[trait]
    return Told(
        change.oil,
        TRAITS[trait],
        narrowing(bands, label),
        ends,
        _day(first),
        _day(story.today),
        now,
        gone(change),
    )


def _day(when: date) -> str:
    return f"{short_day(when)} {when.year}"


def learnt(oils: Sequence[ReviewResult], scales: Scales) -> dict[str, list[Learnt]]:
    """By trait, each oil's belief before any look and now, the most narrowed first."""
    made = [_learnt(change, scales) for oil in oils for change in oil.beliefs]
    by_trait: dict[str, list[Learnt]] = {}
    for each in sorted(made, key=lambda each: -each.narrowed):
        by_trait.setdefault(each.trait, []).append(each)
    return by_trait


def _at(value: float, trait: str) -> float:
    """A value on its trait's axis, in per cent, never outside."""
    low, high = WIDEST[trait]
    return 100 * min(max((value - low) / (high - low), 0.0), 1.0)


def _learnt(change: Change, scales: Scales) -> Learnt:
    spread, trait = EIGHTY * change.prior_sd, change.trait
    said = words.belief(change, scales, False)
    narrowed = max(gone(change), 0.0)
    drawn = measured.belief(
        _at(change.low, trait),
        _at(change.mean, trait),
        _at(change.high, trait),
        (_at(change.prior_mean - spread, trait), _at(change.prior_mean + spread, trait)),
        f"{change.oil}: {said}; its doubt is {narrowed:.0%} narrower than before any look",
    )
    return Learnt(change.oil, trait, drawn, said, narrowed)
