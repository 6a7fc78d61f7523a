"""Which additive a maker's words mean: spellings, families by the last word, alkalis by any of their names.

A name is read as a set of words without case, accents, hyphens, plurals and order ("Goat's milk, organic",
"citric-acid", "powdered goat milk").  Words that do not change the chemistry are left off only where that is
so: a dry solid may be powdered, fresh food may be fresh, but powdered honey is not honey.

Formula: a slip of an alkali's name is one letter in words of five to six letters, two in longer ones (a
    letter put in, left out, changed, or two neighbours changed over), nearer to it than to all else here.
Source: names and numbers of the rows in ``data/substances.csv``; the distances are judgement.
Check: slips of every alkali's name are found; sixty ordinary additions are not taken for an alkali.
Limits: English only; what no word tells is unknown, which is never the same as harmless.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from typing import NamedTuple

from blendwise.science.substances import Substance, families, substances
from blendwise.science.tables import read_table

# A dry solid may come as powder or dried; above this fraction of water that would be something else.
DRY = 0.15
# Fresh, frozen or canned is said of what is mostly water.
WET = 0.5
# rapidfuzz ratio from which a known spelling is offered for one that is not known.  Judgement.
LIKE_ENOUGH = 80.0

_DASH = "[-‐‑–—−]"
_CAS = re.compile(rf"\b(\d{{2,7}}){_DASH}(\d\d){_DASH}(\d)\b")
_E_NUMBER = re.compile(r"\b(?:e|ins)[\s-]?(\d{3,4}[a-d]?)(?:\s?\(?(i{1,3})\)?)?(?![a-z0-9])")
_APOSTROPHE = re.compile("['’‘`´]")
_WORD = re.compile(r"[^\W_]+")
_NUMBER = re.compile(r"cas\d{5,10}|e\d{3,4}[a-d]?i*")

# Marks that are set over letters, and signs that nobody sees.
_UNSEEN = {"Mn", "Me", "Cf"}
# Cyrillic and Greek letters that look like Latin ones.
_LIKE_OURS = str.maketrans(
    "аеорсухіјѕԁһкмтнвοναιρτυχАВЕЅІЈКМНОРСТХΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "aeopcyxijsdhkmthbovaiptuxABESIJKMHOPCTXABEZHIKMNOPTYX",
)
_OURS = re.compile("[A-Za-z]")

# Single words that name an alkali in any company.
_ALONE = {"naoh", "koh", "lioh", "na0h", "k0h", "lye", "caustic"}
_DROPPED = {"of", "the", "a", "and", "cas", "no", "number"}
_SAME = {
    **{"powdered": "powder", "dry": "dried", "dehydrated": "dried", "leaves": "leaf", "granulate": "granule"},
    **{"yoghurt": "yogurt", "fiber": "fibre", "aluminum": "aluminium", "grey": "gray", "colour": "color"},
    **{"hydrolysed": "hydrolyzed", "iodised": "iodized", "glycerine": "glycerin", "gelatine": "gelatin"},
    **{"deionised": "deionized", "neutralised": "neutralized", "pureed": "puree", "skim": "skimmed"},
}
# Two things in one name, of which the last word tells only one.
_MIXED = re.compile(r"\b(?:and|with|plus|in)\b|[&+/]")
# Where it goes, not what it is: "sodium lactate (in lye)".
_INTO_LYE = re.compile(r"(?<=\S)\W+(?:in|into|to|for)\s+(?:(?:the|my)\s+)?lye(?:\s+(?:water|solution))?\b")


@cache
def _set(name: str) -> frozenset[str]:
    rows = (row for row in read_table("substance_words") if row["set"] == name)
    return frozenset(word for row in rows for word in row["words"].split())


def said_of(what: str) -> frozenset[str]:
    """The words of one set of ``data/substance_words.csv``: "scent", "fatty", "common fat", …"""
    return _set(what)


@lru_cache(maxsize=8192)
def words_of(name: str) -> tuple[str, ...]:
    """The words of a name in order: lower case, no accents, singular; a CAS or E number is one word."""
    text = (name if name.isascii() else _in_plain_letters(name)).casefold()
    text = _APOSTROPHE.sub("", text)
    if "lye" in text:
        text = _INTO_LYE.sub("", text)
    if any(map(str.isdigit, text)):
        text = _E_NUMBER.sub(r" e\1\2 ", _CAS.sub(r" cas\1\2\3 ", text))
    return tuple(_plain_word(word) for word in _WORD.findall(text) if word not in _DROPPED)


def _in_plain_letters(text: str) -> str:
    """Without accents and signs of no width; among our letters, those of another script that look like ours
    are ours.
    """
    shown = (c for c in unicodedata.normalize("NFKD", text) if unicodedata.category(c) not in _UNSEEN)
    text = "".join(shown)
    return text.translate(_LIKE_OURS) if _OURS.search(text) else text


@lru_cache(maxsize=8192)
def _plain_word(word: str) -> str:
    word = _SAME.get(word, word).replace("sulph", "sulf")
    if len(word) > 4 and word.endswith("ies"):
        word = word[:-3] + "y"
    elif len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        word = word[:-1]
    return _SAME.get(word, word)


_Rows = Mapping[tuple[str, ...], Substance]


def _key(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(words))


@cache
def _index() -> dict[tuple[str, ...], Substance]:
    return {_key(words_of(text)): row for row in substances() for text in row.spellings}


@lru_cache(maxsize=1024)
def known(name: str) -> Substance | None:
    """The row that a name means, words left off that do not change the chemistry; None where none does."""
    return _one_of(_index(), words_of(name))


def _one_of(rows: _Rows, words: tuple[str, ...]) -> Substance | None:
    plain, form, fresh = _set("plain"), _set("form"), _set("fresh")
    for without in (frozenset[str](), plain, plain | form, plain | fresh, plain | form | fresh):
        row = _one_row(rows, [word for word in words if word not in without])
        if row is not None and _may_leave_off(without.intersection(words), row):
            return row
    return None


def _one_row(rows: _Rows, words: list[str]) -> Substance | None:
    """The row of some words, or of the words and numbers where all mean the same: citric acid (E330)."""
    row = rows.get(_key(words))
    numbers = [word for word in words if _NUMBER.fullmatch(word)]
    if row is not None or not numbers or len(numbers) == len(words):
        return row
    row = rows.get(_key(word for word in words if word not in numbers))
    return row if all(rows.get((number,)) is row for number in numbers) else None


def _may_leave_off(off: frozenset[str], row: Substance) -> bool:
    return not (off & _set("form") and row.water > DRY) and not (off & _set("fresh") and row.water < WET)


@cache
def _heads() -> dict[str, Substance]:
    return {words_of(text)[-1]: row for row in families() for text in row.spellings}


@cache
def _plants() -> frozenset[str]:
    kinds = {"botanical", "grain", "starch", "purée"}
    named = {w for row in substances() if row.kind in kinds for text in row.spellings for w in words_of(text)}
    others = ("plain", "form", "fresh", "no plant", "chemical")
    return frozenset(named).difference(_heads(), *map(_set, others))


@lru_cache(maxsize=1024)
def family(name: str) -> Substance | None:
    """The family that the last word of a name tells (rye flour, dried elder petals); None where none does.

    Never for a mixture or a name with a word of chemistry in it; powder only of what is known as a plant.
    """
    words = words_of(name)
    if _MIXED.search(name.casefold()) or _set("chemical").intersection(words) or as_alkali(name) is not None:
        return None
    rest = [word for word in words if word not in _set("plain") | _set("form") | _set("fresh")]
    head = _heads().get(rest[-1]) if rest else None
    if "lime" in words and (head is None or rest[-1] not in _set("lime fruit")):
        return None
    if "powder" not in words:
        return head
    if head is None and _plants().intersection(rest):
        return _heads()["powder"]
    return head if head is not None and head.water <= DRY else None


def nearest(name: str) -> Substance | None:
    """The row whose spelling is most like a name that is not known, to ask the maker; None where none is."""
    from rapidfuzz import fuzz, process

    spelled = [(words_of(text), row) for row in substances() if not row.is_alkali for text in row.spellings]
    rows = {" ".join(order(words)): row for words, row in spelled for order in (tuple, _key)}
    asked = words_of(name)
    found = [
        process.extractOne(" ".join(order(asked)), list(rows), scorer=fuzz.ratio, score_cutoff=LIKE_ENOUGH)
        for order in (tuple, _key)
    ]
    best = max(filter(None, found), key=lambda match: match[1], default=None)
    return None if best is None else rows[best[0]]


@lru_cache(maxsize=1024)
def as_alkali(name: str) -> Substance | None:
    """The alkali that a name, CAS or E number means, slips of the pen included; None where it is none.

    What is known as something else is none, whatever it looks like; "free of lye" is none either.  The
    alkalis are looked at first: most names are like none of them.
    """
    words = words_of(name)
    found = _one_of(_alkalis(), words) or _unmistakable(words) or _slip(words)
    if found is None:
        return None
    row = known(name)
    if row is not None:
        return row if row.is_alkali else None
    turned = _set("not lye").intersection(words)
    if turned and not (turned == {"free"} and "flowing" in words):
        return None
    return found


@cache
def _alkalis() -> dict[tuple[str, ...], Substance]:
    return {_key(spelling): row for spelling, row in _alkali_spellings()}


@cache
def _alkali_spellings() -> tuple[tuple[tuple[str, ...], Substance], ...]:
    return tuple((words_of(text), row) for row in substances() if row.is_alkali for text in row.spellings)


def _unmistakable(words: tuple[str, ...]) -> Substance | None:
    """An alkali whose full name or number stands within the words; the longest of several."""
    found: tuple[int, Substance] | None = None
    for spelling, row in _alkali_spellings():
        size = len(spelling)
        within = any(words[at : at + size] == spelling for at in range(len(words) - size + 1))
        if within and _tells(spelling) and (found is None or size > found[0]):
            found = (size, row)
    return None if found is None else found[1]


def _tells(spelling: tuple[str, ...]) -> bool:
    """Whether a spelling names an alkali in any company: sodium hydroxide does, soda ash must stand alone."""
    first = spelling[0]
    if len(spelling) == 1:
        return first.startswith(("cas", "e52")) or first in _ALONE
    return not {"hydroxide", "caustic", "lye"}.isdisjoint(spelling)


class _Spelled(NamedTuple):
    """A spelling of an alkali, as words and written together, with the letters that a slip may change."""

    words: tuple[str, ...]
    together: str
    letters: frozenset[str]
    room: tuple[int, ...]
    most: int
    row: Substance


@cache
def _slippery() -> tuple[_Spelled, ...]:
    """The spellings of alkalis that a slip may mean: not lime, which is a fruit as well."""
    return tuple(_spelled(words, row) for words, row in _alkali_spellings() if "lime" not in words)


def _spelled(words: tuple[str, ...], row: Substance) -> _Spelled:
    together = "".join(words)
    room = tuple(_room(word, alone=len(words) == 1) for word in words)
    most = 2 if len(together) >= 14 else 1 if len(together) >= 7 else 0
    return _Spelled(words, together, frozenset(together), room, most, row)


def _slip(words: tuple[str, ...]) -> Substance | None:
    said = _set("plain") | _set("form") | _set("lye form")
    rest = tuple(word for word in words if word not in said and not word.isdigit())
    ours = "".join(rest)
    letters, size = frozenset(ours), len(ours)
    best: tuple[int, Substance] | None = None
    for each in _slippery():
        changed = max(each.most, sum(each.room)) if len(rest) == len(each.words) else each.most
        if abs(size - len(each.together)) > changed or len(letters ^ each.letters) > 2 * changed:
            continue
        far = _apart(rest, ours, each)
        if far is not None and (best is None or far < best[0]):
            best = (far, each.row)
    if best is None or (best[0] and _nearer_to_another(rest, best[0])):
        return None
    return best[1]


def _apart(words: tuple[str, ...], ours: str, each: _Spelled) -> int | None:
    """Letters between a name and a spelling where few enough for a slip, by words or written together."""
    if len(words) == len(each.words):
        steps = [letters_apart(*pair) for pair in zip(words, each.words, each.room, strict=True)]
        if all(step <= most for step, most in zip(steps, each.room, strict=True)):
            return sum(steps)
    far = letters_apart(ours, each.together, each.most)
    return far if far <= each.most else None


def _room(word: str, alone: bool) -> int:
    if word[-1].isdigit() or len(word) < 5:
        return 0
    return 2 if len(word) >= 7 and not alone else 1


def _nearer_to_another(words: tuple[str, ...], far: int) -> bool:
    ours = "".join(words)
    return any(letters_apart(ours, other, far) <= far for other in _written_together())


@cache
def _written_together() -> frozenset[str]:
    others = (row for row in substances() if not row.is_alkali)
    return frozenset("".join(words_of(text)) for row in others for text in row.spellings)


def letters_apart(one: str, other: str, most: int | None = None) -> int:
    """Letters put in, left out, changed, or neighbours changed over, between two words (optimal alignment).

    Stops where it is sure to be over ``most``, and says ``most + 1``.  Written out here so that a plain check
    never loads the fuzzy matcher.
    """
    if most is not None and (
        abs(len(one) - len(other)) > most or len(set(one).symmetric_difference(other)) > 2 * most
    ):
        return most + 1
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, ours in enumerate(one, 1):
        before, last, row = row, before, [i]
        for j, theirs in enumerate(other, 1):
            step = min(row[-1] + 1, before[j] + 1, before[j - 1] + (ours != theirs))
            if i > 1 and j > 1 and ours == other[j - 2] and one[i - 2] == theirs:
                step = min(step, last[j - 2] + 1)
            row.append(step)
        if most is not None and min(row) > most and min(before) > most:
            return most + 1
    return row[-1] if most is None else min(row[-1], most + 1)
