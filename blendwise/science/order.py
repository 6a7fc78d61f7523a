"""Order: which portion is scented and poured when.

*Interleaved*: the slots and the common end are given, and the quickest portion takes the last slot.
*Sequential*: layers are scented and poured one after another, in the order in which they lie; each waits for
the one below to carry it.

Formula: interleaved: slowest thickening first; layers: start = the later of free hands and the minute at
    which the layer below carries, less the minutes of scenting.
Source: J. R. Jackson (1955), single-machine scheduling; times of layers by hand.
Check: every order tried, up to six portions; three layers by hand.
Limits: which layer lies where is the maker's design, and is not chosen here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative, numbers, positive, share
from blendwise.science.clock import minute_at_thickness


def interleaved_order(q: ArrayLike) -> Ints:
    """Portion numbers (n,) in scenting order: slowest thickening first, largest q last, ties as given.

    Exact: (B - t)/(E - t) never falls as t grows while E <= B, and swapping two portions that stand the
    other way round never raises the least "fluid until".
    """
    return np.argsort(numbers("q", q, endless=True), kind="stable")


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
