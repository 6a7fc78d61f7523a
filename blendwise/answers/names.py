"""Names as people type them: case, blanks, slips and parts of a name; several near ones are never guessed."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Final

from blendwise.answers.refusals import NotAskable, defer_health
from blendwise.records.nearest import LISTED

ALIKE: Final = 80.0
"""Likeness (0 to 100) from which a slip is read as a name; judgement: one or two letters in a usual name."""
CLEAR_LEAD: Final = 8.0
"""How much more alike the nearest must be than the next, or both are listed."""
PERHAPS: Final = 60.0
"""Likeness from which a name is at least worth listing."""


@dataclass(frozen=True, slots=True)
class Found:
    """A name of the book, and what was typed for it; ``guessed`` where the two differ by more than case."""

    name: str
    typed: str
    guessed: bool


def find_name(typed: str, known: Collection[str], what: str, whose: str = "The catalogue") -> Found:
    """The one name that is meant.

    NotAskable where there is none (the nearest are stated) or where several are equally near; Deferred
    where the text is a question of health.  ``what``: "scent", "colourant", "pour style".
    """
    if typed in known:
        return Found(typed, typed, False)
    alike = [name for name in known if plain(name) == plain(typed)]
    if len(alike) == 1:
        return Found(alike[0], typed, False)
    defer_health(typed)
    if not plain(typed):
        raise NotAskable(f'"{typed}" is no name.', _listing(known, whose))
    if alike:
        raise _several(typed, alike, what)
    return _part_or_slip(typed, known, what, whose)


def plain(text: str) -> str:
    """A name without what people leave out or change: case, blanks, hyphens, underscores, accents' marks."""
    return "".join(_words(text))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold().replace("_", " "))


def _part_or_slip(typed: str, known: Collection[str], what: str, whose: str) -> Found:
    parts = [name for name in known if is_part(typed, name) and _figures(typed) <= _figures(name)]
    if len(parts) == 1:
        return Found(parts[0], typed, True)
    if parts:
        raise _several(typed, parts, what)
    near = nearest_names(typed, known)
    alike = [
        (name, score) for name, score in near if _figures(typed) <= _figures(name)
    ]  # no figure is a slip
    if alike and alike[0][1] >= ALIKE and (len(alike) == 1 or alike[0][1] - alike[1][1] >= CLEAR_LEAD):
        return Found(alike[0][0], typed, True)
    close = [name for name, score in alike if score >= ALIKE]
    if close:
        raise _several(typed, close, what)
    remedy = _nearest(near, whose) if near else _listing(known, whose)
    raise NotAskable(f'There is no {what} "{typed}".', remedy)


def _figures(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:[.,]\d+)?", text))


def is_part(typed: str, name: str) -> bool:
    """Whether every word typed begins a word of the name ("tonka" or "ton mi" for "tonka-milk")."""
    words = _words(name)
    return all(any(word.startswith(part) for word in words) for part in _words(typed))


def nearest_names(typed: str, known: Iterable[str]) -> list[tuple[str, float]]:
    """The names most like what was typed with their likeness, the most alike first (ties by name)."""
    from rapidfuzz import fuzz, process

    found = process.extract(
        plain(typed), sorted(known), scorer=fuzz.ratio, processor=plain, score_cutoff=PERHAPS, limit=LISTED
    )
    return sorted(
        ((str(name), float(score)) for name, score, _ in found), key=lambda pair: (-pair[1], pair[0])
    )


def _several(typed: str, names: Collection[str], what: str) -> NotAskable:
    listed = sorted(names)[:LISTED]
    more = f" and {len(names) - LISTED} more" if len(names) > LISTED else ""
    return NotAskable(
        f'"{typed}" may be {len(names)} {what}s: {", ".join(listed)}{more}.',
        "Write the name of the one you mean.",
    )


def _nearest(near: list[tuple[str, float]], whose: str) -> str:
    return f"{whose} has " + ", ".join(f'"{name}"' for name, _ in near) + "."


def _listing(known: Collection[str], whose: str) -> str:
    if not known:
        return f"{whose} has none."
    more = ", …" if len(known) > LISTED else ""
    return f"{whose} has " + ", ".join(f'"{name}"' for name in sorted(known)[:LISTED]) + more + "."
