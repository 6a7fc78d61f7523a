"""Every measure of the vocabulary, a module a theme.  Importing this package declares them all."""

from blendwise.facts.measures import (
    additives,
    bar,
    browning,
    clock,
    colour,
    constituents,
    dose,
    evidence,
    heat,
    law,
    lye,
    making,
    pairs,
    plan,
    scent,
)

__all__ = [
    "additives",
    "bar",
    "browning",
    "clock",
    "colour",
    "constituents",
    "dose",
    "evidence",
    "heat",
    "law",
    "lye",
    "making",
    "pairs",
    "plan",
    "scent",
]
