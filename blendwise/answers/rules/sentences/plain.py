"""The form of a rule that has no shape: ``each dose, when tags citrus, must dose at most 2 %, else caution``.

Lines are parted by semicolons, as they stand in a rule; it is printed and read alike.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from blendwise.answers.rules.sentences.draft import Conditions, Draft, Unread
from blendwise.answers.rules.sentences.terms import LEVELS
from blendwise.facts.columns import GRAINS
from blendwise.facts.tables import vocabulary
from blendwise.judge.conditions.conditions import ANY_OF

_FORM: Final = re.compile(
    rf"\s*each ({'|'.join(GRAINS)})(?:,? when (.*?))?,? must (.*?)(?:,? else ({'|'.join(LEVELS)}))?[.\s]*",
    re.DOTALL,
)
_BRANCHES: Final = re.compile(r"any of \((.*)\)", re.DOTALL)
NAME: Final = "when … must …"
EXAMPLE: Final = "each dose, when tags citrus, must dose at most 2 % of portion oils, else caution"


def is_plain(text: str) -> bool:
    """Whether a sentence begins as this form does."""
    return re.match(rf"\s*each ({'|'.join(GRAINS)})\b,?\s+(when|must)\b", text) is not None


def read_plain(text: str) -> Draft | Unread:
    """The rule that is said in this form; the lines whose measure nobody knows where it is none."""
    match = _FORM.fullmatch(text)
    if match is None:
        return Unread((), NAME, EXAMPLE)
    grain, when, must, level = match.groups()
    try:
        return Draft(grain, _lines(when or ""), _lines(must), level or "caution", NAME)
    except _UnknownError as error:
        start = text.find(error.line)
        return Unread(((start, start + len(error.line)),), NAME, EXAMPLE)


class _UnknownError(ValueError):
    """A line that begins with no measure."""

    def __init__(self, line: str) -> None:
        super().__init__(line)
        self.line = line


def _lines(text: str) -> Conditions:
    found: Conditions = {}
    for part in _parted(text, ";"):
        branches = _BRANCHES.fullmatch(part)
        if branches:
            found[ANY_OF] = [_lines(branch) for branch in _parted(branches[1], "|")]
        else:
            measure = _measure(part)
            found[measure] = part[len(measure) :].strip()
    return found


def _parted(text: str, sign: str) -> list[str]:
    """The parts of a text between signs that stand in no brackets."""
    parts, depth, start = [], 0, 0
    for at, letter in enumerate(text):
        depth += (letter == "(") - (letter == ")")
        if letter == sign and depth == 0:
            parts.append(text[start:at])
            start = at + 1
    return [part.strip() for part in (*parts, text[start:]) if part.strip()]


def _measure(line: str) -> str:
    """The longest beginning of a line that is a measure; names stand in brackets."""
    closed = line.find("]") + 1
    if closed and line[:closed] in vocabulary() and " of [" in line[:closed]:
        return line[:closed]
    words = line.split(" ")
    for count in range(min(len(words), 9), 0, -1):
        name = " ".join(words[:count])
        if " of " in name and name not in _plain_names():
            continue
        if name in vocabulary():
            return name
    raise _UnknownError(line)


def _plain_names() -> Mapping[str, Any]:
    return vocabulary().keys()  # type: ignore[return-value]


def say_plain(looks_at: str, when: Mapping[str, Any], must: Mapping[str, Any], level: str) -> str:
    """A rule in this form."""
    premise = f", when {_said(when)}" if when else ""
    return f"each {looks_at}{premise}, must {_said(must)}, else {level}"


def _said(lines: Mapping[str, Any]) -> str:
    return "; ".join(_line(measure, said) for measure, said in lines.items())


def _line(measure: str, said: Any) -> str:
    if measure == ANY_OF:
        return f"any of ({' | '.join(_said(branch) for branch in said)})"
    if isinstance(said, Mapping):
        ((relation, words),) = said.items()
        return f"{measure} {relation} [{', '.join(words)}]"
    if isinstance(said, str):
        return f"{measure} {' '.join(said.split())}"
    return f"{measure} one of [{', '.join(said)}]"
