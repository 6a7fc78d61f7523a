"""Acceptances: one rule, one subject, so far and no further."""

from __future__ import annotations

from typing import Any

import pytest

from blendwise.facts.columns import Table
from blendwise.judge.findings.acceptance import Accepted, apply_acceptances
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.kinds.plan import Accept
from tests.judge.words import INF, VOCABULARY, rule, table


def accept(**fields: Any) -> Accept:
    body = {"rule": "a-rule", "for": "a", "because": "I mean it."} | {
        k.replace("_", " "): v for k, v in fields.items()
    }
    return Accept.model_validate(body)


def after(accepts: list[Accept], asked: Rule, facts: Table) -> Accepted:
    findings = judge([asked], {asked.looks_at: facts})
    return apply_acceptances(findings, accepts, {asked.name: asked}, VOCABULARY)


THIN = rule(looks_at="edge", must={"contrast": "at least 8"})
LOAD = rule(must={"scent load": "at most 4 %"})
BROWN = rule(must={"browning band": "at most cream"})


@pytest.mark.parametrize(("value", "status"), [(6.0, "accepted"), (7.5, "accepted"), (5.9, "broken")])
def test_down_to_and_no_further(value: float, status: str) -> None:
    """Within what is accepted the finding is accepted; beyond it the finding is back."""
    found = after([accept(**{"for": "a and a1"}, down_to="6")], THIN, table("edge", contrast=[value]))
    assert [status] == [finding.status for finding in found.findings]
    assert [status == "broken"] == [bool(found.unused)]


@pytest.mark.parametrize(
    ("band", "status"), [("beige", "accepted"), ("tan", "accepted"), ("brown", "broken")]
)
def test_words_of_a_scale(band: str, status: str) -> None:
    """``up to tan`` counts by the order of the words."""
    assert after([accept(up_to="tan")], BROWN, table(browning_band=[band])).findings[0].status == status


def test_accepted_keeps_its_reason_and_number() -> None:
    """An accepted finding stays visible with value, limit and the maker's reason."""
    found = after([accept(up_to="5 %")], LOAD, table(scent_load=[0.05])).findings[0]
    assert ("accepted", 0.05, 0.04, "I mean it.") == (
        found.status,
        found.value,
        found.limit,
        found.accepted_because,
    )


@pytest.mark.parametrize("name", ["a and a1", "a1 and a", "A1  and a"])
def test_an_edge_has_no_order(name: str) -> None:
    """The two portions of an edge may be named in either order."""
    found = after([accept(**{"for": name}, down_to="6")], THIN, table("edge", contrast=[7.0]))
    assert found.findings[0].status == "accepted"


def test_the_batch_may_be_called_so() -> None:
    """A finding on the batch may be accepted for "the batch"."""
    big = rule(looks_at="batch", must={"batch oils": "at most 1000 g"})
    found = after([accept(**{"for": "the batch"}, up_to="1200 g")], big, table("batch", batch_oils=[1100]))
    assert found.findings[0].status == "accepted"


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"for": "b", "up_to": "5 %"}, 'finds nothing amiss with "b"'),
        ({"rule": "a-rul", "up_to": "5 %"}, 'There is no rule "a-rul". The rulebook has "a-rule"'),
        ({"down_to": "5 %"}, "say `up to:`"),
        ({}, "does not say how far: add `up to:`"),
        ({"up_to": "5 g"}, "is a mass"),
        ({"up_to": "4.5 %"}, "gone beyond the 4.5 %"),
    ],
)
def test_what_accepts_nothing_is_reported(fields: dict[str, str], why: str) -> None:
    """An acceptance without effect is told with the reason, and the finding stays."""
    found = after([accept(**fields)], LOAD, table(scent_load=[0.05]))
    assert [why in unused.why for unused in found.unused] == [True]
    assert [finding.status for finding in found.findings] == ["broken"]


@pytest.mark.parametrize("locked", [{"else_": "stop"}, {"protects": "limits"}])
def test_nothing_locked_is_accepted(locked: dict[str, str]) -> None:
    """A stop, or a rule that protects something, cannot be accepted."""
    found = after(
        [accept(up_to="5 %")], rule(must={"scent load": "at most 4 %"}, **locked), table(scent_load=[0.05])
    )
    assert ["broken"] == [finding.status for finding in found.findings]
    assert "cannot be accepted away" in found.unused[0].why


@pytest.mark.parametrize(
    ("cell", "status"), [(None, "undecided"), ((0.03, INF), "undecided"), ((0.03, 0.05), "accepted")]
)
def test_what_is_not_known_is_not_accepted(cell: Any, status: str) -> None:
    """An undecided finding is accepted only where its worst is known to lie within."""
    assert after([accept(up_to="5 %")], LOAD, table(scent_load=[cell])).findings[0].status == status


def test_one_acceptance_covers_one_number() -> None:
    """Where the same rule is broken on a second measure, accepting the first does not hide it."""
    both = rule(must={"scent load": "at most 4 %", "room": "at least 20 °C"})
    found = after([accept(up_to="9 %")], both, table(scent_load=[0.08], room=[19]))
    assert ("broken", True) == (found.findings[0].status, "room" in found.unused[0].why)


def test_a_premise_is_not_accepted() -> None:
    """Where it is not known whether the rule applies, there is no number of its demand to accept."""
    asked = rule(when={"room": "at least 20 °C"}, must={"scent load": "at most 4 %"})
    found = after([accept(down_to="15 °C")], asked, table(room=[(18, 25)], scent_load=[0.05]))
    assert ("undecided", True) == (found.findings[0].status, "applies" in found.unused[0].why)


def test_an_undecided_second_number_is_not_hidden() -> None:
    """Accepting the known worst of one number leaves another that is not known undecided."""
    both = rule(must={"scent load": "at most 4 %", "room": "at least 20 °C"})
    found = after([accept(up_to="9 %")], both, table(scent_load=[(0.03, 0.05)], room=[None]))
    assert ("undecided", True) == (found.findings[0].status, "room" in found.unused[0].why)


def test_yes_and_no_take_no_number() -> None:
    """Where there is no more or less, the acceptance is without a number."""
    skin = rule(must={"for skin": "is yes"})
    facts = table(for_skin=["no"])
    assert after([accept()], skin, facts).findings[0].status == "accepted"
    assert "leave the number out" in after([accept(up_to="yes")], skin, facts).unused[0].why
