"""One sentence that is two rules: parted, the second with what it shares with the first."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from blendwise.answers.rules.sentences.draft import SUBJECTS, Draft, Unread
from blendwise.answers.rules.sentences.joining.spans import ENDS
from blendwise.answers.rules.sentences.lexicon import Lexicon, Token, tokens
from blendwise.answers.rules.sentences.reasons.clauses import halves

OF_A_PLACE: Final = "WPVUSFE"
"""Letters of what a demand may be bound to: cups, pours, months, kinds of batches, embeds."""
Read = Callable[[str], Draft | Unread]


def two_rules(core: str, lexicon: Lexicon, whole: Unread, read: Read) -> Unread | None:
    """The two sentences that make up one, where each can be read alone; the second may lack its subject."""
    for first, second in halves(core):
        parts = tokens(first, lexicon)
        if (parts and parts[0].letter in ("k", "u")) or isinstance(read(first), Unread):
            continue
        if re.fullmatch(f"N[{SUBJECTS}]", "".join(part.letter for part in parts)):  # where, the second says
            continue
        if _of_either(parts, tokens(second, lexicon)):
            continue
        before = lead(first, parts)
        if _own_condition(second, before, lexicon) or _shared_at_end(core, first, second, lexicon, read):
            continue
        if before and not conditions_of(second, lexicon):
            second = f"{before} {second}"
        carried = f"{subject(first, parts)} {_relation(first, parts, second, lexicon)}{second}".strip()
        own = any(set(part.letter) <= set(SUBJECTS + "M") for part in tokens(second, lexicon))
        for text in (second, carried) if own else (carried, second):
            if not isinstance(read(text), Unread):
                return replace(whole, spans=(), either=(), alone=(first, text))
    return None


def _of_either(first: list[Token], second: list[Token]) -> bool:
    """Whether a figure alone may be of either of two: "lime wants litsea with it, a fifth at least"."""
    letters = "".join(part.letter for part in first)
    named = {letter for part in second for letter in part.letter} & set(SUBJECTS + "M")
    figure = any(part.letter in tuple(ENDS) for part in second)
    return letters.count("X") > 1 and bool(set("ewt") & set(letters)) and figure and not named


def _relation(first: str, parts: list[Token], second: str, lexicon: Lexicon) -> str:
    """The first demand's relation for a second with a figure alone: "at most 2 % in dark, 1 % in light"."""
    letters = "".join(part.letter for part in tokens(second, lexicon))
    said = [part for part in parts if part.letter == "R"]
    if len(said) != 1 or set("RNO") & set(letters) or not set(ENDS) & set(letters):
        return ""
    return f"{first[said[0].start : said[0].end]} "


def lead(text: str, parts: list[Token]) -> str:
    """The conditions that a sentence begins with ("for hanger swirls …"), which hold for all that follows."""
    count = next((k for k, part in enumerate(parts) if part.letter not in tuple(OF_A_PLACE + "wc")), 0)
    return text[: parts[count - 1].end] if count else ""


def conditions_of(text: str, lexicon: Lexicon) -> set[str]:
    return {letter for part in tokens(text, lexicon) for letter in part.letter} & set(OF_A_PLACE + "ku")


def _own_condition(second: str, before: str, lexicon: Lexicon) -> bool:
    """Whether the second of two demands has a condition of another kind than that before both."""
    said, own = conditions_of(before, lexicon), conditions_of(second, lexicon)
    return bool(said and own and said != own)


def _shared_at_end(core: str, first: str, second: str, lexicon: Lexicon, read: Read) -> bool:
    """Whether a condition at the end may be of both demands: "superfat at most 5 and lye at most 31 in …"."""
    parts = tokens(second, lexicon)
    if conditions_of(first, lexicon) or len(parts) < 2 or parts[-1].letter not in tuple(OF_A_PLACE):
        return False
    if core[core.index(first) + len(first) :].lstrip()[:1] in (".", ";"):
        return False
    return isinstance(read(second[: parts[-2].end]), Draft)


def subject(text: str, parts: list[Token]) -> str:
    """What a sentence is about, in its own words: what it names first, with all that is listed with it."""
    named = [at for at, part in enumerate(parts) if set(part.letter) & set(SUBJECTS)] or [
        at for at, part in enumerate(parts) if part.letter in ("s", "M")
    ]
    if not named:
        return ""
    last = named[0]
    while last + 1 < len(parts) and (parts[last + 1].letter == "&" or last + 1 in named):
        last += 1
    while parts[last].letter == "&":
        last -= 1
    return text[parts[named[0]].start : parts[last].end]
