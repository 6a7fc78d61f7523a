"""The scorer counts what it says it counts."""

from __future__ import annotations

import json
from pathlib import Path

from tests.answers.ask.score import Score, read_lines, report

LINES = (
    {"said": "gel or no gel", "number": 21, "book": "beginner", "plan": "first"},
    {"said": "i got lye in my eye", "number": "hurt", "book": "ten-years", "plan": None},
    {"said": "what is the capital of norway", "number": 0, "book": "ten-years", "plan": None},
    {
        **{"said": "how strong can i go with Clove Bud Attic at 0.5 oz per pound", "number": 6},
        **{"book": "ten-years", "plan": None, "oils": ["Clove Bud Attic"], "amount": "0.5 oz ppo"},
    },
)


def test_what_is_understood_is_counted(tmp_path: Path) -> None:
    """Question, health, another subject, the oil and its amount, each in its own count."""
    file = tmp_path / "lines.jsonl"
    file.write_text("\n".join(json.dumps(each) for each in LINES), "utf-8")
    scores = read_lines(file)
    assert [(True, ())] * 4 == [(each.first, each.misread) for each in scores]
    assert "right first: 3 of 3 (100.0 %)" in list(report(scores))
    assert "off the subject, declined: 1 of 1 (100.0 %)" in list(report(scores))


def test_what_is_answered_without_a_doubt_and_was_not_meant_is_certain_and_wrong() -> None:
    """A doubt that is told takes the certainty away."""
    wrong = Score("x", 21, (18,), "answered", sure=True)
    told = Score("x", 21, (18, 21), "answered", sure=False)
    assert (True, False) == (wrong.certain_and_wrong, told.certain_and_wrong)
    assert (False, True) == (wrong.among, told.among)


def test_a_fault_is_listed() -> None:
    """What was missed stands below the counts in its own words."""
    told = "\n".join(report([Score("keep it cool?", 21, (18, 19), "answered", sure=True)]))
    assert "CERTAIN 21 read as 18, 19 (answered): keep it cool?" in told
