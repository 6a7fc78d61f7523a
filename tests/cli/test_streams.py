"""Streams that are closed or full, names that no file can have: said in one line, never a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from blendwise.cli.exit_codes import CLEAN, NOT_ASKED
from blendwise.records.book import load_book
from tests.strangers.books import DEMO, a_book
from tests.strangers.runs import here

ROOT = Path(__file__).resolve().parents[2]
FULL = Path("/dev/full")
CHECKED = 'check "$1" --today 2026-11-28'


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plan of a generated book."""
    return a_book(tmp_path_factory.mktemp("streams") / "book", seed=3).plans[0]


def shell(script: str, *words: str | bytes) -> subprocess.CompletedProcess[bytes]:
    """A shell's line with ``$0`` the interpreter and the words after it; real streams, a real process."""
    command = ["sh", "-c", f'"$0" -m blendwise {script}', sys.executable, *words]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(command, capture_output=True, check=False, env=environment)


@pytest.fixture(scope="module")
def verdict(plan: Path) -> int:
    """The exit code of its check with all streams open."""
    return shell(CHECKED, str(plan)).returncode


@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
def test_a_stream_that_is_closed_changes_no_verdict(plan: Path, verdict: int, closed: str) -> None:
    """With any stream closed the exit code is what it is with all of them open, and nobody is blamed."""
    ran = shell(f"{CHECKED} {closed}", str(plan))
    assert verdict == ran.returncode
    assert b"our fault" not in ran.stderr
    assert b"Traceback" not in ran.stderr


@pytest.mark.skipif(not FULL.exists(), reason="this system has no full device")
@pytest.mark.parametrize("form", ["", "--json", "--plain"])
def test_a_full_device_is_told_on_the_other_stream(plan: Path, form: str) -> None:
    """Code 2 and one line on standard error."""
    ran = shell(f'check "$1" {form} >/dev/full', str(plan))
    assert NOT_ASKED == ran.returncode
    assert [
        b"The answer could not be written: No space left on device. Make room, or send it elsewhere."
    ] == (ran.stderr.splitlines())


@pytest.mark.skipif(not FULL.exists(), reason="this system has no full device")
def test_with_both_streams_full_the_code_alone_is_left(plan: Path) -> None:
    """Code 2, and nothing to say it on."""
    assert NOT_ASKED == shell('check "$1" >/dev/full 2>/dev/full', str(plan)).returncode


def test_a_name_that_no_file_can_have(plan: Path) -> None:
    """A name of 300 letters, and one that is no text: code 2, one line, the name as it was typed."""
    long = "a" * 300 + ".yaml"
    ran = shell('check "$1"', long)
    assert (NOT_ASKED, 1) == (ran.returncode, len(ran.stderr.splitlines()))
    written = shell('assign "$1" --write "$2"', str(plan), str(plan.parent / long))
    assert written.returncode != CLEAN
    assert b"Traceback" not in written.stderr
    odd = shell('check "$1"', b"plans/\xff\xfe.yaml")
    assert NOT_ASKED == odd.returncode
    assert b"(plans/\\xff\\xfe.yaml" in odd.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("sheet", "PLAN", "--out", "-", "--today", "9999-12-31"),
            "9999-12-31 is too far away for any soap.",
        ),
        (("pair", "OIL", "--today", "9999-12-31"), "9999-12-31 is too far away for any soap."),
        (("cup", "OIL", "--today", "9999-12-31"), "9999-12-31 is too far away for any soap."),
        (("cup", "OIL", "--lots", ", ,"), '", ," names no lot.'),
        (
            ("scents", "import", "SHEET", "--sheet", "May"),
            'There is no sheet "May": this file holds one table.',
        ),
    ],
)
def test_what_cannot_be_meant_is_refused(plan: Path, words: tuple[str, ...], said: str) -> None:
    """A day beyond the calendar, lots that are none, a sheet of a file without any: code 2, in words."""
    book = plan.parents[1]
    oil = next(iter(load_book(book).scents))
    meant = {"PLAN": str(plan), "OIL": oil, "SHEET": str(DEMO / "bottles.csv")}
    ran = here(
        [*(meant.get(word, word) for word in words), *(() if "PLAN" in words else ("--book", str(book)))]
    )
    assert NOT_ASKED == ran.code
    assert said in ran.err


def test_a_fault_of_what_was_typed_names_no_file(plan: Path) -> None:
    """What an option says stands in no file: no place is told, least of all one that is not there."""
    ran = here(["note", str(plan), "--saw", "all: ricing none", "--mass", "0 g", "--dry-run"])
    assert NOT_ASKED == ran.code
    assert "cannot be nothing" in ran.err
    assert "(" not in ran.err


def test_a_link_that_leads_back_to_itself(plan: Path, tmp_path: Path) -> None:
    """Read or written to, it is refused in words."""
    loop = plan.with_name("loop.yaml")
    page = tmp_path / "page.html"
    for link in (loop, page):
        link.symlink_to(link.name)
    read, written = here(["check", str(loop)]), here(["sheet", str(plan), "--out", str(page), "--evenly"])
    loop.unlink()
    assert (NOT_ASKED, NOT_ASKED) == (read.code, written.code)
    assert "loop.yaml" in read.err
    assert "cannot be written" in written.err
