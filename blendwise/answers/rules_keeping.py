"""The rulebook's part of the Python door: the rules, testing, looking over, teaching, proving."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles

if TYPE_CHECKING:
    from blendwise.answers.review.result import ReviewResult
    from blendwise.answers.rules.filters import RuleFilters
    from blendwise.answers.rules.result import RuleReport, RulesResult
    from blendwise.answers.rules.taught import Taught
    from blendwise.facts.situation.worked_out import Situation
    from blendwise.judge.rulebook.layers import Rulebook
    from blendwise.records.kinds.plan import Plan


class RulesDoor(Protocol):
    """What a ``Book`` answers about its rules."""

    folder: Path
    files: BookFiles

    @property
    def rulebook(self) -> Rulebook:
        """The rules that count."""
        ...

    def situation(
        self, plan: str | Path | Plan, on: AsOf | None = None, variation: str | None = None
    ) -> Situation:
        """A plan worked out against this book."""
        ...

    def review(self, plan: str | None = None, *, on: AsOf | None = None, rules: bool = False) -> ReviewResult:
        """What the notes say."""
        ...

    def rules(self, filters: RuleFilters | None = None) -> RulesResult:
        """Every rule that counts (or those the filters take), and what the maker's own layer changes."""
        from blendwise.answers.rules.compute import all_rules
        from blendwise.answers.rules.filters import RuleFilters, only

        return only(all_rules(self.files), filters or RuleFilters())

    def changed_rules(self) -> RulesResult:
        """All in which the maker's rules differ from the starter's."""
        from blendwise.answers.rules.compute import changed_rules

        return changed_rules(self.files)

    def rule(self, name: str) -> RulesResult:
        """One rule with its record in the notes; RecordError with the nearest name where there is none."""
        from blendwise.answers.rules.compute import one_rule, with_record

        found = one_rule(self.files, name)
        return with_record(found, self.review(rules=True).rules)

    def test_rules(self) -> RuleReport:
        """Every rule asked of its own hits, misses and limit cases."""
        from blendwise.answers.rules.compute import tested_rules

        return tested_rules(self.files)

    def lint_rules(self) -> RuleReport:
        """Everything wrong with the rules as they are written."""
        from blendwise.answers.rules.compute import linted_rules

        return linted_rules(self.files)

    def teach(
        self,
        sentence: str,
        *,
        basis: str = "",
        level: str = "",
        name: str = "",
        because: str = "",
        on: AsOf | None = None,
    ) -> Taught:
        """A sentence as a rule: as understood, and what it would have said of the plans; nothing is written.

        QuantityError where the basis, the level or the name cannot be.
        """
        from blendwise.answers.rules.teach import taught

        found = taught(
            sentence, self.files, self.rulebook, basis=basis, level=level, name=name, because=because
        )
        return self._tried(found, on or AsOf()) if found.rule else found

    def _tried(self, found: Taught, on: AsOf) -> Taught:
        from blendwise.answers.rules.teach import rule_in, tried
        from blendwise.records.notes.batches import batches_of
        from blendwise.records.notes.notebook import read_notebook

        batches = batches_of(read_notebook(self.folder), self.folder, on.today)[0]
        days = {batch.plan: batch.poured for batch in batches}

        def work_out(plan: Path, day: str) -> Situation:
            return self.situation(plan, replace(on, today=_day(day)) if day else on)

        plans = self.files.plan_paths()
        return replace(found, tried=tuple(tried(rule_in(found), plans, days, work_out)))

    def keep_rule(self, found: Taught) -> Taught:
        """Write a taught rule to the end of the maker's own file; RecordError where it cannot be written."""
        from blendwise.records.writing.entry import add_entry

        add_entry(self.folder / found.to, found.entry)
        return replace(found, written=True)


def _day(text: str) -> date:
    return date.fromisoformat(text)
