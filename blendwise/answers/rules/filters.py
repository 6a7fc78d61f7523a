"""Which of the rules a maker asks to see: by topic, level, what they look at, whose they are, or a word."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from blendwise.answers.rules.result import RulesResult, RuleView, said
from blendwise.quantity import QuantityError
from blendwise.records.nearest import nearest

WHOSE = ("mine", "starter")


@dataclass(frozen=True, slots=True)
class RuleFilters:
    """What a rule must be to be listed; an empty part asks for nothing."""

    topic: str = ""
    level: str = ""
    looks_at: str = ""
    whose: str = ""
    words: tuple[str, ...] = ()

    def take(self, rule: RuleView) -> bool:
        """Whether a rule is one of those asked for; every word must stand somewhere in it."""
        parts = (
            (self.topic, rule.topic),
            (self.level, rule.level),
            (self.looks_at, rule.looks_at),
            (self.whose, "mine" if rule.mine else "starter"),
        )
        text = everything_said(rule)
        plain = all(not wanted or wanted == has for wanted, has in parts)
        return plain and all(word.casefold() in text for word in self.words)


def everything_said(rule: RuleView) -> str:
    """All that a rule says, in small letters."""
    parts = (rule.rule, rule.topic, said(rule.when), said(rule.must), rule.because, rule.try_, rule.basis)
    return " ".join(parts).casefold()


def only(result: RulesResult, filters: RuleFilters) -> RulesResult:
    """The rules that the filters take, and what the maker's layer changes in them.

    QuantityError with the words that there are where a filter names none of them.
    """
    rules = result.rules
    _known("topic", filters.topic, (rule.topic for rule in rules))
    _known("level", filters.level, (rule.level for rule in rules))
    _known("grain", filters.looks_at, (rule.looks_at for rule in rules))
    _known("layer", filters.whose, WHOSE)
    if filters == RuleFilters():
        return result
    taken = tuple(rule for rule in rules if filters.take(rule))
    return replace(result, rules=taken, changes=(), of=len(rules))


def _known(what: str, word: str, there: Iterable[str]) -> None:
    known: Sequence[str] = sorted({each for each in there if each})
    if word and word not in known:
        near = nearest(word, known)
        hint = f'The nearest is "{near}". ' if near else ""
        raise QuantityError(f'"{word}" is no {what} of the rules.', f"{hint}There are: {', '.join(known)}.")
