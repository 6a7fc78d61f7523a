"""What ``rules list``, ``show``, ``changed``, ``test`` and ``lint`` answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from blendwise.answers.answer import Answer, cells, hidden, told
from blendwise.answers.review.rule_record import Record
from blendwise.records.place import Spot


@dataclass(frozen=True, slots=True)
class Proof:
    """One case: hit, miss or at the limit; its facts as typed ("" where made), and what the rule says."""

    kind: str
    facts: str
    outcome: str


@dataclass(frozen=True, slots=True)
class Tally:
    """How often a rule spoke over all noted batches, and how that came out."""

    flagged_and_seen: int
    flagged_and_not: int
    seen_and_not_flagged: int


def tally(noted: Record | None) -> Tally | None:
    """The counts of a record."""
    if noted is None:
        return None
    return Tally(noted.flagged_and_seen, noted.flagged_and_not, noted.seen_and_not_flagged)


@dataclass(frozen=True, slots=True)
class RuleView:
    """One rule as it counts: its conditions as typed, why, what to try, on what basis, and its own lines.

    ``noted``: all that the maker's notes say of it, where they were read.  ``sentence``: the rule in one line
    that `rules new` reads back, where one rule is asked for.
    """

    rule: str
    level: str
    looks_at: str
    topic: str
    when: Mapping[str, object]
    must: Mapping[str, object]
    because: str
    try_: str
    basis: str
    protects: str
    hits: int
    misses: int
    mine: bool
    compiles: str
    where: Spot
    cases: tuple[Proof, ...] = ()
    kind_of_stop: str | None = None
    sentence: str = ""
    noted: Record | None = hidden(None)

    @told
    def record(self) -> Tally | None:
        """How it came out in the maker's notes."""
        return tally(self.noted)


@dataclass(frozen=True, slots=True)
class ChangeView:
    """One way in which the maker's layer differs from the starter's rules.

    ``noted``: of a rule that is switched off, all that the notes say of it.
    """

    verb: str
    rule: str
    was: str
    now: str
    because: str
    where: Spot
    noted: Record | None = hidden(None)

    @told
    def record(self) -> Tally | None:
        """How it came out in the maker's notes, where it is switched off and they speak of it."""
        return tally(self.noted)


@dataclass(frozen=True, slots=True)
class RulesResult(Answer):
    """The rules that count, in order, and all that the maker's own layer changes.

    ``of``: out of how many they were chosen, where only some were asked for.
    """

    SCHEMA = "blendwise/rules/1"

    rules: tuple[RuleView, ...]
    changes: tuple[ChangeView, ...] = ()
    of: int | None = hidden(None)

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row a rule, with its conditions as text."""
        return ({**cells(each), "when": said(each.when), "must": said(each.must)} for each in self.rules)

    def frame_columns(self) -> list[str]:
        """What a frame has of each rule."""
        return ["rule", "level", "looks_at", "topic", "when", "must", "because", "try", "basis"]


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing wrong with a rule: message, remedy, place, and the rule's own lines."""

    message: str
    remedy: str
    where: Spot
    lines: str = hidden("")


@dataclass(frozen=True, slots=True)
class Wish:
    """What a rule of the maker's own does not give, and need not: ``lacks`` of because, try, cases."""

    rule: str
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RuleReport(Answer):
    """How a test or lint of the rules came out: how many cases or rules were asked, and what is wrong.

    ``wishes``: what would help, of rules that count without it.
    """

    SCHEMA = "blendwise/rule-report/1"

    kind: Literal["test", "lint"]
    asked: int
    wrong: tuple[Wrong, ...]
    wishes: tuple[Wish, ...] = ()

    @told
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.wrong

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row for each thing wrong."""
        return ({**cells(each), "file": each.where.file, "line": each.where.line} for each in self.wrong)

    def frame_columns(self) -> list[str]:
        """What is wrong, and where."""
        return ["message", "remedy", "file", "line"]


def said(condition: Mapping[str, object]) -> str:
    """A condition in one line, as typed: "planned lightness at least 70; gel avoid"."""
    return "; ".join(_lines(condition))


def _lines(condition: Mapping[str, object]) -> Iterator[str]:
    for measure, wanted in condition.items():
        if isinstance(wanted, list) and all(isinstance(each, Mapping) for each in wanted):
            yield f"{measure}: " + " or ".join(said(each) for each in wanted)
        elif isinstance(wanted, Mapping):
            yield f"{measure} {said(wanted)}"
        else:
            yield f"{measure} {', '.join(map(str, wanted)) if isinstance(wanted, list) else wanted}"
