"""What the shelf holds that would help a blend: a little of another oil, or a calmer or cleaner stand-in.

Every candidate is judged in the blend by the same rules, all of them at once; these are hints, no credit is
given for them anywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from blendwise.answers.blend_judge import Bench
from blendwise.answers.blends import Blends
from blendwise.answers.pair_question import Question
from blendwise.answers.pair_results import Help
from blendwise.answers.shelf_bar import Shelf
from blendwise.facts.columns import Bools, Floats
from blendwise.facts.scales import NOTED
from blendwise.judge.compile import Rule
from blendwise.judge.finding import LEVELS, Finding
from blendwise.judge.logic import UNDECIDED
from blendwise.records.scent import Scent

A_LITTLE: Final = 0.15
"""Share of the blend at which an oil is added to hold or mend it; 5 to 20 % are common practice."""
MOST_NAMED: Final = 3
CAUTION: Final = LEVELS.index("caution")


def kin(question: Question, rules: Sequence[Rule], findings: Sequence[Finding]) -> Iterator[Help]:
    """Additions that mend a caution, stand-ins where a stop or conflict is broken."""
    broken = [finding for finding in findings if finding.status == "broken"]
    light = list(dict.fromkeys(f.rule for f in broken if f.level == "caution"))
    heavy = [f for f in broken if LEVELS.index(f.level) > CAUTION]
    if len(question.book.scents) <= len(question.oils) or not (light or heavy):
        return
    bench = Bench(Shelf(question, tuple(question.book.scents)), rules)
    if light:
        yield from _additions(question, bench, light)
    if heavy:
        yield from _stand_ins(question, bench)


def _places(bench: Bench, names: Sequence[str]) -> list[int]:
    return [bench.shelf.place[name] for name in names]


def _others(question: Question, bench: Bench) -> list[int]:
    return [place for name, place in bench.shelf.place.items() if name not in question.oils]


def _additions(question: Question, bench: Bench, light: Sequence[str]) -> Iterator[Help]:
    """Oils of which a little mends a caution and brings nothing heavy."""
    others = _others(question, bench)
    own = _places(bench, question.oils)
    index = np.array([[*own, other] for other in others], dtype=np.intp)
    shares = np.tile([*((1 - A_LITTLE) * np.array(question.shares)), A_LITTLE], (len(others), 1))
    blends = Blends(bench.shelf, index, shares)
    alone = _own_verdict(question, bench, own)
    verdicts = bench.judge(blends)
    no_heavier = np.maximum(verdicts.broken, verdicts.undecided) <= max(CAUTION, alone)
    mends = {a.rule.name: a.outcomes < UNDECIDED for a in bench.asked(blends) if a.rule.name in light}
    for rule, mended in mends.items():
        fit = mended & no_heavier
        if fit.any():
            liked = [
                (_liking(question, bench, others[int(row)], int(verdicts.cautions[row])), others[int(row)])
                for row in np.flatnonzero(fit)
            ]
            names = [bench.shelf.names[place] for _, place in sorted(liked)[:MOST_NAMED]]
            yield Help("a little of", {"rule": rule, "share": A_LITTLE, "names": ", ".join(names)})


def _own_verdict(question: Question, bench: Bench, own: Sequence[int]) -> int:
    alone = bench.judge(Blends(bench.shelf, np.array([own]), np.array([question.shares])))
    return int(max(alone.broken[0], alone.undecided[0]))


def _liking(question: Question, bench: Bench, place: int, cautions: int) -> tuple[bool, float, int, str]:
    """Noted as good with any of the blend first, then what brings fewest cautions, then by name."""
    own = np.array(_places(bench, question.oils), dtype=np.intp)
    noted = bench.shelf.noted_codes(own, np.full(len(own), place, dtype=np.intp))
    bad = bool(noted.min() == NOTED.index("bad"))
    return bad, -float(noted.max()), cautions, bench.shelf.names[place]


def _stand_ins(question: Question, bench: Bench) -> Iterator[Help]:
    """For each oil: others of its kin in its place, with which nothing worse than a caution is left."""
    own = _places(bench, question.oils)
    records = bench.shelf.base.scent_records
    for position, name in enumerate(question.oils):
        kindred = [o for o in _others(question, bench) if _kinship(records[own[position]], records[o])]
        if not kindred:
            continue
        index = np.tile(np.array(own, dtype=np.intp), (len(kindred), 1))
        index[:, position] = kindred
        fit = _fits(bench, index, np.tile(np.array(question.shares), (len(kindred), 1)))
        best = sorted(
            (kindred[int(row)] for row in np.flatnonzero(fit)),
            key=lambda place: (-_kinship(records[own[position]], records[place]), bench.shelf.names[place]),
        )
        if best:
            told = [
                f"{bench.shelf.names[p]} ({_why(records[own[position]], records[p])})"
                for p in best[:MOST_NAMED]
            ]
            yield Help("stand-in", {"for": name, "names": ", ".join(told)})


def _fits(bench: Bench, index: np.ndarray, shares: Floats) -> Bools:
    found = bench.judge(Blends(bench.shelf, index, shares))
    return np.asarray(np.maximum(found.broken, found.undecided) <= CAUTION)


def _kinship(one: Scent, other: Scent) -> int:
    """Shared tags count two each, the same scent note one; 0 is no kin."""
    return 2 * len(set(one.tags) & set(other.tags)) + int(
        one.scent_note is not None and one.scent_note == other.scent_note
    )


def _why(one: Scent, other: Scent) -> str:
    shared = sorted(set(one.tags) & set(other.tags))
    return f"also {', '.join(shared)}" if shared else f"{other.scent_note} note too"
