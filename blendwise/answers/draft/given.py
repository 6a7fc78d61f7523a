"""Answers to a draft given beforehand, as options: "milk: 35 %; titanium-dioxide 1 %; may become cream"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from blendwise.answers.refusals import NotAskable

DEFAULT: Final = ""
"""The answer that takes what a question offers."""
_BECOMES: Final = re.compile(r"(?:may )?becomes?\s+(.+)", re.IGNORECASE)


def portions_given(texts: Sequence[str]) -> dict[str, str]:
    """Portions as options → answers by key; none where no portion was given."""
    answers: dict[str, str] = {}
    for number, text in enumerate(texts, 1):
        name, share, *more = _pieces(text)
        head = f"portion {number}"
        answers |= {f"{head} name": name, f"{head} share": share}
        answers |= {f"{head} colours": DEFAULT, f"{head} becomes": DEFAULT}
        for piece in more:
            band = _BECOMES.fullmatch(piece)
            answers[f"{head} becomes" if band else f"{head} colours"] = band[1] if band else piece
    if texts:
        answers[f"portion {len(texts) + 1} name"] = DEFAULT
    return answers


def _pieces(text: str) -> list[str]:
    """Name, share, and what follows, of "name: share; colours; may become band"."""
    name, colon, rest = text.partition(":")
    if not name.strip() or (colon and not rest.strip()):
        raise NotAskable(
            f'"{text}" is no portion.', 'Write like "milk: 35 %; titanium-dioxide 1 %; may become cream".'
        )
    return [name.strip(), *(piece.strip() for piece in (rest.split(";") if colon else [DEFAULT]))]


def scents_given(texts: Sequence[str], unscented: bool) -> dict[str, str]:
    """Oils of the blend as options ("lime: 2") → answers by key; ``unscented``: none, and none is asked."""
    answers: dict[str, str] = {}
    for number, text in enumerate(texts, 1):
        name, _, parts = text.partition(":")
        answers |= {f"scent {number} name": name.strip(), f"scent {number} parts": parts.strip()}
    if texts or unscented:
        answers[f"scent {len(texts) + 1} name"] = DEFAULT
    return answers
