"""What stands around a demand: how bad it is, the reason before or behind it, what would be two demands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from blendwise.answers.rules.sentences.terms import LEVELS, SMALL

WARNED: Final = {
    "warn me": "caution",
    "stop me": "stop",
    "stop": "stop",
    "tell me": "hint",
    "let me know": "hint",
    "alert me": "caution",
    "flag it": "caution",
    "shout": "caution",
    "shout at me": "caution",
    "say something": "caution",
    "complain": "caution",
    "nag me": "hint",
    "i get nervous": "caution",
    "i worry": "caution",
    "don't let me pour": "stop",
    "remind me": "hint",
}
_LEVEL: Final = re.compile(
    rf"\s*(?:(?:please|kindly),?\s+)?({'|'.join((*LEVELS, *WARNED))})"
    r"\s*(?:[:,]\s*|(?P<if>\b(?:if|when|whenever|once|as soon as)\b))",
    re.IGNORECASE,
)
_REASON: Final = re.compile(
    r"[,;]?\s*\b(?:(?:owing|due|thanks) to|on account of|lest|in order|so as|for fear of|because|otherwise"
    r"|or else|(?<!nothing )(?<!nothin )(?<!nowhere )(?<!thing )else|since"
    r"|as (?:it|they|this|these)|for (?:it|they)|or it(?:'s|s)?|or they)\b(.*)$"
    r"|[,;.(]\s*(?:it(?:'s|s)?|they|that|this|so (?:it|that|they)|to (?:hold|keep|avoid|stop|save))\b"
    r"([^%\d]*)$"
    r"|\s+or (?:the|my|your) \w+ (?:is|are|goes|go|turns|turn|gets|get|will|fades|dies)\b([^%\d,;]*)$"
    r"|\s+to (?:hold|keep|stop|save) (?:it|them|that)\b([^%\d]*)$",
    re.IGNORECASE | re.DOTALL,
)
_FIRST: Final = re.compile(r"\s*(?:because|since|as|so that)\b([^,;:]*)[,;:]\s*", re.IGNORECASE)
_TOLD: Final = re.compile(
    r"([^,;:.]*[^\s,;:.])\s*(?:[,;]?\s*\b(?:so|therefore|thus|hence)\b|[:;.,]|\s[-–—]\s)\s*", re.I
)
_JOINT: Final = re.compile(r"\s*(?:[,;.]\s*(?:and|but|or)?|\b(?:and|but|or)\b)\s+", re.IGNORECASE)
_HINT: Final = re.compile(rf"\b(?:{'|'.join(SMALL)})\b,?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Clauses:
    """``core``: the demand, all else made blank; ``level``: said, or ""; ``reason``: why.

    ``hinted``: whether it is only rather so; ``marked``: whether a word like "because" says that it is why.
    """

    core: str
    level: str
    hinted: bool
    reason: str
    marked: bool = True


@dataclass(frozen=True, slots=True)
class Told:
    """A reason before the demand: ``text``, where the demand ``begins``; whether it is ``sure``."""

    text: str
    begins: int
    sure: bool


def clauses(text: str) -> Clauses:
    """Set apart what is said of the level, and a reason behind the demand."""
    level, core = _level(text)
    reason = _REASON.search(core, len(core) - len(core.lstrip()) + 1)
    core = core[: reason.start()] if reason else core
    hinted = _HINT.search(core) is not None
    core = _HINT.sub(lambda found: " " * len(found[0]), core)
    return Clauses(core, level, hinted, _why(reason), reason is None or reason[1] is not None)


def _level(text: str) -> tuple[str, str]:
    """The level, and the text without it; "warn me when" forbids what follows."""
    found = _LEVEL.match(text)
    if found is None:
        return "", text
    word = found[1].casefold()
    forbids = "never " if found["if"] and word in WARNED else ""
    if found["if"] and not forbids:  # "stop if …": no level of a rule
        return "", text
    return WARNED.get(word, word), forbids.ljust(found.end()) + text[found.end() :]


def _why(found: re.Match[str] | None) -> str:
    return "" if found is None else next((each for each in found.groups() if each), "").strip(" .,")


def reasons_before(core: str) -> Iterator[Told]:
    """Each way to take the beginning of a sentence for a reason: "it riced, so …", "because …, …"."""
    if first := _FIRST.match(core):
        yield Told(first[1].strip(), first.end(), sure=True)
    if (told := _TOLD.match(core)) and core[told.end() :].strip():
        yield Told(told[1].strip(), told.end(), sure="so" in told[0][len(told[1]) :].casefold())


def halves(core: str) -> Iterator[tuple[str, str]]:
    """Each way to part a sentence into two."""
    for joint in _JOINT.finditer(core):
        first, second = core[: joint.start()].strip(), core[joint.end() :].strip(" .")
        if first and second:
            yield first, second
