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
from blendwise.answers.check.result import CheckResult
from blendwise.answers.check.versions import with_versions
from blendwise.answers.plan_text.edits import mass, named, with_lines, with_split
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
from blendwise.quantity import Units
from blendwise.records.book import plan_of
from blendwise.records.nearest import hint
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Poured
from blendwise.records.reading.document import Document, text_document
from blendwise.records.writing.edit import remove_field

MOST_NUMBERS: Final = 200
SEEN: Final = {"minutes fluid": "", "browning band": "colour", "after six weeks": "scent"}


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


def new_plan(reading: Reading, before: Before, called: str) -> tuple[str, Document]:
    """The name and the text of the new plan, in the amount that was poured; RecordError for no name."""
    name = called or _free_name(reading, before.batch.plan)
    doc = named(before.text, reading.book.folder / "plans" / f"{name}.yaml")
    return name, with_split(_of_version(doc, before), _grams(before.poured), reading.book.usual.units)


def _of_version(doc: Document, before: Before) -> Document:
    """The plan without its versions where one of them was poured."""
    if before.variation is None or "variations" not in doc.root.plain:
        return doc
    return remove_field(doc, ("variations",))


def left_open(reading: Reading, before: Before, name: str) -> Document:
    """The new plan with its split open: a whole one is left out, single doses are wishes and stay."""
    doc = named(before.text, reading.book.folder / "plans" / f"{name}.yaml")
    plain = doc.root.plain
    version = plain.get("variations", {}).get(before.variation, {}) if before.variation else {}
    wishes = {each: dict(doses) for each, doses in plain.get("doses", {}).items()}
    for portion, doses in version.get("doses", {}).items():
        wishes[portion] = {**wishes.get(portion, {}), **doses}
    portions = [str(portion["name"]) for portion in plain["portions"]]
    blend = plain.get("scents", {}).get("blend", {})
    whole = all(scent in wishes.get(portion, {}) for portion in portions for scent in blend)
    doc = _of_version(doc, before)
    if "doses" in plain and (whole or version):
        doc = remove_field(doc, ("doses",))
    return doc if whole or not version or not wishes else with_lines(doc, "doses", wishes)


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
    name, doc = new_plan(reading, before, asked.name)
    otherwise, change = what_was_learned(reading, before)
    doc, check = _judged(reading, rulebook, doc, asked)
    anew = change is not None or not (check.sound or check.harm)
    if anew:
        doc, check = _judged(reading, rulebook, left_open(reading, before, name), asked)
    learned = tuple(remarks(before, otherwise, change, anew, reading.book.usual.units))
    doc = with_remarks(doc, learned)
    return AgainResult(
        plan=name,
        batch=before.batch.key,
        variation=before.variation,
        text="" if check.lye_stop else doc.text,
        learned=learned,
        check=check,
        otherwise=otherwise,
        change=change,
        anew=anew,
    )


def _judged(
    reading: Reading, rulebook: Rulebook, doc: Document, asked: Asked
) -> tuple[Document, CheckResult]:
    """The plan in the amount that was asked, and what the rulebook says of it."""
    if asked.bars is not None or asked.oils or asked.mould:
        doc = scaled_plan(_situation(reading, doc, asked), asked.bars, asked.oils, asked.mould)
    situation = _situation(reading, doc, asked)
    return doc, with_versions(check_situation(situation, rulebook), situation, rulebook)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of the next plan: a version, an amount (the first that is given), how to believe."""

    variation: str | None = None
    bars: int | None = None
    oils: str = ""
    mould: str = ""
    believing: Believing = AS_WRITTEN
    name: str = ""


def _situation(reading: Reading, doc: Document, asked: Asked) -> Situation:
    return work_out(plan_of(doc, reading.book), reading.book, reading.today, None, asked.believing)


def with_remarks(doc: Document, lines: tuple[str, ...]) -> Document:
    """The plan with remarks above it."""
    newline = "\r\n" if "\r\n" in doc.text else "\n"
    above = "".join(f"# {line}{newline}" for line in lines)
    return text_document(above + doc.text, doc.file)


def remarks(
    before: Before, otherwise: tuple[Compared, ...], change: Advice | None, anew: bool, units: Units
) -> Iterator[str]:
    """The lines above the plan: where it comes from, what came out otherwise, what to change first."""
    version = f", version {before.variation}" if before.variation else ""
    batch = before.batch
    doses = "the doses are left open, to be divided anew" if anew else "the doses are those weighed then"
    yield f"From batch {batch.key}, poured {batch.poured}{version}; {doses}."
    for portion, held in before.poured.doses.items() if anew else ():
        told = ", ".join(f"{oil} {mass(grams, units)}" for oil, grams in held.items() if grams > 0)
        yield f"Weighed then in {portion}: {told or 'nothing'}."
    for row in otherwise:
        expected = f", expected {row.expected}" if row.expected else ""
        what = f"{SEEN.get(row.what, row.what)} {row.seen}".lstrip()
        yield f"Seen in {row.portion}, {row.look}: {what}{expected}."
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
