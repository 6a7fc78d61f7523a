"""Small tools for text: what is hidden made visible, names in quotes, lists and full stops."""

from __future__ import annotations

import shlex
import unicodedata
from collections.abc import Sequence

HIDDEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def visible(text: str) -> str:
    """The text with every control, direction or lone-surrogate character written out (``\\x1b``)."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        character.encode("unicode_escape").decode("ascii")
        if unicodedata.category(character) in HIDDEN
        else character
        for character in text
    )


def quoted(name: str) -> str:
    """A name inside a sentence, as the maker typed it."""
    return f'"{name}"'


def joined(parts: Sequence[str], last: str = "and") -> str:
    """A list in a sentence: "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def sentence(text: str) -> str:
    """The text closed with a full stop, unless it closes itself or leads on to what follows."""
    text = text.strip()
    return text if not text or text.endswith((".", "!", "?", ":", ", or", ", and")) else text + "."


def command(*words: str) -> str:
    """``blendwise`` and its words; names with spaces or signs in quotes, other letters as they are."""
    return " ".join(["blendwise", *(_for_a_shell(word) for word in words)])


def _for_a_shell(word: str) -> str:
    """As ``shlex.quote``, but letters of any script stand bare."""
    plain = all(sign.isalnum() or sign in "-_./:@%+=," for sign in word)
    return word if word and plain else shlex.quote(word)
