"""Findings in the maker's words: a rule's own sentence, filled once for all that it speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from blendwise.judge.findings.finding import UNREAD_RULE, Finding
from blendwise.quantity import METRIC, Units
from blendwise.quantity.prose import theirs
from blendwise.show.text import joined
from blendwise.show.words import by_rule, headline_of, measured, subjects

_PLACE: Final = re.compile(r"\{([a-z]+)\}")
_OILS: Final = {" of portion oils": " of its oils", " of batch oils": " of all oils"}
_OF: Final = re.compile(r" of (?!its oils|all oils).*$|(?<=×) the (guard|most that is usual)$")
"""What a unit is of, where the sentence says it itself."""
_MINUTES: Final = re.compile(r"([0-9.]+) min")
SHORT: Final = 20.0
"""Minutes below which a tenth is told: near a limit it may be what parts the two."""
FEW: Final = 4
"""Names in one line of a caution; the others are counted."""
ALL_CUPS: Final = 3
"""From so many portions on, "all cups" stands for their names."""


def says(findings: Sequence[Finding], units: Units = METRIC, portions: Iterable[str] = ()) -> str:
    """One sentence for the findings of one rule: "rose and sky would turn tan, you plan cream: move …".

    A rule without words of its own gives its reason; an unreadable one, or one without a reason, its
    headline.
    """
    first = findings[0]
    if first.measure == UNREAD_RULE or not (first.says or first.because):
        return "; ".join(headline_of(each, units) for each in by_rule(findings))
    if not first.says:
        return f"{subjects(findings)}: {theirs(first.because, units)}"
    filled = _filled(findings, units, tuple(portions))
    told = _PLACE.sub(lambda place: filled.get(place[1], place[0]), theirs(first.says, units))
    return told if first.version in told else f"version {first.version}: {told}"


def _filled(findings: Sequence[Finding], units: Units, portions: tuple[str, ...]) -> dict[str, str]:
    seen = [_told_apart(*measured(each, units)) for each in findings]
    version = findings[0].version
    suffix = f" (version {version})" if version else ""
    named = {key: _names(findings, key) for key in ("oil", "portion")}
    cups = named["portion"]
    whole = len(portions) >= ALL_CUPS and set(cups) == set(portions)
    return {
        "subject": _subjects(findings),
        "plan": findings[0].subject[0],
        "oil": _few(named["oil"], findings) + ("" if cups else suffix),
        "portion": ("all cups" if whole else _few(cups, findings)) + suffix,
        "value": _together([value for value, _ in seen], findings),
        "limit": _together([limit for _, limit in seen], findings),
    }


def _names(findings: Sequence[Finding], what: str) -> list[str]:
    """The oils or the portions spoken of, each once."""
    parts: dict[tuple[str, str], slice] = {
        ("portion", "portion"): slice(0, 1),
        ("edge", "portion"): slice(0, 2),
        ("dose", "portion"): slice(1, 2),
        ("pair", "portion"): slice(2, 3),
        ("scent", "oil"): slice(0, 1),
        ("dose", "oil"): slice(0, 1),
        ("pair", "oil"): slice(0, 2),
    }
    part = parts.get((findings[0].looks_at, what), slice(0, 0))
    return list(dict.fromkeys(name for each in findings for name in each.subject[part]))


def _few(names: Sequence[str], findings: Sequence[Finding], more: str = "more") -> str:
    """All names where something is a stop or a conflict, else the first few and how many more."""
    if findings[0].level in ("stop", "conflict") or len(names) <= FEW:
        return joined(names)
    return f"{', '.join(names[: FEW - 1])} and {len(names) - FEW + 1} {more}"


def _subjects(findings: Sequence[Finding]) -> str:
    if findings[0].looks_at == "edge":
        return _few([each.subject_text for each in findings], findings, "more pairs")
    return subjects(findings)


def _together(texts: Sequence[str], findings: Sequence[Finding]) -> str:
    """Values of several subjects: one if all agree, else each of them once."""
    said = list(dict.fromkeys(texts))
    if findings[0].level == "stop" or len(said) <= FEW:
        return joined(said, "or")
    return f"{', '.join(said[: FEW - 1])} or other"


def _told_apart(value: str, limit: str) -> tuple[str, str]:
    """Value and limit as one says them; in full where the short words would be the same."""
    short = _plain(value), _plain(limit)
    return short if short[0] != short[1] else (_without_of(value), _without_of(limit))


def _plain(text: str) -> str:
    """An amount as one says it: "6.57 % of its oils"; the number alone where the sentence says of what."""
    minutes = _MINUTES.fullmatch(text)
    return _spoken_minutes(float(minutes[1])) if minutes else _without_of(text)


def _without_of(text: str) -> str:
    for unit, spoken in _OILS.items():
        text = text.replace(unit, spoken)
    return _OF.sub("", text).replace("ppo of its oils", "ppo").replace("ppo of all oils", "ppo")


def _spoken_minutes(minutes: float) -> str:
    if minutes < 1:
        return "less than a minute"
    return f"{minutes:.1f} min".replace(".0 min", " min") if minutes < SHORT else f"{minutes:.0f} min"


SHIFTS: Final = "colour stable in lye"
BROWNS: Final = frozenset({"browning band", "yellow cast", "pink cast"})


def shifts_first(findings: Iterable[Finding]) -> list[Finding]:
    """Colourants that change in lye before anything browns, in portions that brown: they are said first."""
    broken = [each for each in findings if each.status == "broken" and each.version == ""]
    browned = {each.subject[0] for each in broken if each.measure in BROWNS and each.looks_at == "portion"}
    return [each for each in broken if each.measure == SHIFTS and each.subject[0] in browned]
