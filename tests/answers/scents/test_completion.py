"""The shell completes names of the book, quickly and without complaint."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from blendwise.cli.completion import entries
from blendwise.records.book import load_book
from tests.answers.scents.conftest import ROOT

DEMO = ROOT / "demo_catalog"


def completed(words: str, folder: Path) -> list[str]:
    """What bash is offered after these words in a folder."""
    done = subprocess.run(
        [sys.executable, "-c", "from blendwise.cli.main import run; run()"],
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "COMP_WORDS": words,
            "COMP_CWORD": str(len(words.split(" ")) - 1),
            "_BLENDWISE_COMPLETE": "complete_bash",
        },
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    assert "" == done.stderr
    return done.stdout.split()


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("blendwise scents show tonka", {"tonka-absolute", "tonka-milk"}),
        ("blendwise pair sea", {"sea-glass"}),
        ("blendwise pair lime --pour colu", {"column"}),
        ("blendwise check harb", {"harbour-morning"}),
        ("blendwise rules show browning-shows", {"browning-shows-in-light"}),
        ("blendwise sta", {"start"}),
    ],
)
def test_names_of_the_book_are_offered(words: str, offered: set[str]) -> None:
    """Oils, pour styles, plans, rules and commands are completed inside a book."""
    assert offered <= set(completed(words, DEMO))
    assert len(completed(words, DEMO)) <= len(offered) + 1


def test_outside_a_book_completion_is_silent(tmp_path: Path) -> None:
    """Where there is no book there is nothing to offer and nothing to complain of."""
    assert [] == completed("blendwise scents show ton", tmp_path)


def test_every_oil_of_the_catalogue_is_found_by_its_line() -> None:
    """The quick reading finds the same names as the book itself."""
    book = load_book(DEMO)
    assert list(book.scents) == list(entries(DEMO / "scents.yaml"))
    assert list(book.colourants) == list(entries(DEMO / "colourants.yaml"))
