"""A split on one screen: verdict, what stands against it, what to weigh into which cup, what is open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.assign.result import AssignResult, Pour
from blendwise.quantity import Units
from blendwise.show.assign import words as split_words
from blendwise.show.blocks import Block, Line, Rows, Title
from blendwise.show.check.aside import aside_blocks
from blendwise.show.check.blocks import own_dose
from blendwise.show.check.brief import MORE, SAFETY, brief_verdict, finding_lines, unknown_lines, wrote_lines
from blendwise.show.check.drawing import drawing_blocks
from blendwise.show.check.levers import WAY_OUT, numbered, said
from blendwise.show.numbers import grams, minutes_left, minutes_short
from blendwise.show.text import joined, sentence

WAYS: Final = 3
"""Ways out that are told where nothing fits."""
NO_WAY: Final = "No single change was found in the time that makes it fit; `--more` looks longer."


def assign_brief(result: AssignResult, wrote: str | None = None) -> list[Block]:
    """The answer on the first screen; where nothing fits, what cannot all be and the first ways out."""
    check = result.check
    return [
        Title(f"{result.plan}; {MORE}", _verdict(result)),
        *(aside_blocks(check.aside) if check else ()),
        *(finding_lines(check) if check else ()),
        *_split(result),
        *_in_the_way(result),
        *(unknown_lines(check) if check else ()),
        *wrote_lines(wrote),
        Line("", SAFETY),
    ]


def _verdict(result: AssignResult) -> str:
    """What the rulebook says of the split, then whether a better one may exist."""
    if result.check is None:
        return split_words.VERDICTS[result.status]
    told = split_words.VERDICTS if result.check.sound else split_words.VERDICTS | split_words.UNSOUND
    return f"{brief_verdict(result.check)} {told[result.status]}"


def _split(result: AssignResult) -> Iterator[Block]:
    """What is mixed first, what goes where, and why a cup stays bare."""
    if not result.portions:
        return
    if result.premixes:
        mixed = [split_words.mixed(each, result.units) for each in result.premixes]
        yield Rows((), (), tuple(f"mix first: {each}" for each in mixed))
    yield _pours(result.portions, result.units)
    yield from drawing_blocks(result.check.drawn if result.check else None)
    for held in result.bare:
        yield Line("", split_words.bare(held))
    for off in result.off_blend:
        yield Line("", split_words.off_blend(off))
    for asked in result.why:
        yield Line("", sentence(split_words.why_none(asked, result.units)))
    for other in result.beside:
        yield Line("", sentence(split_words.beside(other)))
        yield Rows((), (), tuple(split_words.cup(row, result.units) for row in other.portions))
    if result.waits_on:
        facts = joined(list(dict.fromkeys(f"{each.fact} of {each.subject}" for each in result.waits_on)))
        yield Line("", f"It holds only if what nobody has written down turns out well: {facts}")


def _pours(pours: Sequence[Pour], units: Units) -> Rows:
    """What to weigh into each portion in the order of scenting, and the minutes to spare."""
    ordered = sorted(pours, key=lambda pour: (pour.order is None, pour.order or 0))
    weighed = list(dict.fromkeys(name for pour in ordered for name in (pour.premixes or pour.scents)))
    rows = tuple(_cells(pour, weighed, units) for pour in ordered)
    return Rows(
        ("portion", *weighed, "of its oils", "to spare"), rows, tuple(_line(p, units) for p in ordered)
    )


def _cells(pour: Pour, weighed: Sequence[str], units: Units) -> tuple[str, ...]:
    held = pour.premixes or pour.scents
    dose = own_dose(pour.dose, units) if pour.dose else "none"
    grams_of = (grams(held[name], units) if held.get(name) else "none" for name in weighed)
    return (pour.portion, *grams_of, dose, _spare(pour))


def _line(pour: Pour, units: Units) -> str:
    held = pour.premixes or pour.scents
    weighed = joined([f"{name} {grams(mass, units)}" for name, mass in held.items() if mass])
    dose = f" ({own_dose(pour.dose, units)} of its oils)" if weighed else ""
    return f"{pour.portion}: {weighed or 'unscented'}{dose}{_left(pour)}"


def _left(pour: Pour) -> str:
    """The minutes that a portion has to spare, or lacks."""
    if pour.slack is None:
        return ""
    if pour.slack < 0:
        return f"; {minutes_short(-pour.slack)} min too few"
    return f"; {_spare(pour)} to spare"


def _spare(pour: Pour) -> str:
    return "" if pour.slack is None else f"{minutes_left(pour.slack)} min"


def _in_the_way(result: AssignResult) -> Iterator[Block]:
    """What cannot all be, in one sentence, then the first ways out that leave nothing standing."""
    if result.conflicts:
        yield Line("", split_words.in_one_sentence(result.conflicts))
    for number, lever in numbered(result.levers)[:WAYS]:
        yield Line("", sentence(f"{WAY_OUT}{number and ' '}{number}: {said(lever, result.units)}"))
    if not result.levers and result.status == "nothing fits":
        yield Line("", NO_WAY)
