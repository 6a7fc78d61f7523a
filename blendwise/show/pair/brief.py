"""A pairing on one screen: verdict, what stands against it, each oil, how much, time, colours, ways out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from blendwise.answers.check.result import CheckResult
from blendwise.answers.pair.result import Cap, ColourFit, Help, PairResult, PourFit
from blendwise.quantity import format_number
from blendwise.show.blocks import Block, Line, Title
from blendwise.show.check.aside import aside_blocks
from blendwise.show.check.brief import MORE, SAFETY, finding_lines, unknown_lines
from blendwise.show.pair import words as say
from blendwise.show.pair.bounds import cap_of, most_of, of_the_oils
from blendwise.show.pair.together import uncertified
from blendwise.show.text import joined

FEW: Final = 5
FEWER: Final = 3
"""Pours and colours named in a line; the others are counted."""
POURS: Final = (
    ("time enough", "Time enough for"),
    ("with care", "With care"),
    ("no time", "No time for"),
)
COLOURS: Final = (
    ("stays", "Colours that stay"),
    ("warms", "Colours that grow warmer"),
    ("turns", "Colours that turn to another"),
    ("lost", "Colours that are lost"),
)
WAYS: Final = 3
"""Ways out that are told."""


def pair_brief(result: PairResult) -> list[Block]:
    """The answer on the first screen; stops stand first and none is left out."""
    return [
        Title(
            f"{say.title(result)}; {MORE}",
            say.verdict(result, "comes with `--more`"),
        ),
        *aside_blocks(result.check.aside),
        *finding_lines(as_asked(result.check)),
        *(Line("", say.short_side(oil, result.units)) for oil in result.sides),
        *noted(result),
        *how_much(result),
        *pours(result.pours),
        *colours(result.colours),
        *ways(result.helps),
        *as_it_turns(result.check),
        *unknown_lines(result.check),
        Line("", SAFETY),
    ]


def as_asked(check: CheckResult) -> CheckResult:
    """The check without the advice to let it turn: who asks of white means white; `ways` tells it last."""
    return replace(check, levers=tuple(each for each in check.levers if each.way != "band"))


def as_it_turns(check: CheckResult) -> Iterator[Line]:
    """The band that could be planned instead."""
    bands = dict.fromkeys(str(each.details["band"]) for each in check.levers if each.way == "band")
    yield from (Line("", f"Or plan it as {band}, the colour it will reach") for band in bands)


def noted(result: PairResult) -> Iterator[Line]:
    """What the maker wrote down of the oils together."""
    for pair in result.together.noted:
        if pair.word != "unsaid":
            yield Line("", f"You noted as {pair.word} together: {pair.one} with {pair.other}")


def how_much(result: PairResult) -> Iterator[Line]:
    """The most at the asked ratio, and what the certificates allow of the whole."""
    together = result.together
    cap = cap_of(result)
    bound = _bound(cap, result)
    allowed = together.most_in_bar
    by_papers = f"the certificates allow {say.of_bar(allowed)}" if allowed is not None else ""
    waits = cap is not None and any(stop.waits for stop in cap.stops)
    bound += ", as far as is known" if bound and not waits and result.check.open_questions else ""
    parts = [part for part in (bound, by_papers) if part]
    if parts:
        parts += [say.NO_DOSE, *([uncertified(together)] if together.uncertified else [])]
        yield Line("", f"How much: {'; '.join(parts)}")


def _bound(cap: Cap | None, result: PairResult) -> str:
    """A bound of the load, where it is one; in white less, where it browns."""
    if cap is None or cap.most is None:
        return ""
    first = cap.stops[0] if cap.stops else None
    if first is not None and first.waits:
        return "no load is sure until what stands open above is known"
    most, _ = most_of(result)
    if first is not None and not first.load:
        return "none as asked"
    pale = first.load if first is not None and first.browning else None
    if most is None or (pale is not None and pale < most):
        pale = pale or cap.most
        most_in_the_dark = f", where it may brown up to {of_the_oils(most, result.units)}" if most else ""
        return f"up to {of_the_oils(pale, result.units)}{most_in_the_dark}"
    return f"up to {of_the_oils(min(most, cap.most), result.units)}"


def pours(fits: Sequence[PourFit]) -> Iterator[Line]:
    """Which pours have the time, which just have it, and which have not."""
    told = [
        f"{said}: {few(names, FEWER if word == 'with care' else FEW)}"
        for word, said in POURS
        if (names := [fit.pour for fit in fits if fit.word == word])
    ]
    if told:
        yield Line("", ". ".join(told))


def colours(fits: Sequence[ColourFit], every: bool = False) -> Iterator[Line]:
    """Which colours keep their name and which are lost; ``every``: and which turn to another."""
    for word, said in COLOURS if every else (COLOURS[0], COLOURS[-1]):
        names = [fit.colourant for fit in fits if fit.word == word]
        if names:
            yield Line("", f"{said}: {few(names)}")


def few(names: Sequence[str], most: int = FEW) -> str:
    """The first names, and how many more there are."""
    more = [f"{len(names) - most + 1} more"] if len(names) > most else []
    return joined([*(names[: most - 1] if more else names), *more])


def ways(helps: Sequence[Help]) -> Iterator[Line]:
    """The first ways out, in few words."""
    said = [way for way in map(_way, helps) if way]
    for way in said[:WAYS]:
        yield Line("", way)


def _but(said: Mapping[str, str | float]) -> str:
    """What speaks against the oils that may hold another: how they last themselves, and that they brown."""
    unsure, brown = said.get("unsure"), said.get("brown")
    told = [f"how long {unsure} itself lasts nobody has written down"] if unsure else []
    told += [f"{brown} may brown"] if brown else []
    return f"; but {joined(told)}" if told else ""


def _way(held: Help) -> str:
    d = held.details
    match held.kind:
        case "split" if d["sound"] == "yes":
            dark = f"{d['dark oils']} in a dark cup ({d['dark colour']})"
            return f"Try them apart: {dark}, {d['light oils']} in the white"
        case "white unscented" if d["sound"] == "yes":
            dark = f"{d['dark oils']} in a dark cup ({d['dark colour']})"
            return f"Try {dark}, and leave the white one unscented"
        case "a little of":
            part = format_number(100 * float(d["share"]))
            return f"A little of another may hold it ({part} %): {d['names']}{_but(d)}"
    return ""
