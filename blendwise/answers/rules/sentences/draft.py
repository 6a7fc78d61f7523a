"""What a sentence comes to: the parts of a rule, what its words count as, and what is asked back."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final

Conditions = dict[str, Any]
Level = str

SUBJECTS: Final = "XCBDQ"
"""Letters of what a demand may be about: oils, colourants, base oils, additives, constituents."""
BASES: Final = ("portion oils", "batch oils", "finished bar", "scent in the cup")
"""What a rate may be of, where a sentence does not say."""


@dataclass(frozen=True)
class Draft:
    """A rule as far as a sentence gives it.

    ``counts``: word → what it counts as; ``asks``: "basis" where a rate has none;
    ``aside``: clauses that were taken for reasons.
    """

    looks_at: str
    when: Conditions
    must: Conditions
    level: Level
    shape: str
    counts: dict[str, str] = field(default_factory=dict)
    asks: str = ""
    aside: tuple[str, ...] = ()

    def body(self) -> Conditions:
        """The rule as its file has it, without name and reason."""
        when = {"when": self.when} if self.when else {}
        return {"looks at": self.looks_at, **when, "must": self.must, "else": self.level}


class UnsureError(ValueError):
    """A sentence that may say two things; ``ways``: what to add, so that it says one."""

    def __init__(self, ways: tuple[str, ...]) -> None:
        super().__init__(*ways)
        self.ways = ways


@dataclass(frozen=True)
class Unread:
    """A sentence that is no rule yet: the places not understood, the nearest shape, and an example of it.

    ``either``: what a word may mean, where it may mean more than one thing.  ``alone``: the two sentences
    that it is made of, each to be said by itself.  ``figures``: what to say in place of a word that is none.
    ``aside``: clauses that were taken for reasons.
    """

    spans: tuple[tuple[int, int], ...]
    nearest: str
    example: str
    either: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    aside: tuple[str, ...] = ()


def merged(first: Conditions, second: Conditions) -> Conditions:
    """Two conditions at once; a measure that both speak of goes into a branch of its own."""
    found = dict(first)
    for measure, said in second.items():
        if measure == "any of" and "any of" not in found:
            found["any of"] = said
        elif measure in found:
            if "any of" in found:
                raise ValueError(measure)
            found["any of"] = [{measure: said}]
        else:
            found[measure] = said
    return found
