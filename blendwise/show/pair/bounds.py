"""How much of a pairing is told to be the most: one route for ``pair`` and ``ask``, rounded down."""

from __future__ import annotations

from math import floor, log10

from blendwise.answers.pair.result import Cap, PairResult
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.quantity import Units
from blendwise.show.pair import words as say
from blendwise.show.text import joined


def cap_of(found: PairResult) -> Cap | None:
    """What bounds the load at the ratio that was asked."""
    shares = found.shares
    return next(
        (c for c in found.region if all(abs(c.shares.get(o, 0.0) - s) < 1e-9 for o, s in shares.items())),
        None,
    )


def most_of(found: PairResult) -> tuple[float | None, str]:
    """The greatest load that nothing but colour and the bottle speaks against, and what binds it.

    None where a certificate is missing.
    """
    both, cap = found.together, cap_of(found)
    usual = say.most_usual(found.units)
    bounds = (
        [] if cap is None else [s for s in cap.stops if not s.browning and s.rule != "short-on-the-shelf"]
    )
    if both.uncertified and any(not stop.load for stop in bounds):
        return None, f"{joined(both.uncertified)} has no certificate on file; ask for it"
    loads = [stop.load for stop in bounds if stop.load]
    least = min(loads, default=MOST_USUAL_DOSE)
    if least >= MOST_USUAL_DOSE:
        return MOST_USUAL_DOSE, usual
    if both.most_on_oils is not None and both.most_on_oils <= least * (1 + 1e-9):
        return least, f"its certificate allows {say.of_bar(both.most_in_bar or 0.0)}"
    return least, "a limit of the rulebook; the command below says which"


def of_the_oils(load: float, units: Units) -> str:
    """A load that is a bound, rounded down; a per cent says of what."""
    text = say.of_oils(down(load), units)
    return f"{text} of the oils" if text.endswith("%") else text


def down(load: float) -> float:
    """A load rounded down to three figures, so that a bound stays one."""
    step = 10.0 ** (floor(log10(load)) - 2) if load > 0 else 1.0
    return floor(load / step + 1e-9) * step
