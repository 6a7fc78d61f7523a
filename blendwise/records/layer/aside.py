"""What of a book's own layer of rules does not count, or was never meant to be rules: told, never silent."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from blendwise.records.place import Place

Why = Literal["cannot be read", "locked rule changed", "never asked", "not counted", "file not read"]
"""``cannot be read``: an entry or a file of ``rules/mine/``.  ``locked rule changed``: the package's counts.
``never asked``: a rule that counts, and names what the book does not have.  ``not counted``: a maker's entry
that stands outside ``rules/mine/``.  ``file not read``: neither a file of rules nor a released one."""


@dataclass(frozen=True, slots=True)
class Aside:
    """One such thing.

    ``name``: the rule, pour, word of a scale, symptom or file; ``what``: which of these; ``level``: of a
    rule, "" where it cannot be read; ``told``: whether every check says so, not the doctor alone;
    ``stop``: whether it counts as a stop that nobody could ask; ``message`` and ``remedy``: the reader's.
    """

    why: Why
    what: Literal["rule", "pour", "scale", "symptom", "file"]
    name: str
    place: Place
    level: str = ""
    told: bool = True
    stop: bool = False
    message: str = ""
    remedy: str = ""
