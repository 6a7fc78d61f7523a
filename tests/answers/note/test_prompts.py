"""The look by prompts, on a terminal: enter skips, wrong words are asked again, a broken session resumes."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pexpect
import pytest

from blendwise.records.book import load_note
from tests.answers.note.conftest import ROOT, TODAY

Start = Callable[..., "pexpect.spawn[str]"]


@pytest.fixture
def start(demo: Path) -> Iterator[Start]:
    """Start ``blendwise note`` on a terminal."""
    running: list[pexpect.spawn[str]] = []

    def once(*args: str) -> pexpect.spawn[str]:
        child = pexpect.spawn(
            sys.executable,
            ["-m", "blendwise.cli.main", "note", *args, "--book", str(demo), "--today", TODAY],
            cwd=str(ROOT),
            env={**os.environ, "BLENDWISE_NO_CACHE": "1", "COLUMNS": "200"},
            encoding="utf-8",
            timeout=20,
            dimensions=(24, 200),
        )
        running.append(child)
        return child

    yield once
    for child in running:
        child.close(force=True)


def answer(child: pexpect.spawn[str], question: str, said: str) -> None:
    """Wait for a question and answer it."""
    child.expect_exact(question)
    child.expect_exact(": ") if not question.endswith(": ") else None
    child.sendline(said)


def test_a_look_by_prompts(start: Start, demo: Path) -> None:
    """Enter takes the day and the look offered and skips what was not seen; a wrong word is asked again."""
    child = start("rain-jar", "--look", "later")
    answer(child, "Day of the look [2026-11-25]: ", "")
    answer(child, "Which look [later]: ", "")
    answer(child, "pail: colour", "sparkling")
    child.expect_exact("is not a colour that is known here")
    answer(child, "pail: colour", "?")
    child.expect_exact("in your words")
    answer(child, "pail: colour", "tan")
    answer(child, "pail: edge", "<")
    answer(child, "pail: colour", "orangey tan")
    child.expect_exact("is noted as #d39259")
    answer(child, "pail: edge", "crisp")
    answer(child, "pail: halo", "3 mm")
    answer(child, "pail: strength", "faint")
    answer(child, "pail: spots", "")
    answer(child, "pail: remarks", "Grey, a little.")
    for field in ("colour", "edge", "halo", "strength", "spots", "remarks"):
        answer(child, f"cloud: {field}", "")
    answer(child, "Make it again", "maybe")
    child.expect_exact("neither yes nor no")
    answer(child, "Make it again", "no")
    answer(child, "Anything else", "")
    child.expect_exact("Noted in")
    child.expect(pexpect.EOF)
    child.close()
    assert 0 == child.exitstatus
    (file,) = (demo / "notes").glob("2026-11-25-rain-jar*")
    note = load_note(file)
    assert {"pail"} == note.portions.keys()
    seen = note.portions["pail"]
    assert ("#d39259", "clean", "faint", "Grey, a little.") == (
        seen.colour,
        seen.edge,
        seen.strength,
        seen.remarks,
    )
    assert note.repeat is False
    assert [] == list((demo / "notes").glob(".unfinished*"))


def test_an_interrupted_session_resumes(start: Start, demo: Path) -> None:
    """After an interrupt the answers given are kept, and only the others are asked; nothing was noted yet."""
    before = sorted(path.name for path in (demo / "notes").glob("*.yaml"))
    child = start("rain-jar", "--look", "later")
    answer(child, "Day of the look", "")
    answer(child, "Which look", "")
    answer(child, "pail: colour", "beige")
    child.expect_exact("pail: edge")
    child.sendintr()
    child.expect(pexpect.EOF)
    child.close()
    assert 130 == child.exitstatus
    assert before == sorted(path.name for path in (demo / "notes").glob("*.yaml"))

    child = start("rain-jar", "--look", "later")
    child.expect_exact("An unfinished look is resumed (three answers)")
    for field in ("edge", "halo", "strength", "spots", "remarks"):
        answer(child, f"pail: {field}", "")
    for field in ("colour", "edge", "halo", "strength", "spots", "remarks"):
        answer(child, f"cloud: {field}", "")
    answer(child, "Make it again", "")
    answer(child, "Anything else", "")
    child.expect_exact("Noted in")
    child.expect(pexpect.EOF)
    child.close()
    assert 0 == child.exitstatus
    (file,) = (demo / "notes").glob("2026-11-25-rain-jar*")
    assert "beige" == load_note(file).portions["pail"].colour


def test_a_killed_session_resumes_or_begins_anew(start: Start, demo: Path) -> None:
    """A session that was killed is there the next time; with --anew it is dropped."""
    child = start("rain-jar")
    answer(child, "Day of the look", "")
    child.expect_exact("Which look")
    child.close(force=True)
    child = start("rain-jar", "--anew")
    child.expect_exact("Day of the look")
    child.close(force=True)
    child = start("rain-jar")
    child.expect_exact("An unfinished look is resumed (one answer)")
