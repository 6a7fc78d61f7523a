"""Order: which portion is scented and poured when.

*Interleaved*: the slots and the common end are given, and the quickest portion takes the last slot.
*Sequential*: layers are scented and poured one after another; layer p, begun at S, must be poured by
the time it is thick, S + m <= S + (B - S)/q, so S <= B - m q: a deadline that does not move.  That is
single-machine scheduling against due dates, and Lawler's rule is exact (E. L. Lawler, Management
Science 19, 544 (1973)); without precedence it is "earliest due date first" (J. R. Jackson, 1955).

Formula: interleaved: slowest thickening first; layers: earliest due date, with waits by trying every order
    up to seven.
Source: J. R. Jackson (1955); E. L. Lawler, Management Science 19, 544 (1973).
Check: every order tried, up to six portions and seven layers.
Limits: with waits, eight layers and more are taken by due date, which may not be the best.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative, numbers, positive, share
from blendwise.science.clock import minute_at_thickness

# From this many layers on Lawler's order is taken; below it every order is tried, since layers must carry.
# Judgement: the 5,040 orders of seven are instant.
LAYERS_BY_DUE_DATE = 8


def interleaved_order(q: ArrayLike) -> Ints:
    """Portion numbers (n,) in scenting order: slowest thickening first, largest q last, ties as given.

    Exact: (B - t)/(E - t) never falls as t grows while E <= B, and swapping two portions that stand the
    other way round never raises the least "fluid until".
    """
    return np.argsort(numbers("q", q, endless=True), kind="stable")


def layer_due(base: float, q: ArrayLike, minutes: ArrayLike) -> Floats:
    """Latest end (n,) of each layer's scenting and pour, minutes from emulsion: B - m q + m.

    ``q``: (n,); ``minutes``: m, of scenting and pouring that layer (n,).  May be negative: too quick.
    """
    taken = positive("minutes of a layer", minutes, "a layer that takes no time cannot be timed")
    return np.asarray(base - taken * (numbers("q", q, endless=True) - 1))


def lawler_order(minutes: ArrayLike, due: ArrayLike, after: Sequence[tuple[int, int]] = ()) -> list[int]:
    """The order (job numbers) with the least greatest lateness; of equals, the one written later goes later.

    ``minutes``, ``due``: (n,); ``after``: pairs (first, then) that must keep that order.  From the end:
    of the jobs with no follower left, the one with the latest due date goes last.  ValueError where the
    pairs go in a circle.
    """
    dates = numbers("due", due, endless=True)
    open_jobs = set(range(len(positive("minutes", minutes, "a job takes time"))))
    backwards: list[int] = []
    while open_jobs:
        free = open_jobs - {one for one, then in after if then in open_jobs}
        if not free:
            raise ValueError("the layers are asked to lie above each other in a circle")
        last = max(free, key=lambda job: (dates[job], job))
        backwards.append(last)
        open_jobs.remove(last)
    return backwards[::-1]


@dataclass(frozen=True, slots=True)
class Layers:
    """What a sequential pour is timed from: B, the first possible start, and per layer (n,) its q,
    its minutes of scenting, its minutes of pouring and the least thickness of whatever lies below it.

    ``longest``: minutes after which the next layer is scented even where the one below does not carry yet.
    """

    base: float
    ready: float
    q: Floats
    scent_minutes: Floats
    pour_minutes: Floats
    least_below: Floats
    longest: float = np.inf

    def __post_init__(self) -> None:
        positive("minutes fluid", self.base, "batter that is fluid for no time cannot be poured")
        not_negative("first start", self.ready, "minutes run from emulsion")
        positive("minutes of scenting", self.scent_minutes, "a layer that takes no time cannot be timed")
        positive("minutes of pouring", self.pour_minutes, "a layer that takes no time cannot be timed")
        positive("longest wait", self.longest, "the next layer cannot come before its time", endless=True)
        share("least thickness", self.least_below, "it runs from emulsion (0) to thick (1)")


def layer_times(layers: Layers, order: ArrayLike) -> tuple[Floats, Floats]:
    """Start of scenting and end of pouring (each orders x n, by place) for orders (..., n) of the layers.

    A layer is scented as soon as hands are free, but so late that the one below, thickening in the mould
    by its own q, carries it when the pour begins.
    """
    places = np.asarray(order, dtype=np.intp)
    starts, ends = np.empty(places.shape), np.empty(places.shape)
    free = np.full(places.shape[:-1], layers.ready)
    for place in range(places.shape[-1]):
        layer = places[..., place]
        starts[..., place] = free
        if place:
            below, began = places[..., place - 1], starts[..., place - 1]
            carries = minute_at_thickness(layers.least_below[layer], layers.base, began, layers.q[below])
            waited = np.minimum(carries - layers.scent_minutes[layer], began + layers.longest)
            starts[..., place] = np.maximum(free, waited)
        free = starts[..., place] + layers.scent_minutes[layer] + layers.pour_minutes[layer]
        ends[..., place] = free
    return starts, ends


def layer_slack(layers: Layers, order: ArrayLike) -> Floats:
    """Minutes (..., n, by place) by which each layer could begin later and still be poured before it is
    thick: B - m q - S.  Below zero: too late, by so much."""
    places = np.asarray(order, dtype=np.intp)
    starts, _ = layer_times(layers, order)
    taken = (layers.scent_minutes + layers.pour_minutes)[places]
    return np.asarray(layers.base - taken * layers.q[places] - starts)


def best_layer_order(layers: Layers) -> list[int]:
    """The order, bottom first, whose tightest layer has most slack; ties go to the order as written.

    Every order is tried below LAYERS_BY_DUE_DATE layers; from there Lawler's order by due dates, which is
    exact where no layer has to wait for the one below and a good guess where one has.
    """
    count = len(layers.q)
    minutes = layers.scent_minutes + layers.pour_minutes
    if count >= LAYERS_BY_DUE_DATE:
        return lawler_order(minutes, layer_due(layers.base, layers.q, minutes))
    orders = np.array(list(permutations(range(count))), dtype=np.intp)
    least = layer_slack(layers, orders).min(axis=1)
    return [int(job) for job in orders[int(least.argmax())]]
