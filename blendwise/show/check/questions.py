"""What nobody has written down, asked as one maker would ask another, and the line that answers it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import PurePosixPath
from typing import Final

from blendwise.answers.check.result import CheckResult, Question, UnknownAdditive
from blendwise.answers.cup.sizes import MOST_CUPS
from blendwise.answers.levers.costs import CUPS
from blendwise.facts.measures.evidence import BEHAVIOUR
from blendwise.show.text import command, joined, quoted, sentence

LINE: Final = "The line"
ANSWER: Final = (
    "Where you know it, write it into its file, as in these examples; else a test cup of each answers."
)
CUP: Final = {
    "vanillin": ("brown", "browns to: {band: ivory, at: 3 % of oils, evidence: own cup}"),
    "acceleration": (
        "speed up the batter",
        "acceleration: {is: none, at: 3 % of oils, evidence: own cup, against: unscented cup}",
    ),
    "ricing": ("rice", "ricing: none"),
    "after six weeks": ("last", "after six weeks: fair"),
}
"""Fact → what is asked, and an example of the line that says so: one test cup answers them all."""
WITH_THE_REST: Final = (BEHAVIOUR, "evidence")
"""Known as soon as anything is written down."""


def open_line(questions: Sequence[Question], cups: str = "") -> str:
    """All of it in one line: what is asked of which oils, what to write where, or which ``cups``."""
    keys = dict.fromkeys(_key(each.fact) for each in questions if each.fact in CUP)
    if not keys:
        return asked_of(questions)
    told = joined([f"`{key}`" for key in keys])
    name = "its name" if len(_of_cups(questions)) == 1 else "each name"
    known = f"write {told} under {name} in `scents.yaml`"
    return f"{asked_of(questions)} {f'{cups}; if you know, {known}' if cups else f'If you know, {known}'}"


def cups_to_make(result: CheckResult) -> tuple[str, ...]:
    """The oils of which a test cup would answer something: none that it would be refused of."""
    asked = [each.subject for each in result.open_questions if each.fact in CUP]
    found = [
        each.subject[0]
        for each in result.findings
        if each.stands and each.level != "hint" and each.measure in CUPS and not each.hidden
    ]
    refused = {each.subject[0] for each in result.stops("harm") if each.looks_at == "scent"}
    return tuple(name for name in dict.fromkeys((*found, *asked)) if name not in refused)


def cup_command(oils: Sequence[str], plan: str = "") -> str:
    """The command that says how a test cup of each is made."""
    return command(
        "cup", *oils, *(("--apart",) if len(oils) > 1 else ()), *(("--plan", plan) if plan else ())
    )


def cup_line(result: CheckResult) -> str:
    """Which cups to make, and how; empty where none would answer anything."""
    oils = cups_to_make(result)[:MOST_CUPS]
    if not oils or result.lye_stop:
        return ""
    plan = PurePosixPath(result.file).stem
    return f"A test cup answers: `{cup_command(oils, plan)}`"


def asked_of(questions: Sequence[Question]) -> str:
    """The questions, subjects of which the same is asked together: "not known of a and b: does it brown?"."""
    cups, others = _of_cups(questions), _others(questions)
    same: dict[tuple[str, ...], list[str]] = {}
    for oil, facts in cups.items():
        same.setdefault(tuple(facts), []).append(oil)
    asked = [
        f"of {joined(oils)}: {'does it' if len(oils) == 1 else 'do they'} {joined(facts, 'or')}"
        for facts, oils in ((tuple(CUP[fact][0] for fact in held), oils) for held, oils in same.items())
    ]
    told = [*asked, *(f"{fact} of {joined(names)}" for fact, names in others.items())]
    return sentence(f"not known {'; '.join(told)}") if not asked else f"not known {'; '.join(told)}?"


def _of_cups(questions: Sequence[Question]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for each in questions:
        if each.fact in CUP:
            found.setdefault(each.subject, []).append(each.fact)
    return found


def _others(questions: Sequence[Question]) -> dict[str, list[str]]:
    """Fact, in quotes → whose; without what is known as soon as the rest is."""
    cups = _of_cups(questions)
    found: dict[str, list[str]] = {}
    for each in questions:
        if each.fact not in CUP and not (each.fact in WITH_THE_REST and each.subject in cups):
            found.setdefault(quoted(each.fact), []).append(each.subject)
    return found


def lines_to_write(questions: Sequence[Question]) -> Iterator[str]:
    """For each oil an example of its lines, to be changed to what was seen."""
    for oil, facts in _of_cups(questions).items():
        lines = dict.fromkeys(CUP[fact][1] for fact in facts)
        yield f"{oil}: {{{', '.join(lines)}}}"


def _key(fact: str) -> str:
    return CUP[fact][1].partition(":")[0]


def what_is_it(additive: UnknownAdditive) -> str:
    """An additive that nobody knows: asked back with the nearest that is known, and the line to write."""
    name, near = additive.name, additive.nearest
    if near:
        said = f"is {quoted(name)} {near}? Then write `{name}: {{same as: {near}}}` into `additives.yaml`"
        return f"{said}; else find out what it does to the lye, and say so, such as `{name}: neutral`"
    return (
        f"nobody knows what {quoted(name)} is: find out, and write it once into `additives.yaml`, "
        f"such as `{name}: neutral` if no lye and no acid is in it"
    )
