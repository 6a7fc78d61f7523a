"""What would help where nothing fits, in a maker's order; each change is written, solved and judged again.

A remedy is a new text of the plan.  What is shown is what that text, read again, was found to give.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Concatenate, ParamSpec

import numpy as np

from blendwise.answers.assign.result import AssignResult, Conflict, Remedy
from blendwise.answers.plan_text import edits as changes
from blendwise.assignment.explain.least_change import Change, workable_change
from blendwise.assignment.problem.problem import Problem
from blendwise.assignment.search.solve import Ask
from blendwise.facts.pour.minutes import style_minutes
from blendwise.facts.scales import BANDS
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.timeline import wants_fluid
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import format_number
from blendwise.records.book import plan_of
from blendwise.records.place import RecordError
from blendwise.records.reading.document import Document

P = ParamSpec("P")
Details = Mapping[str, str | float]
Assign = Callable[[Situation], AssignResult]
LEAST_SECONDS = 4.0
SAID = 1e-4  # shares nearer than this are said alike
LEAST_LOAD = 0.01  # below 1 % of oils a bar hardly smells: no remedy any more
LOAD_STEP = 0.001  # loads are tried in steps of 0.1 % of batch oils, an amount that can be said aloud
MORE_WATER = (0.30, 0.28, 0.25)  # lye concentrations to try for time: common practice for fluid pours
BROWNING = "browning"
CLOCK_TOPICS = frozenset({"acceleration", "ricing"})


@dataclass(frozen=True)
class Try:
    """A change to try: the kind that words it, what fills the words, and the plan's new text."""

    kind: str
    details: Details
    doc: Document


class Remedies:
    """The search for changes that make a plan fit."""

    def __init__(
        self,
        s: Situation,
        rulebook: Rulebook,
        conflicts: tuple[Conflict, ...],
        assign: Assign,
        seconds: float,
    ) -> None:
        self.s = s
        self.rulebook = rulebook
        self.conflicts = conflicts
        self.assign = assign
        self.deadline = time.monotonic() + seconds
        assert s.plan.doc is not None
        self.doc: Document = s.plan.doc

    def found(self) -> tuple[Remedy, ...]:
        """Every remedy under which the oils fit, in the maker's order.

        ``sound`` says whether nothing worse than a caution is left: a plan may have troubles that no
        split of its scents can mend (an oil nobody has described, embeds that melt).
        """
        told = []
        for attempt in self._tries():
            result = self.fits(attempt)
            if result is not None and result.check is not None:
                text = result.plan_text or attempt.doc.text
                sound, harm = result.check.sound, bool(result.check.harm)
                told.append(Remedy(attempt.kind, self._filled(attempt, result), sound, text, harm))
        return tuple(told)

    def least_change(self, problem: Problem) -> tuple[Remedy, ...]:
        """Last: the least change of the blend's parts and of the load, on amounts that can be said aloud."""
        left = self.deadline - time.monotonic()
        found = workable_change(problem, Ask(seconds=LEAST_SECONDS), seconds=min(left, LEAST_SECONDS))
        if found is None or found[0].nothing:
            return ()
        change = found[0]
        details, doc = self._as_said(problem, change)
        if doc is None:
            return ()
        result = self.fits(Try("least change", details, doc))
        if result is None or result.check is None:
            return ()
        text, harm = result.plan_text or doc.text, bool(result.check.harm)
        return (Remedy("least change", details, result.check.sound, text, harm),)

    def _as_said(self, problem: Problem, change: Change) -> tuple[Details, Document | None]:
        """The change in words, and the plan's text with it; portions' shares stay as they are."""
        parts = {
            name: float(new)
            for name, new, asked in zip(problem.scents, change.blend, change.blend_asked, strict=True)
            if abs(new - asked) > SAID
        }
        said = [f"{name} {format_number(100 * share)} % of the blend" for name, share in parts.items()]
        whole = {name: 100 * float(share) for name, share in zip(problem.scents, change.blend, strict=True)}
        doc = self.doc
        try:
            if parts:
                doc = changes.with_parts(doc, whole)
            if abs(change.load - change.load_asked) > SAID / 100:
                said.append(f"a load of {format_number(100 * change.load)} % of batch oils")
                doc = changes.with_load(doc, change.load)
        except RecordError:
            return {}, None
        # A lower load by itself is a remedy of its own, told before.
        return {"changes": ", ".join(said)}, doc if parts else None

    def fits(self, attempt: Try) -> AssignResult | None:
        """The assignment of the changed plan if there is one, judged again."""
        if time.monotonic() > self.deadline:
            return None
        try:
            plan = plan_of(attempt.doc, self.s.book)
            s = self.s
            result = self.assign(work_out(plan, s.book, s.today, s.variation, s.believing))
        except (RecordError, ValueError):
            return None
        return result if result.check is not None else None

    def _tries(self) -> Iterator[Try]:
        yield from self._moves()
        yield from self._unscented()
        yield from self._become()
        yield from self._lower_load()
        yield from self._simpler_pours()
        yield from self._more_water()
        yield from self._own_pot()

    def _edited(
        self,
        kind: str,
        details: Details,
        edit: Callable[Concatenate[Document, P], Document],
        *args: P.args,
        **kwargs: P.kwargs,
    ) -> list[Try]:
        """The attempt, or none where the plan's text does not lend itself to the change."""
        try:
            return [Try(kind, details, edit(self.doc, *args, **kwargs))]
        except RecordError:
            return []

    def _moves(self) -> Iterator[Try]:
        """The maker's own doses in the conflict, taken out."""
        for conflict in self.conflicts:
            if conflict.kind == "plan" and conflict.name == "doses":
                scent, _, portion = conflict.subject.partition(" in ")
                details = {"scent": scent, "from": portion, "to": ""}
                yield from self._edited("dark portion", details, changes.no_dose, portion, scent)

    def portions_in_conflict(self, only_browning: bool = False) -> list[int]:
        """Portions that the conflict speaks of, lightest first."""
        rules = [c for c in self.conflicts if c.kind == "rule"]
        named = {c.subject for c in rules if not only_browning or self._browns(c.name)}
        light = appearance(self.s).planned[:, 0]
        found = [p for p, name in enumerate(self.s.portions) if any(_speaks_of(n, name) for n in named)]
        return sorted(found, key=lambda p: -float(light[p]))

    def _browns(self, rule: str) -> bool:
        known = self.rulebook.by_name.get(rule)
        return known is not None and any(BROWNING in name for name in known.must.measures)

    def _unscented(self) -> Iterator[Try]:
        for p in self.portions_in_conflict():
            details = {"portion": self.s.portions[p]}
            yield from self._edited("leave unscented", details, changes.leave_unscented, p)

    def _become(self) -> list[Try]:
        """All browning portions together, and the lightest alone, each to the first band that serves."""
        portions = self.portions_in_conflict(only_browning=True)
        groups = [portions, portions[:1]] if len(portions) > 1 else [portions] if portions else []
        told = [attempt for group in groups for attempt in self._first_band(group)]
        return sorted(told, key=lambda attempt: BANDS.index(str(attempt.details["band"])))

    def _first_band(self, group: list[int]) -> list[Try]:
        names = " and ".join(self.s.portions[p] for p in group)
        for band in BANDS[1:]:
            details = {"portion": names, "band": band}
            for attempt in self._edited("let become", details, _browned, group, band):
                if self.fits(attempt) is not None:
                    return [attempt]
        return []

    def _lower_load(self) -> Iterator[Try]:
        """The greatest load, in steps that can be said aloud, under which everything fits."""
        low, high = round(LEAST_LOAD / LOAD_STEP) - 1, int(np.ceil(self.s.scenting.load / LOAD_STEP - 1e-9))
        best: list[Try] = []
        while high - low > 1:
            middle = (low + high) // 2
            details = {"load": middle * LOAD_STEP}
            tries = self._edited("lower load", details, changes.with_load, middle * LOAD_STEP)
            if tries and self.fits(tries[0]) is not None:
                low, best = middle, tries
            else:
                high = middle
        yield from best

    def _clock_matters(self) -> bool:
        rules = [self.rulebook.by_name.get(c.name) for c in self.conflicts]
        return any(rule is not None and rule.record.topic in CLOCK_TOPICS for rule in rules)

    def _simpler_pours(self) -> Iterator[Try]:
        """Quicker pours, the nearest to the wanted one first, then thick ones; the first that serves."""
        if not self._clock_matters() or self.s.pour is None:
            return
        for name in self._other_pours():
            for attempt in self._edited("simpler pour", {"pour": name}, changes.with_pour, name):
                if self.fits(attempt) is not None:
                    yield attempt
                    return

    def _other_pours(self) -> list[str]:
        assert self.s.pour is not None
        mine, pours = self.s.pour, self.s.book.pours
        times = {name: style_minutes(self.s, pour) for name, pour in pours.items()}
        quicker = [name for name in times if times[name] < style_minutes(self.s, mine)]
        thick = [name for name, pour in pours.items() if not wants_fluid(pour) and name not in quicker]
        return [*sorted(quicker, key=lambda name: (-times[name], name)), *thick]

    def _more_water(self) -> Iterator[Try]:
        if not self._clock_matters():
            return
        now = self.s.pot.mixed_concentration
        for lye in MORE_WATER:
            if lye < now - 1e-9:
                change = f"{format_number(100 * lye)} % lye instead of {format_number(100 * now)} %"
                yield from self._edited("more fluid", {"change": change}, changes.with_concentration, lye)

    def _own_pot(self) -> Iterator[Try]:
        """The oil that stands in the way leaves this pot, if others stay."""
        if int((self.s.scenting.blend > 0).sum()) < 2:
            return
        for scent in self._scents_in_conflict():
            yield from self._edited("own pot", {"scent": scent}, changes.without_scent, scent)

    def _scents_in_conflict(self) -> list[str]:
        placed = [name for name, part in zip(self.s.scents, self.s.scenting.blend, strict=True) if part > 0]
        named = {part for c in self.conflicts for part in (c.subject, c.subject.partition(" in ")[0])}
        return [name for name in placed if name in named]

    def _filled(self, attempt: Try, result: AssignResult) -> Details:
        """Where a moved oil went, told once the new split is known."""
        if attempt.kind != "dark portion":
            return attempt.details
        scent = str(attempt.details["scent"])
        taker = max(result.portions, key=lambda pour: pour.scents.get(scent, 0.0))
        return {**attempt.details, "to": taker.portion}


def _speaks_of(subject: str, portion: str) -> bool:
    return subject == portion or subject.endswith(f" in {portion}")


def _browned(doc: Document, group: list[int], band: str) -> Document:
    for p in group:
        doc = changes.let_become(doc, p, band)
    return doc
