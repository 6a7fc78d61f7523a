"""A disk that fails: every call by which a note reaches it is counted, and the k-th one goes wrong.

``python -m tests.answers.note.faulty`` runs ``blendwise`` so, each run a process of its own that has imported
all before.  WHAT is the name of an error (ENOSPC, EIO, EACCES) or ``kill``; it leaves with 99 where there
was no k-th call.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
import signal
import sys
from collections.abc import Callable
from typing import Any

COUNTED = ("open", "fsync", "link", "unlink", "replace", "close", "chmod")
NOT_REACHED = 99


class Disk:
    """``os`` as the writing module sees it, with one call that fails."""

    def __init__(self, k: int, what: str) -> None:
        self.k = k
        self.what = what
        self.calls = 0

    def count(self) -> None:
        """One more call; the k-th raises, or kills the process on the spot."""
        self.calls += 1
        if self.calls != self.k:
            return
        if self.what == "kill":
            os.kill(os.getpid(), signal.SIGKILL)
        code = getattr(errno, self.what)
        raise OSError(code, os.strerror(code))

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        if name == "fdopen":
            return lambda handle, mode: Stream(self, os.fdopen(handle, mode))
        return self._counted(real) if name in COUNTED else real

    def _counted(self, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **named: Any) -> Any:
            self.count()
            return real(*args, **named)

        return call


class Stream:
    """A file whose writing and flushing count; half of what is written reaches it before the write fails."""

    def __init__(self, disk: Disk, real: Any) -> None:
        self.disk = disk
        self.real = real

    def write(self, data: bytes) -> None:
        """Half of it, then the other half."""
        self.real.write(data[: len(data) // 2])
        self.real.flush()
        self.disk.count()
        self.real.write(data[len(data) // 2 :])

    def flush(self) -> None:
        """Counted."""
        self.disk.count()
        self.real.flush()

    def fileno(self) -> int:
        """The real one."""
        return int(self.real.fileno())

    def __enter__(self) -> Stream:
        return self

    def __exit__(self, *_: object) -> None:
        self.real.close()


def run(k: int, what: str, words: list[str]) -> int:
    """Run one command on a failing disk."""
    import blendwise.records.writing.write as write
    from blendwise.cli.main import main

    disk = Disk(k, what)
    setattr(write, "os", disk)  # noqa: B010
    code = main(words)
    return code if disk.calls >= disk.k else NOT_REACHED


def main() -> None:
    """For each line of standard input so many processes at once; for each an exit code or minus the signal.

    A line is a JSON list of [K, WHAT, WORDS], its answer a JSON list of codes.  K 0: no call fails.
    """
    from blendwise.cli.main import main

    with open(os.devnull, "w") as nowhere, contextlib.redirect_stdout(nowhere):
        main([*json.loads(sys.argv[1]), "--dry-run"])
    for line in sys.stdin:
        children = [_forked(*asked) for asked in json.loads(line)]
        print([os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children], flush=True)


def _forked(k: int, what: str, words: list[str]) -> int:
    """The number of a new process that runs these words."""
    child = os.fork()
    if not child:
        with open(os.devnull, "w") as nowhere, contextlib.redirect_stdout(nowhere):
            os._exit(run(k, what, words))
    return child


if __name__ == "__main__":
    main()
