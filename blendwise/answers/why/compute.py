"""Why did this happen: a symptom in plain words, and its likely causes in the light of a plan."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.why.causes import Clue, Weighed, read_causes, shown, weigh_all
from blendwise.answers.why.nearness import NEAR_ENOUGH, nearest_entries, speaks_of
from blendwise.facts.tables import tables, vocabulary
from blendwise.quantity import METRIC, Units
from blendwise.records.book import rules_folder, starter_folder
from blendwise.records.kinds.pour import BATTERS, PourStyle
from blendwise.records.kinds.symptom import SYMPTOMS_FILE, Deferral, Symptom, Symptoms, load_symptoms
from blendwise.records.nearest import hint
from blendwise.records.place import Fault, Place, RecordError, Spot

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.why import documents as doc
    from blendwise.facts.situation.worked_out import Situation

ALSO_NEAR: Final = 0.12
"""Entries whose score is within this of the best are named too."""
LOOKS: Final = ("week 1", "week 2", "week 4", "week 6")
LEAST_NEAR: Final = 0.1
"""Below this nothing is called the nearest."""
BEARS: Final = ("moderate", "fast", "seizes")
"""What a pour must bear to be a way out of thickening batter."""


@dataclass(frozen=True, slots=True)
class Day:
    """A look at a batch, and the day on which it falls."""

    look: str
    on: date


@dataclass(frozen=True, slots=True)
class Known:
    """The symptoms that are known, by the moment at which they are met."""

    symptoms: tuple[Symptom, ...]

    def to_json(self) -> doc.SymptomsDoc:
        """The published document of ``blendwise why --json`` without a symptom."""
        from blendwise.answers.why.published import known_doc

        return known_doc(self)

    def to_frame(self) -> pd.DataFrame:
        """A row a symptom: its name, its moment, how makers say it, and how many causes it has."""
        from blendwise.answers.why.published import known_frame

        return known_frame(self)


@dataclass(frozen=True, slots=True)
class WhyResult:
    """What was understood, what to do, and the causes; or whom to ask instead (``deferred``).

    ``asked``: the words as typed; ``word``: the one that deferred it; ``within``: the portion or scent named.
    """

    asked: str
    symptom: Symptom | None = None
    nearness: float = 1.0
    causes: tuple[Weighed, ...] = ()
    plan: str = ""
    within: str = ""
    facts: tuple[Clue, ...] = ()
    pours: tuple[PourStyle, ...] = ()
    days: tuple[Day, ...] = ()
    also_near: tuple[str, ...] = ()
    deferred: Deferral | None = None
    word: str = ""
    units: Units = METRIC

    def to_json(self) -> doc.WhyDoc:
        """The published document of ``blendwise why --json``."""
        from blendwise.answers.why.published import why_doc

        return why_doc(self)

    def to_frame(self) -> pd.DataFrame:
        """A row a cause, in the order of likelihood."""
        from blendwise.answers.why.published import why_frame

        return why_frame(self)


def spot(place: Place | None) -> Spot | None:
    """Where an entry stands, as it is shown: the folder's and the file's names, and the line."""
    if place is None:
        return None
    return Spot(f"{place.file.parent.name}/{place.file.name}", place.line, place.column)


def symptoms_of(book: Path | None) -> Symptoms:
    """The symptoms of a book's folder (its own file, else the shipped one); nothing else of it is read."""
    own = rules_folder(book) if book is not None else starter_folder("rules")
    return load_symptoms(own if (own / SYMPTOMS_FILE).is_file() else starter_folder("rules"))


def known_symptoms(book: Path | None) -> Known:
    """Every symptom that can be asked after."""
    return Known(symptoms_of(book).symptoms)


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
    for deferral in found.deferrals:
        word = speaks_of(asked, deferral.words, deferral.unless)
        if word:
            return WhyResult(asked, deferred=deferral, word=word)
    result = _understood(asked, found)
    assert result.symptom is not None
    causes = read_causes(found, result.symptom, vocabulary())
    if s is None:
        return replace(result, causes=tuple(weigh_all(causes, None)))
    _known_within(s, within)
    laid = tables(s)
    weighed = weigh_all(causes, laid, within)
    facts = [clue for measure in result.symptom.shows for clue in shown(measure, laid, vocabulary())]
    return replace(
        result,
        causes=tuple(weighed),
        plan=s.plan.plan,
        within=within,
        facts=tuple(facts),
        pours=tuple(simpler_pours(s)) if result.symptom.falls_back else (),
        days=tuple(_days(s, today or s.today)) if result.symptom.settles else (),
        units=s.book.usual.units,
    )


def _understood(asked: str, found: Symptoms) -> WhyResult:
    """The nearest symptom, how near it is, and others about as near; RecordError where none is."""
    near = nearest_entries(asked, {each.symptom: each.phrases for each in found.symptoms})
    best = near[0]
    if best.score < NEAR_ENOUGH:
        message = f'Nobody here knows the symptom "{asked}".'
        near_at_all = best.name if best.score >= LEAST_NEAR else ""
        raise RecordError([Fault(Place(found.doc.file), message, _remedy(near_at_all))])
    also = (each.name for each in near[1:3] if each.score >= max(NEAR_ENOUGH, best.score - ALSO_NEAR))
    symptom = next(each for each in found.symptoms if each.symptom == best.name)
    return WhyResult(asked, symptom, min(best.score, 1.0), also_near=tuple(also))


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


def simpler_pours(s: Situation) -> list[PourStyle]:
    """Pours that bear thick batter and are not the plan's own: those for the most fluid batter first."""
    pours = [
        pour
        for pour in s.book.pours.values()
        if pour.tolerates in BEARS and pour.name != s.plan.pour and not pour.thin_lines
    ]
    return sorted(pours, key=lambda pour: (BATTERS.index(pour.batter), pour.minutes.low, pour.name))


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
