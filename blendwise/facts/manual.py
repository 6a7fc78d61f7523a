"""The manual, from the code itself: every measure as it is registered, every model of the sciences."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import blendwise.science
from blendwise.facts.columns import Word
from blendwise.facts.measures.named import PATTERNS
from blendwise.facts.tables import vocabulary

SIDES = ("one ", "other ", "lighter ", "darker ")
LABELS = ("Formula", "Source", "Check", "Limits")
HELPERS = frozenset({"__init__", "checks", "guards", "tables"})


def measures() -> Iterator[Word]:
    """Every measure once, theme by theme; its sided readings (``one …``, ``lighter …``) left out."""
    yield from (word for word in vocabulary().values() if not word.name.startswith(SIDES))


def families() -> Iterator[Word]:
    """Measures of named things, each as its pattern: ``dose of [NAME, …]``."""
    yield from (measure.word for measure in PATTERNS.values())


@dataclass(frozen=True, slots=True)
class Model:
    """One module of the sciences: what it is, and what its docstring says under each of ``LABELS``."""

    name: str
    what: str
    said: dict[str, str]


def models() -> Iterator[Model]:
    """Every model, from the docstrings of its module (not imported for it)."""
    folder = Path(str(blendwise.science.__file__)).parent
    for path in sorted(folder.glob("*.py")):
        if path.stem not in HELPERS:
            text = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
            yield Model(path.stem, " ".join(text.partition("\n\n")[0].split()), dict(_labelled(text)))


def _labelled(docstring: str) -> Iterator[tuple[str, str]]:
    """What follows each label, up to the next label or an empty line."""
    found = re.finditer(rf"^({'|'.join(LABELS)}): (.+?)(?=^\w+: |^$|\Z)", docstring, re.MULTILINE | re.DOTALL)
    for match in found:
        yield match[1], " ".join(match[2].split())
