"""A test cup on one screen: what is weighed, what goes into which cup, when to look, how it is noted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from blendwise.answers.cup.result import CupResult, TestCup
from blendwise.show.blocks import Block, Line, Note, Raw, Rows, Section, Title
from blendwise.show.check.brief import MORE, SAFETY, finding_lines
from blendwise.show.cup import words
from blendwise.show.pages.render import grams as to_step
from blendwise.show.text import sentence
from blendwise.show.words import TAGS


def cup_blocks(result: CupResult, more: bool = False) -> list[Block]:
    """The answer; ``more``: with what to do minute by minute."""
    return list(_blocks(result, more))


def _blocks(result: CupResult, more: bool) -> Iterator[Block]:
    told = words.title(result)
    yield Title(told if more or result.refused else f"{told}; {MORE}", words.verdict(result))
    skin = words.looking_only(result)
    if result.refused:
        yield from finding_lines(replace(result.check, findings=result.check.stops("harm")))
        yield Line("", SAFETY)
        return
    yield from finding_lines(result.besides_skin)
    if skin:
        yield Line(TAGS["caution"], skin)
    yield Line("", f"Weigh: {words.pot(result)}; {words.superfat(result)}")
    yield _cups(result)
    if result.coarse:
        yield Line(TAGS["caution"], words.coarse(result))
    if more:
        yield from _steps(result)
    yield Line("", words.looks(result))
    yield from _noting(result)
    if more:
        yield Note(words.OF_THE_CUP)
    yield Line("", SAFETY)


def _cups(result: CupResult) -> Rows:
    oils = list(dict.fromkeys(each.what for cup in result.cups for each in cup.scents))
    lots = any(each.lot for cup in result.cups for each in cup.scents)
    dyes = list(dict.fromkeys(dye.weighed.what for dye in result.cups[0].dyes))
    header = (
        "cup",
        "batter",
        *dyes,
        *oils,
        "drops",
        "of its oils",
        *(("lot",) if lots else ()),
        "thick in",
        "browns to",
    )
    rows = tuple(_cells(cup, oils, dyes, lots, result) for cup in result.cups)
    return Rows(header, rows, tuple(_line(cup, result) for cup in result.cups))


def _cells(cup: TestCup, oils: list[str], dyes: list[str], lots: bool, result: CupResult) -> tuple[str, ...]:
    held = {each.what: to_step(each.grams, each.step, result.units) for each in cup.scents}
    tint = {dye.weighed.what: to_step(dye.weighed.grams, dye.weighed.step, result.units) for dye in cup.dyes}
    lot = (", ".join(each.lot or "?" for each in cup.scents),) if lots else ()
    return (
        cup.name,
        to_step(cup.batter.grams, cup.batter.step, result.units),
        *(tint.get(name, "none") for name in dyes),
        *(held.get(name, "none") for name in oils),
        words.drops(cup),
        words.dose(cup, result.units),
        *lot,
        words.thick(cup),
        words.band(cup),
    )


def _line(cup: TestCup, result: CupResult) -> str:
    weighed = [
        f"{each.what} {to_step(each.grams, each.step, result.units)}"
        + (f" (lot {each.lot})" if each.lot else "")
        for each in cup.scents
    ]
    weighed += [
        f"{dye.weighed.what} {to_step(dye.weighed.grams, dye.weighed.step, result.units)}" for dye in cup.dyes
    ]
    scent = f" ({words.dose(cup, result.units)} of its oils, {words.drops(cup)} drops)" if cup.scents else ""
    batter = to_step(cup.batter.grams, cup.batter.step, result.units)
    told = f"{cup.name}: {batter} batter, {', '.join(weighed) or 'nothing else'}{scent}"
    return sentence(f"{told}; thick in {words.thick(cup)}, browns to {words.band(cup)}")


def _steps(result: CupResult) -> Iterator[Block]:
    yield Section(words.WHAT_TO_DO)
    yield Rows((), (), tuple(f"{when}: {what}" for when, what in words.steps(result)))
    yield Note(words.DROPS)


def _noting(result: CupResult) -> Iterator[Block]:
    if result.kept is None:
        told = "Print it with `--page cup.html`, or keep it with `--keep`; then note what you see"
        yield Line("", told)
    else:
        yield Line("", f"Kept in {result.kept}. Note what you see")
    yield Raw((words.note_command(result),))
