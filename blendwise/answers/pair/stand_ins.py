"""What the shelf holds that would help a blend: a little of another oil, or a calmer or cleaner stand-in.

Every candidate is judged in the blend by the same rules, all of them at once; these are hints, no credit is
given for them anywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from blendwise.answers.heaviest import CAUTION, heaviest
from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.result import Help
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blend_judge import Bench
from blendwise.answers.shelf.blends import Blends
from blendwise.facts.scales import NOTED
from blendwise.judge.conditions.logic import UNDECIDED
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.kinds.scent import Scent

A_LITTLE: Final = 0.15
"""Share of the blend at which an oil is added to hold or mend it; 5 to 20 % are common practice."""
MOST_NAMED: Final = 3


def kin(hearing: Hearing, rules: Sequence[Rule], findings: Sequence[Finding]) -> Iterator[Help]:
    """Additions that mend a caution, stand-ins where a stop or conflict is broken."""
    question = hearing.question
    broken = [finding for finding in findings if finding.status == "broken"]
    light = list(dict.fromkeys(f.rule for f in broken if f.level == "caution"))
    others = [name for name in question.book.scents if name not in question.oils]
    if not others or not (light or heaviest(broken) > CAUTION):
        return
    bench = Bench(Shelf(question, tuple(question.book.scents)), rules, hearing)
    own = [bench.shelf.place[name] for name in question.oils]
    rest = [bench.shelf.place[name] for name in others]
    if light:
        yield from _additions(question, bench, own, rest, light, max(CAUTION, heaviest(findings)))
    if heaviest(broken) > CAUTION:
        yield from _stand_ins(question, bench, own, rest)


def _additions(
    question: Question, bench: Bench, own: list[int], rest: list[int], light: Sequence[str], bearable: int
) -> Iterator[Help]:
    """Oils of which a little mends a caution and brings nothing heavier than there is."""
    index = np.array([[*own, other] for other in rest], dtype=np.intp)
    shares = np.tile([*((1 - A_LITTLE) * np.array(question.shares)), A_LITTLE], (len(rest), 1))
    asked = list(bench.asked(Blends(bench.shelf, index, shares)))
    verdicts = bench.verdicts(asked, len(rest))
    no_heavier = np.maximum(verdicts.broken, verdicts.undecided) <= bearable
    for each in (each for each in asked if each.rule.name in light):
        fit = np.flatnonzero((each.outcomes < UNDECIDED) & no_heavier)
        liked = sorted(
            (_liking(bench, own, rest[int(k)], int(verdicts.cautions[k])), rest[int(k)]) for k in fit
        )
        if liked:
            names = ", ".join(bench.shelf.names[place] for _, place in liked[:MOST_NAMED])
            yield Help("a little of", {"rule": each.rule.name, "share": A_LITTLE, "names": names})


def _liking(bench: Bench, own: list[int], place: int, cautions: int) -> tuple[bool, float, int, str]:
    """Noted as good with any of the blend first, then what brings fewest cautions, then by name."""
    noted = bench.shelf.noted_codes(np.array(own), np.full(len(own), place))
    bad = bool(noted.min() == NOTED.index("bad"))
    return bad, -float(noted.max()), cautions, bench.shelf.names[place]


def _stand_ins(question: Question, bench: Bench, own: list[int], rest: list[int]) -> Iterator[Help]:
    """For each oil: others of its kin in its place, with which nothing worse than a caution is left."""
    records = bench.shelf.base.scent_records
    swaps = [
        (k, other) for k in range(len(own)) for other in rest if _kinship(records[own[k]], records[other])
    ]
    if not swaps:
        return
    index = np.array(
        [[other if k == place else mine for k, mine in enumerate(own)] for place, other in swaps]
    )
    found = bench.judge(Blends(bench.shelf, index, np.tile(np.array(question.shares), (len(swaps), 1))))
    fit = np.maximum(found.broken, found.undecided) <= CAUTION
    for k, name in enumerate(question.oils):
        mine = records[own[k]]
        kindred = [
            records[other] for (place, other), fits in zip(swaps, fit, strict=True) if fits and place == k
        ]
        kindred.sort(key=lambda record: (-_kinship(mine, record), record.name))
        if kindred:
            told = ", ".join(f"{record.name} ({_why(mine, record)})" for record in kindred[:MOST_NAMED])
            yield Help("stand-in", {"for": name, "names": told})


def _kinship(one: Scent, other: Scent) -> int:
    """Shared tags count two each, the same scent note one; 0 is no kin."""
    return 2 * len(set(one.tags) & set(other.tags)) + int(
        one.scent_note is not None and one.scent_note == other.scent_note
    )


def _why(one: Scent, other: Scent) -> str:
    shared = sorted(set(one.tags) & set(other.tags))
    return f"also {', '.join(shared)}" if shared else f"{other.scent_note} note too"
