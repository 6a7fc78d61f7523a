"""A sentence's parts, its conditions ("when gel is forced") set apart from its core."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, merged
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.answers.rules.sentences.parts import OPPOSITE, Meaning

AMOUNTS: Final = "AHJIY#"
STRICT: Final = ("above", "below")
"""What a sentence may forbid: "no … above"; "never at most" says nothing that is sure."""
AFTER: Final = "after"
OF_A_CUP: Final = "WPV"
OF_THE_BATCH: Final = "US"
Group = tuple[Token, ...]


@dataclass(frozen=True)
class Heard:
    """``core``: the parts that are no condition; ``groups``: these, ``exceptions`` those behind "unless".

    ``unless``: who is excepted; ``of_cup``: whether a condition speaks of one cup.
    """

    core: tuple[Token, ...]
    groups: tuple[Group, ...]
    exceptions: tuple[Group, ...]
    unless: Token | None
    of_cup: bool
    meaning: Meaning
    basis: str

    @classmethod
    def of(cls, parts: Sequence[Token], meaning: Meaning, basis: str) -> Heard:
        """Set the conditions apart."""
        rest, unless = _excepted(list(parts))
        rest, groups, exceptions = _conditions(rest)
        of_cup = any(part.letter in OF_A_CUP for group in (*groups, *exceptions) for part in group)
        return cls(tuple(rest), tuple(groups), tuple(exceptions), unless, of_cup, meaning, basis)

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
        for part in self.core:
            if part.letter in OF_A_CUP + OF_THE_BATCH:
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
    at = 0
    while at < len(parts):
        opened = parts[at].letter in "kwu" and at + 1 < len(parts)
        start = at + 1 if opened else at
        count = _group(parts[start:], opened and parts[at].letter in "ku", amounts)
        if count:
            (exceptions if parts[at].letter == "u" else groups).append(tuple(parts[start : start + count]))
            at = start + count
        else:
            rest.append(parts[at])
            at += 1
    return rest, groups, exceptions


def _group(parts: list[Token], opened: bool, amounts: int) -> int:
    """How many of the first parts make up a condition; 0 where they make none."""
    letters = "".join(part.letter for part in parts)
    if letters[:1] == "F":
        return 1
    if opened and letters[:1] == "c" and letters[1:2] in tuple(OF_A_CUP):
        return 2
    if opened and letters[:1] in tuple(OF_A_CUP + OF_THE_BATCH):
        return 1
    measured = letters[:2] == "MR" and letters[2:3] in tuple(AMOUNTS)
    return 3 if measured and (opened or amounts > 1) else 0


def _line(group: Sequence[Token], meaning: Meaning, *, negated: bool = False) -> Conditions:
    """One condition as a line."""
    group = [part for part in group if part.letter != "c"]
    head = group[0]
    if head.letter == "F":
        measure, _, said = head.value.partition(": ")
        return {measure: _unlike(said) if negated else said}
    if head.letter == "M":
        relation = OPPOSITE.get(group[1].value, "") if negated else group[1].value
        if not relation:
            raise ValueError(group[1].value)
        return {head.value: f"{relation} {group[2].values[0]}"}
    return line_of(head, meaning, negated=negated)


def _unlike(said: str) -> str:
    """What is not so: "force" → "is not force", "is yes" → "is no"."""
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
