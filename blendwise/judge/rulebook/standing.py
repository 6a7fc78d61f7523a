"""The rulebook of a book: the package's rules, figures that copies changed, and the maker's own layer.

One bad rule does not stop the rest: it is left out and told.  A rule that may be a stop and cannot be asked
counts as a stop (``Aside.stop``), so that no plan passes where the maker's own guard is broken.
"""

from __future__ import annotations

import operator
from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.facts.columns import Vocabulary
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.guards import dead_guards
from blendwise.judge.rulebook.layers import Rulebook, Stack
from blendwise.records.book import BookFiles
from blendwise.records.kinds.rule import LEVEL_WORDS, AdjustRecord, RuleEntry, RuleRecord
from blendwise.records.layer.aside import Aside
from blendwise.records.place import Fault, RecordError

_KEPT: Final[dict[str, tuple[list[RuleEntry], dict[str, Rule]]]] = {}


def standing(book: BookFiles, vocabulary: Vocabulary) -> Rulebook:
    """The rules that count in a book, and what is told of those that do not.

    RecordError only where the package's own rules cannot be read.
    """
    shipped = _package(vocabulary, [each for each in book.rules if not each.is_mine])
    stack = Stack(vocabulary, dict(shipped))
    asides = list(_copied(stack, book.layer.copied))
    asides += [_of_locked(aside, shipped) for aside in book.layer.asides]
    stack.touched.clear()
    asides += _own(stack, [each for each in book.rules if each.is_mine])
    rulebook = stack.rulebook()
    asides += dead_guards(rulebook.rules, book, list(shipped.values()))
    return stack.rulebook(asides)


def _package(vocabulary: Vocabulary, entries: list[RuleEntry]) -> dict[str, Rule]:
    """The package's rules by name, compiled once for all books of a process."""
    kept = _KEPT.get("package")
    same = kept is not None and len(kept[0]) == len(entries) and all(map(operator.is_, kept[0], entries))
    if kept is None or not same:
        stack = Stack(vocabulary)
        for entry in entries:
            stack.take(entry)
        if stack.faults:
            raise RecordError(stack.faults)
        kept = _KEPT["package"] = entries, {rule.name: rule for rule in stack.rulebook().rules}
    return kept[1]


def _take(stack: Stack, entry: RuleEntry) -> Fault | None:
    """Take one entry; its first fault where it cannot be."""
    before = len(stack.faults)
    stack.take(entry)
    return stack.faults[before] if len(stack.faults) > before else None


def _copied(stack: Stack, copied: Sequence[AdjustRecord]) -> Iterator[Aside]:
    """Figures and levels changed in copies: taken up, unless they loosen a locked rule."""
    for entry in copied:
        rule = stack.rules.get(entry.name)
        fault = _take(stack, entry)
        if fault is not None:
            locked = rule is not None and rule.is_locked
            why = "locked rule changed" if locked else "not counted"
            level = rule.level if rule else ""
            yield Aside(why, "rule", entry.name, entry.at(), level, message="known")  # type: ignore[arg-type]


def _of_locked(aside: Aside, shipped: dict[str, Rule]) -> Aside:
    """A copy of a locked rule that was changed is told as such."""
    rule = shipped.get(aside.name) if aside.what == "rule" and aside.why == "not counted" else None
    if rule is None or not rule.is_locked or aside.message == "words":
        return aside
    return Aside("locked rule changed", "rule", aside.name, aside.place, rule.level)


def _own(stack: Stack, entries: Sequence[RuleEntry]) -> Iterator[Aside]:
    for entry in entries:
        fault = _take(stack, entry)
        if fault is not None:
            level = _level(entry)
            yield Aside(
                "cannot be read",
                "rule",
                entry.name,
                fault.place,
                level,
                stop=level == "stop",
                message=fault.message,
                remedy=fault.remedy,
            )


def _level(entry: RuleEntry) -> str:
    if isinstance(entry, RuleRecord):
        return entry.else_
    return entry.to if isinstance(entry, AdjustRecord) and entry.to in LEVEL_WORDS else ""
