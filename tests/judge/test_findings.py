"""What a finding says: the measure named, its value and limit, the missing facts, the order."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from blendwise.facts.columns import Column, Missing, Subject, Table
from blendwise.judge.findings.finding import Finding
from blendwise.judge.findings.findings import judge, waiting
from blendwise.records.place import Spot
from tests.judge.words import INF, rule, table


def only(findings: list[Finding]) -> Finding:
    (finding,) = findings
    return finding


def test_a_broken_rule_says_by_how_much() -> None:
    """Value, relation and limit are data in the measure's unit, with the subject and both places."""
    found = only(
        judge([rule(must={"scent load": "at most 4 %"})], {"portion": table(scent_load=[0.04, 0.052])})
    )
    assert ("broken", "b", Spot("plan", 2)) == (found.status, found.subject_text, found.where.plan)
    assert (0.052, "at most", 0.04) == (found.value, found.relation, found.limit)
    assert ("% of portion oils", "", ()) == (found.unit, found.limit_measure, found.missing)


def test_words_stay_words() -> None:
    """A band is told by its word, and so is the limit that comes from another measure."""
    facts = table(browning_band=["brown"], planned_band=["cream"])
    found = only(judge([rule(must={"browning band": "at most planned band"})], {"portion": facts}))
    assert ("brown", "cream", "planned band") == (found.value, found.limit, found.limit_measure)


def test_a_factor_is_counted_in_the_limit() -> None:
    """The limit is the number that was compared, factor included."""
    facts = table(minutes_left=[11], minutes_needed=[10])
    found = only(judge([rule(must={"minutes left": "at least 1.2 x minutes needed"})], {"portion": facts}))
    assert (12.0, 1.2, "minutes needed") == (found.limit, found.limit_factor, found.limit_measure)


def test_between_has_two_limits_and_sets_their_words() -> None:
    """Both ends of ``between`` are there; of a set, the words it has and those that were meant."""
    facts = table(minutes_left=[25], tags=[["mint", "amine"]])
    late = only(judge([rule(must={"minutes left": "between 10 and 20 min"})], {"portion": facts}))
    assert (10.0, 20.0) == (late.limit, late.limit_high)
    tagged = only(judge([rule(must={"tags": "none of amine or aldehyde"})], {"portion": facts}))
    assert ("amine, mint", ("amine", "aldehyde")) == (tagged.value, tagged.words)


def test_partly_known_gives_its_interval() -> None:
    """Of a value that is only partly known the finding gives what is certain, and no invented number."""
    found = only(
        judge([rule(must={"scent load": "at most 4 %"})], {"portion": table(scent_load=[(0.05, INF)])})
    )
    assert ("broken", None, 0.05, None) == (found.status, found.value, found.low, found.high)


def test_the_worst_line_is_named_and_the_others_with_it() -> None:
    """One finding a rule and subject: the line furthest past its limit; the others by name."""
    says = {"scent load": "at most 4 %", "minutes left": "at least 10 min", "room": "at least 5 °C"}
    facts = table(scent_load=[0.05], minutes_left=[1], room=[20])
    found = only(judge([rule(must=says)], {"portion": facts}))
    assert ("minutes left", ("scent load",)) == (found.measure, found.also)


def test_of_a_failed_choice_the_nearest_is_named() -> None:
    """Where none of ``any of`` holds, the branch that is nearest to holding is the one worth telling."""
    says = {"any of": [{"scent load": "at most 1 %"}, {"minutes left": "at least 10 min"}]}
    found = only(judge([rule(must=says)], {"portion": table(scent_load=[0.05], minutes_left=[9])}))
    assert ("minutes left", ()) == (found.measure, found.also)


def test_undecided_names_only_what_could_change_it() -> None:
    """A missing fact behind a settled line is not asked for."""
    says = {
        "any of": [
            {"tags": "amine", "room": "at least 20 °C"},
            {"superfat": "at least 0 %", "for skin": "yes"},
        ]
    }
    facts = table(
        tags=[["x"]], room=[None], superfat=[None], for_skin=["yes"], minutes_left=[None], portion_mass=[None]
    )
    asked = rule(when={"any of": [{"for skin": "yes"}, {"portion mass": "at least 9 g"}]}, must=says)
    found = only(judge([asked], {"portion": facts}))
    assert ("undecided", (Missing("row 0", "superfat"),)) == (found.status, found.missing)
    assert ("superfat", None) == (found.measure, found.value)


def test_a_settled_choice_asks_for_nothing() -> None:
    """Where one branch of ``any of`` holds, what is missing in another branch is not asked for."""
    says = {"room": "at least 20 °C", "any of": [{"for skin": "yes"}, {"superfat": "at least 0 %"}]}
    facts = table(room=[None], for_skin=["yes"], superfat=[None])
    assert (Missing("row 0", "room"),) == only(judge([rule(must=says)], {"portion": facts})).missing


def test_a_known_side_is_not_missing() -> None:
    """A column that names the facts behind a closed interval is not asked for them."""
    gap = {0: (Missing("vetiver", "vanillin"),)}
    cap = Column(np.array([0.04]), np.array([0.04]), missing=gap)
    load = Column(np.array([0.0]), np.array([INF]), missing={0: (Missing("lime", "vanillin"),)})
    facts = Table(
        "portion", [Subject("portion", ("milk",))], {"load cap": cap, "scent load": load}.__getitem__
    )
    found = only(judge([rule(must={"scent load": "at most load cap"})], {"portion": facts}))
    assert (Missing("lime", "vanillin"),) == found.missing


def test_undecided_in_when_asks_for_the_premise() -> None:
    """Where ``must`` is broken but ``when`` not known, only the premise is asked for."""
    asked = rule(when={"planned lightness": "at least 70"}, must={"scent load": "at most 4 %"})
    found = only(judge([asked], {"portion": table(planned_lightness=[None], scent_load=[0.05])}))
    assert ("undecided", (Missing("row 0", "planned lightness"),)) == (found.status, found.missing)


def test_facts_are_grouped_by_who_waits() -> None:
    """A missing fact is told once, with all the rules that wait on it."""
    rules = [rule(rule=name, must={"room": f"at least {n} °C"}) for name, n in (("one", 20), ("two", 30))]
    assert {Missing("row 0", "room"): ["one", "two"]} == waiting(
        judge(rules, {"portion": table(room=[None])})
    )


def test_order_is_level_then_rule_then_row() -> None:
    """Stops come first; within a level the order of the rulebook, then that of the plan."""
    levels = ["hint", "stop", "caution", "stop"]
    rules = [
        replace(rule(rule=f"r{i}", else_=level, must={"room": "at least 20 °C"}), order=i)
        for i, level in enumerate(levels)
    ]
    found = judge(rules, {"portion": table(room=[19, None])})
    assert [("r1", "a"), ("r1", "b"), ("r3", "a"), ("r3", "b")] == [
        (f.rule, f.subject_text) for f in found[:4]
    ]
    assert ["r2", "r2", "r0", "r0"] == [f.rule for f in found[4:]]


def test_pairs_are_asked_both_ways_round() -> None:
    """An amine with an aldehyde is found whichever of the two is ``one``; two amines are not."""
    asked = rule(looks_at="pair", when={"one tags": "amine"}, must={"other tags": "none of aldehyde"})
    facts = table(
        "pair", one_tags=[["amine"], ["aldehyde"], ["amine"]], other_tags=[["aldehyde"], ["amine"], ["amine"]]
    )
    found = judge([asked], {"pair": facts})
    assert [("a with a1 in a2", "other tags"), ("b with b1 in b2", "one tags")] == [
        (f.subject_text, f.measure) for f in found
    ]


def test_the_worse_of_two_orders_counts() -> None:
    """What is undecided one way and broken the other is broken; broken is not hidden by not asked."""
    asked = rule(
        looks_at="edge", when={"one lightness": "at least 70"}, must={"other lightness": "at most 50"}
    )
    facts = table("edge", one_lightness=[80, 60, 80], other_lightness=[75, 80, None])
    assert ["broken", "broken", "undecided"] == [f.status for f in judge([asked], {"edge": facts})]


def test_a_grain_without_a_table_is_not_asked() -> None:
    """A plan without pairs has no findings on pairs."""
    asked = rule(looks_at="pair", must={"one tags": "none of amine"})
    assert [] == judge([asked], {"portion": table(room=[1])})
