"""A sentence's parts, its conditions ("when gel is forced") set apart from its core."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, merged
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.answers.rules.sentences.parts import OPPOSITE, Meaning
from blendwise.facts.tables import vocabulary

AMOUNTS: Final = "AHJIY#"
EMBEDS: Final = "embeds: is yes"
AVOIDED: Final = "gel: is avoid"
"""What "no gel" demands; a condition only behind "when"."""
FITS: Final = {"A": "FRACTION", "H": "TEMPERATURE", "J": "MASS", "I": "TIME", "#": "NUMBER"}
"""Letter of an amount → what it measures."""
STRICT: Final = ("above", "below")
"""What a sentence may forbid: "no … above"; "never at most" says nothing that is sure."""
AFTER: Final = "after"
OF_A_CUP: Final = "WPV"
OF_THE_BATCH: Final = "US"
FORBIDDEN: Final = "XCUFDB"
"""What a "no" may stand before, so that a figure beside it is a condition: "no column above 26 °C"."""
AROUND: Final = frozenset({"room temperature", "batter temperature", "lye concentration", "superfat"})
"""Measures of the batch that such a figure may be of."""
Group = tuple[Token, ...]


@dataclass(frozen=True)
class Heard:
    """``core``: the parts that are no condition; ``groups``: these, ``exceptions`` those behind "unless".

    ``unless``: who is excepted; ``of_cup``: whether a condition speaks of one cup; ``of_embeds``: whether
    embeds are what the sentence begins with.
    """

    core: tuple[Token, ...]
    groups: tuple[Group, ...]
    exceptions: tuple[Group, ...]
    unless: Token | None
    of_cup: bool
    meaning: Meaning
    basis: str
    of_embeds: bool = False

    @classmethod
    def of(cls, parts: Sequence[Token], meaning: Meaning, basis: str) -> Heard:
        """Set the conditions apart."""
        rest, unless = _excepted(list(parts))
        of_embeds = bool(parts) and parts[0].letter == "F" and parts[0].value == EMBEDS
        rest, groups, exceptions = _conditions(rest)
        of_cup = any(part.letter in OF_A_CUP for group in (*groups, *exceptions) for part in group)
        return cls(tuple(rest), tuple(groups), tuple(exceptions), unless, of_cup, meaning, basis, of_embeds)

    @property
    def when(self) -> Conditions:
        """Every condition that was set apart, as lines."""
        return self._lines((*self.groups, *self.exceptions))

    def _lines(self, groups: Sequence[Group]) -> Conditions:
        when: Conditions = {}
        for group in groups:
            when = merged(when, self.line(group, negated=group in self.exceptions))
        return when

    def line(self, group: Group, *, negated: bool = False) -> Conditions:
        """One condition as a line, or turned round; ValueError where it cannot be."""
        return _line(group, self.meaning, negated=negated)

    def forbidden(self, group: Group) -> bool:
        """Whether a condition follows the sentence's "no" directly: "no embeds"."""
        if "N" not in self.letters or group[0].letter != "F":
            return False
        no = self.first("N")
        others = [part.start for part in self.core] + [each[0].start for each in self.groups if each != group]
        return no.start < group[0].start and not any(no.start < at < group[0].start for at in others)

    def begins(self, letter: str) -> bool:
        """Whether the first part of the sentence is of a letter."""
        every = [*self.core, *(part for group in self.groups for part in group)]
        return min(every, key=lambda part: part.start).letter == letter

    @property
    def letters(self) -> str:
        return "".join(part.letter for part in self.core)

    def first(self, letter: str) -> Token:
        """The first part of a letter."""
        return next(part for part in self.core if part.letter == letter)

    def all(self, letter: str) -> list[Token]:
        """All parts of a letter, in order."""
        return [part for part in self.core if part.letter == letter]

    def without(self, letters: str) -> str:
        """The core's letters, some left out."""
        return "".join(part.letter for part in self.core if part.letter not in letters)

    def relation(self) -> str:
        """The relation that is said, turned round where the sentence forbids; ValueError where none is."""
        said = self.first("R").value
        if said == "between" and not any(
            " and " in part.value for part in self.core if part.letter in AMOUNTS
        ):
            raise ValueError(said)
        if said == AFTER:  # a minute
            return "at most" if "N" in self.letters else "at least"
        if "N" not in self.letters:
            return said
        if said not in STRICT:
            raise ValueError(said)
        return OPPOSITE[said]

    def situation(self, groups: Sequence[Group] | None = None) -> tuple[Conditions, bool]:
        """Conditions, cups and pours of the core counted among them; whether one speaks of a cup."""
        every = (*(self.groups if groups is None else groups), *self.exceptions)
        when, of_cup = self._lines(every), self.of_cup
        seen: set[str] = set()
        for part in self.core:
            if part.letter in OF_A_CUP + OF_THE_BATCH:
                if part.letter in seen:  # two cups that are no list
                    raise ValueError(part.letter)
                seen.add(part.letter)
                when = merged(when, line_of(part, self.meaning))
                of_cup |= part.letter in OF_A_CUP
        return when, of_cup


def _excepted(parts: list[Token]) -> tuple[list[Token], Token | None]:
    """The parts without "unless folded", and who is excepted; a "with" before or behind stays."""
    for at, part in enumerate(parts[:-1]):
        following = parts[at + 1]
        if part.letter == "u" and following.letter == "X":
            return [*parts[:at], *parts[at + 2 :]], following
        if part.letter == "u" and following.letter in "wt" and parts[at + 2 : at + 3]:
            other = parts[at + 2]
            if other.letter == "X":
                return [*parts[:at], following, *parts[at + 3 :]], other
    return parts, None


def _conditions(parts: list[Token]) -> tuple[list[Token], list[Group], list[Group]]:
    """The core, each group of parts that is a condition, and each that is an exception."""
    rest: list[Token] = []
    groups: list[Group] = []
    exceptions: list[Group] = []
    opened_by_word = any(part.letter in "ku" for part in parts)
    amounts = 0 if opened_by_word else sum(part.letter in AMOUNTS for part in parts)
    plain = [part for part in parts if part.letter not in "wk"]
    forbids = any(a.letter == "N" and b.letter in FORBIDDEN for a, b in pairwise(plain))
    at = 0
    while at < len(parts):
        opened = parts[at].letter in "kwu" and at + 1 < len(parts)
        start = at + 1 if opened else at
        if parts[at].letter == "F" and parts[at].value == AVOIDED and not opened:
            rest.append(parts[at])
            at += 1
            continue
        count = _group(parts[start:], parts[at].letter if opened else "", amounts, forbids)
        if count:
            (exceptions if parts[at].letter == "u" else groups).append(tuple(parts[start : start + count]))
            at = start + count
        else:
            rest.append(parts[at])
            at += 1
    return rest, groups, exceptions


def _group(parts: list[Token], opener: str, amounts: int, forbids: bool) -> int:
    """How many of the first parts make up a condition; 0 where they make none."""
    letters = "".join(part.letter for part in parts)
    opened = opener in ("k", "u")
    if letters[:1] == "F" or (opener and letters[:1] == "D" and letters[1:2] not in ("R", "N")):
        return 1
    if opened and letters[:1] == "c" and letters[1:2] in tuple(OF_A_CUP):
        return 2
    if opened and letters[:1] in tuple(OF_A_CUP + OF_THE_BATCH):
        return 1
    measured = re.match(rf"MR[{AMOUNTS}]|R[{AMOUNTS}]M|M[{AMOUNTS}]R", letters) is not None
    if not measured:
        return 0
    said = {part.letter: part.value for part in parts[:3]}
    around = forbids and said["M"] in AROUND and said["R"] in STRICT
    return 3 if around or (letters[0] == "M" and (opened or amounts > 1)) else 0


def _line(group: Sequence[Token], meaning: Meaning, *, negated: bool = False) -> Conditions:
    """One condition as a line."""
    group = [part for part in group if part.letter != "c"]
    head = group[0]
    if head.letter == "F":
        measure, _, said = head.value.partition(": ")
        return {measure: _unlike(said) if negated else said}
    told = {part.letter: part.value for part in group}
    if {"M", "R"} <= set(told):
        amount = next(part.value for part in group if part.letter in AMOUNTS)
        if vocabulary()[told["M"]].dimension != FITS[next(p.letter for p in group if p.letter in AMOUNTS)]:
            raise ValueError(told["M"])
        relation = OPPOSITE.get(told["R"], "") if negated else told["R"]
        if not relation:
            raise ValueError(told["R"])
        return {told["M"]: f"{relation} {amount}"}
    if head.letter == "D":
        if len(head.values) > 1:
            meaning.counts["with"] = "any one of these"
        return {"additives": {"none of": list(head.values)} if negated else list(head.values)}
    return line_of(head, meaning, negated=negated)


def _unlike(said: str) -> str:
    """What is not so: "force" → "is not force", "is yes" → "is no"."""
    for relation, turned in OPPOSITE.items():  # "at least 25 %"
        if said.startswith(relation):
            return turned + said.removeprefix(relation)
    word = said.removeprefix("is ")
    return {"yes": "is no", "no": "is yes"}.get(word, f"is not {word}")


def line_of(part: Token, meaning: Meaning, *, negated: bool = False) -> Conditions:
    """A cup, a pour or months as a line; ValueError for any other part."""
    match part.letter:
        case "W":
            return meaning.colour(part, negated=negated)
        case "P":
            return meaning.place(part, negated=negated)
        case "U" | "V":
            measure = "pour" if part.letter == "U" else "portion"
            return {measure: {"none of": list(part.values)} if negated else list(part.values)}
        case "S":
            months = meaning.months(part)
            return {"month": {"none of": months} if negated else months}
    raise ValueError(part.letter)
