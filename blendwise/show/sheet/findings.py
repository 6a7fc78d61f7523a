"""What the check found, as it stands on the face of a bench sheet: grouped by rule, the heaviest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Sheet
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.quantity import Units
from blendwise.quantity.prose import theirs
from blendwise.show import words
from blendwise.show.check import levers
from blendwise.show.check.levers import small_amount
from blendwise.show.numbers import counted
from blendwise.show.pages.render import name, names, said, warmth
from blendwise.show.sheet.small import stocks
from blendwise.show.text import sentence

if TYPE_CHECKING:
    from markupsafe import Markup

MOST_CAUTIONS = 3  # told where the sheet says not to pour; the others are counted
MOST_EXPLAINED = 4  # rules, beyond which the reasons are left to the check


def findings(sheet: Sheet) -> Iterator[tuple[str, Markup]]:
    """What the check found, a tag and a text each: stops and conflicts first.

    Where the sheet says not to pour, cautions are told up to a few and the others counted.
    """
    shown = (f for f in sheet.check.findings if f.status != "accepted" and not f.hidden)
    broken = [f for f in shown if not f.missing]
    groups: dict[tuple[str, str], list[Finding]] = {}
    for finding in broken:
        if finding.level != "hint":
            groups.setdefault((finding.level, finding.rule), []).append(finding)
    brief = len(groups) > MOST_EXPLAINED
    written = [each for each in sheet.check.levers if each.plan]
    for level in ("stop", "conflict"):
        told = (g for key, g in groups.items() if key[0] == level)
        for group in told:
            yield words.TAGS[level], _group(group, sheet.units, brief)
            yield from (
                (levers.TAG, _lever(text)) for _, text in levers.lines(written, group, sheet.units)[:1]
            )
    if sheet.levers:
        yield levers.WAY_OUT, _lever(levers.said(sheet.levers[0], sheet.units))
    yield from _not_known(sheet)
    mixed = {key for stock in stocks(sheet) for key in stock.taken}  # told on the front
    little = [each for each in sheet.small if (each.into, each.what) not in mixed]
    yield from (("weigh", said("{text}", text=small_amount(each, sheet.units))) for each in little)
    cautions = [group for key, group in groups.items() if key[0] == "caution"]
    most = len(cautions) if sheet.sound else MOST_CAUTIONS
    yield from ((words.TAGS["caution"], _group(g, sheet.units, brief)) for g in cautions[:most])
    if len(cautions) > most:
        yield "more", said("{more} besides: ask “check”.", more=counted(len(cautions) - most, "caution"))
    if sheet.burns:
        yield "flammable", _flammable(sheet)


def _group(group: Sequence[Finding], units: Units, brief: bool) -> Markup:
    """All subjects of one rule, the first one's numbers, and why unless there is too much to tell."""
    first = group[0]
    what = words.headline(first, units).removeprefix(f"{first.subject_text}: ")
    subjects = list(dict.fromkeys(f.subject_text for f in group))
    because = "" if brief else sentence(theirs(first.because, units))
    return said(
        "<strong>{subjects}</strong>: <span dir=auto>{what}</span>. {because}",
        subjects=names(subjects),
        what=what,
        because=because,
    )


def _lever(text: str) -> Markup:
    return said("{text}", text=sentence(text))


def _not_known(sheet: Sheet) -> Iterator[tuple[str, Markup]]:
    """Facts that rules above a hint wait on, by what they are facts of."""
    facts: dict[str, dict[str, None]] = {}
    heaviest: dict[str, int] = {}
    for finding in sheet.check.findings:
        if finding.status == "undecided" and finding.level != "hint":
            for missing in finding.missing:
                facts.setdefault(missing.subject, {})[missing.fact] = None
                rank = LEVELS.index(finding.level) if finding.stands else 0
                heaviest[missing.subject] = max(rank, heaviest.get(missing.subject, 0))
    alike: dict[tuple[tuple[str, ...], str], list[str]] = {}
    for subject, lacking in facts.items():
        alike.setdefault((tuple(lacking), LEVELS[heaviest[subject]]), []).append(subject)
    for (needed, level), subjects in alike.items():
        counts = f" Until then it counts as a {level}." if level in ("stop", "conflict") else ""
        yield (
            "not known",
            said(
                "<strong>{who}</strong>: {facts}.{counts}",
                who=names(subjects),
                facts=", ".join(needed),
                counts=counts,
            ),
        )


def flammable(sheet: Sheet) -> Markup | str:
    """The bottles to keep from flame; (?) where nobody wrote at what temperature they flash."""
    from markupsafe import Markup

    return Markup(", ").join(
        said("{who}{asked}", who=name(who), asked="" if at is not None else " (?)") for who, at in sheet.burns
    )


def warned(sheet: Sheet, *measures: str) -> bool:
    """Whether the check warns by one of these measures; what is accepted happens none the less."""
    told = (f for f in sheet.check.findings if f.measure in measures and f.level != "hint")
    return any(not f.missing for f in told)


def _flammable(sheet: Sheet) -> Markup:
    from markupsafe import Markup

    told = [(who, "not known" if at is None else warmth(at, sheet.units)) for who, at in sheet.burns]
    each = [said("{who} ({at})", who=name(who), at=at) for who, at in told]
    return said("{each}: keep the bottle from flame and oven.", each=Markup(", ").join(each))
