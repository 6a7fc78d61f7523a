"""The pictures of a review of which a part was asked for say what its document says, in any book."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.cli.exit_codes import CLEAN
from blendwise.records.as_of import AsOf
from tests.cli.conftest import Run, run
from tests.strangers.books import TODAY, a_book

__all__ = ["run"]
DISC = re.compile(r'<circle cx="([\d.]+)%"[^>]*r="7"')


@pytest.fixture(scope="module")
def ounces(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A generated book that weighs in ounces and doses by the pound of oils, with its looks."""
    folder = a_book(tmp_path_factory.mktemp("asked") / "book", 43, plans=2).folder
    assert "mass: oz" in (folder / "usual.yaml").read_text("utf-8")
    return folder


def asked(run: Run, book: Path, *words: str) -> tuple[str, dict[str, list[dict[str, object]]]]:
    """The page and the document of one question."""
    page = book / "asked.html"
    ran = run("review", *words, "--book", str(book), "--today", TODAY, "--page", str(page), "--json")
    assert CLEAN == ran.code
    return page.read_text("utf-8").split("</style>")[1], json.loads(ran.out)


def test_a_rules_bar_has_its_records_counts(run: Run, ounces: Path) -> None:
    """Each rule that spoke or missed something has one bar with its counts; no other rule has one."""
    page, document = asked(run, ounces, "--rules")
    drawn = dict(re.findall(r'aria-label="([a-z][^":]*): ((?:right|never|silent|nobody)[^"]*)"', page))
    counts = ("flagged_and_seen", "flagged_and_not", "seen_and_not_flagged", "open")
    known = {str(each["rule"]): each for each in document["rules"] if any(each[key] for key in counts)}
    assert known
    assert set(known) == {rule.replace("&#39;", "'") for rule in drawn}
    for rule, told in drawn.items():
        each = known[rule.replace("&#39;", "'")]
        spoke = int(str(each["flagged_and_seen"])) + int(str(each["flagged_and_not"]))
        assert (f"right in {each['flagged_and_seen']} of {spoke}" in told) == (spoke > 0)
        missed = each["seen_and_not_flagged"]
        assert (f"silent in {missed}" in told) == bool(missed)


def test_an_oils_looks_stand_over_their_doses(run: Run, ounces: Path) -> None:
    """A disc a portion for the last ricing seen of it, and doses in the book's own unit, words too."""
    book = Book(ounces)
    oil = next(name for name in book.files.scents if any(_riced(book, name)))
    page, document = asked(run, ounces, "--scent", oil)
    looks = document["looks"]
    riced = {
        (look["batch"], look["portion"], look["dose"]) for look in looks if "ricing" in str(look["seen"])
    }
    part = page.split("<h3>Ricing</h3>")[1].split("<h3>")[0]
    assert riced
    assert len(riced) == len(DISC.findall(part))
    assert "oz ppo of portion oils" in page
    assert not re.search(r"with [\d.]+ % of it", page)
    assert oil in re.sub("<[^>]*>", "", page.split("</h1>")[0])


def _riced(book: Book, oil: str) -> Iterator[bool]:
    for look in book.review(on=AsOf(date.fromisoformat(TODAY)), scent=oil).looks:
        yield look.whole.ricing is not None


def test_what_nobody_looked_at_has_no_picture(run: Run, tmp_path: Path) -> None:
    """No axis stands over nothing: an oil without looks, and rules without notes."""
    book = a_book(tmp_path / "book", 43, plans=1, looks=False).folder
    for words in (("--scent", "Barley Lane"), ("--rules",), ("--variations",)):
        assert '<svg class="bar' not in asked(run, book, *words)[0]
