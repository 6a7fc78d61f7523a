"""The default answer of a check on generated books: its length, its words, and that no stop is left out."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from blendwise import Book
from blendwise.records.as_of import AsOf
from blendwise.show.check.brief import finding_lines
from tests.strangers.books import a_book
from tests.strangers.runs import ran

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
SEEDS = (0, 1, 3, 5, 7, 8)
"""Books in grams and in ounces."""
SENTENCES = 12
"""Besides one for each rule that is broken, or waits, at stop or conflict; the table of grams not counted."""
JARGON = re.compile(r"ΔE|told by|\bbands?\b|\bguard\b|\bsteps\b|\bmeasure\b|\bfinding of\b")


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[str, Any]]:
    """What a check prints, and its document, of every plan that can be worked out."""
    folder = tmp_path_factory.mktemp("books")
    for seed in SEEDS:
        a_book(folder / str(seed), seed, plans=2, looks=False)
    runs = [(ran("check", plan), ran("check", plan, "--json")) for plan in sorted(folder.glob("*/plans/*"))]
    read = [(text.out, data.document) for text, data in runs if data.code in (0, 1)]
    assert len(read) >= len(SEEDS)
    return read


def sentences(text: str) -> list[str]:
    """The lines that begin a sentence: wrapped ones and the table of grams are indented."""
    return [line for line in text.splitlines() if line and not line.startswith(" ")]


def heavy(document: Any) -> set[tuple[str, str]]:
    """Rules (and versions) that are broken or wait at stop or conflict."""
    found = document["findings"]
    return {
        (f["rule"], f["version"])
        for f in found
        if f["level"] in ("stop", "conflict") and f["status"] != "accepted"
    }


def test_the_answer_is_short(answers: list[tuple[str, Any]]) -> None:
    """Twelve sentences, and one for each rule broken at stop or conflict."""
    for text, document in answers:
        assert len(sentences(text)) <= SENTENCES + len(heavy(document)), text
        assert text.count("\nCaution: ") + text.count("\nTight: ") <= 5


def test_no_word_of_the_workshop(answers: list[tuple[str, Any]]) -> None:
    """No rule's name and none of our own terms stands in it."""
    for text, document in answers:
        flat = " ".join(text.split())
        assert not JARGON.search(flat), flat
        assert [f["rule"] for f in document["findings"] if f["rule"] in flat] == []


def test_every_stop_is_told_first(answers: list[tuple[str, Any]]) -> None:
    """As many lines of stops as rules broken at that level, each before every conflict and caution."""
    met = 0
    for text, document in answers:
        stops = {
            (f["rule"], f["version"])
            for f in document["findings"]
            if (f["level"], f["status"]) == ("stop", "broken")
        }
        tags = [
            line.split(":")[0]
            for line in sentences(text)
            if line.startswith(("Stop:", "Conflict:", "Caution:"))
        ]
        assert tags == sorted(tags, key=("Stop", "Conflict", "Caution").index)
        assert tags.count("Stop") == len(stops), text
        met += len(stops)
    assert met > 0


def test_the_rest_comes_with_more(tmp_path: Path) -> None:
    """Reasons and sources are left for ``--more``."""
    a_book(tmp_path / "book", 0, plans=1, looks=False)
    plan = next((tmp_path / "book" / "plans").glob("*.yaml"))
    short, more = ran("check", plan), ran("check", plan, "--more")
    assert "Source: rule " not in short.out
    assert "Source: rule " in more.out
    assert short.code == more.code


@pytest.mark.parametrize(
    "oils",
    ["tonka-milk lime", "clove-leaf", "lavender cedar", "burnt-sugar sea-glass benzoin", "market-find"],
)
def test_a_pairing_fits_a_screen(oils: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """At most thirty lines of eighty columns, without our own terms."""
    monkeypatch.setenv("COLUMNS", "80")
    answer = ran("pair", *oils.split(), "--book", DEMO, "--today", "2026-11-25")
    assert len(answer.out.splitlines()) <= 30, answer.out
    assert not JARGON.search(" ".join(answer.out.split())), answer.out


def test_what_protects_is_not_folded_behind_what_spoils() -> None:
    """Of many cautions those that guard skin, lye or fire stand among the five that are told."""
    book = Book(DEMO)
    check = book.check("orchard-wall", on=AsOf(date(2026, 11, 28)))
    caution = next(each for each in check.findings if each.level == "caution")
    many = [replace(caution, rule=f"r{n}", protects=None, status="broken") for n in range(7)]
    guard = replace(caution, rule="fire", protects="flammability", status="broken", says="the oven burns")
    lines = [line.text for line in finding_lines(replace(check, findings=(*many, guard)))]
    assert "the oven burns" in lines[0]
    assert lines[-1] == "And three more cautions."
