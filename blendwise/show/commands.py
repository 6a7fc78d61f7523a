"""Commands as they are printed: quoted, so that they can be pasted into a shell."""

from __future__ import annotations

import shlex


def command(*words: str) -> str:
    """``blendwise`` and its words; names with spaces or signs in quotes, other letters as they are."""
    return " ".join(["blendwise", *(_quoted(word) for word in words)])


def _quoted(word: str) -> str:
    """As ``shlex.quote``, but letters of any script stand bare."""
    plain = all(sign.isalnum() or sign in "-_./:@%+=," for sign in word)
    return word if word and plain else shlex.quote(word)
