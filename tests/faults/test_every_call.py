"""Errors and kills at system calls of writers: a few here, all of all writers by ``long.py faults``."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.law import score_of
from tests.faults.traced import changing, may_trace, tracer


@pytest.mark.skipif(bool(may_trace()), reason=may_trace() or "strace puts faults in here")
def test_a_fault_at_any_call_leaves_the_old_or_the_new() -> None:
    """A page written over an older one by an error at each call; four files renamed and killed at some."""
    with tracer() as run:
        page = score_of(run, "sheet", ("EIO",))
        renamed = score_of(run, "rename", ("killed",), every=4)
    assert (8, [], []) == (page.runs, page.elsewhere, page.wrong)
    assert (8, [], []) == (renamed.runs, renamed.elsewhere, renamed.wrong)


def test_the_calls_that_change_a_file_are_told_from_the_others(tmp_path: Path) -> None:
    """Reading is none, nor is another folder or process; a passing name is any; each has its own number."""
    lines = [
        f'7 openat(AT_FDCWD, "{tmp_path}/a.yaml", O_RDONLY) = 3<{tmp_path}/a.yaml>',
        f"7 close(3<{tmp_path}/a.yaml>) = 0",
        '7 openat(AT_FDCWD, "/elsewhere/b", O_WRONLY|O_CREAT, 0666) = 3</elsewhere/b>',
        f'7 openat(AT_FDCWD, "{tmp_path}/.0123456789abcdef.tmp", O_WRONLY|O_CREAT|O_EXCL, 0666) = 3',
        f'8 write(3<{tmp_path}/.0123456789abcdef.tmp>, "...", 9) = 9',
        f"7 close(3<{tmp_path}/.0123456789abcdef.tmp>) = 0",
        f'7 unlink("{tmp_path}/.0123456789abcdef.tmp") = 0',
    ]
    found = [(each.name, each.number, each.about) for each in changing(lines, 7, tmp_path)]
    assert [("openat", 3, "/*"), ("close", 2, "/*"), ("unlink", 1, "/*")] == found
