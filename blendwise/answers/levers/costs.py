"""What is tried for which measure, and how unwelcome each change is: least change of the design first.

Costs are our own judgement of what a maker gives up (common practice, no source); only their order counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

COST: Final[Mapping[str, float]] = {
    "weigh together": 1.0,
    "more premixes": 2.0,
    "apart": 4.0,
    "finer scale": 5.0,
    "more hands": 5.0,
    "held back": 2.0,
    "superfat": 2.0,
    "order": 3.0,
    "temperature": 4.0,
    "gel": 5.0,
    "water": 6.0,
    "dose open": 6.5,
    "dose out": 7.0,
    "doses open": 8.0,
    "spread": 8.0,
    "move": 9.0,
    "less here": 10.0,
    "less colour": 6.0,
    "other rate": 7.0,
    "less additive": 10.0,
    "less mixed in": 6.0,
    "same dose": 9.5,
    "less of one": 13.0,
    "less of all": 14.0,
    "embed unscented": 15.0,
    "band": 20.0,
    "other colour": 22.0,
    "other pour": 60.0,
    "other oil": 70.0,
    "bare": 80.0,
    "leave out": 90.0,
}
"""Way → what its mildest form costs; what follows the amount is added by ``GRADE``."""

GRADE: Final[Mapping[str, float]] = {
    "temperature": 4.0,
    "water": 6.0,
    "less here": 12.0,
    "less colour": 6.0,
    "less of one": 12.0,
    "less of all": 14.0,
    "superfat": 4.0,
    "band": 8.0,
    "other colour": 8.0,
    "other pour": 6.0,
    "other oil": 6.0,
    "less additive": 6.0,
    "held back": 2.0,
    "less mixed in": 4.0,
}
"""Way → what is added where it is taken to its end (0 at its mildest)."""

STANDS_LAST: Final = 60.0
"""Added where scent is cut by more than ``MOST_CUT``, or a portion falls below ``LEAST_DOSE`` of its oils."""
MOST_CUT: Final = 0.25
LEAST_DOSE: Final = 0.02
OF_AN_OIL: Final = 0.5
"""How much a cut of one oil counts of one of all the scent: to less than half is as good as none of it."""

DOSES: Final = ("spread", "move", "less here", "less of one", "less of all", "other oil", "bare", "leave out")
HASTE: Final = ("order", "more hands", "temperature", "water", *DOSES, "other pour")
BROWNS: Final = ("spread", "move", "less here", "less of one", "less of all", "band", "bare", "leave out")
HEAT: Final = ("temperature", "gel", "less additive")
LIMITS: Final = (
    "spread",
    "less here",
    "less of one",
    "less of all",
    "embed unscented",
    "other oil",
    "leave out",
)
LYE: Final = ("held back", "less mixed in", "superfat")
COLOUR: Final = ("other rate", "less colour", "other colour")

TRIED: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(("browning band", "darker browning band", "cured lightness"), BROWNS),
    **dict.fromkeys(("minutes fluid", "thickening", "acceleration", "layer below", "on top"), HASTE),
    **dict.fromkeys(("seizes", "ricing", "stick blend portions", "portion mass"), (*DOSES, "other pour")),
    **dict.fromkeys(("limit used", "guard used", "guard used in bar", "published maximum used"), LIMITS),
    **dict.fromkeys(("limit used in portion", "published maximum used in portion"), LIMITS),
    "limit used in worst bar": LIMITS,
    **dict.fromkeys(("scent rate", "times the load"), ("less here", "same dose", "spread", "less of all")),
    **dict.fromkeys(("together", "noted together"), ("spread", "move", "other oil", "bare", "leave out")),
    "steps of the scale": ("weigh together", "spread", "move", "other oil", "leave out"),
    "poured": ("dose open", "leave out"),
    "against the plan": ("dose out", "spread", "move"),
    "short by": ("less of one", "less of all", "leave out"),
    "for skin": ("other oil", "leave out"),
    "banned constituent": ("other oil", "leave out"),
    "described": ("other oil", "leave out"),
    "portions": ("other pour",),
    **dict.fromkeys(("contrast", "lightness difference"), ("other rate", "other colour")),
    **dict.fromkeys(("colour stable in lye", "darker colour bleeds", "colourant kinds"), ("other colour",)),
    **dict.fromkeys(("times the usual colour rate", "charcoal rate", "clay rate"), ("less colour",)),
    **dict.fromkeys(("overheating risk", "partial gel risk", "sugars", "alcohol"), HEAT),
    **dict.fromkeys(("room under the embeds", "heats and melts embeds", "lowest flash point"), HEAT),
    "batter temperature": ("temperature",),
    **dict.fromkeys(("portion superfat", "superfat", "superfat difference", "held back"), LYE),
    "portion superfat if the unknown is lye": (),
    "lye concentration": ("water",),
    "embed scents for skin": ("embed unscented",),
    "embed scents certified": ("embed unscented",),
    "embed scents banned": ("embed unscented",),
}
"""Measure → the ways that are tried for it; for any other, ``USUALLY`` by what the rule looks at."""

OPEN: Final = ("dose open", "doses open")
SCENT: Final = (*OPEN, "same dose", "less of one", "less of all", "other oil", "leave out")
OF_THE_SPLIT: Final[Mapping[str, tuple[str, ...]]] = {
    "total": SCENT,
    "somewhere": SCENT,
    "on hand": SCENT,
    "dose": ("less of all", "bare", "leave out"),
    "doses": (*OPEN, "dose out", "less of all", "leave out"),
    "never": SCENT,
    "only": SCENT,
    "unscented": SCENT,
    "only with premixes": ("more premixes", "apart", *SCENT),
    "only with steps": ("finer scale", "apart", "more premixes", *SCENT),
    "": ("more premixes", "apart", *SCENT),
}
"""Line of the plan (or what else stands in the way of a split) → the ways that are tried for it."""
WEIGHED: Final = ("more premixes", "apart", "finer scale")
"""What is tried as the second of two changes where only premixes, or the scale's steps, stand in the way."""
SPLITS_OWN: Final = frozenset({"spread", "move", "less here", "weigh together"})
"""Ways that a search for a split tries by itself."""

IN_GRAMS: Final = frozenset({"move", "less here", "less additive"})
"""Ways whose sentence tells grams: none is told past a lye stop."""

USUALLY: Final[Mapping[str, tuple[str, ...]]] = {
    "dose": DOSES,
    "pair": ("spread", "move", "other oil", "leave out"),
    "scent": ("spread", "less of one", "less of all", "other oil", "leave out"),
    "portion": ("spread", "move", "less here", "less of all", "bare"),
    "edge": COLOUR,
    "batch": ("less of all", "temperature", "gel", "water"),
}

PAPERS: Final = frozenset(
    {
        "certificate",
        "certificate age",
        "certificate amendment",
        "label names known",
        "law answered",
        "guard used",
        "guard used in bar",
        "embed scents certified",
        "colourant kinds",
    }
)
"""Measures that a paper of the supplier's settles."""
ONLY_ASKED: Final = PAPERS - {"guard used", "guard used in bar", "colourant kinds"} | {"evidence"}
"""Measures for which nothing but that is told in the short answer: the oil need not leave the bar."""
CUPS: Final = frozenset({"described", "evidence", "another lot than last time", "browning seen"})
"""Measures that a test cup, written down, settles."""
