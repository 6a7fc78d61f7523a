"""The names and amounts in a question: oils, portions, colours, pours, plans; slips and parts too."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from blendwise.answers.ask.doses.in_words import in_digits
from blendwise.answers.ask.doses.named import bare_numbers, doses_in
from blendwise.answers.ask.result import Named
from blendwise.answers.names import plain
from blendwise.quantity.parse import COMPOUND
from blendwise.quantity.typed import NEGATIVE, TYPED, decimal_point

LONGEST: Final = 5
"""Words of the longest name that is looked for."""
ALIKE: Final = 80.0
"""Likeness (0 to 100) from which a word that is no word of a question is read as a name's slip; it must
begin as the name does."""
LEAD: Final = 8.0
"""How much more alike the nearest must be than the next."""
LEAST: Final = 5
"""Letters of the shortest word that may be a slip."""
KINDS: Final = ("PLAN", "OIL", "CUP", "COLOUR", "POUR")
"""In the order in which a name that several kinds have is read, where nothing beside it tells."""
HERE: Final = "HERE"
"""The oils of the plan: of several that a part of a name fits, the one that is meant."""
_SPOTS: Final = frozenset(
    {"spot", "spots", "dot", "dots", "speck", "specks", "freckle", "freckles", "freckled"}
)
"""Words after a colour that make it a fault of the bar, and no cup's name."""
_SHORT: Final = 3
"""Letters from which on a name counts wherever it stands; a shorter one ("a") only beside its kind."""
_CUES: Final[Mapping[str, str]] = {
    **dict.fromkeys(["cup", "portion", "layer", "part", "colour", "color"], "CUP"),
    **dict.fromkeys(["oil", "scent", "fragrance", "fo", "eo", "of", "with"], "OIL"),
    **dict.fromkeys(["plan", "batch", "again"], "PLAN"),
    **dict.fromkeys(["mica", "in"], "CUP"),
}
"""Words beside a name of several kinds that tell which is meant."""
_CUED_PLAN: Final = {word for word, kind in _CUES.items() if kind == "PLAN"} | {"the", "my", "poured"}
"""Words near a part of a plan's name by which it is one."""
_RATE: Final = (
    r"(?:%|percent\b|per cent\b|pct\b|(?:oz|ounces?)\.?\s*(?:ppo|(?:per|an?|to the) (?:lb|pound))\b|ppo\b"
    r"|g(?:rams?)?\s*per kg\b)"
)
_UNIT: Final = (
    rf"(?:{_RATE}|(?:g|grams?|kg|oz|ounces?|lbs?|pounds?|tsp|tbsp|teaspoons?|cm|mm|in|inch(?:es)?|ml|litres?|liters?"
    r"|degrees(?: [cf])?|°?\s*[cf]|bars?)\b|[°\"”])"
)
_AMOUNT: Final = re.compile(
    rf"{COMPOUND.pattern}|{TYPED}\s*(?:{_RATE}\s*)?(?:-|to)\s*{TYPED}\s*{_RATE}"
    rf"|{TYPED}(?:\s*{_UNIT})?(?:\s*(?:x|×|by)\s*{TYPED}(?:\s*{_UNIT})?)+|{TYPED}\s*{_UNIT}?",
    re.IGNORECASE,
)
_NUMBER: Final = re.compile(TYPED)
_NO_BLANK: Final = re.compile(r"(?<=\d)(?=(?:oz|ounces?|lbs?|pounds?|ppo|inch(?:es)?)\b)", re.IGNORECASE)
_NO_NOUGHT: Final = re.compile(r"(?<![\d.])\.(?=\d)")
_UNITS_AS_WRITTEN: Final = (
    (re.compile(r"(?<=\d )inch(?:es)?\b", re.I), "in"),
    (re.compile(r"\s*(?:per ?cent|pct)\b", re.I), " %"),
    (re.compile(r"\b(?:ounces?|oz)\.?\s*(?:ppo|(?:per|an?|to the) (?:lb|pound))\b", re.I), "oz ppo"),
    (re.compile(r"(?<=\d)\s*ppo\b", re.I), " oz ppo"),
    (re.compile(r"(?<=\d )(?:ounces?)\b(?! ppo)", re.I), "oz"),
    (re.compile(r"(?<=\d )(?:pounds?)\b", re.I), "lb"),
    (re.compile(r"(?<=\d )grams?\b(?! per)", re.I), "g"),
    (re.compile(r"\bgrams?\s*per kg\b", re.I), "g per kg"),
)
"""Units that makers write in a sentence → as a book writes them."""
_SIDES: Final = re.compile(r"\d[^\d]*(?:x|×|by)\s*\d", re.IGNORECASE)
"""Sides of a box: whoever names them speaks of a mould."""
_NUMBER_ALONE: Final = re.compile(r"\d{1,2}")
_PARTS: Final = {
    **dict.fromkeys(("1/2", "½"), " half "),
    **dict.fromkeys(("1/3", "⅓"), " third "),
    **dict.fromkeys(("1/4", "¼"), " quarter "),
}
"""A fraction of nothing that is named → its word."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One name in a question: the words it stands at, of which kind, and the name."""

    first: int
    last: int
    kind: str
    name: str
    typed: str


def read(
    asked: str, known: Mapping[str, Collection[str]], common: Collection[str]
) -> tuple[list[str], Named]:
    """The words of a question with names and amounts put as slots, and what they are.

    ``known``: kind → names.  ``common``: words that questions are made of, which are never slips of a name
    and only with another word beside them a part of one.
    """
    text, amounts = _amounts(asked)
    words = re.findall(r"[^\W_]+", text.replace("'", "").replace("’", ""))[:80]
    seen = list(_names(words, known, common))
    slots: list[str] = []
    at = 0
    for each in seen:
        slots += [*words[at : each.first], each.kind]
        at = each.last
    slots += words[at:]
    doses = doses_in(slots, [each.name for each in seen if each.kind == "OIL"], amounts)
    return slots, replace(_named(seen, [*amounts, *bare_numbers(slots)], known), doses=doses)


def _amounts(asked: str) -> tuple[str, list[str]]:
    """The question with its amounts as slots; a small number alone is a word ("those 2 oils")."""
    found: list[str] = []

    def slot(match: re.Match[str]) -> str:
        typed = match[0].strip()
        if _NUMBER_ALONE.fullmatch(typed):
            return match[0]
        if typed in _PARTS:
            return _PARTS[typed]
        minus = "-" if NEGATIVE.match(match.string, max(match.start() - 1, 0)) else ""
        found.append(minus + _as_written(typed))
        return " mould AMOUNT " if _SIDES.search(typed) else " AMOUNT "

    return _AMOUNT.sub(slot, in_digits(asked)), found


def _as_written(typed: str) -> str:
    """An amount of a sentence as a book writes it: ``,7 ounces per pound`` → ``0.7 oz ppo``."""
    plain = _NUMBER.sub(lambda found: decimal_point(found[0]), typed)
    plain = _NO_BLANK.sub(" ", _NO_NOUGHT.sub("0.", plain))
    for words, unit in _UNITS_AS_WRITTEN:
        plain = words.sub(unit, plain)
    return plain


def _names(
    words: Sequence[str], known: Mapping[str, Collection[str]], common: Collection[str]
) -> Iterator[Seen]:
    at = 0
    while at < len(words):
        for length in range(min(LONGEST, len(words) - at), 0, -1):
            seen = _whole(words, at, length, known)
            if seen is not None:
                break
        else:
            seen = _part(words, at, known, common)
        if seen is None:
            at += 1
            continue
        yield seen
        at = seen.last


def _whole(words: Sequence[str], at: int, length: int, known: Mapping[str, Collection[str]]) -> Seen | None:
    """A name typed whole, whatever its case, blanks and hyphens; its plural too."""
    typed = plain("".join(words[at : at + length]))
    kinds = {
        kind: name
        for kind in reversed(KINDS)
        for name in known.get(kind, ())
        if plain(name) in (typed, typed.removesuffix("s") if len(typed) > _SHORT else typed)
    }
    after = {word.casefold() for word in words[at + length : at + length + 1]}
    beside = after | {word.casefold() for word in words[max(0, at - 1) : at]}
    if (
        not kinds
        or after & _SPOTS
        or (len(typed) < _SHORT and typed.isascii() and not _short_name(words, at, known, beside))
    ):
        return None
    kind = _kind(words, at, length, kinds)
    return Seen(at, at + length, kind, kinds[kind], " ".join(words[at : at + length]))


def _short_name(
    words: Sequence[str], at: int, known: Mapping[str, Collection[str]], beside: set[str]
) -> bool:
    """Whether a name of a letter or two is meant: beside its kind or another cup, or as no word."""
    if beside & (_CUES.keys() - {"of", "with", "in"}):
        return True
    cups = {plain(name) for name in known.get("CUP", ())}
    if plain(words[at]) not in cups:
        return False
    if words[at].casefold() not in LITTLE_WORDS and not words[at].isdigit():
        return True
    before, after = words[max(0, at - 2) : at], words[at + 1 : at + 3]
    joins = {word.casefold() for word in (*before[-1:], *after[:1])}
    others = {plain(word) for word in (*before[:1], *after[1:])}
    return bool(joins & {"and", "or", "before"} and others & cups)


LITTLE_WORDS: Final = frozenset(
    (
        *("a", "i", "am", "an", "as", "at", "be", "by", "do", "go", "he", "if", "in", "is", "it", "me", "my"),
        *("no", "of", "on", "or", "so", "to", "up", "us", "we", "oz", "lb", "g", "kg", "c", "f", "x"),
        *("b", "k", "n", "r", "u", "w", "y"),
    )
)
"""Words and units that a cup of a letter or two may be called too."""


def _kind(words: Sequence[str], at: int, length: int, kinds: Mapping[str, str]) -> str:
    """Which is meant of a name that several kinds have, by the word after it or before it."""
    beside = [*words[at + length : at + length + 1], *words[max(0, at - 1) : at]]
    for word in beside:
        if _CUES.get(word.casefold()) in kinds:
            return _CUES[word.casefold()]
    return next(kind for kind in KINDS if kind in kinds)


def _part(
    words: Sequence[str], at: int, known: Mapping[str, Collection[str]], common: Collection[str]
) -> Seen | None:
    """A word that is the telling part of a name ("tonka"), or a slip of it ("tonak milk").

    Of several oils it is the plan's; where that does not tell, it is an oil without a name.
    """
    word = words[at].casefold()
    if len(word) < 3 or not word.isalpha():
        return None
    if (begun := _begun(words, at, known)) is not None:
        return begun
    if word in common:
        return None
    several = False
    for kind in (*KINDS[1:], KINDS[0]):  # a plan last: half its name is as often an oil's or a cup's
        named = [
            (name, part)
            for name in known.get(kind, ())
            for part in re.findall(r"\w+", name.casefold().replace("_", " "))
        ]
        meant = {name for name, part in named if word == part or (len(word) > 3 and word == f"{part}s")}
        here = meant & set(known.get(HERE, ()))
        if kind == "PLAN" and not _CUED_PLAN & {each.casefold() for each in words[max(0, at - 2) : at + 2]}:
            continue  # "in spring" is no plan called spring-market
        if len(meant) == 1 or (kind == "OIL" and len(here) == 1):
            name = (here or meant).pop()
            return Seen(at, _beyond(words, at, name), kind, name, words[at])
        several |= kind == "OIL" and len(meant) > 1
    if several:
        return Seen(at, at + 1, "OIL", "", words[at])
    return _slip(words, at, known) if len(word) >= LEAST else None


def _begun(words: Sequence[str], at: int, known: Mapping[str, Collection[str]]) -> Seen | None:
    """The one oil of which two or more words stand there in their order, though not all of them."""
    here = [word.casefold() for word in words[at : at + LONGEST]]
    found: dict[str, int] = {}
    for name in known.get("OIL", ()):
        parts = re.findall(r"\w+", name.casefold().replace("_", " "))
        same = 0
        while same < min(len(parts), len(here)) and parts[same] == here[same]:
            same += 1
        if same >= BEGUN:
            found[name] = same
    if len(found) != 1:
        return None
    name, same = next(iter(found.items()))
    return Seen(at, at + same, "OIL", name, " ".join(words[at : at + same]))


BEGUN: Final = 2
"""Words of a longer name that are enough of it, however common each of them is."""


def _beyond(words: Sequence[str], at: int, name: str) -> int:
    """Where the rest of a name ends that is typed after its first word, slips allowed."""
    from rapidfuzz import fuzz

    parts = re.findall(r"\w+", name.casefold().replace("_", " "))
    last = at + 1
    while last < len(words) and last - at < len(parts):
        if max(fuzz.ratio(words[last].casefold(), part) for part in parts) < ALIKE:
            break
        last += 1
    return last


def _slip(words: Sequence[str], at: int, known: Mapping[str, Collection[str]]) -> Seen | None:
    """The one name that two words or one are nearly."""
    from rapidfuzz import fuzz

    for length in (3, 2, 1):
        if at + length > len(words):
            continue
        typed = plain("".join(words[at : at + length]))
        scored = [
            (fuzz.ratio(typed, plain(name)), kind, name) for kind in KINDS for name in known.get(kind, ())
        ]
        if length == 1:
            scored += [
                (fuzz.ratio(typed, part), kind, name)
                for kind in KINDS[1:]  # a part of a plan's name alone is none: "in spring"
                for name in known.get(kind, ())
                for part in re.findall(r"\w+", name.casefold())
                if len(part) >= LEAST
            ]
        near = [each for each in scored if plain(each[2])[:1] == typed[:1]]
        best = max(near, default=(0.0, "", ""))
        if best[0] >= ALIKE and len({name for score, _, name in near if score >= best[0] - LEAD}) == 1:
            return Seen(at, at + length, best[1], best[2], " ".join(words[at : at + length]))
    return None


def _named(seen: Sequence[Seen], amounts: Sequence[str], known: Mapping[str, Collection[str]]) -> Named:
    seen = [each for each in seen if each.name]
    of = {kind: tuple(dict.fromkeys(each.name for each in seen if each.kind == kind)) for kind in KINDS}
    oils, portions = known.get("OIL", ()), known.get("CUP", ())
    return Named(
        oils=of["OIL"],
        portions=of["CUP"],
        colours=of["COLOUR"],
        pours=of["POUR"],
        plans=of["PLAN"],
        amounts=tuple(amounts),
        read_as={each.typed: each.name for each in seen if plain(each.typed) != plain(each.name)},
        both=tuple(each.name for each in seen if each.name in oils and each.name in portions),
    )
