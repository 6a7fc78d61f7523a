"""Why did this happen: a symptom in plain words, and its likely causes in the light of a plan."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.why.accidents import is_accident
from blendwise.answers.why.causes import Weighed, read_causes, shown, weigh_all
from blendwise.answers.why.nearness import NEAR_ENOUGH, Near, nearest_entries, speaks_of, stem, words_of
from blendwise.answers.why.result import (
    Day,
    Deferred,
    Known,
    KnownSymptom,
    LikelyCause,
    SimplerPour,
    Understood,
    WhyResult,
)
from blendwise.facts.tables import tables, vocabulary
from blendwise.records.kinds.pour import BATTERS
from blendwise.records.kinds.symptom import (
    Deferral,
    Symptom,
    Symptoms,
    laid_over,
    load_symptoms,
    symptoms_in,
)
from blendwise.records.layer.own_files import own_files
from blendwise.records.nearest import hint
from blendwise.records.place import Fault, Place, RecordError, Spot
from blendwise.records.reading.document import read_document
from blendwise.records.shipped import starter_folder

if TYPE_CHECKING:
    from blendwise.facts.situation.worked_out import Situation

FIRST_AID: Final = "lye or batter"
"""Part of the name of the deferral that is told whoever is hurt."""
ALSO_NEAR: Final = 0.12
"""Entries whose score is within this of the best are named too."""
LOOKS: Final = ("week 1", "week 2", "week 4", "week 6")
LEAST_NEAR: Final = 0.1
"""Below this nothing is called the nearest."""
AS_IT_IS: Final = 0.95
"""From this score on a page's own phrase was said, and nothing else is asked."""
LIKELY: Final = 0.75
"""From this score on a page is meant, though another question is near too."""
BEARS: Final = ("moderate", "fast", "seizes")
"""What a pour must bear to be a way out of thickening batter."""


def spot(place: Place | None) -> Spot | None:
    """Where an entry stands, as it is shown: the folder's and the file's names, and the line."""
    if place is None:
        return None
    return Spot(f"{place.file.parent.name}/{place.file.name}", place.line, place.column)


def symptoms_of(book: Path | None) -> Symptoms:
    """The package's symptoms with a book's own over them; nothing else of the book is read."""
    found = load_symptoms(starter_folder("rules"))
    for file in own_files(book) if book is not None else ():
        if file.layer == "mine" and file.kind == "symptoms":
            found = laid_over(found, symptoms_in(read_document(file.path)))
    return found


def known_symptoms(book: Path | None) -> Known:
    """Every symptom that can be asked after."""
    known = symptoms_of(book).symptoms
    return Known(
        tuple(KnownSymptom(each.symptom, each.when, tuple(each.phrases), len(each.causes)) for each in known)
    )


def why(
    asked: str,
    found: Symptoms,
    s: Situation | None = None,
    *,
    within: str = "",
    today: date | None = None,
) -> WhyResult:
    """Answer a symptom in plain words from what is ``found`` in a book, with or without a plan (``s``).

    ``within``: a portion or scent of the plan that it happened in.  RecordError where nobody knows the
    symptom (the nearest is stated) or the plan has no such portion or scent.
    """
    if is_accident(asked):
        return deferred(asked, found, FIRST_AID)
    for deferral in found.deferrals:
        word = speaks_of(asked, deferral.words, deferral.unless)
        if word:
            return WhyResult(asked, deferred=_deferred(deferral, word))
    symptom, result = _understood(asked, found)
    causes = read_causes(found, symptom, vocabulary())
    if s is None:
        return replace(result, causes=tuple(_told(_said_first(asked, weigh_all(causes, None)), symptom)))
    _known_within(s, within)
    laid = tables(s)
    weighed = _said_first(asked, weigh_all(causes, laid, within))
    facts = [clue for measure in symptom.shows for clue in shown(measure, laid, vocabulary())]
    return replace(
        result,
        causes=tuple(_told(weighed, symptom)),
        plan=s.plan.plan,
        within=within,
        facts=tuple(facts),
        pours=tuple(simpler_pours(s)) if symptom.falls_back else (),
        days=tuple(_days(s, today or s.today)) if symptom.settles else (),
        units=s.book.usual.units,
    )


def _said_first(asked: str, weighed: Sequence[Weighed]) -> list[Weighed]:
    """A cause that the maker names stands before what is likelier: "partial gel" asks after partial gel."""
    said = {stem(word) for word in words_of(asked)}
    return sorted(weighed, key=lambda each: not {stem(word) for word in words_of(each.cause.cause)} <= said)


def deferred(asked: str, found: Symptoms, about: str) -> WhyResult:
    """A question that is left to others whatever its words; ``about``: part of the name of whose it is."""
    own = next((each for each in found.deferrals if about in each.defer), found.deferrals[0])
    word = speaks_of(asked, own.words, own.unless)
    return WhyResult(asked, deferred=_deferred(own, word))


def _deferred(deferral: Deferral, word: str) -> Deferred:
    return Deferred(deferral.defer, word, deferral.answer, deferral.ask, deferral.instead or "")


def _understood(asked: str, found: Symptoms) -> tuple[Symptom, WhyResult]:
    """The nearest symptom, how near it is, and others about as near; RecordError where none is."""
    phrases = {each.symptom: each.phrases for each in found.symptoms}
    near = _by_wordings(asked, nearest_entries(asked, phrases), found)
    best = near[0]
    if best.score < NEAR_ENOUGH:
        message = f'Nobody here knows the symptom "{asked}".'
        near_at_all = best.name if best.score >= LEAST_NEAR else ""
        raise RecordError([Fault(Place(found.doc.file), message, _remedy(near_at_all))])
    also = (each.name for each in near[1:3] if each.score >= max(NEAR_ENOUGH, best.score - ALSO_NEAR))
    symptom = next(each for each in found.symptoms if each.symptom == best.name)
    understood = Understood(
        symptom.symptom,
        symptom.when,
        round(min(best.score, 1.0), 4),
        symptom.safety,
        tuple(symptom.now),
        symptom.stop,
        symptom.basis,
        spot(symptom.place),
    )
    return symptom, WhyResult(asked, symptom=understood, also_near=tuple(also))


def _by_wordings(asked: str, near: list[Near], found: Symptoms) -> list[Near]:
    """The symptoms by the wordings that ``ask`` knows too, where no page's own phrase was said as it is.

    RecordError where it is clearly another question of ours, which ``ask`` answers.
    """
    from blendwise.answers.ask.reading import nearest_symptom

    if near[0].score >= AS_IT_IS:
        return near
    name, score, other = nearest_symptom(asked, [each.name for each in near])
    if other and near[0].score < LIKELY:
        message = f'"{asked}" is a question, and no accident.'
        raise RecordError([Fault(Place(found.doc.file), message, f'Ask it: `blendwise ask "{asked}" PLAN`.')])
    first = next((each for each in near if each.name == name), None)
    if first is None:
        return near
    others = [each for each in near if each is not first]
    return [Near(name, max(first.score, NEAR_ENOUGH, score)), *others]


def _told(weighed: Sequence[Weighed], symptom: Symptom) -> Iterator[LikelyCause]:
    for each in weighed:
        cause = each.cause
        yield LikelyCause(
            cause.cause,
            each.standing,
            round(each.strength, 4),
            each.clues,
            each.missing,
            cause.because,
            cause.tell_apart,
            cause.next_time,
            cause.basis or symptom.basis,
            spot(cause.place),
        )


def _remedy(nearest: str) -> str:
    near = f'The nearest is "{nearest}".' if nearest else "Nothing known is like it."
    return (
        f'{near} Say what you see in a few plain words, such as "dark ring" or "it riced"; '
        "`blendwise why` alone lists all that is known."
    )


def _known_within(s: Situation, within: str) -> None:
    names = [*s.portions, *s.scents]
    if within and within not in names:
        file = s.plan.place.file if s.plan.place else s.book.folder
        message = f'The plan has no portion and no scent "{within}".'
        raise RecordError([Fault(Place(file), message, hint(within, names, "The plan"))])


def simpler_pours(s: Situation) -> list[SimplerPour]:
    """Pours that bear thick batter and are not the plan's own: those for the most fluid batter first."""
    pours = [
        pour
        for pour in s.book.pours.values()
        if pour.tolerates in BEARS and pour is not s.pour and not pour.thin_lines
    ]
    ordered = sorted(pours, key=lambda pour: (BATTERS.index(pour.batter), pour.minutes.low, pour.name))
    return [
        SimplerPour(pour.name, pour.batter, pour.minutes.low, pour.minutes.high, pour.how or "")
        for pour in ordered
    ]


def _days(s: Situation, today: date) -> list[Day]:
    """The looks still to come of the last batch of this plan that was poured (none where none was)."""
    from blendwise.records.notes.batches import batches_of
    from blendwise.records.notes.notebook import read_notebook

    batches, _ = batches_of(read_notebook(s.book.folder), s.book.folder, today)
    poured = [date.fromisoformat(batch.poured) for batch in batches if batch.plan == s.plan.plan]
    if not poured:
        return []
    weeks = {look: timedelta(weeks=int(look.removeprefix("week "))) for look in LOOKS}
    return [Day(look, max(poured) + after) for look, after in weeks.items() if max(poured) + after >= today]
