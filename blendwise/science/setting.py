"""Setting: when a loaf is firm enough to cut.

Common practice, no publication: normally 18 to 48 hours after the pour; without gel, with much liquid oil
or with much water, 3 to 7 days.  Firmness to the touch outranks the calendar.

Formula: 18 to 48 hours; 3 to 7 days without gel, with much liquid oil or much water.
Source: common practice, no publication.
Check: both cases, the range between them, and where a recipe counts as slow.
Limits: firmness to the touch outranks the calendar.
"""

from __future__ import annotations

USUAL_DAYS = (1, 2)
SLOW_DAYS = (3, 7)
# From these on a recipe that does not gel is slow to set.  Judgement after "high-olive, high-water".
MUCH_LIQUID = 0.70
MUCH_WATER_LYE = 0.30


def cut_days(gel: str | None, liquid: float, lye_concentration: float) -> tuple[int, int]:
    """Days from the pour (first, last) on which it is usually cut.

    ``gel``: avoid, leave, force or None; ``liquid``: share of liquid oils; ``lye_concentration``: a fraction.
    Where gel is left to itself or the recipe is middling, the range runs from the usual to the slow.
    """
    if gel == "force":
        return USUAL_DAYS
    slow = liquid >= MUCH_LIQUID or lye_concentration <= MUCH_WATER_LYE
    if gel == "avoid":
        return SLOW_DAYS if slow else (USUAL_DAYS[1], SLOW_DAYS[0] + 1)
    return (USUAL_DAYS[0], SLOW_DAYS[0]) if not slow else (USUAL_DAYS[1], SLOW_DAYS[1])
