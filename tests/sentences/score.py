"""How sentences are scored: understood as meant, not understood, or understood otherwise.

`python -m tests.sentences.score` prints the score of every file of sentences, and each that is not as meant.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import yaml

from blendwise.answers.rules.sentences.alike import demand, rule_of
from blendwise.answers.rules.sentences.draft import Draft
from blendwise.answers.rules.sentences.reading import read_sentence
from blendwise.api import Book
from blendwise.records.book import BookFiles

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "demo_catalog"
FILES = sorted(HERE.glob("*.yaml"))


@cache
def book() -> BookFiles:
    """The book whose oils, colours and pours the sentences name."""
    return Book(DEMO).files


def sentences(file: Path) -> list[dict[str, Any]]:
    """The sentences of a file, every scalar the text that was typed."""
    found: list[dict[str, Any]] = yaml.load(file.read_text("utf-8"), Loader=yaml.BaseLoader)
    return found


def meant(entry: dict[str, Any]) -> Draft:
    """The rule that is meant."""
    body = entry["means"]
    return Draft(body["looks at"], body.get("when", {}), body["must"], body.get("else", "caution"), "meant")


def verdict(entry: dict[str, Any]) -> str:
    """ "as meant", "not understood" or "otherwise"."""
    found = read_sentence(entry["said"], book(), entry.get("basis", ""))
    if not isinstance(found, Draft):
        return "not understood"
    rule, wanted = rule_of(found), rule_of(meant(entry))
    assert wanted is not None, entry["said"]
    same = rule is not None and demand(rule) == demand(wanted)
    level = "else" not in entry["means"] or found.level == entry["means"]["else"]
    asked = bool(read_sentence(entry["said"], book()).asks) == ("basis" in entry)  # type: ignore[union-attr]
    return "as meant" if same and level and asked else "otherwise"


def main() -> None:
    """Print the score of each file."""
    for file in FILES:
        found = [(verdict(entry), entry["said"]) for entry in sentences(file)]
        counts = {
            kind: sum(each == kind for each, _ in found)
            for kind in ("as meant", "not understood", "otherwise")
        }
        print(f"{file.name}: {counts}")
        for kind, said in found:
            if kind != "as meant":
                print(f"  {kind}: {said}")


if __name__ == "__main__":
    main()
