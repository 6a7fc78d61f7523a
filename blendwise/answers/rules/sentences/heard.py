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
OF_A_CUP: Final = "WPV"
OF_THE_BATCH: Final = "US"


@dataclass(frozen=True)
class Heard:
    """``core``: the parts that are no condition; ``when``: these as lines; ``unless``: who is excepted.

    ``of_cup``: whether a condition speaks of one cup.
    """

    core: tuple[Token, ...]
    when: Conditions
    unless: Token | None
    of_cup: bool
    meaning: Meaning
    basis: str

    @classmethod
    def of(cls, parts: Sequence[Token], meaning: Meaning, basis: str) -> Heard:
        """Set the conditions apart."""
        rest, unless = _excepted(list(parts))
        rest, groups = _conditions(rest)
        when: Conditions = {}
        for group in groups:
            when = merged(when, _lines(group, meaning))
        of_cup = any(part.letter in OF_A_CUP for group in groups for part in group)
        return cls(tuple(rest), when, unless, of_cup, meaning, basis)

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
        if "N" not in self.letters:
            return said
        if said not in STRICT:
            raise ValueError(said)
        return OPPOSITE[said]

    def situation(self) -> tuple[Conditions, bool]:
        """All conditions, cups and pours of the core counted among them; whether one speaks of a cup."""
        when, of_cup = dict(self.when), self.of_cup
        for part in self.core:
            if part.letter in OF_A_CUP + OF_THE_BATCH:
                when = merged(when, _lines([part], self.meaning))
                of_cup |= part.letter in OF_A_CUP
        return when, of_cup


def _excepted(parts: list[Token]) -> tuple[list[Token], Token | None]:
    """The parts without "unless folded", and who is excepted."""
    for at, part in enumerate(parts[:-1]):
        if part.letter == "u" and parts[at + 1].letter == "X":
            return [*parts[:at], *parts[at + 2 :]], parts[at + 1]
    return parts, None


def _conditions(parts: list[Token]) -> tuple[list[Token], list[list[Token]]]:
    """The core, and each group of parts that is a condition."""
    rest: list[Token] = []
    groups: list[list[Token]] = []
    opened_by_word = any(part.letter == "k" for part in parts)
    amounts = 0 if opened_by_word else sum(part.letter in AMOUNTS for part in parts)
    at = 0
    while at < len(parts):
        opened = parts[at].letter in "kw" and at + 1 < len(parts)
        start = at + 1 if opened else at
        count = _group(parts[start:], opened and parts[at].letter == "k", amounts)
        if count:
            groups.append(parts[start : start + count])
            at = start + count
        else:
            rest.append(parts[at])
            at += 1
    return rest, groups


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


def _lines(group: Sequence[Token], meaning: Meaning) -> Conditions:
    group = [part for part in group if part.letter != "c"]
    head = group[0]
    match head.letter:
        case "F":
            measure, _, said = head.value.partition(": ")
            return {measure: said}
        case "M":
            return {head.value: f"{group[1].value} {group[2].values[0]}"}
        case "W":
            return meaning.colour(head)
        case "P":
            return meaning.place(head)
        case "V":
            return {"portion": list(head.values)}
        case "U":
            return {"pour": list(head.values)}
    return {"month": meaning.months(head)}
