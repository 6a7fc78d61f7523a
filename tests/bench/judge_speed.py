"""How fast the judge is: 60 rules over 20,000 facts, beside the same by hand in NumPy, and in CLIPS.

Run it: ``python tests/bench/judge_speed.py`` (clipspy is optional; without it that part is left out).
Each figure is the best of several runs in one process.  The rules are of fifteen shapes, four of each with
its own numbers; the last five are those that sentences make (a place, months, another oil, the order, a sum
in a span).  A row is one portion, about one in seven of its facts not known, none doubted by judgement.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any

import numpy as np

from blendwise.facts.columns import YES_NO, AnyColumn, Column, Floats, SetColumn, Subject, Table, Word
from blendwise.facts.scales import MONTHS
from blendwise.judge.conditions import logic
from blendwise.judge.conditions.comparator import FLOOR, TOLERANCE
from blendwise.judge.findings.evaluate import Facts, evaluate
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.records.kinds.rule import RuleRecord

ROWS = 20_000
BANDS = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
PLACES = ("outer", "inner", "top", "bottom", "first", "last")
NUMBERS = ("lightness", "load", "cap", "left", "needed", "room", "share", "sum")
SCALES = {
    "planned": BANDS,
    "browning": BANDS,
    "skin": YES_NO,
    "place": PLACES,
    "month": MONTHS,
    "scented": YES_NO,
    "after": YES_NO,
}
FLAGS = ("skin", "scented", "after")
SETS = {"tags": ("aldehyde", "amine", "mint"), "with": ("cedar", "fixative", "litsea")}
SHAPES = 15
RULES = 60

Truths = np.ndarray[Any, np.dtype[np.int8]]


def vocabulary() -> dict[str, Word]:
    words = {name: Word(name, "portion", ("portion",), "number") for name in NUMBERS}
    for name, scale in SCALES.items():
        words[name] = Word(name, "portion", ("portion",), "flag" if name in FLAGS else "word", scale=scale)
    return words | {name: Word(name, "portion", ("portion",), "set") for name in SETS}


def conditions(number: int) -> tuple[dict[str, Any], dict[str, Any]]:
    """(when, must) of one rule: shape ``number % 15``, with its own numbers."""
    n = number // SHAPES
    shapes: list[tuple[dict[str, Any], dict[str, Any]]] = [
        ({"lightness": f"at least {60 + n}"}, {"browning": "at most planned"}),
        ({}, {"load": f"at most {60 + n}"}),
        ({"skin": "is yes"}, {"load": "at most cap"}),
        ({"room": f"below {30 + n}"}, {"left": f"at least 1.{n + 1} × needed"}),
        ({"tags": "amine"}, {"share": f"between {10 + n} and {80 - n}"}),
        ({"browning": f"at least {BANDS[n % 5 + 1]}"}, {"lightness": f"below {50 + n}"}),
        ({"load": f"above {40 + n}", "share": f"at most {70 - n}"}, {"room": f"at least {20 + n}"}),
        ({"any of": [{"skin": "is no"}, {"room": f"above {70 + n}"}]}, {"cap": f"at least {20 + n}"}),
        (
            {"needed": f"at least {30 + n}"},
            {"any of": [{"left": f"at least {50 + n}"}, {"load": f"below {30 + n}"}]},
        ),
        ({"planned": f"is {BANDS[n % 6]}"}, {"tags": "none of aldehyde"}),
        ({"tags": "amine"}, {"place": {"none of": [PLACES[n]]}}),
        ({"month": list(MONTHS[n + 2 : n + 6])}, {"sum": f"at most {40 + n}"}),
        ({"tags": "mint", "load": f"above {10 + n}"}, {"with": ["cedar", "fixative"]}),
        ({"scented": "is yes", "tags": {"none of": ["mint"]}, "room": f"below {90 - n}"}, {"after": "is no"}),
        ({"lightness": f"at least {30 + n}"}, {"sum": f"between {10 + n} and {60 - n}"}),
    ]
    return shapes[number % SHAPES]


def rules() -> list[Rule]:
    words = vocabulary()
    made = []
    for number in range(RULES):
        when, must = conditions(number)
        body = {"rule": f"r{number}", "looks at": "portion", "must": must, "else": "caution"}
        made.append(
            compile_rule(RuleRecord.model_validate(body | ({"when": when} if when else {})), words, number)
        )
    return made


def columns(rows: int = ROWS) -> dict[str, AnyColumn]:
    random = np.random.default_rng(7)

    def span(top: int) -> tuple[Floats, Floats]:
        low = np.floor(random.uniform(0, top, rows))
        unknown = random.random(rows) < 1 / 7
        return np.where(unknown, -np.inf, low), np.where(unknown, np.inf, low)

    found: dict[str, AnyColumn] = {name: Column(*span(100)) for name in NUMBERS}
    found |= {name: Column(*span(len(scale)), scale) for name, scale in SCALES.items()}
    for name, held in SETS.items():
        has = random.random((rows, len(held))) < 0.3
        found[name] = SetColumn(held, has, random.random(rows) > 1 / 7)
    return found


def as_table(found: Mapping[str, AnyColumn]) -> Table:
    rows = len(next(iter(found.values())))
    return Table("portion", [Subject("portion", (f"p{i}",)) for i in range(rows)], found.__getitem__)


def judged(asked: list[Rule], facts: Facts) -> list[Truths]:
    return [evaluate(rule, facts).outcomes for rule in asked]


# The same shapes written by hand: what one would type for these rules alone, with three values and
# tolerance, as fast as we know how: constant limits are moved once, truths are counted in bytes.


def up(limit: float) -> float:
    return limit + max(abs(limit) * TOLERANCE, FLOOR)


def down(limit: float) -> float:
    return limit - max(abs(limit) * TOLERANCE, FLOOR)


def count(surely: Any, possibly: Any) -> Truths:
    counted: Truths = np.add(surely.view(np.int8), possibly.view(np.int8))
    return counted


def most(c: Any, limit: float) -> Truths:
    return count(c.high <= up(limit), c.low <= up(limit))


def least(c: Any, limit: float) -> Truths:
    return count(c.low >= down(limit), c.high >= down(limit))


def below(c: Any, limit: float) -> Truths:
    return count(c.high < down(limit), c.low < down(limit))


def above(c: Any, limit: float) -> Truths:
    return count(c.low > up(limit), c.high > up(limit))


def equals(c: Any, limit: float) -> Truths:
    return np.minimum(most(c, limit), least(c, limit))


def most_of(c: Any, low: Floats, high: Floats) -> Truths:
    return count(c.high <= low * (1 + TOLERANCE) + FLOOR, c.low <= high * (1 + TOLERANCE) + FLOOR)


def least_of(c: Any, low: Floats, high: Floats) -> Truths:
    return count(c.low >= high * (1 - TOLERANCE) - FLOOR, c.high >= low * (1 - TOLERANCE) - FLOOR)


def has(c: Any, index: int) -> Truths:
    return count(c.has[:, index], c.has[:, index] | ~c.known)


def outcome(when: Truths, must: Truths) -> Truths:
    answer: Truths = np.minimum(np.int8(3) - must, when + np.int8(1)) * (when > 0).view(np.int8)
    settled: Truths = answer + (answer > 1).view(np.int8)  # none is tight here
    return settled


def by_hand(c: Mapping[str, Any]) -> list[Truths]:
    """The sixty rules, typed out in NumPy."""
    found = []
    least_, most_ = np.minimum, np.maximum
    always = np.full(len(c["load"]), 2, dtype=np.int8)
    for n in range(RULES // SHAPES):
        factor = 1 + (n + 1) / 10
        left, needed, planned = c["left"], c["needed"], c["planned"]
        found += [
            outcome(least(c["lightness"], 60.0 + n), most_of(c["browning"], planned.low, planned.high)),
            outcome(always, most(c["load"], 60.0 + n)),
            outcome(equals(c["skin"], 1.0), most_of(c["load"], c["cap"].low, c["cap"].high)),
            outcome(below(c["room"], 30.0 + n), least_of(left, needed.low * factor, needed.high * factor)),
            outcome(has(c["tags"], 1), least_(least(c["share"], 10.0 + n), most(c["share"], 80.0 - n))),
            outcome(least(c["browning"], n % 5 + 1.0), below(c["lightness"], 50.0 + n)),
            outcome(
                least_(above(c["load"], 40.0 + n), most(c["share"], 70.0 - n)), least(c["room"], 20.0 + n)
            ),
            outcome(most_(equals(c["skin"], 0.0), above(c["room"], 70.0 + n)), least(c["cap"], 20.0 + n)),
            outcome(least(needed, 30.0 + n), most_(least(left, 50.0 + n), below(c["load"], 30.0 + n))),
            outcome(equals(planned, float(n % 6)), np.int8(2) - has(c["tags"], 0)),
            outcome(has(c["tags"], 1), np.int8(2) - equals(c["place"], float(n))),
            outcome(least_(least(c["month"], n + 2.0), most(c["month"], n + 5.0)), most(c["sum"], 40.0 + n)),
            outcome(
                least_(has(c["tags"], 2), above(c["load"], 10.0 + n)),
                most_(has(c["with"], 0), has(c["with"], 1)),
            ),
            outcome(
                least_(
                    least_(equals(c["scented"], 1.0), np.int8(2) - has(c["tags"], 2)),
                    below(c["room"], 90.0 - n),
                ),
                equals(c["after"], 0.0),
            ),
            outcome(
                least(c["lightness"], 30.0 + n), least_(least(c["sum"], 10.0 + n), most(c["sum"], 60.0 - n))
            ),
        ]
    return found


# The same in CLIPS: a portion is a fact with both ends of every interval; each rule asserts a finding where
# it is broken (`when` surely true, `must` surely false), another where it is undecided (both possibly so).

CLIPS_TESTS: tuple[Callable[[int], str], ...] = (
    lambda n: f"(>= ?lightness-low {60 + n}) (> ?browning-low ?planned-high)",
    lambda n: f"(> ?load-low {60 + n}) TRUE",
    lambda n: "(>= ?skin-low 1) (> ?load-low ?cap-high)",
    lambda n: f"(< ?room-high {30 + n}) (< (+ ?left-high 0.000001) (* 1.{n + 1} ?needed-low))",
    lambda n: f"amine (or (< ?share-high {10 + n}) (> ?share-low {80 - n}))",
    lambda n: f"(>= ?browning-low {n % 5 + 1}) (>= ?lightness-low {50 + n})",
    lambda n: f"(> ?load-low {40 + n}) (<= ?share-high {70 - n}) (< ?room-high {20 + n})",
    lambda n: f"(or (<= ?skin-high 0) (> ?room-low {70 + n})) (< ?cap-high {20 + n})",
    lambda n: f"(>= ?needed-low {30 + n}) (< ?left-high {50 + n}) (>= ?load-low {30 + n})",
    lambda n: f"(<= ?planned-high {n % 6}) (>= ?planned-low {n % 6}) aldehyde",
    lambda n: f"amine (<= ?place-high {n}) (>= ?place-low {n})",
    lambda n: f"(>= ?month-low {n + 2}) (<= ?month-high {n + 5}) (> ?sum-low {40 + n})",
    lambda n: f"mint (> ?load-low {10 + n}) (not cedar) (not fixative)",
    lambda n: f"(>= ?scented-low 1) (not mint) (< ?room-high {90 - n}) (>= ?after-low 1)",
    lambda n: f"(>= ?lightness-low {30 + n}) (or (< ?sum-high {10 + n}) (> ?sum-low {60 - n}))",
)
"""What makes a rule surely broken, by its shape; with the ends changed about, what makes it possibly so."""


def clips_constructs() -> list[str]:
    """Two templates, and two rules for each of the sixty."""
    names = (*NUMBERS, *SCALES)
    slots = " ".join(f"(slot {name}-low) (slot {name}-high)" for name in names)
    made = [
        f"(deftemplate portion (slot row) {slots} {_sets('(multislot {0}) (slot {0}-known)')})",
        "(deftemplate finding (slot rule) (slot row) (slot status))",
    ]
    for number in range(RULES):
        surely, possibly = _clips_tests(number)
        used = [name for name in names if f"?{name}-" in surely]
        pattern = " ".join(f"({name}-low ?{name}-low) ({name}-high ?{name}-high)" for name in used)
        sets = " ".join(
            f"({name} $?{name}) ({name}-known ?{name}-known)" for name in SETS if f"?{name}" in possibly
        )
        for status, test in (
            ("broken", f"(and {surely})"),
            ("undecided", f"(and {possibly} (not (and {surely})))"),
        ):
            finding = f"(assert (finding (rule r{number}) (row ?row) (status {status})))"
            left = f"(portion (row ?row) {pattern} {sets}) (test {test})"
            made.append(f"(defrule r{number}-{status} {left} => {finding})")
    return made


def _sets(pattern: str) -> str:
    return " ".join(pattern.format(name) for name in SETS)


def _clips_tests(number: int) -> tuple[str, str]:
    """(surely broken, possibly broken) of one rule."""
    text = CLIPS_TESTS[number % SHAPES](number // SHAPES)
    surely, possibly = text, re.sub("-(low|high)", lambda end: "-high" if end[1] == "low" else "-low", text)
    for name, word in ((name, word) for name, words in SETS.items() for word in words):
        there, open_ = f"(member$ {word} ?{name})", f"(eq ?{name}-known no)"
        surely = surely.replace(f"(not {word})", f"(not (or {there} {open_}))")
        possibly = possibly.replace(f"(not {word})", f"(not {there})")
        surely = re.sub(rf"(?<![$ ]) ?\b{word}\b(?! \?)", there, surely)
        possibly = re.sub(rf"(?<![$ ]) ?\b{word}\b(?! \?)", f"(or {there} {open_})", possibly)
    return surely, possibly


def in_clips(found: Mapping[str, Any]) -> tuple[float, float, float, int]:
    """(seconds to assert without rules, with rules, to run; findings) of the same rules in CLIPS.

    CLIPS matches while it asserts, so the facts are asserted twice: what the rules add is the matching.
    """
    facts = [_clips_fact(found, row) for row in range(len(found["load"]))]
    bare, _ = _asserted(facts, clips_constructs()[:1])
    matching, environment = _asserted(facts, clips_constructs())
    start = time.process_time()
    environment.run()
    ran = time.process_time() - start
    return bare, matching, ran, sum(1 for _ in environment.find_template("finding").facts())


def _asserted(facts: list[dict[str, Any]], constructs: list[str]) -> tuple[float, Any]:
    environment = import_module("clips").Environment()
    for construct in constructs:
        environment.build(construct)
    template = environment.find_template("portion")
    start = time.process_time()
    for fact in facts:
        template.assert_fact(**fact)
    return time.process_time() - start, environment


def _clips_fact(found: Mapping[str, Any], row: int) -> dict[str, Any]:
    clips = import_module("clips")
    fact: dict[str, Any] = {"row": row}
    for name in (*NUMBERS, *SCALES):
        fact |= {f"{name}-low": float(found[name].low[row]), f"{name}-high": float(found[name].high[row])}
    for name in SETS:
        held = found[name]
        fact[name] = [clips.Symbol(w) for w, there in zip(held.words, held.has[row], strict=True) if there]
        fact[f"{name}-known"] = clips.Symbol("yes" if held.known[row] else "no")
    return fact


def best(*runs: Callable[[], object], times: int = 100) -> list[float]:
    """Seconds of processor of the best of several runs of each, in turn: a busy machine is unfair to none."""
    found = [float("inf")] * len(runs)
    for _ in range(times):
        for index, run in enumerate(runs):
            start = time.process_time()
            run()
            found[index] = min(found[index], time.process_time() - start)
    return found


def compare_with_hand() -> dict[str, float]:
    """Milliseconds of the judge and of the hand-written NumPy, after checking that both say the same."""
    found, asked = columns(), rules()
    table = as_table(found)
    for rule, mine, hand in zip(asked, judged(asked, Facts(table)), by_hand(found), strict=True):
        if not np.array_equal(mine, hand):
            raise AssertionError(f"{rule.name} differs in {int((mine != hand).sum())} rows")
    judge_s, hand_s = best(lambda: judged(asked, Facts(table)), lambda: by_hand(found))
    return {"judge ms": judge_s * 1e3, "by hand ms": hand_s * 1e3, "ratio": judge_s / hand_s}


def compare_with_clips() -> dict[str, float]:
    """Seconds in CLIPS for bringing in the facts and for reasoning, and how many times the judge's they are.

    Reasoning is what the rules add to asserting (matching) and the run (firing); the number of findings is
    checked to be the same.
    """
    found, asked = columns(), rules()
    table = as_table(found)
    findings = sum(int((outcomes >= logic.UNDECIDED).sum()) for outcomes in judged(asked, Facts(table)))
    (judge_s,) = best(lambda: judged(asked, Facts(table)))
    bare, matching, ran, clips_findings = in_clips(found)
    if clips_findings != findings:
        raise AssertionError(f"CLIPS finds {clips_findings}, the judge {findings}")
    return {
        "findings": findings,
        "CLIPS: facts in, s": bare,
        "matching, s": matching - bare,
        "firing, s": ran,
        "facts in, ×": bare / judge_s,
        "matching and firing, ×": (matching - bare + ran) / judge_s,
    }


def main() -> None:
    for name, value in compare_with_hand().items():
        print(f"{name:>22}: {value:,.3g}")
    try:
        figures = compare_with_clips()
    except ImportError:
        print("clipspy is not installed: that comparison is left out")
        return
    for name, value in figures.items():
        print(f"{name:>22}: {value:,.3g}")


if __name__ == "__main__":
    main()
