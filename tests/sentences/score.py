"""How sentences are scored: understood as meant, asked back, not understood, or understood otherwise.

`python -m tests.sentences.score` prints the score of every file of sentences, and each that is not as meant.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final

import yaml

from blendwise.answers.rules.sentences.alike import demand, rule_of
from blendwise.answers.rules.sentences.draft import Draft, Unread
from blendwise.answers.rules.sentences.reading import read_sentence
from blendwise.api import Book
from blendwise.records.book import BookFiles
from tests.strangers.books import FOUND
from tests.strangers.voices import VOICES, four_voices

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "demo_catalog"
FILES = sorted(HERE.glob("*.yaml"))
MEANT, TWO, RIGHTLY, NOT, OTHERWISE = VERDICTS = (
    "as meant",
    "asked, or handed back as two",
    "rightly refused",
    "not understood",
    "otherwise",
)
RIGHT: Final = frozenset({MEANT, TWO, RIGHTLY})


@cache
def book(name: str = "") -> BookFiles:
    """The book whose oils, colours and pours the sentences name: the demo, or a stranger's."""
    if name == VOICES:
        return Book(four_voices()).files
    return Book(FOUND / name / "book" if name else DEMO).files


def sentences(file: Path) -> list[dict[str, Any]]:
    """The sentences of a file, every scalar the text that was typed."""
    found: list[dict[str, Any]] = yaml.load(file.read_text("utf-8"), Loader=yaml.BaseLoader)
    return found


def draft_of(body: Mapping[str, Any]) -> Draft:
    """A rule as a file of sentences writes it."""
    return Draft(body["looks at"], body.get("when", {}), body["must"], body.get("else", "caution"), "meant")


def meant(entry: dict[str, Any]) -> Draft:
    """The rule that is meant."""
    return draft_of(entry["means"])


def verdict(entry: dict[str, Any]) -> str:
    """How a sentence was taken: one of ``VERDICTS``."""
    own = book(entry.get("book", ""))
    found = read_sentence(entry["said"], own, entry.get("basis", ""))
    if isinstance(found, Unread):
        return _of_unread(found, entry, own)
    if "means" not in entry or not any(_is(found, body) for body in (entry["means"], *entry.get("also", ()))):
        return OTHERWISE
    asked = bool(read_sentence(entry["said"], own).asks)  # type: ignore[union-attr]
    if asked and "basis" not in entry:
        return TWO
    return MEANT if asked == ("basis" in entry) else OTHERWISE


def _is(found: Draft, body: Mapping[str, Any]) -> bool:
    rule, wanted = rule_of(found), rule_of(draft_of(body))
    same = rule is not None and wanted is not None and demand(rule) == demand(wanted)
    return same and ("else" not in body or found.level == body["else"])


def _of_unread(found: Unread, entry: Mapping[str, Any], own: BookFiles) -> str:
    if found.alone:
        apart = [read_sentence(each, own) for each in found.alone]
        wanted = entry.get("two", ())
        if len(apart) == len(wanted) and all(
            isinstance(one, Draft) and _is(one, body) for one, body in zip(apart, wanted, strict=True)
        ):
            return TWO
        return OTHERWISE
    if found.either or found.figures:
        return TWO
    return RIGHTLY if "refuse" in entry else NOT


def main() -> None:
    """Print the score of each file."""
    for file in FILES:
        found = [(verdict(entry), entry["said"]) for entry in sentences(file)]
        counts = Counter(kind for kind, _ in found)
        print(f"{file.name}: {', '.join(f'{counts[kind]} {kind}' for kind in VERDICTS)}")
        for kind, said in found:
            if kind not in (MEANT, RIGHTLY):
                print(f"  {kind}: {said}")


if __name__ == "__main__":
    main()
