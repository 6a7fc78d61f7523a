"""How a portion's colour goes on after the pour: fresh, at the cut, at six weeks, at six months."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Column
from blendwise.facts.measures.browning import band_edges
from blendwise.facts.scales import BANDS
from blendwise.facts.situation.worked_out import Situation
from blendwise.science import browning

WHEN = ("fresh", "at the cut", "week 6", "month 6")


@dataclass(frozen=True, slots=True)
class InTime:
    """A portion's bands on the days of ``WHEN``, least and most; ``yellow``, ``pink``: its cast, settled."""

    portion: str
    bands: tuple[tuple[str, str], ...]
    yellow: str
    pink: str


def in_time(s: Situation) -> Iterator[InTime]:
    """The portions that turn, as far as the load of browners is known."""
    load = s.home("browning load")
    casts = [s.home(name) for name in ("yellow cast", "pink cast")]
    assert isinstance(load, Column)
    stabilised = bool(s.plan.scents and s.plan.scents.stabilised)
    days = browning.developed(stabilised)
    for p, name in enumerate(s.portions):
        yellow, pink = (
            str(cast.scale[int(cast.low[p])]) for cast in casts if isinstance(cast, Column) and cast.scale
        )
        top = float(load.high[p])
        if not np.isfinite(top):
            continue
        ends = np.array(days) * np.array([float(load.low[p]), top])
        index = browning.band_of(np.maximum(ends, 0.0), band_edges(s))
        bands = tuple((BANDS[low], BANDS[high]) for low, high in index)
        if index.max() > 0 or yellow != "none" or pink != "none":
            yield InTime(name, bands, yellow, pink)
