"""One run of the command line in this process, for tests and long proofs of any book."""

from __future__ import annotations

import contextlib
import io
import json
from dataclasses import dataclass
from typing import Any

from tests.strangers.books import TODAY


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
    from blendwise.cli.main import main

    words = [str(argument) for argument in arguments]
    if "--today" not in words and words[:1] not in (["scents"], ["rules"], ["schema"]):
        words += ["--today", TODAY]
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    return Ran(code, out.getvalue(), err.getvalue())
