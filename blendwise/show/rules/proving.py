"""A rule's cases on one screen: what it has, what is proposed, and how to keep it."""

from __future__ import annotations

from blendwise.answers.rules.result import Proof
from blendwise.answers.rules.taught import Proven
from blendwise.show.blocks import Block, Line, Title
from blendwise.show.rules.blocks import CASE
from blendwise.show.text import joined, quoted, sentence

HAS = "It has its cases, and answers them as below"
NONE = "Here is how it can be proved"
LACKS = "Its lines suggest no {}: write one by hand, or none; your own rules count without."
KEEP = "Not kept yet: add `--yes`, and they are written into {}."
KEPT = "Kept in {}."
OUTCOMES = {
    "broken": "it speaks",
    "holds": "it is silent",
    "not asked": "it is not asked",
    "undecided": "it cannot tell",
}


def proven_blocks(result: Proven) -> list[Block]:
    """The cases that there are, those that are proposed, and what to do."""
    blocks: list[Block] = [
        Title(f"Cases of {quoted(result.rule)}.", sentence(NONE if result.proposed else HAS))
    ]
    blocks += [Line(CASE[each.kind], _case(each)) for each in (*result.cases, *result.proposed)]
    if result.lacks:
        blocks.append(Line("", LACKS.format(joined(list(result.lacks), "or"))))
    if result.proposed and result.mine:
        blocks.append(Line("", (KEPT if result.written else KEEP).format(result.where.file)))
    return blocks


def _case(proof: Proof) -> str:
    outcome = OUTCOMES.get(proof.outcome, proof.outcome)
    return sentence(f"{proof.facts}: {outcome}" if proof.facts else outcome)
