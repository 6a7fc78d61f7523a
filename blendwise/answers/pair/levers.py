"""What would mend a blend: the question written as a plan, and the levers of that plan's check."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from blendwise.answers.check.compute import check_situation
from blendwise.answers.levers.result import Lever
from blendwise.answers.levers.search import levers
from blendwise.answers.pair.plan import BAR, recipe_of, tint_of
from blendwise.answers.pair.question import PLAIN_MASS, Question
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import Amount, Basis, format_number
from blendwise.records.book import plan_of
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document

WAYS: Final = frozenset({"less of one", "less of all", "band", "other colour", "other oil", "leave out"})
"""What can be changed before there is a plan."""


def levers_of(question: Question, found: Sequence[Finding], rulebook: Rulebook) -> tuple[Lever, ...]:
    """The best for each stop and conflict that the blend itself brings, judged again by every rule."""
    heavy = {each.rule for each in found if each.level in ("stop", "conflict") and each.status == "broken"}
    if not heavy:
        return ()
    try:
        s = written_out(question)
    except RecordError:
        return ()
    told = levers(s, rulebook, check_situation(s, rulebook), ways=WAYS)
    return tuple(each for each in told if each.rule in heavy)


def written_out(question: Question) -> Situation:
    """The bar in question, worked out from a plan's text."""
    doc = text_document(text_of(question), Path("question.yaml"))
    book = question.book
    return work_out(plan_of(doc, book), book, question.today, believing=question.believing)


def text_of(question: Question) -> str:
    """The bar in question as the text of a plan."""
    from yaml import safe_dump

    text: str = safe_dump(_plain(question), sort_keys=False, allow_unicode=True)
    return text


def _plain(question: Question) -> dict[str, Any]:
    book = question.book
    portion: dict[str, Any] = {"name": BAR, "share": "100 %"}
    if question.colour is not None:
        tint = tint_of(book.colourants[question.colour])
        of = "portion batter" if tint.basis is Basis.PORTION_BATTER else "portion oils"
        portion["colourants"] = {question.colour: f"{format_number(100 * tint.mid, 6)} % of {of}"}
    if question.may_become is not None:
        portion["may become"] = question.may_become
    blend = {n: f"{share:.6f}" for n, share in zip(question.oils, question.shares, strict=True)}
    scents: dict[str, Any] = {"blend": blend, "load": _load(question.load)}
    if question.stabilised:
        scents["stabilised"] = list(question.stabilised)
    plain = {"plan": question.title, "for": question.purpose, "portions": [portion], "scents": scents}
    if recipe_of(book)[0] is not None:
        usual = book.docs["usual.yaml"].root.plain["recipe"]
        plain["recipe"] = {**usual, "amount": {"oils": f"{PLAIN_MASS:g} g"}}
    return plain


def _load(load: Amount) -> str:
    of = "batter" if load.basis in (Basis.BATTER, Basis.BATCH_BATTER) else "oils"
    return f"{format_number(100 * load.mid, 6)} % of batch {of}"
