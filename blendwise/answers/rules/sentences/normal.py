"""A sentence in plainer words before it is cut into parts; every word stays where it stood."""

from __future__ import annotations

import re
from typing import Final

_BETWEEN: Final = re.compile(r",\s*(?:since|because|as)\b[^,;%\d]*,", re.IGNORECASE)
"""A reason between subject and demand: "lime, since it fades, never under …"."""
_HELD: Final = re.compile(
    r"\b(?:hold|keep)\b(?=[^.;:,]* to "
    r"(?:[\d.,½¼¾]+|half an?|a|one|two|three|four|five|six|ten|a third|a half)(?: of)? ?"
    r"(?:%|per|oz|g\b|ounce|pct|scents?|colou?rs|cups|portions|layers|oils|min|°|degrees|of the|the blend))",
    re.IGNORECASE,
)
"""Keep lime to 2 %": held to it, as much as "cap"."""


_KEPT: Final = re.compile(r"\bkeep\b([^.,;:]+ )to the(?= (?!\d))", re.IGNORECASE)
"""Keep lime to the dark cups": only there."""
_THAT_IS: Final = re.compile(
    r"[,;]?\s+(?:that's|that is|which is|i mean|meaning|reckoned|counted)(?= (?:of|on|in|per|for|by) )",
    re.IGNORECASE,
)
"""More of the demand, not a reason: "at most 1 oz ppo, that's of all the oils"."""


def plainer(text: str) -> str:
    """A sentence without what stands between subject and demand, "hold to" said as "cap"."""
    text = _BETWEEN.sub(_blank, _HELD.sub("cap ", text))
    text = _KEPT.sub(lambda found: f"    {found[1]}only  ", text)
    return _THAT_IS.sub(_blank, text)


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])
