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

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache

from blendwise.science.constituent_names import (
    LONGEST_NAME,
    cas_numbers,
    check_digit_fits,
    key_of,
    parts_of,
    rounds_of_keys,
    rounds_without_geometry,
    without_cas,
)
from blendwise.science.tables import read_table

LEAST_LIKENESS = 80.0  # per cent of like letters, our own judgement: below it no name is worth showing


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
    by_number = _by_numbers(number for number in cas_numbers(text) if check_digit_fits(number))
    by_name = _by_name(without_cas(text))
    if by_name and by_number:
        return tuple(row for row in by_name if row in by_number) or _once((*by_name, *by_number))
    return by_name or by_number


def cas_fault(text: str) -> str | None:
    """The first CAS number in a text whose check digit is wrong, so that the slip is told; else None."""
    return next((number for number in cas_numbers(text) if not check_digit_fits(number)), None)


def nearest(text: str) -> tuple[str, Constituent] | None:
    """The table's spelling that is most like an unknown name, and its substance: to show, never to use."""
    if len(text) > LONGEST_NAME:
        return None
    from rapidfuzz import fuzz, process

    found = process.extractOne(
        key_of(without_cas(text)), _spellings().keys(), scorer=fuzz.ratio, score_cutoff=LEAST_LIKENESS
    )
    return None if found is None else _spellings()[found[0]]


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
    """The rows by key of name, and by CAS number."""
    names: dict[str, tuple[Constituent, ...]] = {}
    numbers: dict[str, tuple[Constituent, ...]] = {}
    for row in constituents():
        for key in {key_of(name) for name in row.names}:
            names[key] = (*names.get(key, ()), row)
        for number in row.cas:
            numbers[number] = (*numbers.get(number, ()), row)
    return names, numbers


@cache
def _spellings() -> dict[str, tuple[str, Constituent]]:
    """Each key with the spelling and the substance it stands for."""
    return {key_of(name): (name, row) for row in constituents() for name in row.names}
