"""Which amount or multiple in a question is a dose of which oil, read off the words beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

TIMES: Final = {
    **dict.fromkeys(["double", "doubled", "doubling", "twice"], 2.0),
    **dict.fromkeys(["triple", "tripled", "tripling", "treble", "thrice"], 3.0),
    **dict.fromkeys(["quadruple", "quadrupled"], 4.0),
    **dict.fromkeys(["half", "halve", "halved", "halving"], 0.5),
}
"""Words that name a size or a dose as a multiple of the plan's own."""
SO_MANY: Final = {"two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "ten": 10.0}
_MANY_X: Final = re.compile(r"(\d{1,3})x", re.IGNORECASE)
LINK: Final = frozenset(
    (
        *("of", "the", "my", "a", "an", "this", "that", "as", "much", "amount", "dose", "doses"),
        *("dosage", "rate", "quantity", "usage", "normal", "usual", "own"),
    )
)
"""Words that may stand between an amount and the oil that it is of."""
ALL_SCENT: Final = frozenset(
    (
        *("scent", "scents", "fragrance", "fragrances", "perfume", "load", "blend", "fo", "eo"),
        *("fos", "eos"),
    )
)
"""Words for all oils of a plan together."""
SIZE: Final = frozenset(
    (
        *("batch", "batches", "recipe", "mould", "mold", "loaf", "size", "bigger", "larger"),
        *("everything", "whole", "bars", "batter"),
    )
)
"""Words that make a multiple one of the batch."""
NOT_SCENT: Final = frozenset(
    (
        *("oils", "oil", "batter", "soap", "lye", "water", "loaf", "batch", "mould", "mold"),
        *("bars", "pot", "recipe"),
    )
)
"""Words after a mass that make it one of something else."""
HELD: Final = frozenset(
    (
        *("vanillin", "vanilla", "ethyl", "citral", "eugenol", "alcohol", "certificate", "limit"),
        *("strong", "lye"),
    )
)
"""Words after a rate that make it no dose: what an oil holds, what its paper allows."""
TOLD: Final = frozenset(
    (
        *("certificate", "limit", "limits", "says", "allows", "allowed", "holds", "contains"),
        *("vanillin", "ifra", "has"),
    )
)
"""Words before a rate that make it no dose."""
RATE: Final = re.compile(r"%|ppo|per kg", re.IGNORECASE)
MASS: Final = re.compile(r"[\d½⅓¼¾.,/ ]+(?:g|grams?|kg|oz|ounces?|lbs?|pounds?)\b[^x×]*", re.IGNORECASE)

MORE: Final = frozenset((*("another", "additional", "extra", "more", "further"),))
"""Words that put an amount on top of what there is."""
BARE: Final = re.compile(r"\b(\d{1,2}) (?:of )?(?:the )?OIL\b|\bOIL (?:at|to) (\d{1,2})\b(?! times)")

Doses = tuple[tuple[str, str], ...]


def doses_in(slots: Sequence[str], oils: Sequence[str], amounts: Sequence[str]) -> Doses:
    """Pairs of an oil and its dose as typed, or as "x 2"; the oil is empty where all scent is meant.

    ``slots``: the words with names and amounts put as slots; ``oils``, ``amounts``: theirs, in order.
    """
    at = dict(zip(_places(slots, "OIL"), oils, strict=True))
    found = [*_of_amounts(slots, at, amounts), *_of_times(slots, at)]
    once = dict(found)
    return tuple(once.items()) if len(once) == len(found) and len({o for o in once if not o}) < 2 else ()


def is_a_dose(amount: str) -> bool:
    """Whether an amount is a rate or a mass, and no time, length or temperature."""
    return bool(RATE.search(amount) or MASS.search(amount))


def _places(slots: Sequence[str], slot: str) -> list[int]:
    return [place for place, word in enumerate(slots) if word == slot]


def _of_amounts(
    slots: Sequence[str], oils: dict[int, str], amounts: Sequence[str]
) -> Iterator[tuple[str, str]]:
    held = list(zip(_places(slots, "AMOUNT"), amounts, strict=False))
    for number, (place, amount) in enumerate(held):
        if not _is_dose(slots, place, amount) or _is_from(slots, place, held[number + 1 :]):
            continue
        oil = _oil_beside(slots, place, oils)
        if oil is not None and (oil or "ppo" in amount.casefold()):
            yield oil, f"+ {amount}" if _is_more(slots, place) else amount


def _is_more(slots: Sequence[str], place: int) -> bool:
    """Whether it is to come on top of what there is: "another 0.5 oz", "0.5 oz more"."""
    before = slots[place - 1].casefold() if place else ""
    return before in MORE or slots[place + 1 : place + 2] == ["more"]


def bare_numbers(slots: Sequence[str]) -> list[str]:
    """Numbers without a unit that stand where a dose does: "8 of OIL", "OIL at 8"."""
    return [found[1] or found[2] for found in BARE.finditer(" ".join(slots))]


def _is_dose(slots: Sequence[str], place: int, amount: str) -> bool:
    rate = bool(RATE.search(amount))
    if not rate and not MASS.fullmatch(amount.strip()):
        return False
    beside = next((word for word in slots[place + 1 :] if word.casefold() not in LINK), "")
    after = "" if beside == "OIL" else beside.casefold()
    before = {word.casefold() for word in slots[max(0, place - 3) : place]}
    return after not in (HELD if rate else HELD | NOT_SCENT) and not before & TOLD


def _is_from(slots: Sequence[str], place: int, later: Sequence[tuple[int, str]]) -> bool:
    """Whether it is the first of "from 0.3 oz to 0.5 oz": what is, not what is asked of."""
    before = slots[place - 1].casefold() if place else ""
    return before == "from" and any(slots[at - 1].casefold() == "to" for at, _ in later)


def _oil_beside(slots: Sequence[str], place: int, oils: dict[int, str]) -> str | None:
    """The oil that an amount is of: right after it, else the last before, else the only one; "" for all."""
    after = _next(slots, place)
    if after in oils:
        return oils[after] or None
    if after < len(slots) and slots[after].casefold() in ALL_SCENT:
        return ""
    before = [at for at in oils if at < place]
    chosen = before[-1:] or (list(oils) if len(oils) == 1 else [])
    return (oils[chosen[0]] or None) if chosen else "" if not oils else None


def _next(slots: Sequence[str], place: int) -> int:
    """The place of the next word that is no link."""
    place += 1
    while place < len(slots) and slots[place].casefold() in LINK | MORE:
        place += 1
    return place


def _of_times(slots: Sequence[str], oils: dict[int, str]) -> Iterator[tuple[str, str]]:
    words = [word.casefold() for word in slots]
    for place, word in enumerate(words):
        many, last = _times_at(words, place)
        if many is None:
            continue
        after = _next(slots, last)
        before = [at for at in oils if at < place]
        if oils.get(after):
            yield oils[after], f"x {many:g}"
        elif after < len(words) and words[after] in ALL_SCENT and not oils:
            yield "", f"x {many:g}"
        elif before and oils[before[-1]] and many > 1 and word != "times" and not SIZE & set(words):
            yield oils[before[-1]], f"x {many:g}"


def _times_at(words: Sequence[str], place: int) -> tuple[float | None, int]:
    """The multiple that begins at a word, and the place of its last word."""
    word = words[place]
    if found := _MANY_X.fullmatch(word):
        return float(found[1]), place
    if place + 1 < len(words) and words[place + 1] == "times" and (word in SO_MANY or word.isdigit()):
        return SO_MANY.get(word) or float(word), place + 1
    return TIMES.get(word), place


def is_load(amount: str) -> bool:
    """Whether an amount is a rate as a load is written."""
    return "%" in amount or "ppo" in amount.casefold()
