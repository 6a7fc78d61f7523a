"""Make ``released.json``: ``python -m blendwise.records.layer.make_released 0.1.0=34a5026 …`` in a checkout.

Each argument is a release and the commit whose ``rules/`` it put into new books.  Only releases that copied
their rules need an entry; 0.1.0 is the only one.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from blendwise.records.layer.entries import entries_of
from blendwise.records.layer.own_files import KINDS
from blendwise.records.layer.released import DATA, of_bytes, text_of
from blendwise.records.reading.document import text_document

TEMPLATE = "blendwise/answers/starting/mine.txt"
"""What 0.1.0 wrote as ``rules/mine/README.txt``."""


def _git(*args: str) -> bytes:
    return subprocess.run(["git", *args], check=True, capture_output=True).stdout


def release(commit: str) -> Mapping[str, Any]:
    """Everything of one release, from the files of its commit."""
    names = _git("ls-tree", "-r", "--name-only", commit, "rules/").decode().split()
    files = {name.removeprefix("rules/"): _git("show", f"{commit}:{name}") for name in names}
    texts: dict[str, dict[str, Any]] = {kind: {} for kind in ("rules", *KINDS)}
    for name, data in files.items():
        kind = KINDS.get(Path(name).stem, "rules")
        doc = text_document(data.decode(), Path(name))
        for entry in entries_of(doc.root.plain, kind):
            text = text_of(entry.tree, kind)
            texts[kind][entry.name] = [text.print, text.shape, text.level, list(text.leaves)]
    files["mine/README.txt"] = _git("show", f"{commit}:{TEMPLATE}")
    return {"files": {name: of_bytes(data) for name, data in files.items()}, "texts": texts}


def main(asked: list[str]) -> None:
    """Write the data file anew."""
    made = {name: release(commit) for name, _, commit in (each.partition("=") for each in asked)}
    DATA.write_text(json.dumps(made, ensure_ascii=False, indent=0, separators=(",", ":")) + "\n", "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
