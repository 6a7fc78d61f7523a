"""Whatever disk, clock or another writer does: no note is lost, none is half read, none is changed."""

from __future__ import annotations

import hashlib
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import date, timedelta
from pathlib import Path
from typing import IO

import pytest

import blendwise.records.writing.write as write
from blendwise import Book
from blendwise.answers.note.compute import Asked
from blendwise.cli.main import main
from blendwise.records import RecordError
from blendwise.records.as_of import AsOf
from blendwise.records.notes.batches import batches_of
from blendwise.records.notes.notebook import read_notebook
from tests.answers.note.conftest import ROOT, TODAY, Blendwise
from tests.answers.note.faulty import NOT_REACHED, Disk

FIRST_DAY = date(2026, 10, 4)
ARGUMENTS = ("note", "rain-jar", "--look", "later", "--on", "2026-11-20", "--saw", "all: strength faint")
MORE_THAN_A_WRITE_TAKES = 40
NOBODY = 65534


def on_day(number: int) -> date:
    """A day of its own for each try: the same look is not noted twice."""
    return FIRST_DAY + timedelta(days=number)


def arguments(number: int) -> tuple[str, ...]:
    """The look of that day, typed."""
    return (*ARGUMENTS[:5], on_day(number).isoformat(), *ARGUMENTS[6:])


def digests(book: Path) -> dict[str, str]:
    """Every note's name and the digest of its bytes."""
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in (book / "notes").glob("*.yaml")
    }


def assert_nothing_lost(book: Path, before: dict[str, str], written: bool) -> None:
    """The old notes are what they were, the new one is whole or not there, and all of them are read."""
    after = digests(book)
    new = after.keys() - before.keys()
    assert before == {name: after[name] for name in before}
    assert len(new) == 1 if written else len(new) <= 1
    notebook = read_notebook(book)
    assert () == notebook.faults
    assert len(after) == len(notebook.rows)
    for name in new:
        (row,) = [row for row in notebook.rows if row.file == name]
        assert {"pail", "cloud"} == row.portions.keys()


@pytest.mark.parametrize("what", ["ENOSPC", "EIO", "EACCES"])
def test_an_error_at_any_call_of_writing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, what: str) -> None:
    """Whichever call fails, a new file is whole or not there, what is replaced is the old or the new."""
    old = tmp_path / "old.yaml"
    old.write_text("old", "utf-8")
    for k in range(1, MORE_THAN_A_WRITE_TAKES):
        disk, new = Disk(k, what), tmp_path / f"{k}.yaml"
        monkeypatch.setattr(write, "os", disk)
        with suppress(RecordError):
            write.write_new(new, "new")
        with suppress(RecordError):
            write.put_whole(old, b"newer")
        with suppress(RecordError):
            write.replace_whole(old, b"newest", hashlib.sha256(old.read_bytes()).hexdigest())
        monkeypatch.undo()
        assert not new.exists() or new.read_text("utf-8") == "new"
        assert old.read_text("utf-8") in ("old", "newer", "newest")
        if disk.calls < k:
            break
    assert 12 < k < MORE_THAN_A_WRITE_TAKES - 1


def test_an_error_at_any_call(demo: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whichever call fails, it is said in plain words or the note stands, and nothing else changes."""
    book, what = Book(demo), "EIO"
    for k in range(1, MORE_THAN_A_WRITE_TAKES):
        before, disk = digests(demo), Disk(k, what)
        monkeypatch.setattr(write, "os", disk)
        try:
            look = Asked(look="later", on=on_day(k), saw=("all: strength faint",))
            book.note("rain-jar", look, on=AsOf(date.fromisoformat(TODAY)))
            written = True
        except (RecordError, OSError):
            written = False
        monkeypatch.undo()
        assert_nothing_lost(demo, before, written)
        if disk.calls < k:
            break
    assert 6 < k < MORE_THAN_A_WRITE_TAKES - 1


class Ready:
    """Processes that have imported all: each run is one of its own, several begin at the same moment."""

    def __init__(self, book: Path, warm: tuple[str, ...], said: IO[str]) -> None:
        self.tail = ["--book", str(book), "--today", TODAY]
        command = [sys.executable, "-m", "tests.answers.note.faulty", json.dumps([*warm, *self.tail])]
        self.process = subprocess.Popen(
            command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=said, text=True
        )

    def __call__(self, *runs: tuple[str, ...], fails: int = 0) -> list[int]:
        """Exit codes (minus the signal) of commands at once; ``fails``: the call at which each is killed."""
        assert self.process.stdin
        assert self.process.stdout
        asked = [[fails, "kill", [*words, *self.tail]] for words in runs]
        print(json.dumps(asked), file=self.process.stdin, flush=True)
        codes: list[int] = json.loads(self.process.stdout.readline())
        return codes


@contextmanager
def ready(book: Path, warm: tuple[str, ...]) -> Iterator[tuple[Ready, IO[str]]]:
    """A runner of commands like one on a book, and the file of what its runs say on standard error."""
    with tempfile.TemporaryFile("w+") as said:
        runner = Ready(book, warm, said)
        with runner.process:
            yield runner, said


def test_a_kill_at_any_call(demo: Path) -> None:
    """A process killed at any call leaves every note whole, and the look can be noted again."""
    with ready(demo, ARGUMENTS) as (run, _):
        for k in range(1, MORE_THAN_A_WRITE_TAKES):
            before = digests(demo)
            (code,) = run(arguments(k), fails=k)
            assert code in (-signal.SIGKILL, NOT_REACHED)
            assert_nothing_lost(demo, before, written=code == NOT_REACHED)
            if code == NOT_REACHED:
                break
    assert 6 < k < MORE_THAN_A_WRITE_TAKES - 1


def test_a_full_disk(demo: Path) -> None:
    """Where no more bytes may be written the reason is said, and nothing is left of the attempt."""

    def full() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (64, 64))

    before = digests(demo)
    command = [sys.executable, "-m", "blendwise.cli.main", *ARGUMENTS, "--book", str(demo), "--today", TODAY]
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        done = subprocess.run(
            command, cwd=ROOT, stdout=out, stderr=subprocess.PIPE, text=True, preexec_fn=full,
            env={**os.environ, "BLENDWISE_NO_CACHE": "1"},
        )  # fmt: skip
        err.seek(0)
    assert 2 == done.returncode
    assert "cannot be written" in done.stderr
    assert_nothing_lost(demo, before, written=False)
    assert before == digests(demo)
    assert [] == [path.name for path in (demo / "notes").iterdir() if path.suffix == ".tmp"]


@contextmanager
def ordinary_user() -> Iterator[None]:
    """Permissions bind whoever runs the tests (the superuser steps down for a while)."""
    mine = os.geteuid()
    if mine == 0:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(mine)


def test_a_folder_that_may_only_be_read(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A read-only folder is told as such, with exit code 2; reviewing goes on."""
    if os.geteuid() == 0 and any(not each.stat().st_mode & 0o001 for each in (ROOT, *ROOT.parents)):
        pytest.skip("run by root in a folder closed to others, where no ordinary user can read the package")
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book"
        shutil.copytree(demo, book)
        Path(folder).chmod(0o755)
        tail = ["--book", str(book), "--today", TODAY]
        assert main([*ARGUMENTS, *tail, "--dry-run"]) == main(["review", *tail]) == 0
        before = digests(book)
        (book / "notes").chmod(0o555)
        capsys.readouterr()
        with ordinary_user():
            assert 2 == main([*ARGUMENTS, *tail])
            assert "cannot be written: Permission denied" in capsys.readouterr().err
            assert 0 == main(["review", *tail])
        assert before == digests(book)
        (book / "notes").chmod(0o755)


def test_two_writers_at_once(demo: Path) -> None:
    """Of six processes that note looks at the same moment each writes a note of its own."""
    before = digests(demo)
    with ready(demo, ARGUMENTS) as (run, said):
        assert [0] * 6 == run(*map(arguments, range(6)))
        said.seek(0)
        assert "" == said.read()
    after = digests(demo)
    assert len(before) + 6 == len(after)
    assert before == {name: after[name] for name in before}
    notebook = read_notebook(demo)
    assert () == notebook.faults
    names = {row.note for row in notebook.rows}
    assert len(after) == len(names)


def test_a_batch_is_poured_once_though_two_note_it_at_once(demo: Path) -> None:
    """Of four processes that note the same pour at the same moment one writes; the others name its note."""
    pour = ("note", "harbour-morning", "--saw", "all: still fluid at 12 min", "--batch", "H9")
    with ready(demo, pour) as (run, said):
        assert [0, 2, 2, 2] == sorted(run(*[pour] * 4))
        said.seek(0)
        assert 3 == said.read().count('"2026-11-25-harbour-morning-pot" ')  # just written, or there already
    assert 1 == sum(row.batch == "H9" for row in read_notebook(demo).rows)


def test_a_clock_that_jumps_back(blendwise: Blendwise, demo: Path) -> None:
    """With the clock before the pour a look is refused in words; with one before the last look it keeps its
    place behind that look all the same."""
    early = blendwise("note", "rain-jar", "--book", str(demo), "--saw", "all: edge clean", today="2026-09-01")
    assert 2 == early.code
    back = blendwise(
        "note",
        "rain-jar",
        "--book",
        str(demo),
        "--look",
        "week 6",
        "--saw",
        "all: spots none",
        today="2026-11-15",
    )
    assert 0 == back.code
    jumped = blendwise(
        "note",
        "rain-jar",
        "--book",
        str(demo),
        "--look",
        "week 6",
        "--saw",
        "all: spots slight",
        today="2026-11-14",
    )
    assert 0 == jumped.code
    batches, _ = batches_of(read_notebook(demo), demo)
    (jar,) = [batch for batch in batches if batch.plan == "rain-jar"]
    spots = [look.portions["pail"].spots for look in jar.looks]
    assert [None, None, None, "none", "slight"] == spots
