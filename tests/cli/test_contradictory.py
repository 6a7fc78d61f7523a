"""Options that cannot be meant together, amounts below nothing, names that no rule can bear: refused."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from tests.strangers.books import DEMO
from tests.strangers.runs import Ran, here

TODAY = ("--today", "2026-11-25")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demo, with a plan that was poured."""
    folder = tmp_path_factory.mktemp("contradictory") / "book"
    shutil.copytree(DEMO, folder)
    return folder


def run(book: Path, *words: str) -> Ran:
    """A command line; PLAN is the book's, BOOK its folder."""
    meant = {"PLAN": str(book / "plans" / "rain-jar.yaml"), "BOOK": str(book), "NEW": str(book / "new.yaml")}
    return here([*(meant.get(word, word) for word in words), *TODAY])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("again", "rain-jar", "--bars", "3", "--oils", "3 kg", "--book", "BOOK"), "More than one size"),
        (("assign", "PLAN", "--oils", "3 kg", "--mould", "25 x 9 x 6 cm"), "More than one size"),
        (("check", "PLAN", "--lever", "2"), "--write"),
        (("assign", "PLAN", "--lever", "2"), "--write"),
        (("cup", "lime", "cedar", "--apart", "--ratio", "1:2", "--book", "BOOK"), "no ratio"),
        (("note", "PLAN", "--due", "--saw", "pail: edge clean"), "notes nothing"),
        (("note", "PLAN", "--saw", "", "--dry-run"), "does not say what was seen"),
        (("note", "PLAN", "--saw", "pail:", "--dry-run"), "does not say what was seen"),
        (("sheet", "PLAN", "--out", "x.pdf", "--pdf"), "would be one file"),
        (("ask", "can I use -5 % of lime", "--book", "BOOK"), '"-5 %" is negative'),
        (("ask", "is -30 g of lime in 1 kg too much", "--book", "BOOK"), '"-30 g" is negative'),
        (("rules", "new", "lime at most 2 % of oils", "--name", "x" * 500, "--book", "BOOK"), "as a name"),
        (("rules", "new", "lime at most 2 % of oils", "--because", "\x1b[m", "--book", "BOOK"), "control"),
    ],
)
def test_what_cannot_be_meant_is_refused(book: Path, words: tuple[str, ...], said: str) -> None:
    """Code 2 and the reason: none of it is dropped in silence, and nobody is blamed."""
    ran = run(book, *words, *(("--basis", "portion oils") if "new" in words else ()))
    assert NOT_ASKED == ran.code
    assert said in ran.err


def test_a_minus_sign_in_a_rule_is_underlined(book: Path) -> None:
    """It would else be kept as its opposite; a range with a dash stays one."""
    below = run(book, "rules", "new", "lime at most -3 % of portion oils", "--book", "BOOK")
    assert FINDINGS == below.code
    assert '"-3" has no part' in below.out
    for dash in ("2-3", "2 -3", "2 - 3"):
        ranged = run(book, "rules", "new", f"lime {dash} % of portion oils", "--book", "BOOK")
        assert CLEAN == ranged.code
        assert "between 2 % and 3 %" in ranged.out


@pytest.mark.parametrize("dose", ["2-3 %", "2 to 3 %"])
def test_a_range_that_is_asked_about_counts_by_its_top(book: Path, dose: str) -> None:
    """It is answered as its top is, never as more than any soap takes."""
    top, ranged = (run(book, "ask", f"can I use {each} lime", "--book", "BOOK") for each in ("3 %", dose))
    assert (top.code, top.out) == (ranged.code, ranged.out)
    assert "no soap takes that" in run(book, "ask", "can I use 80 to 90 % lime", "--book", "BOOK").out


def test_a_quote_sign_left_open_swallows_no_row(book: Path, tmp_path: Path) -> None:
    """Two oils would become one of a long name; one within a cell, or a cell of two lines, is neither."""
    sheet = tmp_path / "shelf.csv"
    sheet.write_text('name,kind\nFirst,essential oil\n"A,essential oil\nB,essential oil\n', "utf-8")
    refused = run(book, "scents", "import", str(sheet), "--book", "BOOK")
    assert NOT_ASKED == refused.code
    assert "never closed" in refused.err
    assert "shelf.csv:3" in refused.err
    sheet.write_text(
        'name,kind\n"A ""first""",essential oil\n"B\nC",essential oil\nD 12" x,essential oil', "utf-8"
    )
    assert "Three oils read" in run(book, "scents", "import", str(sheet), "--book", "BOOK").out


def test_another_ones_pdf_is_not_printed_over(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of the name of the page: refused; an older print by a browser is replaced."""
    browser, page = tmp_path / "browser", tmp_path / "page.html"
    browser.write_text(
        '#!/bin/sh\nfor a; do case "$a" in --print-to-pdf=*) printf new >"${a#*=}";; esac; done\n'
    )
    browser.chmod(0o755)
    monkeypatch.setenv("BLENDWISE_BROWSER", str(browser))
    page.with_suffix(".pdf").write_bytes(b"%PDF-1.4 an invoice")
    refused = run(book, "sheet", "PLAN", "--out", str(page), "--pdf", "--evenly")
    assert NOT_ASKED == refused.code
    assert "page.pdf" in refused.err
    assert b"%PDF-1.4 an invoice" == page.with_suffix(".pdf").read_bytes()
    page.with_suffix(".pdf").write_bytes(b"%PDF-1.4 /Producer (Skia/PDF m150)")
    run(book, "sheet", "PLAN", "--out", str(page), "--pdf", "--evenly")
    assert b"new" == page.with_suffix(".pdf").read_bytes()


def test_an_option_is_no_name_of_a_file(book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`--write --plain` wants a name: nothing is written under the option's."""
    monkeypatch.chdir(tmp_path)
    told = run(book, "assign", "PLAN", "--write", "--plain")
    assert 2 == told.code
    assert '"--plain" is an option' in " ".join(told.err.split())
    assert [] == list(tmp_path.iterdir())
