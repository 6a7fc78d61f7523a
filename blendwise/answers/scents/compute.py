"""The shelf as a maker asks after it: the list, a search, one oil whole, several side by side."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from blendwise.answers.check.compute import relative
from blendwise.answers.names import find_name
from blendwise.answers.refusals import NotAskable
from blendwise.answers.scents.result import (
    CompareResult,
    CompareRow,
    LookUse,
    PlanUse,
    ScentLine,
    ScentResult,
    ScentsResult,
    SeenOn,
)
from blendwise.answers.scents.statements import FACTS, not_known, statements
from blendwise.answers.shelf.compute import Filters, unwanted
from blendwise.beliefs.changes import FIELD, Change, changes_of
from blendwise.beliefs.lessons import Lessons
from blendwise.records.book import BookFiles, load_plan
from blendwise.records.kinds.plan import Plan
from blendwise.records.kinds.scent import Scent
from blendwise.records.notes.notebook import NoteRow, read_notebook
from blendwise.records.place import RecordError, Spot

ALL: Final = Filters()
"""No filter at all."""
LIKE: Final = 75.0
"""Likeness from which a word that stands nowhere is taken for one that does, and said so (judgement)."""
_SEEN: Final = ("minutes", "fluid_at", "ricing", "colour", "edge", "strength", "remarks")


def scents(
    book: BookFiles, words: Sequence[str] = (), filters: Filters = ALL, lessons: Lessons | None = None
) -> ScentsResult:
    """The oils that pass the filters and hold every word; a word met nowhere is taken for the nearest.

    What own looks say of an oil (``lessons``) stands before its catalogue's word.
    """
    wanted = [part for word in words for part in _words(word)]
    kept = [scent for scent in book.scents.values() if unwanted(scent, filters) is None]
    texts = {scent.name: _texts(scent) for scent in kept}
    read_as = _near_words(wanted, texts)
    asked = [read_as.get(word, word) for word in wanted]
    lines = [
        replace(
            _line(scent, _learned(book, scent, lessons)), found_in=tuple(_found_in(texts[scent.name], asked))
        )
        for scent in kept
        if all(_holds(texts[scent.name], word) for word in asked)
    ]
    return ScentsResult(tuple(lines), len(book.scents), tuple(wanted), read_as, book.usual.units)


def one_scent(book: BookFiles, typed: str, lessons: Lessons | None = None) -> ScentResult:
    """One oil whole; NotAskable with the nearest names where it is not plain which is meant.

    ``lessons``: what own looks say of it, beside the catalogue's word.
    """
    name = find_name(typed, book.scents, "scent").name
    scent = book.scents[name]
    plans, unread = _plans(book)
    notebook = read_notebook(book.folder)
    unread += [relative(str(fault.place.file), book.folder) for fault in notebook.faults]
    learned = _learned(book, scent, lessons)
    doc = book.docs.get("scents.yaml")
    place = Spot("scents.yaml", doc.key_place(name).line, doc.key_place(name).column) if doc else None
    return ScentResult(
        name,
        place,
        statements(scent, book),
        tuple(fact for fact in not_known(scent) if fact not in {FIELD[each.trait] for each in learned}),
        tuple(SeenOn(seen.on.isoformat(), seen.what) for seen in scent.seen),
        tuple(_plan_uses(name, plans)),
        tuple(_looks(name, notebook.rows, {plan.plan: plan for plan in plans.values()})),
        tuple(dict.fromkeys(unread)),
        learned,
        typed,
        book.usual.units,
    )


def compared(book: BookFiles, typed: Sequence[str]) -> CompareResult:
    """Two to eight oils side by side, fact by fact; facts that none of them has are left out."""
    names = tuple(dict.fromkeys(find_name(each, book.scents, "scent").name for each in typed))
    if len(names) < 2:
        raise NotAskable("There is only one oil here to compare.", "Name two or more.")
    if len(names) > MOST_COMPARED:
        raise NotAskable(f"{len(names)} oils are too many side by side.", f"Name at most {MOST_COMPARED}.")
    told = {name: {one.fact: one for one in statements(book.scents[name], book)} for name in names}
    rows = (CompareRow(fact, {name: told[name].get(fact) for name in names}) for fact in FACTS)
    return CompareResult(names, tuple(row for row in rows if any(row.scents.values())), book.usual.units)


MOST_COMPARED: Final = 8
OWN_LOOKS: Final = "own looks"


def _learned(book: BookFiles, scent: Scent, lessons: Lessons | None) -> tuple[Change, ...]:
    found = lessons.oils.get(scent.name) if lessons is not None else None
    return tuple(changes_of(scent, found, book.scales))


def _line(scent: Scent, learned: Sequence[Change]) -> ScentLine:
    now: dict[str, str] = {each.trait: each.now for each in learned}
    return ScentLine(
        scent.name,
        scent.kind,
        scent.scent_note,
        now.get("browning", scent.browns_to.band if scent.browns_to else None),
        now.get("acceleration", scent.acceleration.told if scent.acceleration else None),
        now.get("after six weeks", scent.after_six_weeks),
        tuple(scent.tags),
        scent.on_hand.value if scent.on_hand else None,
        scent.price.text if scent.price else None,
        OWN_LOOKS if learned else scent.evidence,
    )


def _texts(scent: Scent) -> dict[str, str]:
    """What a search looks through, by what it is."""
    sheet = scent.allergen_sheet.names if scent.allergen_sheet else {}
    found = {
        "name": scent.name,
        "kind": scent.kind or "",
        "scent note": scent.scent_note or "",
        "tags": " ".join(scent.tags),
        "browns by": " ".join(scent.browns_by),
        "allergen sheet": " ".join(sheet),
        "own cast": scent.own_cast or "",
        "lot": scent.lot or "",
        "seen": " ".join(seen.what for seen in scent.seen),
        "goes with": " ".join(scent.goes_with),
    }
    return {what: " ".join(_words(text)) for what, text in found.items() if text}


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold().replace("_", " "))


def _holds(texts: Mapping[str, str], word: str) -> bool:
    """Whether a word begins any word of an oil's texts."""
    return any(f" {word}" in f" {text}" for text in texts.values())


def _found_in(texts: Mapping[str, str], words: Sequence[str]) -> Iterator[str]:
    yield from (what for what, text in texts.items() if any(f" {word}" in f" {text}" for word in words))


def _near_words(wanted: Sequence[str], texts: Mapping[str, Mapping[str, str]]) -> dict[str, str]:
    lost = [word for word in wanted if not any(_holds(text, word) for text in texts.values())]
    if not lost:
        return {}
    from rapidfuzz import fuzz, process

    known = sorted({word for text in texts.values() for told in text.values() for word in told.split()})
    near = {word: process.extractOne(word, known, scorer=fuzz.ratio, score_cutoff=LIKE) for word in lost}
    return {word: str(found[0]) for word, found in near.items() if found}


def _plans(book: BookFiles) -> tuple[dict[str, Plan], list[str]]:
    """The book's plans by file, and the files that cannot be read."""
    plans: dict[str, Plan] = {}
    unread: list[str] = []
    for path in book.plan_paths():
        file = relative(str(path), book.folder)
        try:
            plans[file] = load_plan(path)
        except RecordError:
            unread.append(file)
    return plans, unread


def _plan_uses(name: str, plans: Mapping[str, Plan]) -> Iterator[PlanUse]:
    for file, plan in plans.items():
        blend = plan.scents.blend if plan.scents else {}
        total = sum(part.value for part in blend.values())
        if name in blend:
            yield PlanUse(plan.plan, file, blend[name].value / total if total else None)
        elif any(name in embed.scents for embed in plan.embeds):
            yield PlanUse(plan.plan, file, None)


def _looks(name: str, rows: Sequence[NoteRow], plans: Mapping[str, Plan]) -> Iterator[LookUse]:
    """The looks at batches that held the oil, with what was seen of the portions it was weighed into."""
    poured: dict[tuple[str, str | None], list[str]] = {}
    for row in rows:
        if row.frozen is not None and row.frozen.doses:
            held = [portion for portion, doses in row.frozen.doses.items() if doses.get(name)]
            poured[row.batch_key, row.variation] = held
    for row in rows:
        held = poured.get((row.batch_key, row.variation), [])
        planned = plans.get(row.plan)
        if not held and not (
            (row.batch_key, row.variation) not in poured
            and planned is not None
            and planned.scents is not None
            and name in planned.scents.blend
        ):
            continue
        portions = {portion: _told(row, portion) for portion in row.portions if not held or portion in held}
        yield LookUse(
            row.note, row.plan, row.look, row.on, {key: text for key, text in portions.items() if text}
        )


def _told(row: NoteRow, portion: str) -> str:
    seen = row.portions[portion]
    told = {word: getattr(seen, word) for word in _SEEN}
    if told["minutes"]:
        low, high = told["minutes"]
        told["minutes"] = f"thick at {low:g} min" if low == high else f"thick at {low:g} to {high:g} min"
    if told["fluid_at"]:
        told["fluid_at"] = f"still fluid at {told['fluid_at']:g} min"
    bare = ("minutes", "fluid_at", "remarks")
    return "; ".join(
        str(value) if word in bare else f"{word} {value}" for word, value in told.items() if value
    )
