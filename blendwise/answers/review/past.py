"""Whether a batch was poured past a harm, by the rules that spoke against it on the day of its pour."""

from __future__ import annotations

from datetime import date

from blendwise.answers.check.result import Stopped
from blendwise.answers.harm import PouredPast, poured_past
from blendwise.facts.situation.worked_out import work_out
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import IN_MEMORY, BookFiles, load_note, read_plan
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Poured
from blendwise.records.place import RecordError


class Past:
    """Which batches of a book were poured past a harm, by today's rules; each plan is judged once."""

    def __init__(self, book: BookFiles, today: date, rulebook: Rulebook) -> None:
        self.book, self.today, self.rulebook = book, today, rulebook
        self.judged: dict[str, PouredPast | None] = {}

    def of(self, batch: Batch) -> PouredPast | None:
        """The harms it stands past, and what it wants back where its plan can still be worked out."""
        for variation, poured in batch.poured_as.items():
            harms = [rule for rule in self.rulebook.rules if rule.name in poured.flagged and _is_harm(rule)]
            if harms:
                return self._by_its_plan(batch, variation, poured.plan or "") or _as_told(harms, poured)
        return None

    def _by_its_plan(self, batch: Batch, variation: str | None, plan: str) -> PouredPast | None:
        if plan not in self.judged:
            text = text_of(self.book, batch, variation)
            self.judged[plan] = _by_its_plan(self.book, self.today, self.rulebook, text)
        return self.judged[plan]


def text_of(book: BookFiles, batch: Batch, variation: str | None) -> str:
    """The plan's text as the first note of a version keeps it; empty where none does."""
    for look in batch.looks:
        if look.frozen is not None and look.variation == variation:
            frozen = load_note(book.folder / "notes" / look.file).frozen
            return (frozen.plan_text or "") if frozen else ""
    return ""


def _is_harm(rule: Rule) -> bool:
    return rule.level == "stop" and rule.kind_of_stop != "paper"


def _by_its_plan(book: BookFiles, today: date, rulebook: Rulebook, text: str) -> PouredPast | None:
    """None where there is no text, or the book no longer has what it names."""
    try:
        plan = read_plan(text, book, IN_MEMORY)
        return poured_past(work_out(plan, book, today), rulebook)
    except RecordError:
        return None


def _as_told(harms: list[Rule], poured: Poured) -> PouredPast:
    stops = [
        Stopped(rule.name, subject, "broken", rule.record.protects)
        for rule in harms
        for subject in poured.flagged[rule.name]
    ]
    return PouredPast(tuple(stops), ())
