"""What teaching a rule answers: the rule as understood, what its words count as, what it would have said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from blendwise.answers.answer import Answer, hidden, told
from blendwise.answers.rules.result import Proof
from blendwise.records.place import Spot


@dataclass(frozen=True, slots=True)
class CountsAs:
    """A word of the sentence, and what it is taken for."""

    word: str
    means: str


@dataclass(frozen=True, slots=True)
class NotRead:
    """A part of the sentence that was not understood: from letter ``start`` up to ``end``."""

    text: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Tried:
    """What the rule says of a plan as it now stands: ``poured`` is the last day of its pour, if noted.

    ``broken``: the subjects it speaks against; ``tight``: those that only judgement's doubt sets against it;
    ``undecided``: those of which a fact is missing.
    """

    plan: str
    poured: str
    broken: tuple[str, ...]
    undecided: tuple[str, ...]
    tight: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RuleOfTwo:
    """One rule of a sentence that says two: named, as it is read back, and what it would have said."""

    rule: str
    level: str
    looks_at: str
    reads_as: str
    trouble: tuple[str, ...]
    tried: tuple[Tried, ...]
    entry: str


@dataclass(frozen=True, slots=True)
class Proven(Answer):
    """Cases of a rule: those that it has, asked, and those that its bounds suggest where it has none.

    ``proposed``: each with its outcome; ``lacks``: parts for which no row was found; ``mine``: whether
    it is the maker's own, and can be written to; ``written``: whether it was.
    """

    SCHEMA = "blendwise/rule-cases/1"

    rule: str
    cases: tuple[Proof, ...]
    proposed: tuple[Proof, ...]
    lacks: tuple[str, ...]
    mine: bool
    where: Spot
    written: bool = False
    rows: tuple[tuple[str, Mapping[str, object]], ...] = hidden(())


@dataclass(frozen=True, slots=True)
class Taught(Answer):
    """A sentence as a rule; ``rule`` is empty where it is none yet.

    ``reads_as``: the sentence that the rule is printed as.  ``asks``: what a rate may be of, to be chosen
    from.  ``either``: what an unclear word may mean.
    ``alone``: the sentences, where it is two rules; ``each``: these as rules, kept or asked together,
    ``rules_of_it`` what is published of them.
    ``figures``: what to say where a word is no figure.  ``aside``: clauses taken for reasons.
    ``nearest``, ``example``: the shape most like it.
    ``trouble``: why it can never hold or never be broken beside other rules.  ``written``: where it was kept.
    """

    SCHEMA = "blendwise/new-rule/1"

    sentence: str
    rule: str
    level: Literal["", "hint", "caution", "conflict", "stop"]
    looks_at: str
    reads_as: str
    counts: tuple[CountsAs, ...] = ()
    asks: tuple[str, ...] = ()
    unread: tuple[NotRead, ...] = ()
    either: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()
    each: tuple[Taught, ...] = hidden(())
    figures: tuple[str, ...] = ()
    aside: tuple[str, ...] = ()
    nearest: str = ""
    example: str = ""
    trouble: tuple[str, ...] = ()
    tried: tuple[Tried, ...] = ()
    compiles: str = ""
    entry: str = ""
    to: str = ""
    written: bool = False

    @told
    def understood(self) -> bool:
        """Whether the sentence is a rule, with nothing left to ask."""
        return bool(self.rule or self.each) and not self.asks

    @told
    def rules_of_it(self) -> tuple[RuleOfTwo, ...]:
        """Each rule where the sentence says two; none where it is one."""
        return tuple(
            RuleOfTwo(one.rule, one.level, one.looks_at, one.reads_as, one.trouble, one.tried, one.entry)
            for one in self.each
        )

    @property
    def rules(self) -> tuple[Taught, ...]:
        """The one rule that is understood, or each where the sentence is two."""
        return self.each or ((self,) if self.rule else ())
