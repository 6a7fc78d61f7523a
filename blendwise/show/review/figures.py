"""A review as pictures: what surprised, colours through the weeks, what is believed of each oil."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.review.result import ReviewResult
from blendwise.beliefs.changes import Change
from blendwise.beliefs.expected import Compared
from blendwise.records.kinds.scales import Scales
from blendwise.science.colour_words import hex_of_word
from blendwise.show.charts import measured
from blendwise.show.charts.swatches import swatch
from blendwise.show.review import words

if TYPE_CHECKING:
    from markupsafe import Markup

COLOUR = "browning band"
WIDEST = {"acceleration": (-0.4, 2.2), "browning": (-8.0, -1.5), "after six weeks": (0.0, 1.3)}
"""The ends of each trait's axis: log of the speed, log of the content, part left."""
ENDS = {
    "acceleration": ("as slow as unscented", "nine times as quick"),
    "browning": ("no browning", "brown"),
    "after six weeks": ("gone", "as strong as on the first day"),
}
CLEAREST = 1.2816  # standard deviations at the ends of 80 %, of a normal distribution


@dataclass(frozen=True, slots=True)
class Surprise:
    """Something that came out otherwise: where, what, expected and seen, drawn where it is a colour."""

    where: str
    what: str
    expected: str
    seen: str
    verdict: str
    drawn: Markup | str


@dataclass(frozen=True, slots=True)
class Learnt:
    """What is believed of one trait: its bar, and the same in words; ``narrowed``: part of the doubt gone."""

    oil: str
    trait: str
    drawn: Markup
    told: str
    narrowed: float


@dataclass(frozen=True, slots=True)
class Strip:
    """One portion's colours in the order of the looks."""

    portion: str
    cells: tuple[tuple[str, str, str], ...]


def hex_of(text: str) -> str:
    """Hex code of a colour word; of a span its darker end; "" of what is none."""
    return hex_of_word(text.split(" to ")[-1]) or ""


def surprises(compared: Iterable[Compared]) -> list[Surprise]:
    """What came out otherwise, those that were seen last first."""
    odd = [row for row in compared if row.verdict not in ("", "as expected")]
    return [_surprise(row) for row in sorted(odd, key=lambda row: row.on, reverse=True)]


def _surprise(row: Compared) -> Surprise:
    where = f"{row.portion} of {row.batch}, {row.look}"
    told = f"{where}: {row.expected} expected, {row.seen} seen"
    both = (hex_of(row.expected), hex_of(row.seen)) if row.what == COLOUR else ("", "")
    drawn = swatch(*both, told) if all(both) else ""
    return Surprise(where, words.COMPARED.get(row.what, row.what), row.expected, row.seen, row.verdict, drawn)


def strips(compared: Sequence[Compared], batch: str) -> list[Strip]:
    """A batch's colours through the weeks by portion: expected, then each look (when, word, hex code)."""
    rows = [row for row in compared if row.batch == batch and row.what == COLOUR]
    found = []
    for portion in dict.fromkeys(f"{row.portion}{_version(row)}" for row in rows):
        mine = [row for row in rows if f"{row.portion}{_version(row)}" == portion]
        expected = [("expected", mine[0].expected, hex_of(mine[0].expected))] if mine[0].expected else []
        seen = [(row.look, row.seen, hex_of(row.seen)) for row in sorted(mine, key=lambda row: row.on)]
        found.append(Strip(portion, (*expected, *seen)))
    return found


def _version(row: Compared) -> str:
    return f" ({row.variation})" if row.variation else ""


def learnt(oils: Sequence[ReviewResult], scales: Scales) -> dict[str, list[Learnt]]:
    """By trait, each oil's belief before any look and now, the most narrowed first."""
    made = [_learnt(change, scales) for oil in oils for change in oil.beliefs]
    by_trait: dict[str, list[Learnt]] = {}
    for each in sorted(made, key=lambda each: -each.narrowed):
        by_trait.setdefault(each.trait, []).append(each)
    return by_trait


def _learnt(change: Change, scales: Scales) -> Learnt:
    low, high = WIDEST[change.trait]

    def at(value: float) -> float:
        return 100 * min(max((value - low) / (high - low), 0.0), 1.0)

    spread = CLEAREST * change.prior_sd
    told = words.belief(change, scales, False)
    narrowed = 1 - change.sd / change.prior_sd if change.prior_sd > 0 else 0.0
    drawn = measured.belief(
        at(change.low),
        at(change.mean),
        at(change.high),
        (at(change.prior_mean - spread), at(change.prior_mean + spread)),
        f"{change.oil}: {told}; its doubt is {max(narrowed, 0.0):.0%} narrower than before any look",
    )
    return Learnt(change.oil, change.trait, drawn, told, max(narrowed, 0.0))
