"""How each portion looks when it is poured and when it is cured, as hex codes and in words."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Column, Floats
from blendwise.facts.situation.appearance import appearance, cured_lab, own_casts, state
from blendwise.facts.situation.worked_out import Situation
from blendwise.science import mixing
from blendwise.science.browning import browned_lab
from blendwise.science.colour import hex_from_lab
from blendwise.science.colour_words import colour_words


@dataclass(frozen=True, slots=True)
class Look:
    """A portion's colour as a hex code: as poured, and cured; ``cured_words`` light end first.

    Both are empty where not known; ``missing``: (subject, fact) of what would have to be known.
    """

    fresh: str
    fresh_word: str
    cured: str | None
    cured_words: tuple[str, ...]
    missing: tuple[tuple[str, str], ...] = ()


def looks_of(s: Situation) -> tuple[Look, ...]:
    """A look a portion, in the plan's order."""
    load = s.home("browning load")
    assert isinstance(load, Column)
    fresh = fresh_lab(s)
    light, dark = (cured_lab(s, np.where(np.isfinite(end), end, 0.0)) for end in (load.low, load.high))
    words = zip(colour_words(fresh), colour_words(light), colour_words(dark), strict=True)
    return tuple(
        Look(
            hex_from_lab(fresh[p]),
            word,
            hex_from_lab(dark[p]) if np.isfinite(load.high[p]) else None,
            tuple(dict.fromkeys((lighter, darker))) if np.isfinite(load.high[p]) else (),
            tuple((m.subject, m.fact) for m in load.missing.get(p, ())),
        )
        for p, (word, lighter, darker) in enumerate(words)
    )


def fresh_lab(s: Situation) -> Floats:
    """CIELAB (portions, 3) of wet batter: darker than cured soap, own casts of the oils, nothing browned."""
    wet = mixing.STATE_SCATTER["fresh batter"]
    plain = appearance(s).plain
    base = mixing.STATE_SCATTER[state(s)]
    paint = mixing.Paint(plain.absorb + own_casts(s), plain.scatter - base + wet)
    return browned_lab(paint, np.zeros(len(s.portions)))
