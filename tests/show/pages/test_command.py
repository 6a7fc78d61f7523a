"""``blendwise sheet`` and ``--page``: files written, never over another's, printed where a browser is."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from blendwise.cli import pages
from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from tests.cli.conftest import Run, run
from tests.show.pages.conftest import DEMO

PLAN = str(DEMO / "plans" / "harbour-morning.yaml")
__all__ = ["run"]


def test_a_sheet_is_written_here_by_the_plans_name(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without ``--out`` it is NAME-sheet.html in the current folder, and said so."""
    monkeypatch.chdir(tmp_path)
    ran = run("sheet", PLAN)
    assert CLEAN == ran.code
    assert "Written: harbour-morning-sheet.html." in ran.out
    assert (tmp_path / "harbour-morning-sheet.html").read_text("utf-8").startswith("<!doctype html>")


def test_another_file_is_never_written_over(run: Run, tmp_path: Path) -> None:
    """A page of ours is made anew; a file of any other kind stays as it is."""
    file = tmp_path / "mine.html"
    file.write_text("my own page", "utf-8")
    ran = run("sheet", PLAN, "--out", str(file))
    assert NOT_ASKED == ran.code
    assert "another file of this name" in ran.err
    assert "my own page" == file.read_text("utf-8")
    file.unlink()
    assert [CLEAN, CLEAN] == [run("sheet", PLAN, "--out", str(file)).code for _ in range(2)]


def test_a_sheet_that_is_not_to_be_poured_ends_so(run: Run, tmp_path: Path) -> None:
    """The exit code of a sheet that says not to pour is that of findings; the file is written even so."""
    file = tmp_path / "x.html"
    ran = run("sheet", str(DEMO / "plans" / "three-whites.yaml"), "--out", str(file))
    assert FINDINGS == ran.code
    assert file.exists()


def test_json_writes_no_file(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With ``--json`` the document is printed and nothing is written."""
    monkeypatch.chdir(tmp_path)
    ran = run("sheet", PLAN, "--json", "--today", "2026-11-25")
    assert "blendwise/sheet/1" == json.loads(ran.out)["schema"]
    assert [] == list(tmp_path.iterdir())


def test_without_a_browser_it_says_how_to_print(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """``--pdf`` on a machine without a browser writes the page, says how to print it, and fails."""
    monkeypatch.setattr(pages, "browser", lambda: None)
    ran = run("sheet", PLAN, "--out", str(tmp_path / "x.html"), "--pdf")
    assert NOT_ASKED == ran.code
    assert "print it, A4 or Letter, both sides, at 100 %" in ran.err
    assert (tmp_path / "x.html").exists()


@pytest.mark.browser
@pytest.mark.parametrize(("paper", "width"), [("a4", 595.9), ("Letter", 612.0)])
def test_with_a_browser_it_prints(run: Run, tmp_path: Path, paper: str, width: float) -> None:
    """``--pdf`` prints front and back on the paper asked for, beside the page."""
    ran = run("sheet", PLAN, "--out", str(tmp_path / "x.html"), "--pdf", "--paper", paper)
    assert CLEAN == ran.code, ran.err
    pdf = (tmp_path / "x.pdf").read_bytes()
    box = re.search(rb"/MediaBox \[0 0 ([\d.]+)", pdf)
    assert box is not None
    assert width == pytest.approx(float(box[1]), abs=1)
    assert 2 == len(re.findall(rb"/Type /Page\b", pdf))


def test_paper_and_names_are_told_apart(run: Run) -> None:
    """A paper that is none here is refused in words."""
    assert "Write A4 or Letter" in run("sheet", PLAN, "--paper", "A5", "--out", "-").err


@pytest.mark.parametrize(
    "command",
    [
        ["rules"],
        ["pair", "lime", "cedar"],
        ["pair", "lime", "--with-all"],
        ["review", "--today", "2026-11-25"],
        ["review", "--rules", "--today", "2026-11-25"],
        ["check", PLAN],
        ["check", PLAN, "--more"],
        ["assign", PLAN],
    ],
)
def test_pages_are_written_where_asked(run: Run, tmp_path: Path, command: list[str]) -> None:
    """``--page`` writes the page to the file named and says so."""
    file = tmp_path / "page.html"
    ran = run(*command, "--page", str(file), "--book", str(DEMO))
    assert ran.code in (CLEAN, FINDINGS), ran.err
    assert f"Written: {file.as_posix()}." in ran.out
    assert "</html>" in file.read_text("utf-8")


@pytest.mark.parametrize(
    "words",
    [
        ["check", PLAN, "--page"],
        ["assign", PLAN, "--page"],
        ["sheet", PLAN, "--evenly", "--out"],
        ["pair", "tonka-milk", "lime", "--book", str(DEMO), "--page"],
        ["pair", "lime", "--with-all", "--book", str(DEMO), "--page"],
        ["review", "--book", str(DEMO), "--page"],
        ["review", "--rules", "--book", str(DEMO), "--page"],
    ],
    ids=["check", "assign", "sheet", "pair", "shelf", "review", "rules"],
)
def test_a_page_beside_a_document(run: Run, tmp_path: Path, words: list[str]) -> None:
    """With ``--json`` standard output holds the document alone; the page is written, and told aside."""
    file = tmp_path / "page.html"
    ran = run(*words, str(file), "--json")
    assert json.loads(ran.out)["schema"]
    assert f"Written: {file.as_posix()}." in ran.err
    assert file.read_text("utf-8").startswith("<!doctype html>")
    both = run(*words, "-", "--json")
    assert (NOT_ASKED, "blendwise/error/1") == (both.code, json.loads(both.out)["schema"])


def test_a_page_has_the_numbers_that_are_asked_for(run: Run, tmp_path: Path) -> None:
    """``review --numbers --page`` is the whole page with more in it, not the same bytes."""
    files = [tmp_path / "plain.html", tmp_path / "numbers.html"]
    for file, more in zip(files, ([], ["--numbers"]), strict=True):
        assert CLEAN == run("review", "--book", str(DEMO), *more, "--page", str(file)).code
    plain, numbers = (file.read_text("utf-8") for file in files)
    assert len(numbers) > len(plain)
    assert numbers.count("<svg") == plain.count("<svg")
