"""The words of rules for editors: ``blendwise/records/kinds/rule_words.json``, made from the measures.

``python -m tests.rule_words`` writes it anew; a test fails where it differs.
"""

from __future__ import annotations

import json
from pathlib import Path

from blendwise.facts.columns import Word
from blendwise.facts.tables import vocabulary

FILE = Path(__file__).resolve().parents[1] / "blendwise" / "records" / "kinds" / "rule_words.json"


def described(word: Word) -> str:
    """A word in a line: of what, in what unit or by which words, and the first sentence of its meaning."""
    kind = " | ".join(word.scale) if word.scale else word.unit
    meaning = " ".join(word.meaning.split()).partition(". ")[0].rstrip(".")
    return f"{word.grain}{f' ({kind})' if kind else ''}: {meaning}."


def text() -> str:
    """The file as it should be."""
    words = {name: described(word) for name, word in vocabulary().items()}
    return json.dumps(words, ensure_ascii=False, indent=0) + "\n"


if __name__ == "__main__":
    FILE.write_text(text(), "utf-8")
