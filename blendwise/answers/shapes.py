"""Results as their published documents and as frames."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from blendwise.answers import documents as doc
from blendwise.records.place import Spot
from blendwise.version import __version__

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.assign.parts import Cost, PotScented
    from blendwise.answers.results import (
        AssignResult,
        CheckResult,
        Conflict,
        Fact,
        Label,
        LabelLine,
        PortionGrams,
        Pour,
        Premix,
        Remedy,
        Tight,
    )
    from blendwise.facts.columns import Missing
    from blendwise.judge.findings.finding import Finding


def head(schema: str) -> doc.HeadDoc:
    """The first two keys of every document."""
    return {"schema": schema, "blendwise": __version__}


def finite(value: float | str | None) -> float | str | None:
    """A value fit for JSON: infinite and undefined numbers become None."""
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def place_doc(place: Spot | None) -> doc.PlaceDoc | None:
    """A place as a document, None where there is none."""
    return None if place is None else {"file": place.file, "line": place.line}


def missing_docs(missing: Iterable[Missing]) -> list[doc.MissingDoc]:
    """Missing facts as documents."""
    return [{"subject": each.subject, "fact": each.fact} for each in missing]


def finding_doc(finding: Finding) -> doc.FindingDoc:
    """A finding as the published document."""
    return {
        "rule": finding.rule,
        "level": finding.level,
        "status": finding.status,
        "looks_at": finding.looks_at,
        "subject": list(finding.subject),
        "measure": finding.measure,
        "value": finite(finding.value),
        "low": finite(finding.low),
        "high": finite(finding.high),
        "relation": finding.relation,
        "limit": finite(finding.limit),
        "limit_high": finite(finding.limit_high),
        "limit_measure": finding.limit_measure,
        "limit_factor": finding.limit_factor,
        "words": list(finding.words),
        "unit": finding.unit,
        "also": list(finding.also),
        "missing": missing_docs(finding.missing),
        "because": finding.because,
        "try": finding.try_,
        "basis": finding.basis,
        "evidence": finding.evidence,
        "accepted_because": finding.accepted_because,
        "where": {"plan": place_doc(finding.where.plan), "rule": place_doc(finding.where.rule)},
    }


def check_doc(result: CheckResult) -> doc.CheckDoc:
    """The published document of a check."""
    return {**head(doc.CHECK_SCHEMA), **check_body(result)}


def check_body(result: CheckResult) -> doc.CheckBody:
    """The document without its head, as it also stands inside an assignment."""
    return {
        "plan": result.plan,
        "file": result.file,
        "purpose": result.purpose,
        "today": result.today.isoformat(),
        "sound": result.sound,
        "counts": _counts(result),
        "findings": [finding_doc(finding) for finding in result.findings],
        "unused_acceptances": [
            {
                "rule": each.rule,
                "subject": each.subject,
                "why": each.why,
                "where": place_doc(each.place),
            }
            for each in result.unused_acceptances
        ],
        "assumptions": list(result.assumptions),
        "grams": [_grams_doc(row) for row in result.grams],
        "working": [_fact_doc(fact) for fact in result.working],
        "label": None if result.label is None else _label_doc(result.label),
    }


def _label_doc(label: Label) -> doc.LabelDoc:
    return {
        "on": label.on.isoformat(),
        "due": [_label_line_doc(line) for line in label.due],
        "later": [_label_line_doc(line) for line in label.later],
        "not_known": list(label.not_known),
    }


def _label_line_doc(line: LabelLine) -> doc.LabelLineDoc:
    return {
        "name": line.name,
        "entry": line.entry,
        "share": line.share,
        "carriers": list(line.carriers),
        "due": line.due,
        "placed_from": line.placed_from.isoformat() if line.placed_from else None,
        "on_sale_from": line.on_sale_from.isoformat() if line.on_sale_from else None,
    }


def _counts(result: CheckResult) -> doc.CountsDoc:
    return {
        "rules": result.rules,
        "rules_off": result.rules_off,
        "accepted": result.accepted,
        "broken": result.count("broken"),
        "undecided": result.count("undecided"),
    }


def assign_doc(result: AssignResult) -> doc.AssignDoc:
    """The published document of an assignment (not how long it took: same answer, same bytes)."""
    return {
        **head(doc.ASSIGN_SCHEMA),
        "plan": result.plan,
        "file": result.file,
        "status": result.status,
        "scale_step": result.scale_step,
        "scale_step_stated": result.scale_step_stated,
        "premixes": [_premix_doc(premix) for premix in result.premixes],
        "portions": [_pour_doc(pour) for pour in result.portions],
        "tight": [_tight_doc(tight) for tight in result.tight],
        "runner_up": [_pour_doc(pour) for pour in result.runner_up],
        "runner_up_costs": result.runner_up_costs,
        "conflicts": [_conflict_doc(conflict) for conflict in result.conflicts],
        "conflicts_kind": result.conflicts_kind,
        "remedies": [_remedy_doc(remedy) for remedy in result.remedies],
        "waits_on": [
            {"subject": each.subject, "fact": each.fact, "rules": list(each.rules)}
            for each in result.waits_on
        ],
        "cost": None if result.cost is None else _cost_doc(result.cost),
        "pot": None if result.pot is None else _pot_doc(result.pot),
        "assumptions": list(result.assumptions),
        "check": None if result.check is None else check_body(result.check),
    }


def _cost_doc(cost: Cost) -> doc.CostDoc:
    return {
        "batch": cost.batch,
        "per_bar": cost.per_bar,
        "currency": cost.currency,
        "not_known": list(cost.not_known),
        "short": dict(cost.short),
    }


def _pot_doc(pot: PotScented) -> doc.PotDoc:
    return {
        "saves": pot.saves,
        "fluid_until": pot.fluid_until,
        "instead_of": pot.instead_of,
        "needed": pot.needed,
        "fits": pot.fits,
    }


def _grams_doc(row: PortionGrams) -> doc.PortionGramsDoc:
    return {"portion": row.portion, "oils": row.oils, "batter": row.batter, "scents": dict(row.scents)}


def _fact_doc(fact: Fact) -> doc.FactDoc:
    return {
        "grain": fact.grain,
        "subject": fact.subject,
        "measure": fact.measure,
        "low": finite(fact.low),
        "high": finite(fact.high),
        "unit": fact.unit,
        "basis": fact.basis,
        "evidence": fact.evidence,
        "missing": missing_docs(fact.missing),
        "formula": fact.formula,
        "source": fact.source,
        "theme": fact.theme,
    }


def _premix_doc(premix: Premix) -> doc.PremixDoc:
    return {
        "name": premix.name,
        "grams": premix.grams,
        "scents": dict(premix.scents),
        "error": premix.error,
    }


def _pour_doc(pour: Pour) -> doc.PourDoc:
    return {
        "portion": pour.portion,
        "premixes": dict(pour.premixes),
        "scents": dict(pour.scents),
        "grams": pour.grams,
        "dose": pour.dose,
        "order": pour.order,
        "fluid_until": _range_doc(pour.fluid_until),
        "slack": None if pour.slack is None or not math.isfinite(pour.slack) else pour.slack,
    }


def _range_doc(span: tuple[float, float] | None) -> doc.RangeDoc | None:
    if span is None:
        return None
    return {"low": span[0], "high": span[1] if math.isfinite(span[1]) else None}


def _tight_doc(tight: Tight) -> doc.TightDoc:
    return {
        "portion": tight.portion,
        "premix": tight.premix,
        "takes": tight.takes,
        "at": tight.at,
        "kind": tight.kind,
        "rule": tight.rule,
        "subject": tight.subject,
        "wants": tight.wants,
        "gain": tight.gain,
        "gain_in": tight.gain_in,
        "where": place_doc(tight.place),
    }


def _conflict_doc(conflict: Conflict) -> doc.ConflictDoc:
    return {
        "kind": conflict.kind,
        "name": conflict.name,
        "subject": conflict.subject,
        "wants": conflict.wants,
        "where": place_doc(conflict.place),
    }


def _remedy_doc(remedy: Remedy) -> doc.RemedyDoc:
    return {
        "kind": remedy.kind,
        "details": dict(remedy.details),
        "sound": remedy.sound,
        "plan": remedy.plan_text,
    }


def findings_frame(result: CheckResult) -> pd.DataFrame:
    """A row a finding: the columns of its document, places as text."""
    return _frame([_flat(finding_doc(finding)) for finding in result.findings], list(_FINDING_COLUMNS))


def split_frame(result: AssignResult) -> pd.DataFrame:
    """A row a portion: its totals, then grams of each scent."""
    scents = list(dict.fromkeys(name for pour in result.portions for name in pour.scents))
    rows = [
        {"portion": pour.portion, "grams": pour.grams, "dose": pour.dose, "slack": pour.slack}
        | {name: pour.scents.get(name, 0.0) for name in scents}
        for pour in result.portions
    ]
    return _frame(rows, ["portion", "grams", "dose", "slack", *scents])


_FINDING_COLUMNS = (
    *(key for key in doc.FindingDoc.__annotations__ if key != "where"),
    "plan_line",
    "rule_line",
)


def _flat(finding: doc.FindingDoc) -> dict[str, object]:
    row: dict[str, object] = {**finding}
    for key in ("subject", "words", "also"):
        row[key] = ", ".join(finding[key])
    row["missing"] = "; ".join(f"{each['subject']}: {each['fact']}" for each in finding["missing"])
    row["plan_line"], row["rule_line"] = _spot(finding["where"]["plan"]), _spot(finding["where"]["rule"])
    del row["where"]
    return row


def _spot(place: doc.PlaceDoc | None) -> str:
    return f"{place['file']}:{place['line']}" if place else ""


def _frame(rows: list[dict[str, object]], columns: list[str]) -> pd.DataFrame:
    import pandas as pd

    return pd.DataFrame(rows, columns=columns)
