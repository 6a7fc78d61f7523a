"""The next plan from what was poured: the frozen text, the doses as weighed, scaled, with what was learned.

The plan's text keeps its remarks and its order; what was learned stands above it as remarks of its own,
for a maker to act on.  Nothing is changed on the tool's own account but the name, the doses and the amount.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from blendwise.answers.again.result import AgainResult
from blendwise.answers.check.compute import check_situation
from blendwise.answers.plan_text.edits import with_split
from blendwise.answers.plan_text.scaling import scaled_plan
from blendwise.answers.refusals import NotAskable
from blendwise.answers.review.advice import the_one_change
from blendwise.answers.review.compute import Reading, of_plan
from blendwise.answers.review.past import text_of
from blendwise.answers.review.result import Advice
from blendwise.answers.review.versions import AS_PLANNED, contests
from blendwise.beliefs.believe import AS_WRITTEN, Believing
from blendwise.beliefs.expected import Compared, compared
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import plan_of
from blendwise.records.nearest import hint
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Poured
from blendwise.records.reading.document import Document, text_document
from blendwise.records.writing.edit import remove_field, set_value

MOST_NUMBERS: Final = 200


@dataclass(frozen=True, slots=True)
class Before:
    """A version of a batch to be poured again, and its plan's text."""

    batch: Batch
    variation: str | None
    poured: Poured
    text: str


def poured_before(reading: Reading, plan: str, variation: str | None) -> Before:
    """The last batch of a plan that kept its text, in the version asked for, else in the one that won."""
    for batch in reversed(of_plan(reading, plan)):
        if not batch.poured_as:
            continue
        chosen = _version(reading, batch, variation)
        text = text_of(reading.book, batch, chosen)
        if text:
            return Before(batch, chosen, batch.poured_as[chosen], text)
    raise NotAskable(
        f'No note of "{plan}" keeps what was poured.', "Note a batch first: blendwise note PLAN, at the pot."
    )


def _version(reading: Reading, batch: Batch, asked: str | None) -> str | None:
    versions = list(batch.poured_as)
    if asked is not None:
        if asked not in versions:
            known = [each or AS_PLANNED for each in versions]
            raise NotAskable(f'No version "{asked}" was poured.', hint(asked, known, "The batch"))
        return asked
    if len(versions) == 1:
        return versions[0]
    won = next((each.winner for each in contests(reading.batches) if each.plan == batch.plan), None)
    return next((each for each in versions if each == won), versions[0])


def new_plan(reading: Reading, before: Before) -> tuple[str, Document]:
    """The name and the text of the new plan, in the amount that was poured."""
    name = _free_name(reading, before.batch.plan)
    file = reading.book.folder / "plans" / f"{name}.yaml"
    doc = set_value(text_document(before.text, file), ("plan",), name)
    if before.variation is not None and "variations" in doc.root.plain:
        doc = remove_field(doc, ("variations",))
    return name, with_split(doc, _grams(before.poured))


def _grams(poured: Poured) -> dict[str, dict[str, float]]:
    """Grams of every scent in every portion, 0 where a portion had none of it."""
    scents = dict.fromkeys(scent for held in poured.doses.values() for scent in held)
    return {portion: {s: held.get(s, 0.0) for s in scents} for portion, held in poured.doses.items()}


def _free_name(reading: Reading, plan: str) -> str:
    taken = {path.stem for path in reading.book.plan_paths()} | {batch.plan for batch in reading.batches}
    stem, _, number = plan.rpartition("-")
    base, first = (stem, int(number) + 1) if stem and number.isdigit() else (plan, 2)
    found = next((n for n in range(first, first + MOST_NUMBERS) if f"{base}-{n}" not in taken), first)
    return f"{base}-{found}"


def what_was_learned(reading: Reading, before: Before) -> tuple[tuple[Compared, ...], Advice | None]:
    """What came out otherwise in that version of the batch, and the one thing to change."""
    units = [u for u in reading.units if u.batch.key == before.batch.key and u.variation == before.variation]
    rows = [row for unit in units for row in compared(unit, reading.bands)]
    otherwise = tuple(row for row in rows if row.verdict not in ("", "as expected"))
    return otherwise, the_one_change(units, reading.bands, reading.lessons, reading.book)


def again(reading: Reading, rulebook: Rulebook, plan: str, asked: Asked) -> AgainResult:
    """The next plan, judged; RecordError where what was poured no longer fits the book."""
    before = poured_before(reading, plan, asked.variation)
    name, doc = new_plan(reading, before)
    if asked.bars is not None or asked.oils or asked.mould:
        doc = scaled_plan(_situation(reading, doc, asked), asked.bars, asked.oils, asked.mould)
    otherwise, change = what_was_learned(reading, before)
    learned = tuple(remarks(before, otherwise, change))
    doc = with_remarks(doc, learned)
    check = check_situation(_situation(reading, doc, asked), rulebook)
    return AgainResult(
        plan=name,
        batch=before.batch.key,
        variation=before.variation,
        text="" if check.lye_stop else doc.text,
        learned=learned,
        check=check,
        otherwise=otherwise,
        change=change,
    )


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of the next plan: a version, an amount (the first that is given), how to believe."""

    variation: str | None = None
    bars: int | None = None
    oils: str = ""
    mould: str = ""
    believing: Believing = AS_WRITTEN


def _situation(reading: Reading, doc: Document, asked: Asked) -> Situation:
    return work_out(plan_of(doc, reading.book), reading.book, reading.today, None, asked.believing)


def with_remarks(doc: Document, lines: tuple[str, ...]) -> Document:
    """The plan with remarks above it."""
    newline = "\r\n" if "\r\n" in doc.text else "\n"
    above = "".join(f"# {line}{newline}" for line in lines)
    return text_document(above + doc.text, doc.file)


def remarks(before: Before, otherwise: tuple[Compared, ...], change: Advice | None) -> Iterator[str]:
    """The lines above the plan: where it comes from, what came out otherwise, what to change first."""
    version = f", version {before.variation}" if before.variation else ""
    batch = before.batch
    yield f"From batch {batch.key}, poured {batch.poured}{version}; the doses are those weighed then."
    for row in otherwise:
        expected = f", expected {row.expected}" if row.expected else ""
        yield f"Seen in {row.portion}, {row.look}: {row.what} {row.seen}{expected}."
    if change is not None:
        oil = f", most likely by {change.oil}" if change.oil else ""
        yield f"To change first: {change.portion}, {change.kind}{oil}."


def text_to_write(result: AgainResult) -> str:
    """The new plan's text; NotAskable past a lye stop, where it has none."""
    if result.check.lye_stop:
        rules = ", ".join(dict.fromkeys(stop.rule for stop in result.check.harm))
        raise NotAskable(
            f"Nothing is written: past a lye stop no lye is given ({rules}).",
            "Mend that plan first.",
        )
    return result.text
