"""Substances of fragrance oils by every name and number that papers use for them.

What a paper calls "(E)-cinnamaldehyde", "Zimtaldehyd" or "104-55-2" is *cinnamal* to the label list; the
table says so, and a reader that knows how papers spell finds it.  It is conservative: no name is read as one
that merely looks like it, two answers are none, and a name the table does not hold is unknown: not harmless.

Formula: none; look-up by key, see `constituent_names`.
Source: ``data/constituents.csv``; each row says whether its entry was read or is from memory.
Check: 2,114 names of papers (petermr/CEVOpen, eoCompound) against a table made by hand before the reader was
    run; pairs that must stay apart; check digits of all CAS numbers; the label and restriction tables.
Limits: a selection; bans and maxima stand in ``restrictions.csv`` alone, label names in ``label_names.csv``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache

from blendwise.quantity.cas import cas_numbers, check_digit_fits, ec_numbers
from blendwise.science.constituent_names import (
    LONGEST_NAME,
    key_of,
    parts_of,
    rounds_of_keys,
    rounds_without_geometry,
    without_cas,
)
from blendwise.science.restrictions import restrictions
from blendwise.science.tables import plain_key, read_table

_WORD = re.compile(r"[a-z]{3,}")
LEAST_LIKENESS = 0.8  # share of like letters, our own judgement: below it no name is worth showing
SLIP_LIKENESS = 0.88  # the same for a name that may be a slip: judgement


@dataclass(frozen=True, slots=True)
class Constituent:
    """One row: ``name`` as the label and restriction tables call it; ``kind`` its class, as "aldehyde".

    ``any_form``: its cis and trans forms are read as this one.  ``read``: whether its entry was read in the
    source (else it is from memory).  ``note`` is no verdict.
    """

    name: str
    also: tuple[str, ...]
    inci: str
    cas: tuple[str, ...]
    kind: str
    any_form: bool
    source: str
    read: bool
    note: str

    @property
    def names(self) -> tuple[str, ...]:
        """Every name of it, the canonical one first."""
        return tuple(dict.fromkeys(name for name in (self.name, *self.also, self.inci) if name))


@cache
def constituents() -> tuple[Constituent, ...]:
    """All rows of the table, in its order."""
    return tuple(_constituent(row) for row in read_table("constituents"))


def _constituent(row: dict[str, str]) -> Constituent:
    return Constituent(
        name=row["name"],
        also=_parted(row["also"]),
        inci=row["inci"],
        cas=_parted(row["cas"]),
        kind=row["class"],
        any_form=row["forms"] == "any",
        source=row["source"],
        read=row["standing"] == "read",
        note=row["note"],
    )


def _parted(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in cell.split("|") if part.strip())


@lru_cache(maxsize=4096)
def known(text: str) -> Constituent | None:
    """The substance that a paper means by a name, a CAS number or both; None where it is unknown or in doubt.

    In doubt: a number that stands for two rows (laurel leaf oil and laurel seed oil share one), or a name and
    a number that contradict each other.
    """
    found = candidates(text)
    return found[0] if len(found) == 1 else None


def candidates(text: str) -> tuple[Constituent, ...]:
    """Every substance that a spelling could mean: one, none, or the several that leave it in doubt."""
    if len(text) > LONGEST_NAME:
        return ()
    by_number = _by_numbers((*filter(check_digit_fits, cas_numbers(text)), *ec_numbers(text)))
    by_name = _by_name(without_cas(text))
    if by_name and by_number:
        return tuple(row for row in by_name if row in by_number) or _once((*by_name, *by_number))
    return by_name or by_number


def nearest(text: str) -> tuple[str, Constituent] | None:
    """The table's spelling that is most like an unknown name, and its substance: to show, never to use."""
    if len(text) > LONGEST_NAME:
        return None
    found = _most_like(key_of(without_cas(text)), tuple(_spellings()), LEAST_LIKENESS)
    return None if found is None else _spellings()[found]


def _most_like(key: str, keys: tuple[str, ...], likeness: float) -> str | None:
    """The key most like one; by the standard library, so that a check loads no matcher for it."""
    from difflib import get_close_matches

    return next(iter(get_close_matches(key, keys, 1, likeness)), None)


def slip_of(text: str) -> Constituent | None:
    """The limited substance that a spelling seems to be a slip of; None where it is a name of its own.

    A slip has a word that no name of the table has (metylpropional).  "Ethyl salicylate" is made of words
    that all are in use: it is another substance than methyl salicylate, known or not.  A name that comes with
    a sound CAS number is no slip either: the number says what it is.
    """
    if len(text) > LONGEST_NAME or any(map(check_digit_fits, cas_numbers(text))):
        return None
    if set(_WORD.findall(text.casefold())) <= _words():
        return None
    found = _most_like(key_of(text), _limited(), SLIP_LIKENESS)
    return None if found is None else _spellings()[found][1]


@cache
def _limited() -> tuple[str, ...]:
    """Keys of all names of substances that a ban or a maximum speaks of."""
    held = frozenset().union(*(row.keys for row in restrictions()))
    rows = (row for row in constituents() if any(plain_key(name) in held for name in row.names))
    return tuple(dict.fromkeys(key_of(name) for row in rows for name in row.names))


@cache
def _words() -> frozenset[str]:
    names = (name for row in constituents() for name in row.names)
    return frozenset(word for name in names for word in _WORD.findall(name.casefold()))


def _by_numbers(numbers: Iterable[str]) -> tuple[Constituent, ...]:
    return _once(row for number in numbers for row in _index()[1].get(number, ()))


def _by_name(name: str) -> tuple[Constituent, ...]:
    for keys in rounds_of_keys(name):
        if found := _once(row for key in keys for row in _index()[0].get(key, ())):
            return found
    for keys in rounds_without_geometry(name):
        if found := _once(row for key in keys for row in _index()[0].get(key, ()) if row.any_form):
            return found
    parts = parts_of(name)
    each = [_by_name(part) for part in parts if part != name]
    return _once(row for rows in each for row in rows) if each and all(each) else ()


def _once(rows: Iterable[Constituent]) -> tuple[Constituent, ...]:
    return tuple(dict.fromkeys(rows))


@cache
def _index() -> tuple[dict[str, tuple[Constituent, ...]], dict[str, tuple[Constituent, ...]]]:
    """The rows by key of name, and by CAS or EC number."""
    names: dict[str, tuple[Constituent, ...]] = {}
    numbers: dict[str, tuple[Constituent, ...]] = {}
    for row in constituents():
        for key in {key_of(name) for name in row.names}:
            names[key] = (*names.get(key, ()), row)
        for number in row.cas:
            numbers[number] = (*numbers.get(number, ()), row)
    of_name = {row.name: row for row in constituents()}
    numbers |= {row["ec"]: (of_name[row["name"]],) for row in read_table("ec_numbers")}
    return names, numbers


@cache
def _spellings() -> dict[str, tuple[str, Constituent]]:
    """Each key with the spelling and the substance it stands for."""
    return {key_of(name): (name, row) for row in constituents() for name in row.names}
