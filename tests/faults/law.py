"""The law of writing: whatever call fails, each file is the old one or the new, and what failed is said."""

from __future__ import annotations

import os
import shutil
import signal
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from blendwise.cli.exit_codes import NOT_ASKED
from blendwise.records.writing.write import ABANDONED
from tests.faults.traced import PASSING, Call, Traced, Tracer
from tests.faults.writers import OLD_PAGE, Desk, a_desk

FAULTS: Final = {"ENOSPC": "error=ENOSPC", "EIO": "error=EIO", "killed": "signal=KILL"}
Files = dict[str, bytes]


@dataclass
class Score:
    """How many runs there were, which were struck elsewhere than was meant, what was wrong."""

    runs: int = 0
    elsewhere: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Trial:
    """One writer on one desk: its files before, and as they are when nothing fails."""

    desk: Desk
    words: list[str]
    before: Files
    whole: Traced
    after: Files

    @property
    def targets(self) -> set[str]:
        """The files that the writer makes or changes, seen from the book."""
        return {name for name in self.after if self.after[name] != self.before.get(name)}


def files(book: Path) -> Files:
    """Every file of a book with its bytes."""
    return {
        path.relative_to(book).as_posix(): path.read_bytes() for path in book.rglob("*") if path.is_file()
    }


@contextmanager
def desk(tracer: Tracer, writer: str) -> Iterator[Desk]:
    """A desk for trials of one writer; pages and schemas that it writes over stand there already."""
    with tempfile.TemporaryDirectory() as folder:
        one = a_desk(Path(folder, "desk"))
        older = {
            "sheet": [*OLD_PAGE, "--evenly"],
            "pdf": [*OLD_PAGE, "--evenly"],
            "schemas": one.words("schemas"),
        }
        if writer in older:
            tracer([word.format(**one.names) for word in older[writer]], one.folder, one.environment)
        if writer == "pdf":
            (one.folder / "book" / "page.pdf").write_bytes(b"%PDF-1.4 an older one of Skia/PDF")
        if writer == "schemas":
            age_schemas(one.folder / "book")
        shutil.copytree(one.folder, Path(folder, "kept"))
        yield one


def age_schemas(book: Path) -> None:
    """Schemas of an older version: they lack what is new."""
    for path in (book / ".schemas").iterdir():
        path.write_text(
            path.read_text("utf-8").replace(' "$schema"', ' "older": "yes",\n "$schema"'), "utf-8"
        )


def laid_anew(one: Desk) -> None:
    """The desk as it was before any run."""
    shutil.rmtree(one.folder)
    shutil.copytree(one.folder.with_name("kept"), one.folder)


def trial(tracer: Tracer, one: Desk, writer: str) -> Trial:
    """The writer with nothing wrong."""
    words, book = one.words(writer), one.folder / "book"
    for _ in range(2):  # the first fork of all may still open what the later ones find open
        laid_anew(one)
        before = files(book)
        whole = tracer(words, one.folder, one.environment)
    return Trial(one, words, before, whole, files(book))


def struck(tracer: Tracer, given: Trial, call: Call, fault: str, score: Score) -> None:
    """One run with one fault, and, where it left the book between the old and the new, the run after it."""
    laid_anew(given.desk)
    inject = f"{call.name}:{FAULTS[fault]}:when={call.number}"
    ran = tracer(given.words, given.desk.folder, given.desk.environment, inject)
    score.runs += 1
    if call not in ran.calls or (ran.code != -signal.SIGKILL if fault == "killed" else not ran.struck):
        score.elsewhere.append(f"{fault} at {call.name} {call.number} of {call.about}: {ran.struck}")
        return
    now = files(given.desk.folder / "book")
    named = f"{fault} at {call.name} {call.number} of {call.about}"
    told = [*wrong_files(given, now, call, fault), *wrong_words(given, ran, now, call, fault)]
    if now not in (given.before, given.after) or passing(given.desk):
        told += wrong_next(tracer, given)
    score.wrong += [f"{named}: {each}" for each in told]


def wrong_files(given: Trial, now: Files, call: Call, fault: str) -> Iterator[str]:
    """Files that are neither the old nor the new; passing ones that nobody was kept from removing."""
    for name in sorted(given.before.keys() | given.after.keys() | now.keys()):
        if PASSING.search(name):
            if fault != "killed" and "unlink" not in call.name:
                yield f"{name} is left behind"
        elif now.get(name) not in (given.before.get(name), given.after.get(name)):
            yield f"{name} is neither the old nor the new"


def wrong_words(given: Trial, ran: Traced, now: Files, call: Call, fault: str) -> Iterator[str]:
    """An exit code that says what is not so, a message that names no file, a traceback."""
    done = all(now.get(name) == given.after[name] for name in given.targets)
    if fault == "killed":
        return
    if "Traceback" in ran.said or "our fault" in ran.said:
        yield f"a fault of ours: {ran.said[-300:]}"
    if ran.code == given.whole.code and not done:
        yield f"exit code {ran.code}, and not all is written"
    if ran.code != given.whole.code:
        if ran.code != NOT_ASKED:
            yield f"exit code {ran.code}"
        if not any(Path(name).name in ran.said for name in (*given.targets, *folders(given.targets))):
            yield f"no file is named: {ran.said[-300:]}"


def folders(names: set[str]) -> set[str]:
    """The folders that files of these names lie in."""
    return {parent.name for name in names for parent in Path(name).parents if parent.name}


def wrong_next(tracer: Tracer, given: Trial) -> Iterator[str]:
    """What the same command does an hour later, with nothing wrong: all is written, nothing is left."""
    then = time.time() - ABANDONED - 60
    for left in passing(given.desk):
        os.utime(left, (then, then), follow_symlinks=False)
    ran = tracer(given.words, given.desk.folder, given.desk.environment)
    again = files(given.desk.folder / "book")
    if any(again.get(name) != given.after[name] for name in given.targets):
        yield f"the next run does not mend it (exit code {ran.code}): {ran.said[-300:]}"
    if ran.code == given.whole.code and passing(given.desk):
        yield f"the next run leaves {passing(given.desk)}"


def passing(one: Desk) -> list[Path]:
    """What bears a passing name in the book, the cache or the folder for passing files."""
    return [path for path in one.folder.rglob("*") if PASSING.search(path.as_posix())]


def score_of(tracer: Tracer, writer: str, faults: tuple[str, ...] = tuple(FAULTS), every: int = 1) -> Score:
    """Every fault at every (or every so many-th) call of one writer that changes a file of book or cache."""
    score = Score()
    with desk(tracer, writer) as one:
        given = trial(tracer, one, writer)
        if not given.targets:
            score.wrong.append(f"nothing was written: {given.whole.said}")
        for number, call in enumerate(given.whole.calls):
            if number % every == 0:
                for fault in faults:
                    struck(tracer, given, call, fault, score)
    score.wrong = [f"{writer}: {each}" for each in score.wrong]
    return score
