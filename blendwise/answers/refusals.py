"""Questions that cannot be asked as they stand, and questions that are not ours to answer."""

from __future__ import annotations

import re
from typing import Final

from blendwise.quantity import QuantityError

HEALTH: Final = re.compile(
    r"\b(pregnan\w*|breast ?feed\w*|nursing|trimester|midwi\w+"
    r"|bab(?:y|ies)|infants?|newborns?|toddlers?|child(?:ren)?|kids?"
    r"|eczema|psoriasis|dermatitis|asthma\w*|epilep\w*|allerg(?:y|ic)|ill(?:ness)?|sick(?:ness)?|disease\w*"
    r"|cancer|patients?|medic\w+|heal(?:s|ing)?|therap\w+|sensitive (?:skin|people))\b",
    re.IGNORECASE,
)
"""Words that make a question one of health; the tool defers and never answers it."""

DEFERRED: Final = (
    "Whether an oil suits a pregnancy, a child or anyone who is ill or sensitive is not for Blendwise to say."
)
WHO_TO_ASK: Final = (
    "Ask a qualified assessor, a midwife or a doctor. What the papers say of limits and allergens is shown "
    "by `blendwise pair NAME`; it is no answer to that question."
)


class NotAskable(QuantityError):  # noqa: N818
    """A question that cannot be asked as it stands: ``message``, and ``remedy`` says what to write."""


class Deferred(NotAskable):
    """A question of health, which is deferred to people who are qualified to answer it."""

    def __init__(self) -> None:
        super().__init__(DEFERRED, WHO_TO_ASK)


def is_of_health(text: str) -> bool:
    """Whether a text asks about pregnancy, children, illness or healing."""
    return HEALTH.search(text.replace("-", " ").replace("_", " ")) is not None


def defer_health(text: str) -> None:
    """Raise Deferred where a text asks about health."""
    if is_of_health(text):
        raise Deferred
