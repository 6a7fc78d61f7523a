"""The notebook as a page: expected beside seen over the dates, each oil's looks, rules' records, votes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.review.all_questions import WholeReview
from blendwise.answers.review.result import BatchLine, ReviewResult
from blendwise.answers.review.rule_record import Record
from blendwise.answers.review.versions import Contest
from blendwise.beliefs.changes import FIELD
from blendwise.beliefs.expected import Compared
from blendwise.quantity import METRIC, Units
from blendwise.records.kinds.scales import Scales
from blendwise.show.charts import measured, shifts, stacked, weeks
from blendwise.show.pages.render import page
from blendwise.show.review import asked, figures, surprises, words

COLOUR = "browning band"
if TYPE_CHECKING:
    from markupsafe import Markup

FEW = 6  # surprises of a kind, and batches, that stand open; the others are folded
WHAT = {COLOUR: "colour", "minutes fluid": "time", "after six weeks": "strength"}


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch and its rows; each row with hex codes of the expected and the seen colour, "" for others."""

    line: BatchLine
    told: str
    rows: tuple[tuple[Compared, str, str], ...]


@dataclass(frozen=True, slots=True)
class Votes:
    """Votes between versions, a bar each on one axis, and who won in words."""

    plan: str
    axis: Markup
    bars: tuple[tuple[str, int, Markup], ...]
    told: str


def review_page(whole: WholeReview, scales: Scales, units: Units = METRIC, numbers: bool = False) -> str:
    """The whole HTML file; ``numbers``: with the figures behind the words of what was learnt."""
    result = whole.reviewed
    return page(
        "review.html",
        units,
        result=result,
        verdict=words.verdict(result),
        surprises=(odd := surprises.surprises(result.compared)),
        surprised=surprises.counted(odd),
        expected=sum(line.as_expected + line.otherwise for line in result.batches),
        key=shifts.key,
        few=FEW,
        strips=list(figures.strips(whole.weeks)),
        week_axis=weeks.axis("weeks after the pour"),
        stories=[figures.told(each, scales) for each in whole.stories],
        learnt=figures.learnt(whole.oils, scales),
        ends=figures.ENDS,
        trait=FIELD,
        batches=list(_batches(result)),
        what=WHAT,
        proposals=[words.proposal(change) for change in result.proposals],
        repeat=words.repeat(result.repeat) if result.repeat else "",
        change=words.change(result.change) if result.change else "",
        oils=[(oil, [words.belief(each, scales, numbers) for each in oil.beliefs]) for oil in whole.oils],
        record_pictures=list(asked.of_rules(whole.rules.rules)),
        records=[words.record(each) for each in whole.rules.rules if _spoke(each)],
        missed=[words.missed(r) for r in whole.rules.rules if not _spoke(r) and r.seen_and_not_flagged],
        votes=[_votes(each) for each in whole.versions.contests],
        caution=words.CAUTION,
    )


def _spoke(record: Record) -> bool:
    return record.flagged + record.open > 0


def _batches(result: ReviewResult) -> Iterator[Batch]:
    for line in result.batches:
        rows = [row for row in result.compared if row.batch == line.batch]
        yield Batch(line, words.batch_line(line), tuple((row, *_hexes(row)) for row in rows))


def _hexes(row: Compared) -> tuple[str, str]:
    """Hex codes of both colours; of a span its darker end."""
    if row.what != COLOUR:
        return "", ""
    return figures.hex_of(row.expected), figures.hex_of(row.seen)


def _votes(each: Contest) -> Votes:
    most = max(each.votes.values(), default=0) or 1
    bars = tuple(
        (name, count, stacked.stacked(1.1 * most, [(0, count)], f"{name}: {count}"))
        for name, count in each.votes.items()
    )
    return Votes(each.plan, measured.axis(1.1 * most, "votes"), bars, words.contest(each))
