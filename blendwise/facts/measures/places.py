"""Measures of where a portion comes to lie, what it and its neighbours hold, and of the month."""

from __future__ import annotations

from typing import Final

import numpy as np

from blendwise.facts.columns import Bools, Column, Missing, SetColumn
from blendwise.facts.measure import flag, tags, word
from blendwise.facts.measures.members import held
from blendwise.facts.plain_columns import flags, sets, words
from blendwise.facts.registry import Use
from blendwise.facts.scales import MONTHS
from blendwise.facts.situation.neighbours import edges
from blendwise.facts.situation.timeline import own_order
from blendwise.facts.situation.worked_out import Situation

SOURCE = "the plan, its pour and its `touching:`"

PLACES: Final = ("outer", "inner", "first", "last", "top", "bottom")


@tags("portion", "portion")
def portion(s: Situation) -> SetColumn:
    """The portion's own name, so that a rule can speak of one portion."""
    return sets([[name] for name in s.portions])


@tags("place", "portion", use=Use(of_pour=True))
def place(s: Situation) -> SetColumn:
    """Where it comes to lie: outer, inner, first, last (poured), top, bottom.

    As the plan says (`lies:`); else by the pour: layers run from bottom to top, those between two others lie
    inner; where one portion goes through the body of another, that body is outer and the rest inner; of other
    pours nobody knows outer and inner.  First and last are known of layers and where the plan gives an order.
    Not asked where there is one portion alone.
    """
    count = len(s.portions)
    has, maybe = (np.zeros((count, len(PLACES)), dtype=bool) for _ in range(2))
    for p in range(count):
        for k, word_ in enumerate(PLACES):
            found = _is(s, p, word_)
            has[p, k], maybe[p, k] = found is True, found is None
    asked = np.full(count, count > 1)
    lost = {int(p): (Missing(s.portions[p], "lies"),) for p in np.flatnonzero(maybe.any(axis=1))}
    return SetColumn(PLACES, has, np.ones(count, dtype=bool), asked, lost, maybe=maybe)


def _is(s: Situation, p: int, where: str) -> bool | None:
    """Whether a portion lies there; None where nobody can know."""
    own, opposite = s.plan.portions[p].lies, {"outer": "inner", "inner": "outer"}.get(where)
    if where in own:
        return True
    if opposite is not None and opposite in own:
        return False
    layered = s.pour is not None and s.pour.touching == "in order" and s.plan.touching is None
    row, count = _order(s), len(s.portions)
    if where in ("first", "last"):
        return None if row is None else int(row[0 if where == "first" else count - 1]) == p
    if layered and row is not None:
        at = int(np.flatnonzero(row == p)[0])
        found = {"bottom": at == 0, "top": at == count - 1, "inner": 0 < at < count - 1}
        return found.get(where, at in (0, count - 1))
    if s.pour is not None and s.pour.touching == "through the body" and where in ("outer", "inner"):
        return (p == 0) == (where == "outer")
    return None


def _order(s: Situation) -> np.ndarray | None:
    """The order of pouring, where it does not hang on the doses."""
    row = own_order(s)
    if row is None and s.pour is not None and s.pour.family != "interleaved":
        return np.arange(len(s.portions))
    return row


@tags("touches", "portion", use=Use(of_pour=True))
def touches(s: Situation) -> SetColumn:
    """The names of the portions that it touches in the bar."""
    one, other = edges(s)
    rows: list[list[str]] = [[] for _ in s.portions]
    for a, b in zip(one, other, strict=True):
        rows[int(a)].append(s.portions[int(b)])
        rows[int(b)].append(s.portions[int(a)])
    return sets(rows)


@flag("touching", "edge")
def touching(s: Situation) -> Column:
    """Yes: an edge is two portions that touch.  ``must: {touching: is no}`` keeps them apart."""
    return flags([True] * len(edges(s)[0]))


@tags("holds", "portion", form="afterwards")
def holds(s: Situation) -> SetColumn:
    """What scents it holds: their names, their tags and their sorts (fast, seizer, slow, browner, …)."""
    return held(s, s.presence.T)


@tags("with", "dose", form="afterwards")
def with_(s: Situation) -> SetColumn:
    """What other scents stand in the same portion: their names, tags and sorts."""
    count, portions = s.shape
    others: Bools = np.repeat(s.presence.T[None], count, axis=0)
    others[np.arange(count), :, np.arange(count)] = False
    return held(s, others.reshape(count * portions, count))


@word("month", "batch", MONTHS)
def month(s: Situation) -> Column:
    """The month of the day that is asked of, which is the day of pouring unless another is named."""
    return words([MONTHS[s.today.month - 1]], MONTHS)
