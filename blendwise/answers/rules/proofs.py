"""A rule's own cases, asked: the rows typed beside it, and the one made at exactly its limit."""

from __future__ import annotations

from blendwise.answers.rules.result import Proof, said
from blendwise.judge.rulebook.compile import Rule


def proofs_of(rule: Rule) -> tuple[Proof, ...]:
    """Every case of a rule with its outcome; none where a row cannot be read (``rules lint`` says why)."""
    from blendwise.facts.tables import vocabulary
    from blendwise.judge.conditions.limits import ConditionError
    from blendwise.judge.rulebook.selftest import cases_of, run

    try:
        results = [run(case) for case in cases_of(rule, vocabulary())]
    except ConditionError:
        return ()
    typed = [said(row) for row in (*rule.record.hits, *rule.record.misses)]
    made = [""] * (len(results) - len(typed))
    return tuple(
        Proof(result.case.kind, facts, result.outcome)
        for result, facts in zip(results, [*typed, *made], strict=True)
    )
