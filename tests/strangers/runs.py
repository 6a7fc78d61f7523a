"""One run of the command line, in this process or apart: the runner of all tests and long proofs."""

from __future__ import annotations

import contextlib
import io
import json
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.strangers.books import TODAY

PROGRAM = (sys.executable, "-c", "from blendwise.cli.main import run; run()")
ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Ran:
    """What one run gave."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        """The document of a run with ``--json``."""
        return json.loads(self.out)


def ran(*arguments: object) -> Ran:
    """Run ``blendwise`` with these arguments on the day of all tests (name another with ``--today``)."""
    words = [str(argument) for argument in arguments]
    if "--today" not in words and words[:1] not in (["scents"], ["rules"], ["schema"]):
        words += ["--today", TODAY]
    return here(words)


def here(words: Sequence[str]) -> Ran:
    """Run these words, nothing added, by the parser in this process."""
    from blendwise.cli.main import main

    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(list(words))
    return Ran(code, out.getvalue(), err.getvalue())


def apart(words: Sequence[str], folder: Path = ROOT) -> Ran:
    """Run these words as a maker does, in a process of its own."""
    done = subprocess.run(
        [*PROGRAM, *words], capture_output=True, text=True, timeout=120, cwd=folder, check=False
    )
    return Ran(done.returncode, done.stdout, done.stderr)
