"""Each rule's record: what it spoke against beside what was seen, honest about small numbers."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, cast

from blendwise.answers.answer import told
from blendwise.beliefs.expected import Trouble, Unit, trouble
from blendwise.beliefs.lessons import EIGHTY
from blendwise.facts.registry import REGISTRY
from blendwise.judge.rulebook.compile import Rule

SIDES: Final = ("one ", "other ", "lighter ", "darker ")
FEW: Final = 3  # below this nothing is said but the counts
MANY: Final = 5  # from this on "every time" is said

Word = Literal[
    "too few to say", "right every time", "wrong every time", "mostly right", "mostly wrong", "mixed"
]


@dataclass(frozen=True, slots=True)
class Record:
    """How often a rule spoke and how it came out, a portion of a version of a batch counting once.

    What it is worth is judged by batches: each is one trial, however many of its portions were looked at.
    ``batches``: those in which it spoke and somebody looked; ``right``: in how many of them it was right, a
    batch in which it was right of some portions counting in part.  ``open``: flagged, but nobody looked.
    ``last``: the day of the last pour of which it spoke and was right.
    """

    rule: str
    level: str
    warns_of: Trouble
    flagged_and_seen: int
    flagged_and_not: int
    seen_and_not_flagged: int
    neither: int
    open: int
    batches: int
    last: str = ""
    right: float = 0.0

    @property
    def flagged(self) -> int:
        """How often it spoke and somebody looked."""
        return self.flagged_and_seen + self.flagged_and_not

    @told
    def says(self) -> Word:
        """What its record says, no more than the numbers bear."""
        if self.batches < FEW:
            return "too few to say"
        if self.batches >= MANY and self.flagged_and_seen == 0:
            return "wrong every time"
        if self.batches >= MANY and self.flagged_and_not == 0:
            return "right every time"
        return "mostly right" if self.low > 0.5 else "mostly wrong" if self.high < 0.5 else "mixed"

    @told
    def low(self) -> float:
        """Its share of right warnings is at least this with 80 % confidence (Wilson's interval)."""
        return wilson(self.right, self.batches)[0]

    @told
    def high(self) -> float:
        """Its share of right warnings is at most this with 80 % confidence (Wilson's interval)."""
        return wilson(self.right, self.batches)[1]


def wilson(hits: float, of: int, z: float = EIGHTY) -> tuple[float, float]:
    """Wilson's score interval of a share (E. B. Wilson, J. Am. Stat. Assoc. 22, 209, 1927)."""
    if of == 0:
        return 0.0, 1.0
    share, weight = hits / of, 1 + z * z / of
    middle = (share + z * z / (2 * of)) / weight
    half = z * math.sqrt(share * (1 - share) / of + z * z / (4 * of * of)) / weight
    return 0.0 if hits == 0 else middle - half, 1.0 if hits == of else middle + half


def warns_of(rule: Rule) -> Trouble | None:
    """What a rule warns of, as far as looks can tell; None where no look would show it."""
    for measure in sorted(rule.must.measures):
        plain = next((measure.removeprefix(side) for side in SIDES if measure.startswith(side)), measure)
        found = cast("Trouble | Literal['']", REGISTRY[plain].use.warns_of) if plain in REGISTRY else ""
        if found == "browned too far" and rule.looks_at == "edge":
            return "soft edge"
        if found:
            return found
    return None


def records_of(
    rules: Sequence[Rule], units: Iterable[Unit], bands: dict[tuple[str, str], str]
) -> list[Record]:
    """The record of every rule of which looks can tell, those that spoke first."""
    judged = [unit for unit in units if unit.poured is not None and unit.poured.rules is not None]
    seen: dict[Trouble, list[bool | None]] = {}
    found = []
    for rule in rules:
        kind = warns_of(rule)
        if kind is None:
            continue
        if kind not in seen:
            seen[kind] = [trouble(unit, kind, bands) for unit in judged]
        found.append(_record(rule, kind, judged, seen[kind]))
    return sorted(found, key=lambda record: -(record.flagged + record.open))


def _record(rule: Rule, kind: Trouble, units: Sequence[Unit], seen: Sequence[bool | None]) -> Record:
    counts = {(spoke, what): 0 for spoke in (True, False) for what in (True, False, None)}
    by_batch: dict[str, list[bool]] = {}
    last = ""
    for unit, what in zip(units, seen, strict=True):
        assert unit.poured is not None
        spoke = unit.portion in unit.poured.flagged.get(rule.name, ())
        counts[spoke, what] += 1
        if spoke and what is not None:
            by_batch.setdefault(unit.batch.key, []).append(what)
        if spoke and what:
            last = max(last, unit.batch.poured)
    return Record(
        rule.name, rule.level, kind, counts[True, True], counts[True, False], counts[False, True],
        counts[False, False], counts[True, None], len(by_batch),
        last, sum(sum(each) / len(each) for each in by_batch.values()),
    )  # fmt: skip
