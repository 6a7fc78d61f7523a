"""The sentences made from findings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blendwise.judge.findings.finding import Finding
from blendwise.show import words
from tests.show.examples import BROWNS, CHECK, CLEAN, OVER_LIMIT, VANILLIN, WAITS, WAITS_TOO


def test_a_worded_finding_names_value_and_limit() -> None:
    """A band past its limit reads with both bands and what set the limit."""
    assert "milk: browning band tan, at most ivory (planned band)" == words.headline(BROWNS)


def test_a_value_just_over_its_limit_reads_so() -> None:
    """Per cent on its basis, with enough digits to differ from the limit."""
    assert "batch: scent in the bar 5.00004 % of finished bar, at most 5 %" == words.headline(OVER_LIMIT)


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({"value": None, "low": 0.06, "high": float("inf")}, "6 % of finished bar or more, at most 5 %"),
        ({"value": None, "low": 0.04, "high": 0.06}, "4 to 6 % of finished bar, at most 5 %"),
        ({"value": None, "low": None, "high": None}, "not known, at most 5 %"),
        (
            {"relation": "between", "limit": 0.01, "limit_high": 0.02},
            "5 % of finished bar, must be between 1 % and 2 %",
        ),
        ({"limit_measure": "load", "limit_factor": 1.5}, "at most 5 % (1.5 × load)"),
        (
            {"measure": "for skin", "value": "no", "relation": "is", "limit": None, "words": ("yes",)},
            "not sold for use on skin",
        ),
        (
            {"value": "amine", "relation": "none of", "limit": None, "words": ("amine", "aldehyde")},
            "amine, must be none of amine or aldehyde",
        ),
    ],
)
def test_ranges_bounds_and_words_read_as_what_they_are(changes: dict[str, object], text: str) -> None:
    """A range, an open bound, a pair of limits, a factor and a yes/no each have their own wording."""
    assert text in words.headline(replace(OVER_LIMIT, **changes))  # type: ignore[arg-type]


def test_a_missing_fact_says_how_many_rules_wait() -> None:
    """One fact, one headline, whatever number of rules waits on it."""
    assert "vetiver: vanillin not known; two rules wait on it" == words.not_known(VANILLIN, 2)
    assert words.not_known(VANILLIN, 1).endswith("one rule waits on it")


def test_what_waits_is_named_with_level_and_subject() -> None:
    """Each waiting rule stands with its level, once."""
    assert "browning-shows-in-light (conflict): milk; ring (caution): sage." == words.waiting(
        [WAITS, WAITS_TOO]
    )


def test_a_missing_fact_under_a_conflict_says_what_it_counts_as() -> None:
    """A conflict that waits counts as one; a caution that waits says nothing of the kind."""
    assert "counts as a conflict" in words.how_to_know(VANILLIN, "conflict")
    assert "counts as" not in words.how_to_know(VANILLIN, "caution")


@pytest.mark.parametrize(
    ("findings", "text"),
    [
        ((), "Nothing in the rulebook speaks against this plan."),
        ((BROWNS,), "Not as it stands: one conflict."),
        ((WAITS,), "Not as it stands: something not known that a conflict hangs on."),
        ((OVER_LIMIT, BROWNS, BROWNS), "Do not pour: one stop and two conflicts."),
        ((WAITS_TOO,), "Nothing in the rulebook speaks against this plan; some facts are not known."),
        ((replace(BROWNS, level="hint"),), "Nothing worse than a caution: one hint."),
    ],
)
def test_the_verdict_is_one_sentence_that_fits_the_exit_code(
    findings: tuple[Finding, ...], text: str
) -> None:
    """A sound plan never reads as broken, nor a broken one as sound."""
    result = replace(CHECK, findings=findings)
    assert text == words.verdict(result)
    against = ("Not as it stands", "Do not pour", "Not for sale")
    assert result.sound != words.verdict(result).startswith(against)


def test_the_foot_counts_what_was_set_aside() -> None:
    """Nothing is silent: rules switched off and findings accepted are counted."""
    assert "41 rules asked, one finding accepted by you, one rule switched off." == words.footing(CHECK)
    assert "no findings accepted" in words.footing(CLEAN)


def test_the_source_names_rule_basis_evidence_and_places() -> None:
    """Whose word it is and where to look, in one sentence."""
    text = words.source(BROWNS)
    for part in ("browning-shows-in-light", "common practice", "the supplier", "plans/column.yaml:12"):
        assert part in text


def test_every_measure_has_a_plain_name() -> None:
    """What may stand in a short answer names no bands, guards or steps."""
    from blendwise.facts.tables import vocabulary
    from blendwise.show.flag_words import PLAIN, plain_name
    from tests.show.test_brief import JARGON

    assert [name for name in vocabulary() if JARGON.search(plain_name(name))] == []
    assert [name for name in PLAIN if name not in vocabulary()] == []
