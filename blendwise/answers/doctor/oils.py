"""The shelf and the notes of a book: oils never described, certificates, names that nothing bears."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date

from blendwise.answers.doctor.plans import Examined
from blendwise.answers.doctor.result import Kind, Sign, Weight
from blendwise.facts.measures.evidence import is_described, years_since
from blendwise.facts.measures.law import unread_of
from blendwise.facts.papers import certified
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import BookFiles
from blendwise.records.kinds.scent import Scent
from blendwise.records.nearest import hint
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Notebook
from blendwise.records.place import Spot
from blendwise.science.law_tables import TABLES_OF, age_in_days, announced_by, overtaken_by

CERTIFICATE_AGE = "certificate age"
A_YEAR = 366


def shelf_signs(
    book: BookFiles, rulebook: Rulebook, plans: Sequence[Examined], today: date
) -> Iterator[Sign]:
    """Oils never described, and certificates missing, old or without a day; those in plans weigh more."""
    situations = [plan.situation for plan in plans if plan.situation is not None]
    poured = {name for s in situations for name in s.scents}
    sold = {name for s in situations if s.purpose != "home" for name in s.scents}
    bare = [scent for scent in book.scents.values() if not is_described(scent)]
    yield from _by_use("not described", bare, poured)
    bare = [s for s in book.scents.values() if not certified(s, today)]
    yield from _by_use("no certificate", bare, sold)
    unread = {s.name: unread_of(s) for s in book.scents.values()}
    for name, found in unread.items():
        for each in found:
            near = " or ".join(each.could_be) or each.nearest
            how: Weight = "caution" if name in poured else "hint"
            yield Sign("name not known", how, name, (each.spelling, *([near] if near else [])))
    undated = [s for s in book.scents.values() if s.limit_in_bar and s.limit_in_bar.dated is None]
    yield from _by_use("certificate without a day", undated, sold)
    oldest = _oldest(rulebook)
    for scent in book.scents.values():
        dated = scent.limit_in_bar.dated if scent.limit_in_bar else None
        if oldest is not None and dated is not None and (age := years_since(dated, today)) > oldest:
            weight: Weight = "caution" if scent.name in sold else "hint"
            yield Sign("old certificate", weight, scent.name, (dated.isoformat(),), number=age)


def table_signs(today: date, sells: bool) -> Iterator[Sign]:
    """The day of our tables of the law: a hint past twelve months or by a draft, a caution once overtaken."""
    day, age = TABLES_OF.isoformat(), float(age_in_days(today))
    if age > A_YEAR:
        yield Sign("law tables", "hint", "", (day,), number=age)
    for each in (*overtaken_by(today), *announced_by(today)):
        weight: Weight = "caution" if sells and each.adopted else "hint"
        names = (each.applies_from.isoformat(), each.concerns, each.standing)
        yield Sign("law changed", weight, each.text, names)


def _by_use(kind: Kind, scents: Sequence[Scent], used: Collection[str]) -> Iterator[Sign]:
    """One sign for the oils that plans use, one for the others."""
    weights: tuple[tuple[Weight, bool], ...] = (("caution", True), ("hint", False))
    for weight, wanted in weights:
        names = tuple(scent.name for scent in scents if (scent.name in used) is wanted)
        if names:
            yield Sign(kind, weight, "plans" if wanted else "the shelf", names)


def _oldest(rulebook: Rulebook) -> float | None:
    """Years that a certificate may be old, by the rulebook; None where no rule says."""
    limits = [
        atom.limits[0].value
        for rule in rulebook.rules
        for atom in rule.must
        if atom.measure == CERTIFICATE_AGE and atom.relation in ("at most", "below")
    ]
    return min(limits, default=None)


def strange_names(
    book: BookFiles, batches: Sequence[Batch], plans: Sequence[str], notebook: Notebook
) -> Iterator[Sign]:
    """Names in ``goes with``, in notes and in their doses, lots and votes that nothing in the book bears."""
    for scent in book.scents.values():
        place = scent.place
        spot = Spot("scents.yaml", place.line, place.column) if place else None
        for name in scent.goes_with:
            if name not in book.scents:
                yield _strange(f"{scent.name}: goes with", name, hint(name, book.scents, "The shelf"), spot)
    shelf = {*book.scents, *book.colourants, *book.oils}
    for row in notebook.rows:
        file = Spot(f"notes/{row.file}", 1)
        if row.plan not in plans and not row.test_cup:
            yield _strange(f"{row.note}: plan", row.plan, hint(row.plan, plans, "The book"), file)
        for name in row.lots:
            if name not in shelf:
                yield _strange(f"{row.note}: lots", name, hint(name, shelf, "The book"), file)
        doses = row.frozen.doses if row.frozen else {}
        for name in dict.fromkeys(scent for given in doses.values() for scent in given):
            if name not in book.scents:
                yield _strange(f"{row.note}: doses", name, hint(name, book.scents, "The shelf"), file)
    yield from _strange_favourites(batches)


def _strange_favourites(batches: Sequence[Batch]) -> Iterator[Sign]:
    """Favourites and votes for what was not poured in their batch."""
    for batch in batches:
        versions = [name for name in (*batch.poured_as, *batch.variations) if name]
        portions = [name for poured in batch.poured_as.values() for name in (poured.portions or poured.doses)]
        known = list(dict.fromkeys([*versions, *portions]))
        for look in batch.looks:
            for name in (*look.favourites, *look.votes):
                if known and name not in known:
                    remedy = hint(name, known, "The batch")
                    yield _strange(f"{look.note}: favourites", name, remedy, Spot(f"notes/{look.file}", 1))


def _strange(where: str, name: str, remedy: str, spot: Spot | None) -> Sign:
    return Sign("strange name", "wrong", where, (name,), remedy=remedy, where=spot)
