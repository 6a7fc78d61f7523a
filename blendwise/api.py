"""The Python door: a ``Book``, and one call a question.

    from blendwise import Book

    book = Book("demo_catalog")
    book.check("plans/harbour-morning.yaml").to_frame()

A plan is named by its path, or given in memory: as its text, or as a ``Plan`` record.

Every call returns a typed result with ``.to_json()`` (a dict of the published schema) and
``.to_frame()`` (pandas).  RecordError (several faults, each with file, line and remedy) where the files
cannot be read or a plan cannot be worked out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from blendwise.answers.notebook import NotesDoor
from blendwise.answers.rules_keeping import RulesDoor
from blendwise.answers.shelf_keeping import ScentsDoor
from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles, is_text, load_book, load_plan, plan_in_memory
from blendwise.records.kinds.plan import Plan

if TYPE_CHECKING:
    from blendwise.answers.ask.result import AskResult
    from blendwise.answers.assign.result import AssignResult
    from blendwise.answers.check.result import CheckResult
    from blendwise.answers.doctor.result import DoctorResult
    from blendwise.answers.draft.compute import Draft
    from blendwise.answers.draft.result import DraftResult
    from blendwise.answers.label.result import LabelDraft
    from blendwise.answers.pair.result import PairResult
    from blendwise.answers.sheet.result import Sheet
    from blendwise.answers.shelf.all_pairs import PairBlock
    from blendwise.answers.shelf.compute import Filters, Progress
    from blendwise.answers.shelf.result import ShelfResult
    from blendwise.answers.why.result import Known, WhyResult
    from blendwise.beliefs.believe import Believing
    from blendwise.facts.situation.worked_out import Situation
    from blendwise.judge.rulebook.layers import Rulebook


class Book(NotesDoor, ScentsDoor, RulesDoor):
    """A maker's book: a folder with ``scents.yaml`` and the files around it."""

    def __init__(self, folder: str | Path) -> None:
        self.folder = Path(folder)
        self.files: BookFiles = load_book(self.folder)

    @cached_property
    def rulebook(self) -> Rulebook:
        """The rules that count: the starter's with the maker's own on top."""
        from blendwise.facts.tables import vocabulary
        from blendwise.judge.rulebook.standing import standing

        return standing(self.files, vocabulary())

    def plan_path(self, plan: str | Path) -> Path:
        """The file of a plan: a path, or a name in the book's ``plans/`` with or without ``.yaml``."""
        path = Path(plan)
        plans = self.folder / "plans"
        candidates = (path, self.folder / path, plans / path, plans / f"{path}.yaml")
        return next((c for c in candidates if c.is_file()), path)

    def plan(self, plan: str | Path | Plan) -> Plan:
        """The record of a plan, checked against this book.

        ``plan``: a path or a name in ``plans/``, the text of a plan (of several lines, or in braces), or a
        record made in memory.  RecordError with every fault; those of a plan without a file are placed in
        "plan in memory".
        """
        if isinstance(plan, Plan) or (isinstance(plan, str) and is_text(plan)):
            return plan_in_memory(plan, self.files)
        return load_plan(self.plan_path(plan), self.files)

    def situation(
        self,
        plan: str | Path | Plan,
        on: AsOf | None = None,
        variation: str | None = None,
    ) -> Situation:
        """A plan worked out against this book: its path or name, its text, or a record in memory."""
        from blendwise.facts.situation.worked_out import work_out

        on = on or AsOf()
        record = self.plan(plan)
        return work_out(record, self.files, on.today, variation, self.believing(on))

    def believing(self, on: AsOf | None = None) -> Believing:
        """What is believed of the oils on a day: the catalogue and the looks in ``notes/``."""
        from blendwise.beliefs.kept import believing

        return believing(self.files, on or AsOf())

    def check(
        self,
        plan: str | Path | Plan,
        *,
        on: AsOf | None = None,
        working: bool = False,
        variation: str | None = None,
        levers: Literal["none", "best", "all"] = "none",
    ) -> CheckResult:
        """What breaks the rulebook, by how much and why; ``levers``: what would mend it, judged again."""
        from blendwise.answers.check.compute import check_situation
        from blendwise.answers.check.drawn import drawn
        from blendwise.answers.check.versions import with_levers, with_versions

        situation = self.situation(plan, on, variation)
        result = replace(check_situation(situation, self.rulebook, working=working), drawn=drawn(situation))
        if variation is None:
            result = with_versions(result, situation, self.rulebook)
        return result if levers == "none" else with_levers(result, situation, self.rulebook, levers == "all")

    def assign(
        self,
        plan: str | Path | Plan,
        *,
        on: AsOf | None = None,
        free: bool = False,
        premixes: int | None = None,
        prefer: Sequence[str] = (),
        seconds: float = 20.0,
        bars: int | None = None,
        oils: str = "",
        mould: str = "",
        every: bool = False,
        why: Sequence[str] = (),
    ) -> AssignResult:
        """Which portion takes which oil, in weighable grams, judged again; or what stands in the way.

        ``why``: a cup ("blue") or an oil in one ("lime in blue") of which it is told why it takes none.

        ``every``: with all the levers that are found, not the first.
        ``bars``, ``oils`` ("1500 g") or ``mould`` ("25 x 9 x 6.5 cm") scale the plan first.
        """
        from blendwise.answers.assign.compute import assign_situation, goals, with_scale

        asked = situation = self.situation(plan, on)
        if bars is not None or oils or mould:
            situation = self._scaled(asked, bars, oils, mould)
        found = assign_situation(
            situation,
            self.rulebook,
            free=free,
            seconds=seconds,
            prefer=goals(prefer),
            premixes=premixes,
            every=every,
            why=why,
        )
        return found if situation is asked else with_scale(found, situation)

    def sheet(
        self,
        plan: str | Path | Plan,
        *,
        on: AsOf | None = None,
        variation: str | None = None,
        evenly: bool = False,
        seconds: float = 20.0,
    ) -> Sheet:
        """The bench sheet of a plan poured that day; open doses are ``assign``'s, or spread ``evenly``."""
        from blendwise.answers.sheet.compute import sheet_of

        situation = self.situation(plan, on, variation)
        return sheet_of(situation, self.rulebook, evenly=evenly, seconds=seconds)

    def label(
        self,
        plan: str | Path | Plan,
        *,
        on: AsOf | None = None,
        variation: str | None = None,
        weights: str = "",
        weighed_on: date | None = None,
    ) -> LabelDraft:
        """A draft of the label for soap sold that day, with the code of the batch that was poured last.

        ``weights``: bars weighed on it, or ``weighed_on`` another day ("112 g, 110 g").
        """
        from blendwise.answers.label.compute import draft_of

        s = self.situation(plan, on, variation)
        poured = [
            batch for batch in self._noted(s.today)[1] if batch.plan == s.plan.plan and not batch.is_cup
        ]
        if not poured:
            return draft_of(s, self.rulebook, weights)
        age = ((weighed_on or s.today) - date.fromisoformat(poured[-1].poured)).days
        return draft_of(s, self.rulebook, weights, poured[-1].key, age)

    def _scaled(self, situation: Situation, bars: int | None, oils: str, mould: str) -> Situation:
        from blendwise.answers.plan_text.scaling import scaled_plan
        from blendwise.facts.situation.worked_out import work_out
        from blendwise.records.book import plan_of

        doc = scaled_plan(situation, bars, oils, mould)
        return work_out(
            plan_of(doc, self.files), self.files, situation.today, situation.variation, situation.believing
        )

    def pair(
        self,
        *oils: str,
        ratio: str = "",
        load: str = "",
        pour: str = "",
        colour: str = "",
        purpose: str = "",
        stabilised: Sequence[str] = (),
        on: AsOf | None = None,
    ) -> PairResult:
        """Whether oils get on, before there is a plan; all as typed, what is not said is the usual.

        QuantityError where a name or an amount cannot be understood.
        """
        from blendwise.answers.pair.compute import pair
        from blendwise.answers.pair.question import ask, believed

        on = on or AsOf()
        asked = ask(
            self.files,
            oils,
            ratio=ratio,
            load=load,
            pour=pour,
            colour=colour,
            purpose=purpose,
            stabilised=stabilised,
            today=on.today,
        )
        return pair(believed(asked, self.believing(on)), self.rulebook)

    def why(
        self,
        symptom: str,
        plan: str | Path | Plan | None = None,
        *,
        within: str = "",
        on: AsOf | None = None,
    ) -> WhyResult:
        """A symptom in plain words: what now, the causes in the light of a plan, what next time.

        ``within``: the portion or scent it happened in.  RecordError where nobody knows the symptom.
        """
        from blendwise.answers.harm import poured_past
        from blendwise.answers.why.compute import symptoms_of, why

        on = on or AsOf()
        situation = self.situation(plan, on) if plan is not None else None
        found = why(symptom, symptoms_of(self.folder), situation, within=within, today=on.today)
        return found if situation is None else replace(found, past=poured_past(situation, self.rulebook))

    def ask(
        self, question: str, plan: str | Path | None = None, *, on: AsOf | None = None, pick: int = 0
    ) -> AskResult:
        """A question in a maker's own words, of a plan, of oils that it names, or of neither.

        ``pick``: which of the nearest questions is meant, where it was not sure.
        """
        from blendwise.answers.ask.compute import ask

        return ask(self, question, plan, on, pick)

    def draft(self, file: Path, *, name: str = "", on: AsOf | None = None) -> Draft:
        """A draft of a plan to stand in ``file``: answer its questions, then ask it for the advice."""
        from blendwise.answers.draft.compute import Draft

        on = on or AsOf()
        return Draft(name or file.stem, file, self.files, self.rulebook, on.today, self.believing(on))

    def write_draft(self, result: DraftResult, file: Path) -> DraftResult:
        """Write a finished draft to a new file; RecordError where the name is taken."""
        from blendwise.records.writing.editors import for_editors
        from blendwise.records.writing.write import write_new

        file.parent.mkdir(exist_ok=True)
        text = for_editors(result.text, "plan", file)
        write_new(file, text)
        return replace(result, text=text, written=file.as_posix())

    def examine(self, on: AsOf | None = None) -> DoctorResult:
        """The whole book examined; for one that cannot be opened see ``answers.doctor.examine``."""
        from blendwise.answers.doctor.compute import examine

        return examine(self.folder, (on or AsOf()).today)

    def symptoms(self) -> Known:
        """Every symptom that ``why`` knows."""
        from blendwise.answers.why.compute import known_symptoms

        return known_symptoms(self.folder)

    def shelf(
        self,
        oil: str,
        *,
        ratio: str = "",
        load: str = "",
        pour: str = "",
        colour: str = "",
        purpose: str = "",
        on: AsOf | None = None,
        filters: Filters | None = None,
        progress: Progress | None = None,
    ) -> ShelfResult:
        """Every other oil of the shelf beside one, the willing first, with reasons.

        ``ratio``: its part to theirs.

        QuantityError where a name or an amount cannot be understood.
        """
        from blendwise.answers.pair.question import ask_along, believed
        from blendwise.answers.shelf.compute import Filters, shelf

        on = on or AsOf()
        asked = ask_along(
            self.files, oil, ratio=ratio, load=load, pour=pour, colour=colour, purpose=purpose, today=on.today
        )
        asked = believed(asked, self.believing(on))
        return shelf(asked, self.rulebook, filters or Filters(), progress)

    def pairs(self, *, load: str = "", on: AsOf | None = None) -> Iterator[PairBlock]:
        """Every two oils of the shelf in equal parts, as blocks of arrays, each with ``.to_frame()``."""
        from blendwise.answers.pair.question import ask, believed
        from blendwise.answers.shelf.all_pairs import all_pairs

        on = on or AsOf()
        asked = ask(self.files, list(self.files.scents)[:1], load=load, today=on.today)
        asked = believed(asked, self.believing(on))
        return all_pairs(asked, self.rulebook)

    def write_lever(self, result: CheckResult, path: Path, number: int = 1) -> str:
        """Write the plan with one of a check's levers to a new file, under its name; RecordError where it has
        none such."""
        from blendwise.answers.levers.writing import with_lever
        from blendwise.answers.plan_text.edits import named
        from blendwise.records.writing.write import write_new

        write_new(path, named(with_lever(result.levers, result.file, number), path).text)
        return str(path)

    def write_split(self, result: AssignResult, path: Path, lever: int = 0) -> str:
        """Write the plan with the split that was found (or with a lever) to a new file, under its name."""
        from blendwise.answers.assign.writing import written_plan
        from blendwise.answers.plan_text.edits import named
        from blendwise.records.writing.write import write_new

        write_new(path, named(written_plan(result, lever), path).text)
        return str(path)
