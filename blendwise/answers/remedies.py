"""What would help where nothing fits, in a maker's order; each change is written, solved and judged again.

A remedy is a new text of the plan.  What is shown is what that text, read again, was found to give.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from blendwise.answers import changes
from blendwise.answers.results import AssignResult, Conflict, Remedy
from blendwise.facts.scales import BANDS
from blendwise.facts.situation import Situation, work_out
from blendwise.facts.timeline import style_minutes
from blendwise.judge.layers import Rulebook
from blendwise.quantity import format_number
from blendwise.records.book import plan_of
from blendwise.records.document import Document
from blendwise.records.place import RecordError

Details = Mapping[str, str | float]
Assign = Callable[[Situation], AssignResult]
LEAST_LOAD = 0.01  # below 1 % of oils a bar hardly smells: no remedy any more
LOAD_STEP = 0.001  # loads are tried in steps of 0.1 % of batch oils, an amount that can be said aloud
MORE_WATER = (0.30, 0.28, 0.25)  # lye concentrations to try for time; common practice for fluid pours
BROWNING = "browning"
CLOCK_RULES = frozenset({"pour-outruns-the-batter", "seizing-oil-in-a-fluid-pour", "bad-ricing-in-a-fine-pour"})


@dataclass(frozen=True)
class Try:
    """A change to try: the kind that words it, what fills the words, and the plan's new text."""

    kind: str
    details: Details
    doc: Document


class Remedies:
    """The search for changes that make a plan fit."""

    def __init__(
        self, s: Situation, rulebook: Rulebook, conflicts: tuple[Conflict, ...], assign: Assign, seconds: float
    ) -> None:
        self.s = s
        self.rulebook = rulebook
        self.conflicts = conflicts
        self.assign = assign
        self.deadline = time.monotonic() + seconds
        assert s.plan.doc is not None
        self.doc: Document = s.plan.doc

    def found(self) -> tuple[Remedy, ...]:
        """Every remedy that leaves nothing worse than a caution, in the maker's order."""
        told = []
        for attempt in self._tries():
            if time.monotonic() > self.deadline:
                break
            result = self.result_of(attempt.doc)
            if result is not None and result.check is not None and result.check.sound:
                told.append(Remedy(attempt.kind, self._filled(attempt, result), True, result.plan_text or attempt.doc.text))
        return tuple(told)

    def result_of(self, doc: Document) -> AssignResult | None:
        """The assignment of a changed plan; None where it cannot be worked out."""
        try:
            plan = plan_of(doc, self.s.book)
            changed = work_out(plan, self.s.book, self.s.today, self.s.variation)
            return self.assign(changed)
        except (RecordError, ValueError):
            return None

    def _tries(self) -> Iterator[Try]:
        yield from self._moves()
        yield from self._unscented()
        yield from self._become()
        yield from self._lower_load()
        yield from self._simpler_pours()
        yield from self._more_water()
        yield from self._own_pot()

    def _edited(self, kind: str, details: Details, edit: Callable[[], Document]) -> Iterator[Try]:
        """The attempt, unless the plan's text does not lend itself to the change."""
        try:
            yield Try(kind, details, edit())
        except RecordError:
            return

    def _moves(self) -> Iterator[Try]:
        for conflict in self.conflicts:
            if conflict.kind == "plan" and conflict.name == "doses":
                scent, _, portion = conflict.subject.partition(" in ")
                details = {"scent": scent, "from": portion, "to": ""}
                yield from self._edited("dark portion", details, lambda s=scent, p=portion: changes.no_dose(self.doc, p, s))  # type: ignore[misc]

    def portions_in_conflict(self, only_browning: bool = False) -> list[int]:
        """Portions that the conflict speaks of, lightest first."""
        named = {c.subject for c in self.conflicts if c.kind == "rule" and (not only_browning or self._browns(c.name))}
        found = [p for p, name in enumerate(self.s.portions) if any(name == n or n.endswith(f" in {name}") for n in named)]
        light = self.s.appearance.planned[:, 0]
        return sorted(found, key=lambda p: -float(light[p]))

    def _browns(self, rule: str) -> bool:
        known = self.rulebook.by_name.get(rule)
        return known is not None and any(BROWNING in name for name in known.must.measures)

    def _unscented(self) -> Iterator[Try]:
        for p in self.portions_in_conflict():
            details = {"portion": self.s.portions[p]}
            yield from self._edited("leave unscented", details, lambda p=p: changes.leave_unscented(self.doc, p))  # type: ignore[misc]

    def _become(self) -> Iterator[Try]:
        """All browning portions together, and the lightest alone, each to the first band that serves."""
        portions = self.portions_in_conflict(only_browning=True)
        found = [self._first_band(group) for group in ([portions, portions[:1]] if len(portions) > 1 else [portions]) if group]
        told = [attempt for attempt in found if attempt is not None]
        yield from sorted(told, key=lambda attempt: BANDS.index(str(attempt.details["band"])))

    def _first_band(self, group: list[int]) -> Try | None:
        names = " and ".join(self.s.portions[p] for p in group)
        for band in BANDS[1:]:
            if time.monotonic() > self.deadline:
                return None
            for attempt in self._edited("let become", {"portion": names, "band": band}, lambda b=band: self._browned(group, b)):  # type: ignore[misc]
                result = self.result_of(attempt.doc)
                if result is not None and result.check is not None and result.check.sound:
                    return attempt
        return None

    def _browned(self, group: list[int], band: str) -> Document:
        doc = self.doc
        for p in group:
            doc = changes.let_become(doc, p, band)
        return doc

    def _lower_load(self) -> Iterator[Try]:
        """The greatest load, in steps that can be said aloud, under which everything fits."""
        low, high = round(LEAST_LOAD / LOAD_STEP) - 1, int(np.ceil(self.s.scenting.load / LOAD_STEP - 1e-9))
        best: Try | None = None
        while high - low > 1 and time.monotonic() < self.deadline:
            middle = (low + high) // 2
            load = middle * LOAD_STEP
            details = {"load": f"{format_number(100 * load)} % of batch oils"}
            tries = list(self._edited("lower load", details, lambda v=load: changes.with_load(self.doc, v)))  # type: ignore[misc]
            result = self.result_of(tries[0].doc) if tries else None
            if result is not None and result.check is not None and result.check.sound:
                low, best = middle, tries[0]
            else:
                high = middle
        if best is not None:
            yield best

    def _clock_matters(self) -> bool:
        return any(c.name in CLOCK_RULES for c in self.conflicts)

    def _simpler_pours(self) -> Iterator[Try]:
        """Pours that take less time, the nearest to the wanted one first; the first that serves is enough."""
        if not self._clock_matters() or self.s.pour is None:
            return
        count = len(self.s.portions)
        mine = style_minutes(self.s.pour, count)
        quicker = [(style_minutes(p, count), name) for name, p in self.s.book.pours.items() if style_minutes(p, count) < mine]
        for _, name in sorted(quicker, reverse=True):
            for attempt in self._edited("simpler pour", {"pour": name}, lambda n=name: changes.with_pour(self.doc, n)):  # type: ignore[misc]
                result = self.result_of(attempt.doc)
                if result is not None and result.check is not None and result.check.sound:
                    yield attempt
                    return

    def _more_water(self) -> Iterator[Try]:
        if not self._clock_matters():
            return
        for concentration in MORE_WATER:
            if concentration < self.s.pot.lye_concentration - 1e-9:
                details = {"change": f"{format_number(100 * concentration)} % lye instead of {format_number(100 * self.s.pot.lye_concentration)} %"}
                yield from self._edited("more fluid", details, lambda c=concentration: changes.with_concentration(self.doc, c))  # type: ignore[misc]

    def _own_pot(self) -> Iterator[Try]:
        """The oil that stands in the way leaves this pot, if others stay."""
        if int((self.s.scenting.blend > 0).sum()) < 2:
            return
        for scent in self._scents_in_conflict():
            yield from self._edited("own pot", {"scent": scent}, lambda n=scent: changes.without_scent(self.doc, n))  # type: ignore[misc]

    def _scents_in_conflict(self) -> list[str]:
        said = " ".join(c.subject for c in self.conflicts)
        return [name for i, name in enumerate(self.s.scents) if name in said and self.s.scenting.blend[i] > 0]

    def _filled(self, attempt: Try, result: AssignResult) -> Details:
        """Where a moved oil went, told once the new split is known."""
        if attempt.kind != "dark portion":
            return attempt.details
        scent = str(attempt.details["scent"])
        taker = max(result.portions, key=lambda pour: pour.scents.get(scent, 0.0))
        return {**attempt.details, "to": taker.portion}
