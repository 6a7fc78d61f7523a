"""The published shapes of a review as JSON."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from blendwise.answers.documents import HeadDoc
from blendwise.answers.review.rule_record import Record
from blendwise.answers.review.versions import Contest
from blendwise.beliefs.changes import Change
from blendwise.beliefs.expected import Compared

if TYPE_CHECKING:
    from blendwise.answers.review.result import Advice, BatchLine, Difference, ReviewResult, ScentLook
    from blendwise.records.place import Fault

REVIEW_SCHEMA = "blendwise/review/1"
ADOPT_SCHEMA = "blendwise/adopt/1"


class ComparedDoc(TypedDict):
    """One thing expected beside what was seen."""

    batch: str
    plan: str
    variation: str | None
    portion: str
    what: str
    expected: str
    seen: str
    look: str
    on: str
    verdict: str


class BatchLineDoc(TypedDict):
    """One batch in short."""

    batch: str
    plan: str
    poured: str
    looks: int
    repeat: bool | None
    favourites: list[str]
    as_expected: int
    otherwise: int


class ChangeDoc(TypedDict):
    """A trait of an oil: the catalogue's word, the word after the looks, and the numbers behind it.

    ``mean``, ``sd`` and the 80 % interval: log factor, log content (fraction) or fraction left.
    """

    oil: str
    trait: str
    was: str | None
    now: str
    agreeing: int
    told: list[str]
    batches: int
    looks: int
    dose: float | None
    mean: float
    sd: float
    low: float
    high: float
    prior_mean: float
    prior_sd: float


class RecordDoc(TypedDict):
    """A rule's record; ``low`` and ``high``: where its share of right warnings lies with 80 % confidence."""

    rule: str
    level: str
    warns_of: str
    flagged_and_seen: int
    flagged_and_not: int
    seen_and_not_flagged: int
    neither: int
    open: int
    batches: int
    says: str
    low: float
    high: float


class ScentLookDoc(TypedDict):
    """One look at a portion that held the oil; ``dose`` in g per g of the portion's oils."""

    note: str
    on: str
    batch: str
    look: str
    portion: str
    grams: float
    dose: float | None
    seen: str


class ContestDoc(TypedDict):
    """Votes between versions; no winner where it is too close to call."""

    plan: str
    votes: dict[str, int]
    batches: int
    winner: str | None


class DifferenceDoc(TypedDict):
    """What differs between two batches."""

    kind: str
    what: str
    one: str
    other: str


class AdviceDoc(TypedDict):
    """What to repeat, or the one thing to change."""

    kind: str
    plan: str
    batch: str
    portion: str
    oil: str
    times: int
    of: int
    seen: str
    expected: str


class AsideDoc(TypedDict):
    """A note that does not count, and why."""

    file: str
    line: int
    message: str
    remedy: str


class ReviewBody(TypedDict):
    """A review without the head that names the schema."""

    today: str
    asked: str
    subject: str
    batches: list[BatchLineDoc]
    compared: list[ComparedDoc]
    proposals: list[ChangeDoc]
    repeat: AdviceDoc | None
    change: AdviceDoc | None
    rules: list[RecordDoc]
    beliefs: list[ChangeDoc]
    looks: list[ScentLookDoc]
    contests: list[ContestDoc]
    differences: list[DifferenceDoc]
    set_aside: list[AsideDoc]


class ReviewDoc(HeadDoc, ReviewBody):
    """The document of ``blendwise review --json``."""


class AdoptDoc(HeadDoc):
    """The document of ``blendwise review --adopt NAME --json``."""

    oil: str
    file: str
    changes: list[ChangeDoc]
    diff: str
    written: bool


def review_body(result: ReviewResult) -> ReviewBody:
    """A review as plain values."""
    return {
        "today": result.today.isoformat(),
        "asked": result.asked,
        "subject": result.subject,
        "batches": [_batch_doc(each) for each in result.batches],
        "compared": [compared_doc(each) for each in result.compared],
        "proposals": [change_doc(each) for each in result.proposals],
        "repeat": _advice_doc(result.repeat),
        "change": _advice_doc(result.change),
        "rules": [_record_doc(each) for each in result.rules],
        "beliefs": [change_doc(each) for each in result.beliefs],
        "looks": [_look_doc(each) for each in result.looks],
        "contests": [_contest_doc(each) for each in result.contests],
        "differences": [_difference_doc(each) for each in result.differences],
        "set_aside": [_aside_doc(each) for each in result.set_aside],
    }


def compared_doc(each: Compared) -> ComparedDoc:
    """One comparison as plain values."""
    return {
        "batch": each.batch,
        "plan": each.plan,
        "variation": each.variation,
        "portion": each.portion,
        "what": each.what,
        "expected": each.expected,
        "seen": each.seen,
        "look": each.look,
        "on": each.on,
        "verdict": each.verdict,
    }


def change_doc(each: Change) -> ChangeDoc:
    """A belief as plain values."""
    low, high = each.belief.ends()
    return {
        "oil": each.oil,
        "trait": each.trait,
        "was": each.was,
        "now": each.now,
        "agreeing": each.agreeing,
        "told": list(each.told),
        "batches": each.batches,
        "looks": each.looks,
        "dose": each.dose if math.isfinite(each.dose) else None,
        "mean": each.belief.mean,
        "sd": each.belief.sd,
        "low": low,
        "high": high,
        "prior_mean": each.belief.prior_mean,
        "prior_sd": each.belief.prior_sd,
    }


def _batch_doc(each: BatchLine) -> BatchLineDoc:
    return {
        "batch": each.batch,
        "plan": each.plan,
        "poured": each.poured,
        "looks": each.looks,
        "repeat": each.repeat,
        "favourites": list(each.favourites),
        "as_expected": each.as_expected,
        "otherwise": each.otherwise,
    }


def _record_doc(each: Record) -> RecordDoc:
    low, high = each.span()
    return {
        "rule": each.rule,
        "level": each.level,
        "warns_of": each.warns_of,
        "flagged_and_seen": each.flagged_seen,
        "flagged_and_not": each.flagged_not,
        "seen_and_not_flagged": each.seen_not_flagged,
        "neither": each.neither,
        "open": each.open,
        "batches": each.batches,
        "says": each.word,
        "low": low,
        "high": high,
    }


def _look_doc(each: ScentLook) -> ScentLookDoc:
    return {
        "note": each.note,
        "on": each.on,
        "batch": each.batch,
        "look": each.look,
        "portion": each.portion,
        "grams": each.grams,
        "dose": each.dose,
        "seen": each.seen,
    }


def _contest_doc(each: Contest) -> ContestDoc:
    return {"plan": each.plan, "votes": dict(each.votes), "batches": each.batches, "winner": each.winner}


def _difference_doc(each: Difference) -> DifferenceDoc:
    return {"kind": each.kind, "what": each.what, "one": each.one, "other": each.other}


def _advice_doc(each: Advice | None) -> AdviceDoc | None:
    if each is None:
        return None
    return {
        "kind": each.kind,
        "plan": each.plan,
        "batch": each.batch,
        "portion": each.portion,
        "oil": each.oil,
        "times": each.times,
        "of": each.of,
        "seen": each.seen,
        "expected": each.expected,
    }


def _aside_doc(each: Fault) -> AsideDoc:
    return {
        "file": each.place.file.name,
        "line": each.place.line,
        "message": each.message,
        "remedy": each.remedy,
    }
