"""Who is meant where a rule names oils: an oil of that name, each with that tag, each of that sort.

Declares no measure.  A sort is one of ``SORTS``: what its facts say of an oil, unknown where they are.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.facts.columns import Bools, Column, Missing, SetColumn
from blendwise.facts.scales import ACCELERATION, KINDS, SCENT_NOTES
from blendwise.facts.situation.worked_out import Situation

BROWNER = (
    0.005  # of the oil: with this much that browns, 4 % of it turns white soap cream at least: judgement
)
_ALONE: Final = re.compile(r"[^\[\],]+")
_NAME: Final = re.compile(r'\s*(?:"([^"]+)"|((?:[^\[\](),"]|\[[^\[\]]*\]|\([^()]*\))+))\s*')
"""One name: with its own brackets (``Mint [old bottle]``), in quotes where it holds a comma."""


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of oil: ``measure`` of a scent lies from ``least`` to ``most``; ``means`` says so in a word."""

    measure: str
    least: float
    most: float
    means: str


def _word(measure: str, scale: tuple[str, ...], word: str, upwards: bool = False) -> Sort:
    at = float(scale.index(word))
    return Sort(measure, at, np.inf if upwards else at, f"{measure} {'at least ' if upwards else ''}{word}")


SORTS: Final[Mapping[str, Sort]] = {
    "fast": _word("acceleration", ACCELERATION, "fast", upwards=True),
    "seizer": _word("acceleration", ACCELERATION, "seizes"),
    "slow": Sort("acceleration", 0.0, float(ACCELERATION.index("slight")), "acceleration at most slight"),
    "browner": Sort("browning power", BROWNER, np.inf, f"browning power at least {100 * BROWNER:g} %"),
    **{kind: _word("kind", KINDS, kind) for kind in KINDS},
    **{f"{note} note": _word("scent note", SCENT_NOTES, note) for note in SCENT_NOTES},
}
"""Word → which oils are so, by a measure of theirs."""


def names_in(text: str) -> tuple[str, ...] | None:
    """The names of ``[lime, cedar]`` or of one name alone, each once; None where it is neither."""
    text = text.strip()
    if not (text.startswith("[") and text.endswith("]")):
        return (" ".join(text.split()),) if _ALONE.fullmatch(text) else None
    inner = text[1:-1]
    names: list[str] = []
    at = 0
    while match := _NAME.match(inner, at):
        names.append(" ".join((match[1] or match[2]).split()))
        at = match.end() + 1
        if inner[match.end() : at] != ",":
            break
    return tuple(dict.fromkeys(names)) if at == len(inner) + 1 and names and all(names) else None


def listed(names: Sequence[str]) -> str:
    """Names as a rule writes them: ``[lime, cedar]``."""
    written = (name if names_in(f"[{name}]") == (name,) else f'"{name}"' for name in names)
    return f"[{', '.join(written)}]"


def members(s: Situation, names: Sequence[str]) -> tuple[Bools, Bools]:
    """Which oils of the blend are meant, surely and possibly (scents,)."""
    tags = s.home("tags")
    assert isinstance(tags, SetColumn)
    sure = np.array([name in names for name in s.scents], dtype=bool)
    sure |= tags.has[:, np.isin(tags.words, names)].any(axis=1)
    maybe = sure.copy()
    for sort in (SORTS[name] for name in names if name in SORTS):
        surely, possibly = _of_sort(s, sort)
        sure, maybe = sure | surely, maybe | possibly
    return sure, maybe | sure


def _of_sort(s: Situation, sort: Sort) -> tuple[Bools, Bools]:
    column = s.home(sort.measure)
    assert isinstance(column, Column)
    surely = (column.low >= sort.least) & (column.high <= sort.most)
    return surely, (column.high >= sort.least) & (column.low <= sort.most)


def gaps(s: Situation, names: Sequence[str]) -> list[tuple[Missing, ...]]:
    """For each oil, what would tell whether it is meant."""
    found: list[dict[Missing, None]] = [{} for _ in s.scents]
    for sort in (SORTS[name] for name in names if name in SORTS):
        surely, possibly = _of_sort(s, sort)
        for i in np.flatnonzero(possibly & ~surely):
            found[int(i)][Missing(s.scents[int(i)], sort.measure)] = None
    return [tuple(each) for each in found]


def words_of(s: Situation) -> tuple[tuple[str, ...], Bools, Bools]:
    """Every word that an oil of the blend is meant by, and which oils are so, surely and possibly.

    Shapes (scents, words).
    """
    tags = s.home("tags")
    assert isinstance(tags, SetColumn)
    words = tuple(dict.fromkeys((*s.scents, *tags.words, *SORTS)))
    found = [members(s, (word,)) for word in words]
    shape = (len(words), len(s.scents))
    sure, maybe = (np.array([each[k] for each in found], dtype=bool).reshape(shape).T for k in (0, 1))
    return words, sure, maybe


def held(s: Situation, present: Bools) -> SetColumn:
    """What rows hold, by every word: ``present`` (rows, scents) says which oils."""
    words, sure, maybe = words_of(s)
    has: Bools = np.asarray(np.any(present[:, :, None] & sure[None], axis=1))
    may: Bools = np.asarray(np.any(present[:, :, None] & maybe[None], axis=1) & ~has)
    open_ = gaps(s, tuple(SORTS))
    lost = {
        int(row): tuple(dict.fromkeys(gap for i in np.flatnonzero(present[row]) for gap in open_[int(i)]))
        for row in np.flatnonzero(may.any(axis=1))
    }
    return SetColumn(words, has, np.ones(len(present), dtype=bool), missing=lost, maybe=may)
