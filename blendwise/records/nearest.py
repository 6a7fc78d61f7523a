"""The nearest known word to one that is not known, and how to say so."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

LIKE_ENOUGH: Final = 60.0
LISTED: Final = 8


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like ``word``, or None where nothing is like it (ties: the first in order)."""
    from rapidfuzz import fuzz, process

    found = process.extractOne(
        word, list(known), scorer=fuzz.ratio, processor=str.casefold, score_cutoff=LIKE_ENOUGH
    )
    return None if found is None else str(found[0])


def hint(word: str, known: Iterable[str], whose: str) -> str:
    """A sentence that states the nearest name, else the first few: 'The catalogue has "vetiver".'"""
    names = list(known)
    match = nearest(word, names)
    if match is not None:
        return f'{whose} has "{match}".'
    if not names:
        return f"{whose} has none."
    more = ", …" if len(names) > LISTED else ""
    return f"{whose} has " + ", ".join(f'"{name}"' for name in names[:LISTED]) + more + "."
