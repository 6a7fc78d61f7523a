"""What a remark says of skin, limits, ricing and seizing: asked about, never kept as a remark in silence."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Final

from blendwise.answers.spreadsheet.words.cells import Reader
from blendwise.answers.spreadsheet.words.guesses import NEGATIONS
from blendwise.answers.spreadsheet.words.headings import Column
from blendwise.answers.spreadsheet.words.numbers import Unread
from blendwise.answers.spreadsheet.words.vocabulary import HEADINGS
from blendwise.records.writing.edit import Plain

LIMIT: Final = "limit in bar"
BETWEEN: Final = "; "
"""What stands between the fields of one answer: ``limit in bar 0.5 %; ricing bad``."""
_SAID: Final[tuple[tuple[str, str, re.Pattern[str]], ...]] = tuple(
    (field, value, re.compile(pattern, re.I))
    for field, value, pattern in (
        (
            "for skin",
            "no",
            r"\bnot (?:for |on )?(?:the )?(?:skin|body|soap)\b|\bnot (?:skin|body)[ -]safe|"
            r"\bcandles? only\b|\bonly (?:for )?candles?\b|\bunsafe (?:for|on) (?:the )?(?:skin|body)|"
            r"\bnever on (?:the )?skin\b|\bno skin\b|\bdo(?: no|n['’])t use (?:on|in) (?:the )?(?:skin|soap)",
        ),
        (
            "acceleration",
            "seizes",
            r"\bseiz(?:es?|ed|ing|ure)\b|\bsoap on a stick\b|\binstant(?:ly)? (?:trace|solid)",
        ),
        ("ricing", "bad", r"\bric(?:es|ed|ing)\b|\b(?:will|may|can|might|would|does|did|to|it) rice\b"),
        ("tags", "phototoxic", r"\bphoto[ -]?(?:toxic|sensiti)\w*"),
        ("tags", "sensitiser", r"(?<!photo)(?<!photo[ -])\bsensiti[sz](?:er|es|ing|ation)\b"),
    )
)
_SHARE: Final = r"(\d+(?:[.,]\d+)?)\s*(?:%|per ?cent\b)(\s*(?:of (?:the )?(?:oils?|fats?)|ppo))?"
_MOST: Final = re.compile(
    r"(?:\bmax(?:imum|\.)?|\bat most|\bno(?:t)? (?:more|higher) than|\b(?:not|never|nothing) (?:over|above)|"
    r"\bup to|\blimit(?:ed)?(?: to)?|\bbelow|\bunder|\bless than|\bifra|\bcat(?:egory|\.)? ?9|[<≤]|"
    r"toxic (?:above|over|from|at)|\bsensiti\w+ (?:above|over|from|at))"
    r"[^\d%;.]{0,16}" + _SHARE,
    re.I,
)
_LEAST: Final = re.compile(_SHARE + r"\s*(?:max\b|maximum|limit|at most|in (?:the )?bar|or less|tops)", re.I)
_NEAR: Final = 3
"""Words before a phrase among which a "not" may turn it round."""


@lru_cache(maxsize=4096)
def alarms(text: str) -> tuple[str, bool]:
    """(what a remark most likely says as fields with their value, whether that guess is not enough).

    ("", False) where it speaks of nothing of the kind; ``remark`` as a part where a "not" may turn it round.
    """
    found = dict.fromkeys(_found(text))
    if found and set(found) <= {_TURNED}:
        return _TURNED, False
    told = [each for each in found if each != _TURNED]
    return BETWEEN.join(told), any(each.startswith(LIMIT) for each in told)


_TURNED: Final = "remark"


def _found(text: str) -> Iterator[str]:
    for pattern in (_MOST, _LEAST):
        for share in pattern.finditer(text):
            yield LIMIT if share[2] else f"{LIMIT} {share[1].replace(',', '.')} %"
    for field, value, pattern in _SAID:
        if said := pattern.search(text):
            before = re.findall(r"[\w'’]+", text[: said.start()].casefold().replace("’", "'"))[-_NEAR:]
            turned = field != "for skin" and NEGATIONS & set(before)
            yield _TURNED if turned else f"{field} {value}"


def agreed(reader: Reader, answer: str) -> dict[str, Plain]:
    """Field → value of what a maker answered of a remark; Unread where it cannot be read."""
    return dict(_part(reader, part.strip()) for part in answer.split(BETWEEN.strip()) if part.strip())


def _part(reader: Reader, part: str) -> tuple[str, Plain]:
    for field in sorted(HEADINGS, key=len, reverse=True):
        if part.casefold().startswith(f"{field} "):
            return field, _value(reader, field, part[len(field) :].strip())
    for field, value, _ in _SAID:
        if part.casefold() == value:
            return field, value
    raise Unread(f'the answer "{part}" does not begin with a field, as in {LIMIT} 0.5 %')


def _value(reader: Reader, field: str, text: str) -> Plain:
    taken = replace(reader, column=Column(reader.column.index, reader.column.heading, field), answered=True)
    if (value := taken.read(text)) is None:
        raise Unread(f'the answer "{text}" says nothing')
    return value.value
