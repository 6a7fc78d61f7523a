"""Levers in words: one sentence each, its figures as the book writes them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from blendwise.answers.levers.result import Lever, Mended, Step
from blendwise.answers.small_amounts import Small
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import METRIC, Units, format_number
from blendwise.show.numbers import amount, grams
from blendwise.show.text import joined, sentence

TAG: Final = "Try"
MOST_WAYS: Final = 2
WAY_OUT: Final = "Way out"
SAME: Final = "a change told for another of these mends this too"
ONLY_ONE: Final = " (mends {subject} alone)"
SOUND: Final = "; then nothing worse than a caution is left"
THIN: Final = ", but only {thin} that you mean goes into the bar"

SAYS: Final[Mapping[str, str]] = {
    "weigh together": "weigh {scents} together as one mix, and divide that",
    "more premixes": "divide the blend into up to {number} mixes: write `premixes: {number}`",
    "apart": "weigh every oil by itself instead of in mixes",
    "finer scale": "weigh on a scale with steps of {step}",
    "pot once": "scent the whole pot once, with {grams} of {scent}, before it is split: {error} off at most",
    "keep a mix": (
        "weigh {grams} of a mix of {scents} to keep, and {take} of it into {portion}: {error} off at most"
    ),
    "solution": (
        "stir {grams} of {scent} into {carrier} of {oil}, and weigh {take} of that into {portion}: "
        "{error} off at most"
    ),
    "weigh finer": "weigh it on a scale with steps of {step}: {error} off at most",
    "more hands": "have a second pair of hands at the pour: write `hands: 2` under `process`",
    "held back": "hold back {share} of the {oil} you mean to, and leave the rest in the pot",
    "held back none": "hold no oil back ({oil})",
    "superfat": "let the lye be worked out for {superfat} superfat",
    "order": "scent in this order: {order}",
    "temperature": "split the batter at {temperature} instead of {before}",
    "gel": "{gel}",
    "water": "use {concentration} lye instead of {before}",
    "dose open": "leave your own dose of {scent} in {portion} open, so that it is found",
    "doses open": "leave all your own doses open, so that they are found",
    "dose out": "take your own dose of {scent} out of {portion}",
    "spread": "keep {scent} out of {portion}; the other cups take it up",
    "spread same dose": "keep {scent} out of {portion}",
    "move": "put all the {scent} of {portion} into {to}, which then holds {grams}",
    "less here": "put {grams} of {scent} into {portion} instead of {before}",
    "less here share": "put {share} of the {scent} into {portion}; the other cups take the rest",
    "less here share alone": "put {share} of the {scent} that you mean to into {portion}",
    "less colour": "use {rate} of {colour} in {portion} instead of {before}",
    "less additive": "take {grams} of {additive} instead of {before}",
    "less additive none": "leave the {additive} out of the batter",
    "less mixed in": "mix {share} of the oil into {portion} that you mean to",
    "less mixed in none": "mix no oil into {portion}",
    "other rate": "use {rate} of {colour} in {portion} instead of {before}",
    "same dose": "dose every scented cup alike: write `dosing: same dose in each scented portion`",
    "less of one": "make {scent} {share} of the blend instead of {before}",
    "less of all": "lower the load to {load} from {before}",
    "embed unscented": "leave the embeds unscented",
    "band": "let {portion} turn {band}: write `may become: {band}`",
    "other colour": "colour {portion} with {by} instead of {colour}",
    "other pour": "pour it as {pour}",
    "other oil": "use {by} instead of {scent}",
    "bare": "leave {portion} unscented",
    "leave out": "leave {scent} out of this bar",
    "paper": "ask the supplier for the paper",
    "cup": "pour a test cup (`blendwise cup`) and note what you see",
}
"""Way → its sentence; the names in braces are keys of ``Lever.details``, ``before`` is its ``instead of``."""
GEL: Final = {
    "avoid": "keep it from gelling",
    "leave": "leave it to gel or not",
    "force": "force the gel",
}
WEIGHED: Final = ("pot once", "keep a mix", "solution", "weigh finer")
"""Ways to weigh the same dose: nothing that a plan holds."""
UNITS: Final = {
    "superfat": "%",
    "temperature": "°C",
    "concentration": "%",
    "grams": "g",
    "rate": "% of portion oils",
    "share": "%",
    "load": "% of batch oils",
}


def said(lever: Lever, units: Units = METRIC) -> str:
    """The change as a maker would be told it, and whether the plan is sound after it."""
    steps = (Step(lever.way, lever.details), *lever.together)
    told = "; and ".join(_said(step, units) for step in steps) + (SOUND if lever.sound else "")
    thin = (f"{format_number(100 * share, 2)} % of the {scent}" for scent, share in lever.thin.items())
    return told + (THIN.format(thin=joined([*thin])) if lever.thin else "")


def numbered(levers: Sequence[Lever]) -> list[tuple[str, Lever]]:
    """Each with the number by which `--lever` writes it; "" where it is nothing that a plan holds."""
    written = [each for each in levers if each.plan]
    return [(str(written.index(each) + 1) if each.plan else "", each) for each in levers]


def _said(step: Step, units: Units) -> str:
    told = {name: _told(name, value, step, units) for name, value in step.details.items()}
    told["before"] = told.pop("instead of", "")
    return SAYS[_form(step)].format_map(told)


def _form(step: Step) -> str:
    """Which of a way's sentences: its own, that for none, or that for a share of several doses."""
    details, way = step.details, step.way
    if way == "spread" and details["same dose"]:
        return "spread same dose"
    if way == "less here" and "share" in details:
        return "less here share" if details["taken up"] else "less here share alone"
    none = details.get("share") == 0 or details.get("grams") == 0
    return f"{way} none" if none and f"{way} none" in SAYS else way


def _told(name: str, value: str | float, step: Step, units: Units) -> str:
    if isinstance(value, str):
        return GEL.get(value, value) if name == "gel" else joined(value.split(", "))
    if name == "instead of":
        name = next(each for each in UNITS if each in step.details)
    if name in ("number", "hands"):
        return format_number(value)
    if name in ("grams", "step", "take", "carrier"):
        return grams(value, units)
    if name == "error":
        return f"{format_number(100 * value, 2)} %"
    if name == "share":
        return f"{format_number(100 * value, 2 if step.way != 'less of one' else 3)} %"
    return amount(value, UNITS[name], units)


def small_amount(small: Small, units: Units) -> str:
    """What the scale cannot weigh well, by how much it may be off, and the first two ways."""
    told = [
        SAYS[way.way].format_map(
            {
                name: _told(name, value, Step(way.way, way.details), units)
                for name, value in {**way.details, "error": way.error}.items()
            }
        )
        for way in small.ways[:MOST_WAYS]
    ]
    head = (
        f"{grams(small.grams, units)} of {small.what} in {small.into} is little for steps of "
        f"{grams(small.step, units)}: up to {format_number(100 * small.error, 2)} % off"
    )
    return sentence("; or ".join([head, *told]).replace("; or ", ": ", 1) if told else head)


def for_group(levers: Iterable[Lever], group: Sequence[Finding]) -> list[Lever]:
    """The levers that are told for the findings of one rule."""
    return [each for each in levers if (each.rule, each.version) == (group[0].rule, group[0].version)]


def mended_above(levers: Iterable[Lever], group: Sequence[Finding]) -> bool:
    """Whether a lever that is told for another rule mends all of these as well."""
    gone = {each for lever in levers for each in lever.mends}
    return {*map(Mended.by, group)} <= gone


def lines(levers: Sequence[Lever], group: Sequence[Finding], units: Units) -> list[tuple[str, str]]:
    """What is told below the findings of one rule, under its number where it can be written: its levers,
    or that one above mends them."""
    mine = for_group(levers, group)
    if not mine:
        return [(TAG, SAME)] if mended_above(levers, group) else []
    written = [each for each in levers if each.plan]
    told = []
    for lever in mine:
        asked = {Mended.by(each) for each in group}
        mends = sorted(each.subject for each in asked & {*lever.mends})
        only = ONLY_ONE.format(subject=joined(mends)) if mends and len(mends) < len(asked) else ""
        number = f" {written.index(lever) + 1}" if lever.plan and len(written) > 1 else ""
        told.append((f"{TAG}{number}", said(lever, units) + only))
    return list(dict.fromkeys(told))
