"""Which of the maker's colours survive the blend: every colourant in a portion of its own."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from blendwise.answers.answer import Range
from blendwise.answers.pair.plan import Cup, situation
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.result import ColourFit, ColourWord
from blendwise.answers.pair.sides import column, ends
from blendwise.facts.columns import Column
from blendwise.facts.measures.colour import finite_load
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.appearance import appearance, cured_lab
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import table
from blendwise.judge.findings.finding import Finding
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule
from blendwise.science.colour import hex_from_lab
from blendwise.science.colour_words import colour_words

UNSEEN: Final = 3.0
"""CIEDE2000 up to which nobody sees a change in a bar: judgement, a little above the just noticeable 2.3."""
SAME_NAME: Final = 10.0
"""CIEDE2000 up to which a colour warms but keeps its name: judgement, as for the contrast of portions."""
LOST: Final = 25.0
"""CIEDE2000 from which nothing is left of the planned colour: judgement, white to tan."""
ORDER: Final[tuple[ColourWord, ...]] = ("stays", "warms", "turns", "lost", "not known")


def colours(question: Question, rules: Sequence[Rule]) -> tuple[ColourFit, ...]:
    """Every colourant at its noted rate with the blend at its load, those that stay first."""
    names = list(question.book.colourants)
    if not names:
        return ()
    s = situation(question, [Cup(name, colour=name) for name in names])
    said = _rules_by_portion(s, rules)
    planned = appearance(s).planned
    load = column(s, "browning load")
    best, worst = (cured_lab(s, finite_load(end)) for end in (load.low, load.high))
    shift = column(s, "colour shift")
    words = [colour_words(lab) for lab in (planned, best, worst)]
    fits = [
        ColourFit(
            name,
            float(s.split.colour[:, p].sum() / s.split.oils[p]),
            hex_from_lab(planned[p]),
            words[0][p],
            (hex_from_lab(best[p]), hex_from_lab(worst[p])),
            (words[1][p], words[2][p]),
            _shift(shift, p, known=bool(np.isfinite(load.high[p]))),
            _word(float(shift.low[p]), float(shift.high[p]), words[0][p] == words[2][p]),
            tuple(note for f in said.get(name, ()) if (note := _besides(f.measure))),
            tuple(f.rule for f in said.get(name, ())),
        )
        for p, name in enumerate(names)
    ]
    return tuple(sorted(fits, key=lambda fit: (ORDER.index(fit.word), fit.shift.high or 0.0)))


def _shift(shift: Column, row: int, *, known: bool) -> Range:
    """Both ends of a difference; the upper one is open where the browning is not known."""
    found = ends(shift, row)
    return found if known else Range(found.low, None)


def _rules_by_portion(s: Situation, rules: Sequence[Rule]) -> dict[str, list[Finding]]:
    asked = [r for r in rules if r.looks_at == "portion" and any(map(_cares_for, r.must.measures))]
    found: dict[str, list[Finding]] = {}
    for finding in judge(asked, {"portion": table(s, "portion")}):
        if finding.status == "broken":
            found.setdefault(finding.subject[0], []).append(finding)
    return found


def _besides(measure: str) -> str:
    """What is said of a colourant, whatever the scent, where a rule finds the measure broken."""
    return REGISTRY[measure].use.besides if measure in REGISTRY else ""


def _cares_for(measure: str) -> bool:
    return measure == "browning band" or bool(_besides(measure))


def _word(low: float, high: float, same_name: bool) -> ColourWord:
    """What becomes of a colour by the worse end of what is known; not known where the ends lie far apart."""
    words = [_by(value, same_name) for value in (low, high)]
    return words[1] if abs(ORDER.index(words[0]) - ORDER.index(words[1])) < 2 else "not known"


def _by(shift: float, same_name: bool) -> ColourWord:
    if shift <= UNSEEN:
        return "stays"
    if shift <= SAME_NAME or (same_name and shift <= LOST):
        return "warms"
    return "turns" if shift <= LOST else "lost"
