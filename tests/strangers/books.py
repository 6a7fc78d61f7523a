"""Whole books in a folder, as their makers would have them: ``a_book``, ``a_plan`` and ``found``."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Final

from tests.strangers.looks import write_looks
from tests.strangers.plans import StrangePlan, the_plan
from tests.strangers.shelf import a_shelf
from tests.strangers.words import PLANS, some

TODAY: Final = "2026-11-28"
FOUND: Final = Path(__file__).parent / "found"
DEMO: Final = Path(__file__).resolve().parents[2] / "demo_catalog"
STRANGERS: Final = ("seller", "ten-years", "beginner", "rule-writer")


@dataclass(frozen=True)
class StrangeBook:
    """A generated book on disk: its folder, and the paths of its plans."""

    folder: Path
    plans: tuple[Path, ...]


def a_plan(seed: int) -> StrangePlan:
    """A plan with the shelf that its names stand on; nothing is written."""
    rng = Random(f"plan {seed}")
    return the_plan(rng, a_shelf(rng))


def a_book(folder: Path, seed: int, plans: int = 5, looks: bool = True) -> StrangeBook:
    """A whole book written into a new folder: shelf, own rules, plans, and looks noted by the tool itself.

    ``looks=False`` leaves the notes out, and with them every call of the tool: then only this library
    decides what the bytes are.
    """
    rng = Random(f"book {seed}")
    shelf = a_shelf(rng)
    for name, text in shelf.files().items():
        _write(folder / name, text)
    names = some(rng, PLANS, plans)
    paths = tuple(folder / "plans" / f"{name}.yaml" for name in names)
    for name, path in zip(names, paths, strict=True):
        _write(path, the_plan(rng, shelf, name).text)
    (folder / "notes").mkdir()
    book = StrangeBook(folder, paths)
    if looks:
        write_looks(rng, folder, paths)
    return book


def found(name: str, folder: Path) -> StrangeBook:
    """A copy of a stranger's book, to be changed at will; see ``found/README.md``."""
    shutil.copytree(DEMO if name == "rule-writer" else FOUND / name / "book", folder)
    if name == "rule-writer":
        _write(folder / "rules" / "mine" / "own.yaml", (FOUND / name / "own.yaml").read_text("utf-8"))
    return StrangeBook(folder, tuple(sorted((folder / "plans").glob("*.yaml"))))


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
