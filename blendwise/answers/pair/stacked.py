"""Columns of several situations under one another, so that the judge is asked once for all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np

from blendwise.facts.columns import AnyColumn, Bools, Column, SetColumn

T = TypeVar("T")


def joined(parts: Sequence[AnyColumn]) -> AnyColumn:
    """The rows of one measure's columns, in order; gaps and evidence keep to their rows."""
    starts = np.cumsum([0, *(len(part) for part in parts)]).tolist()
    gaps, said = _shifted([p.missing for p in parts], starts), _shifted([p.evidence for p in parts], starts)
    sets = [part for part in parts if isinstance(part, SetColumn)]
    if sets:
        words = tuple(dict.fromkeys(word for part in sets for word in part.words))
        has = np.concatenate([_over(part, words, part.has) for part in sets])
        maybe = None
        if any(part.maybe is not None for part in sets):
            maybe = np.concatenate([_over(part, words, part.maybe) for part in sets])
        known = np.concatenate([p.known for p in sets])
        return SetColumn(words, has, known, _asked(parts), gaps, said, maybe)
    plain = [part for part in parts if isinstance(part, Column)]
    low, high = (np.concatenate([getattr(part, end) for part in plain]) for end in ("low", "high"))
    found = Column(low, high, plain[0].scale, _asked(parts), gaps, said)
    if not any(part.widened for part in plain):
        return found
    least, most = (np.concatenate(ends) for ends in zip(*(part.outer for part in plain), strict=True))
    worlds = [part.worlds for part in plain if part.worlds is not None]
    return replace(
        found,
        least=least,
        most=most,
        narrowed_by=_shifted([p.narrowed_by for p in plain], starts),
        worlds=np.concatenate(worlds, axis=1) if len(worlds) == len(plain) else None,
    )


def _shifted(parts: Sequence[Mapping[int, T]], starts: Sequence[int]) -> dict[int, T]:
    rows = zip(starts, parts, strict=False)
    return {start + row: held for start, part in rows for row, held in part.items()}


def _asked(parts: Sequence[AnyColumn]) -> Bools | None:
    if all(part.asked is None for part in parts):
        return None
    return np.concatenate([np.ones(len(p), dtype=bool) if p.asked is None else p.asked for p in parts])


def _over(part: SetColumn, words: tuple[str, ...], held: Bools | None) -> Bools:
    """What the rows of a set hold (or may), over more words than it knows."""
    has = np.zeros((len(part), len(words)), dtype=bool)
    if held is not None:
        has[:, [words.index(word) for word in part.words]] = held
    return has
