"""An assignment in blocks: what to mix, what goes where, what stops more, the runner-up, and the advice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.assign.result import AssignResult, Pour
from blendwise.quantity import Units
from blendwise.show import words
from blendwise.show.assign import words as split_words
from blendwise.show.assumed import all_said
from blendwise.show.blocks import Block, Note, Raw, Rows, Section, Title
from blendwise.show.check.blocks import advice_blocks, assumed_blocks, own_dose
from blendwise.show.check.levers import numbered, said
from blendwise.show.numbers import grams
from blendwise.show.text import command, sentence


def assign_blocks(result: AssignResult, wrote: str | None = None) -> list[Block]:
    """The whole answer; where nothing fits, what stands in the way and what would help; the file written."""
    found = bool(result.portions)
    return [
        Title(f"{result.plan} ({result.file})", split_words.verdict(result)),
        *(_split(result) if found else ()),
        *_in_the_way(result),
        *assumed_blocks([split_words.scale(result), *all_said(result.assumptions, result.units)]),
        *_advice(result),
        *([Note(words.WROTE.format(file=wrote)), Raw((command("check", wrote),))] if wrote else []),
        Note(words.CAUTIONS),
    ]


def _split(result: AssignResult) -> Iterator[Block]:
    mixed = [split_words.premix(each, result.units) for each in result.premixes]
    yield from _lines(split_words.PREMIXES, mixed)
    yield Section(split_words.PORTIONS)
    yield _pours(result.portions, result.units)
    yield from (Note(sentence(split_words.bare(each))) for each in result.bare)
    yield from (Note(sentence(split_words.off_blend(each))) for each in result.off_blend)
    yield from (Note(sentence(split_words.why_none(each, result.units))) for each in result.why)
    for other in result.beside:
        yield from _lines(
            split_words.BESIDE,
            [
                sentence(split_words.beside(other)),
                *(split_words.cup(p, result.units) for p in other.portions),
            ],
        )
    if result.waits_on:
        yield Note(split_words.best_if(result.waits_on))
    if result.pot is not None:
        yield Note(split_words.pot(result.pot))
    yield from _lines(split_words.TIGHT, [split_words.tight(each, result.units) for each in result.tight])
    if result.cost is not None:
        yield from _lines(split_words.COST, split_words.cost(result.cost, result.units))
    if result.runner_up:
        lines = [split_words.pour(each, result.units) for each in result.runner_up]
        costs = [result.runner_up_costs] if result.runner_up_costs else []
        yield from _lines(split_words.RUNNER_UP, [*costs, *lines])


def _pours(pours: Sequence[Pour], units: Units) -> Rows:
    ordered = sorted(pours, key=lambda pour: (pour.order is None, pour.order or 0))
    weighed = list(dict.fromkeys(name for pour in ordered for name in (pour.premixes or pour.scents)))
    rows = tuple(_cells(pour, weighed, units) for pour in ordered)
    lines = tuple(split_words.pour(pour, units) for pour in ordered)
    return Rows(("portion", *weighed, "of its oils"), rows, lines)


def _cells(pour: Pour, weighed: Sequence[str], units: Units) -> tuple[str, ...]:
    held = pour.premixes or pour.scents
    dose = own_dose(pour.dose, units) if pour.dose else "none"
    return (pour.portion, *(grams(held[name], units) if held.get(name) else "none" for name in weighed), dose)


def _in_the_way(result: AssignResult) -> Iterator[Block]:
    if result.conflicts:
        yield Note(split_words.in_one_sentence(result.conflicts))
    yield from _lines(split_words.CONFLICTS, [split_words.conflict(each) for each in result.conflicts])
    if split_words.CONFLICTS_KIND[result.conflicts_kind]:
        yield Note(split_words.CONFLICTS_KIND[result.conflicts_kind])
    ways = [
        f"{number and f'{number}. '}{sentence(said(each, result.units))}"
        for number, each in numbered(result.levers)
    ]
    yield from _lines(split_words.WAYS_OUT, ways)


def _advice(result: AssignResult) -> Iterator[Block]:
    if result.check is not None:
        yield Section(split_words.ADVICE)
        yield from advice_blocks(result.check, levers=result.check.levers)


def _lines(heading: str, lines: Sequence[str]) -> Iterator[Block]:
    if lines:
        yield Section(heading)
        yield Rows((), (), tuple(lines))
