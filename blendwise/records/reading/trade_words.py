"""The trade's words that mean the same: ``trade_words.txt``, one list for all that reads own words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

_FILE: Final = Path(__file__).with_name("trade_words.txt")


def _read() -> Iterator[tuple[str, str, str]]:
    """(section, word that is said, what is read for it)."""
    section = ""
    for line in _FILE.read_text("utf-8").splitlines():
        if line.startswith("["):
            section = line[1 : line.index("]")]
        elif ": " in line and not line.startswith("#"):
            read, _, said = line.partition(": ")
            yield from ((section, word, read) for word in said.split())


_WORDS: Final = tuple(_read())
SPELLING: Final = {said: read for section, said, read in _WORDS if section == "spelling"}
"""A word written otherwise → the one spelling."""
SAME: Final = {said: read for _, said, read in _WORDS}
"""A word of the trade, or a spelling → the word that is read for it."""
