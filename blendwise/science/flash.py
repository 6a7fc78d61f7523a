"""Flash points: classes for storing and shipping.  Not a fade rule.

°C closed cup.  The classes are published (GHS; EU CLP, Regulation (EC) 1272/2008 Annex I 2.6, consolidated
text of 2025-09-01; US 49 CFR 173.120).  In batter a scent is a few per cent and there is no flame: what
fades is told by volatility and alkali, not by the flash point.  Flammable: local codes decide.

Formula: the category of a flash point by its published boundaries; a mix stands at its lowest part.
Source: GHS; EU CLP, Regulation (EC) 1272/2008, Annex I 2.6 (its categories 1 to 3 are those of GHS).
Check: each boundary at, just under and just over; published mixtures, one that flashes below both its parts
    among them.
Limits: for storing and shipping, never for fade; a mix may flash lower than its lowest part: octane with
    ethanol does (Vidal, Rogers and Mannan 2006, Process Safety and Environmental Protection 84(B1) 1-9).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, Ints, numbers

# °C, GHS criteria and CLP Annex I Table 2.6.1: category 3 from 23 to 60, both ends included.
CATEGORY_3_FROM = 23.0
CATEGORY_3_TO = 60.0
# °C, GHS only (not in EU CLP): category 4 above 60 to 93, the upper end included.
CATEGORY_4_TO = 93.0
# °C of initial boiling point: category 1 up to it, category 2 above (GHS, CLP Table 2.6.1).
CATEGORY_1_BOILING_TO = 35.0

NO_CATEGORY = 0


def ghs_category(flash: ArrayLike, boiling: ArrayLike = np.inf) -> Ints:
    """GHS category of flammable liquids, 1 (worst) to 4, 0 for none; ``flash``, ``boiling`` in °C.

    The boiling point parts category 1 from 2 only; scent oils boil far above 35 °C.
    """
    point = _celsius(flash)
    low_boiling = numbers("the boiling point", boiling, endless=True) <= CATEGORY_1_BOILING_TO
    flammable = point < CATEGORY_3_FROM
    cases = [flammable & low_boiling, flammable, point <= CATEGORY_3_TO, point <= CATEGORY_4_TO]
    return np.select(cases, [1, 2, 3, 4], default=NO_CATEGORY)


def lowest_flash(low: ArrayLike, high: ArrayLike) -> tuple[Floats, Floats]:
    """What is known of a mix's lowest part: (least, most) over the last axis, °C.

    ``low``, ``high`` (…, parts): equal where known, (−inf, inf) where not known at all.  An unknown part
    leaves the lower end open.  Not even the lowest part is a safe floor.
    """
    least, most = _celsius(low), _celsius(high)
    if np.any(least > most):
        raise ValueError("a flash point's range must start at its lower end")
    return np.asarray(least.min(axis=-1)), np.asarray(most.min(axis=-1))


def _celsius(flash: ArrayLike) -> Floats:
    return numbers("the flash point", flash, least=None, endless=True)
