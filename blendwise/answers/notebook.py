"""The notebook's part of the Python door: a test cup, noting a look, what is due, reviewing, adopting."""

from __future__ import annotations

import dataclasses
import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from blendwise.answers.refusals import NotAskable
from blendwise.records.as_of import AsOf
from blendwise.records.book import is_text

if TYPE_CHECKING:
    from blendwise.answers.again.result import AgainResult
    from blendwise.answers.cup.question import Asked as CupAsked
    from blendwise.answers.cup.result import CupResult
    from blendwise.answers.note.compute import Asked, Noting
    from blendwise.answers.note.result import DueResult, NoteResult
    from blendwise.answers.review.all_questions import WholeReview
    from blendwise.answers.review.result import AdoptResult, ReviewResult
    from blendwise.beliefs.believe import Believing
    from blendwise.facts.situation.worked_out import Situation
    from blendwise.judge.rulebook.layers import Rulebook
    from blendwise.records.book import BookFiles
    from blendwise.records.kinds.plan import Plan
    from blendwise.records.notes.batches import Batch
    from blendwise.records.notes.notebook import Notebook


class NotesDoor(Protocol):
    """What a ``Book`` answers about its notes."""

    folder: Path
    files: BookFiles

    @property
    def rulebook(self) -> Rulebook:
        """The rules that count."""
        ...

    def plan_path(self, plan: str | Path) -> Path:
        """The file of a plan."""
        ...

    def plan(self, plan: str | Path | Plan) -> Plan:
        """The record of a plan."""
        ...

    def situation(
        self, plan: str | Path | Plan, on: AsOf | None = None, variation: str | None = None
    ) -> Situation:
        """A plan worked out against this book."""
        ...

    def believing(self, on: AsOf | None = None) -> Believing:
        """What is believed of the oils on a day."""
        ...

    def _noted(self, today: datetime.date | None = None) -> tuple[Notebook, list[Batch]]:
        from blendwise.records.notes.batches import batches_of
        from blendwise.records.notes.notebook import read_notebook

        notebook = read_notebook(self.folder)
        return notebook, batches_of(notebook, self.folder, today)[0]

    def noting(self, plan: str | Path | Plan, on: AsOf, variation: str | None = None) -> Noting:
        """What a note of a plan hangs on: its name, the plan worked out if asked for, the batches so far."""
        from blendwise.answers.note.compute import Noting

        files = frozenset(each.name for each in (self.folder / "notes").glob("*"))
        units = self.files.usual.units
        notebook, batches = self._noted()  # those of days to come too: a clock may have jumped back
        names = frozenset(row.note for row in notebook.rows)
        if self._is_cup(plan, batches):
            return Noting(str(plan), _as_set_out, self.rulebook, batches, names, on.today, files, units)
        work_out = partial(self.situation, plan, on, variation)
        return Noting(self._called(plan), work_out, self.rulebook, batches, names, on.today, files, units)

    def _is_cup(self, plan: str | Path | Plan, batches: list[Batch]) -> bool:
        """Whether a test cup of this name is kept, and no plan bears it."""
        if not isinstance(plan, (str, Path)) or is_text(str(plan)) or self.plan_path(plan).is_file():
            return False
        return any(batch.plan == str(plan) and batch.is_cup for batch in batches)

    def has_cup(self, name: str) -> bool:
        """Whether a test cup of this name is kept in the notes, and no plan bears it."""
        return self._is_cup(name, self._noted()[1])

    def cups(self) -> list[str]:
        """Names of the test cups that are kept, each once."""
        return list(dict.fromkeys(batch.plan for batch in self._noted()[1] if batch.is_cup))

    def _called(self, plan: str | Path | Plan) -> str:
        if isinstance(plan, Path) or (isinstance(plan, str) and not is_text(plan)):
            return self.plan_name(plan)
        return self.plan(plan).plan

    def plan_name(self, plan: str | Path) -> str:
        """What a plan calls itself, read from its file without checking the rest of it."""
        from blendwise.records.reading.document import read_document

        file = self.plan_path(plan)
        named = read_document(file).root.plain
        return str(named.get("plan") or file.stem) if isinstance(named, dict) else file.stem

    def note(
        self, plan: str | Path | Plan, asked: Asked, *, on: AsOf | None = None, dry_run: bool = False
    ) -> NoteResult:
        """Record a look at a batch of a plan in a new file; nothing is ever replaced."""
        from blendwise.answers.note.compute import note
        from blendwise.answers.note.turns import turns
        from blendwise.beliefs.kept import lessons_of

        on = on or AsOf()
        noting = self.noting(plan, on, asked.variation)
        before = lessons_of(self.files, on.today)
        done = note(noting, asked, self.folder, dry_run)
        if dry_run:
            return done
        changes = turns(self.files, before, lessons_of(self.files, on.today))
        return dataclasses.replace(done, changes=changes)

    def cup(
        self,
        asked: CupAsked,
        plan: str | Path | Plan | None = None,
        *,
        on: AsOf | None = None,
        keep: bool = False,
    ) -> CupResult:
        """A test cup and its control, of a plan's recipe or the usual one; ``keep``: its record into notes/.

        NotAskable or QuantityError where the question cannot be understood.
        """
        from blendwise.answers.cup import compute, question
        from blendwise.answers.cup.keep import keep as keep_record

        on = on or AsOf()
        if plan is None:
            wanted = question.of_usual(asked, self.files, on.today, self.believing(on))
        else:
            wanted = question.of_plan(asked, self.situation(plan, on))
        poured = compute.poured_of(wanted)
        result = compute.cup(poured, self.rulebook)
        if not keep or result.refused:
            return result
        kept = keep_record(poured, self.rulebook, self.folder, self._noted()[1])
        return dataclasses.replace(result, kept=kept)

    def due(self, on: AsOf | None = None, plan: str | None = None) -> DueResult:
        """The next look of every batch."""
        from blendwise.answers.note.due import due
        from blendwise.answers.note.result import DueResult

        day = (on or AsOf()).today
        return DueResult(day, tuple(due(self._noted(day)[1], day, plan)))

    def review(
        self,
        plan: str | None = None,
        *,
        on: AsOf | None = None,
        rules: bool = False,
        scent: str = "",
        variations: bool = False,
        against: str = "",
    ) -> ReviewResult:
        """What was seen beside what was expected, or one of the narrower questions."""
        from blendwise.answers.review import compute as review

        today = (on or AsOf()).today
        if not (rules or scent or variations or against):
            return self._review(today, plan)
        reading = review.read(self.files, today)
        if rules:
            return review.review_rules(reading, self.rulebook, plan)
        if scent:
            return review.review_scent(reading, scent)
        if variations:
            return review.review_variations(reading, plan)
        return review.review_against(reading, plan or "", against)

    def _review(self, today: datetime.date, plan: str | None) -> ReviewResult:
        from blendwise.answers.review.kept import kept_review

        def anew() -> tuple[ReviewResult, str]:
            from blendwise.answers.review.compute import read, review

            reading = read(self.files, today)
            known = "" if reading.notebook.faults else reading.notebook.fingerprint
            return review(reading, self.rulebook, plan), known

        return kept_review(self.files, today, plan, anew)

    def whole_review(self, plan: str | None = None, *, on: AsOf | None = None) -> WholeReview:
        """Every question of the review at once, the notebook read once."""
        from blendwise.answers.review.all_questions import whole_review
        from blendwise.answers.review.compute import read

        return whole_review(read(self.files, (on or AsOf()).today), self.rulebook, plan)

    def adopt(self, scent: str, *, on: AsOf | None = None, dry_run: bool = False) -> AdoptResult:
        """Write into an oil's entry what own batches say of it; every other byte stays."""
        from blendwise.answers.review.adopt import adopt
        from blendwise.answers.review.compute import read

        return adopt(read(self.files, (on or AsOf()).today), scent, dry_run)

    def again(
        self,
        plan: str,
        *,
        on: AsOf | None = None,
        variation: str | None = None,
        bars: int | None = None,
        oils: str = "",
        mould: str = "",
        write: Path | None = None,
    ) -> AgainResult:
        """The next plan from what was poured, scaled, with what was learned; ``write`` names a new file."""
        from blendwise.answers.again.compute import Asked, again, text_to_write
        from blendwise.answers.review.compute import read
        from blendwise.beliefs.kept import believing
        from blendwise.records.writing.write import write_new

        on = AsOf((on or AsOf()).today)
        believed = believing(self.files, on)
        asked = Asked(variation, bars, oils, mould, believed, write.stem if write is not None else "")
        result = again(read(self.files, on.today), self.rulebook, plan, asked)
        if write is None:
            return result
        write_new(write, text_to_write(result))
        return dataclasses.replace(result, written=str(write))


def _as_set_out() -> Situation:
    """A cup has no plan to be worked out anew."""
    raise NotAskable(
        "What is in a test cup stands as it was set out.",
        "For other doses or lots set out another: `blendwise cup`, with --keep.",
    )
