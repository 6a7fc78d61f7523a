"""Answers to symptoms as their published documents and as frames."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blendwise.answers.shapes import finite, head, missing_docs, place_doc
from blendwise.answers.why import documents as doc
from blendwise.answers.why.compute import spot

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.why.causes import Clue, Weighed
    from blendwise.answers.why.compute import Known, WhyResult
    from blendwise.records.kinds.pour import PourStyle
    from blendwise.records.kinds.symptom import Deferral, Symptom


def why_doc(result: WhyResult) -> doc.WhyDoc:
    """The answer, or the deferral, as the published document."""
    return {
        **head(doc.WHY_SCHEMA),
        "asked": result.asked,
        "plan": result.plan,
        "within": result.within,
        "deferred": _deferral_doc(result.deferred, result.word) if result.deferred else None,
        "symptom": _symptom_doc(result.symptom, result.nearness) if result.symptom else None,
        "causes": [_cause_doc(each, result.symptom) for each in result.causes],
        "facts": [_clue_doc(clue) for clue in result.facts],
        "pours": [_pour_doc(pour) for pour in result.pours],
        "days": [{"look": day.look, "on": day.on.isoformat()} for day in result.days],
        "also_near": list(result.also_near),
    }


def _symptom_doc(symptom: Symptom, nearness: float) -> doc.SymptomDoc:
    return {
        "symptom": symptom.symptom,
        "when": symptom.when,
        "nearness": round(nearness, 4),
        "safety": symptom.safety,
        "now": list(symptom.now),
        "stop": symptom.stop,
        "basis": symptom.basis,
        "where": place_doc(spot(symptom.place)),
    }


def _deferral_doc(deferral: Deferral, word: str) -> doc.DeferralDoc:
    return {
        "about": deferral.defer,
        "word": word,
        "answer": deferral.answer,
        "ask": deferral.ask,
        "instead": deferral.instead or "",
    }


def _cause_doc(weighed: Weighed, symptom: Symptom | None) -> doc.CauseDoc:
    cause = weighed.cause
    return {
        "cause": cause.cause,
        "standing": weighed.standing,
        "strength": round(weighed.strength, 4),
        "clues": [_clue_doc(clue) for clue in weighed.clues],
        "missing": missing_docs(weighed.missing),
        "because": cause.because,
        "tell_apart": cause.tell_apart,
        "next_time": cause.next_time,
        "basis": cause.basis or (symptom.basis if symptom else ""),
        "where": place_doc(spot(cause.place)),
    }


def _clue_doc(clue: Clue) -> doc.ClueDoc:
    return {
        "subject": clue.subject,
        "measure": clue.measure,
        "low": finite(clue.low),
        "high": finite(clue.high),
        "unit": clue.unit,
        "asked": clue.asked,
        "side": clue.side,
    }


def _pour_doc(pour: PourStyle) -> doc.PourDoc:
    return {
        "pour": pour.name,
        "batter": pour.batter,
        "minutes_low": pour.minutes.low,
        "minutes_high": pour.minutes.high,
        "how": pour.how or "",
    }


def known_doc(known: Known) -> doc.SymptomsDoc:
    """All symptoms as the published document."""
    rows: list[doc.KnownDoc] = [
        {
            "symptom": each.symptom,
            "when": each.when,
            "phrases": list(each.phrases),
            "causes": len(each.causes),
        }
        for each in known.symptoms
    ]
    return {**head(doc.SYMPTOMS_SCHEMA), "symptoms": rows}


def why_frame(result: WhyResult) -> pd.DataFrame:
    """A row a cause: its standing, the facts for or against it, how to tell, what to change."""
    import pandas as pd

    columns = ["cause", "standing", "strength", "facts", "missing", "because", "tell_apart", "next_time"]
    rows = [{**_cause_doc(each, result.symptom), **_flat(each)} for each in result.causes]
    return pd.DataFrame(rows, columns=columns)


def _flat(weighed: Weighed) -> dict[str, str]:
    facts = (f"{clue.subject}: {clue.measure} {clue.asked}" for clue in weighed.clues)
    missing = (f"{each.subject}: {each.fact}" for each in weighed.missing)
    return {"facts": "; ".join(facts), "missing": "; ".join(missing)}


def known_frame(known: Known) -> pd.DataFrame:
    """A row a symptom."""
    import pandas as pd

    rows = [(each.symptom, each.when, ", ".join(each.phrases), len(each.causes)) for each in known.symptoms]
    return pd.DataFrame(rows, columns=["symptom", "when", "phrases", "causes"])
