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
    from blendwise.answers.rules.taught import Proven, Taught
    from blendwise.answers.rules.words import WordsResult
    from blendwise.beliefs.believe import Believing
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

    def plan(self, plan: str | Path | Plan) -> Plan:
        """The record of a plan."""
        ...

    def believing(self, on: AsOf | None = None) -> Believing:
        """What is believed of the oils on a day."""
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

        return self._with_off(changed_rules(self.files))

    def _with_off(self, found: RulesResult) -> RulesResult:
        """The changes, with what the notes say of rules that are switched off."""
        from blendwise.answers.review import compute as review
        from blendwise.answers.rules.compute import switched_off, with_records_of_off
        from blendwise.judge.rulebook.layers import Rulebook

        off = switched_off(self.files, found.changes)
        if not off:
            return found
        noted = review.review_rules(review.read(self.files, AsOf().today), Rulebook(off))
        return with_records_of_off(found, noted.rules)

    def rule(self, name: str) -> RulesResult:
        """One rule with its record in the notes; RecordError with the nearest name where there is none."""
        from blendwise.answers.rules.compute import one_rule, with_record

        found = one_rule(self.files, name)
        return self._with_off(with_record(found, self.review(rules=True).rules))

    def rule_words(self, *asked: str) -> WordsResult:
        """The words of rules, each with a line of a rule of this book that uses it."""
        from blendwise.answers.rules.words import rule_words

        return rule_words(asked, self.rulebook.rules, self.files)

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
        day = on or AsOf()
        if found.rule:
            return self._tried(found, day)
        return replace(found, each=tuple(self._tried(one, day) for one in found.each))

    def _tried(self, found: Taught, on: AsOf) -> Taught:
        from blendwise.answers.rules.teach import rule_in, tried
        from blendwise.facts.situation.worked_out import work_out
        from blendwise.records.notes.batches import batches_of
        from blendwise.records.notes.notebook import read_notebook

        batches = batches_of(read_notebook(self.folder), self.folder, on.today)[0]
        days = {batch.plan: batch.poured for batch in batches}

        believing = self.believing(on)

        def situation(plan: Path, day: str) -> Situation:
            poured = date.fromisoformat(day) if day else on.today
            return work_out(self.plan(plan), self.files, poured, None, believing)

        plans = self.files.plan_paths()
        return replace(found, tried=tuple(tried(rule_in(found), plans, days, situation)))

    def prove(self, name: str) -> Proven:
        """A rule's cases, and those that its bounds suggest; RecordError with the nearest name."""
        from blendwise.answers.rules.compute import one_rule
        from blendwise.answers.rules.prove import proven

        if name not in self.rulebook.by_name:
            one_rule(self.files, name)
        return proven(self.rulebook.by_name[name], self.files)

    def keep_cases(self, found: Proven) -> Proven:
        """Write proposed cases into the maker's own rule; RecordError where they cannot be written."""
        from blendwise.answers.rules.prove import write_cases

        return write_cases(found, self.rulebook.by_name[found.rule])

    def keep_rule(self, found: Taught) -> Taught:
        """Write what was taught to the end of the maker's own file; RecordError where it cannot be written.

        Two rules of one sentence are written at once, as two sentences would be one after the other.
        """
        from blendwise.records.writing.entry import add_entry

        add_entry(self.folder / found.to, "\n".join(one.entry for one in found.rules))
        return replace(found, each=tuple(replace(one, written=True) for one in found.each), written=True)
