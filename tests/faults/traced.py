"""One run of the command line under strace: which calls change a file, and what one that fails does.

A process that has imported all forks for each run, so that only the run itself is traced.  strace watches
the fork, and at the N-th call of a name puts an error in its place or kills the process there.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
WATCHED: Final = (
    "openat", "write", "fsync", "close", "link", "linkat", "rename", "renameat", "renameat2", "unlink",
    "unlinkat", "mkdir", "mkdirat", "rmdir", "chmod", "fchmod", "fchmodat", "ftruncate",
)  # fmt: skip
"""Every system call by which a file or a folder is made, filled, forced to disk, named or removed."""
_CALL: Final = re.compile(r"(?:\d+ +)?(\w+)\((.*)")
PASSING: Final = re.compile(r"\.[0-9a-f]{16}\.tmp")
_WRITES: Final = re.compile(r"O_CREAT|O_WRONLY|O_RDWR")
_FINISHED: Final = re.compile(r"(?:\d+ +)?<\.\.\. ")

SERVER: Final = """
import json, os, sys
sys.path.insert(0, sys.argv[1])
os.chdir(sys.argv[1])
from tests.mutate import import_all
import_all()
from blendwise.cli.main import main
for line in sys.stdin:
    words, out, err, environment = json.loads(line)
    held, let_go = os.pipe()
    child = os.fork()
    if not child:
        os.close(let_go)
        os.environ.update(environment)
        for number, name in ((1, out), (2, err)):
            os.dup2(os.open(name, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o666), number)
        os.read(held, 1)
        code = main(words)
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
    os.close(held)
    print(child, flush=True)
    sys.stdin.readline()
    os.close(let_go)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""


@dataclass(frozen=True)
class Call:
    """The N-th call of a name, and the file or folder that it was about (a passing name as ``*``)."""

    name: str
    number: int
    about: str


@dataclass(frozen=True)
class Traced:
    """What one run gave: its exit code (minus the signal), what it said, the calls that change a file."""

    code: int
    said: str
    calls: tuple[Call, ...]
    struck: str
    """The line of the call that was made to fail, or ""."""


class Tracer:
    """Runs of the command line, each a fork of one process that has imported all."""

    def __init__(self, scratch: Path) -> None:
        self.scratch = scratch
        words = [sys.executable, "-W", "error", "-c", SERVER, str(ROOT)]
        given = {**os.environ, "PYTHONHASHSEED": "0", "PYTHONDONTWRITEBYTECODE": "1"}
        given["PYTHONPATH"] = str(ROOT)
        self.process = subprocess.Popen(
            words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=given
        )

    def __call__(
        self, words: list[str], inside: Path, environment: Mapping[str, str], inject: str = ""
    ) -> Traced:
        """Run these words and tell the calls about files inside a folder.  ``inject``: strace's word."""
        out, err, log = (self.scratch / name for name in ("out.txt", "err.txt", "log.txt"))
        child = int(self._asked(json.dumps([words, str(out), str(err), dict(environment)])))
        line = ["strace", "-f", "-y", "-s", "8", "-e", f"trace={','.join(WATCHED)}", "-o", str(log)]
        line += ["-e", f"inject={inject}"] if inject else []
        with subprocess.Popen([*line, "-p", str(child)], stderr=subprocess.PIPE, text=True) as strace:
            assert strace.stderr
            attached = strace.stderr.readline()
            if "attached" not in attached:
                raise OSError(attached)
            code = int(self._asked("go"))
            strace.communicate()
        lines = log.read_text("utf-8", "replace").splitlines()
        struck = next((each for each in lines if "INJECTED" in each), "")
        said = out.read_text("utf-8", "replace") + err.read_text("utf-8", "replace")
        return Traced(code, said, tuple(changing(lines, child, inside)), struck)

    def _asked(self, line: str) -> str:
        assert self.process.stdin
        assert self.process.stdout
        print(line, file=self.process.stdin, flush=True)
        return self.process.stdout.readline()


@contextmanager
def tracer() -> Iterator[Tracer]:
    """A tracer with a folder of its own for what runs say."""
    with tempfile.TemporaryDirectory() as scratch:
        one = Tracer(Path(scratch))
        with one.process:
            yield one


def may_trace() -> str:
    """Why this machine cannot put faults into system calls, or ""."""
    if not shutil.which("strace"):
        return "there is no strace here"
    words = ["strace", "-o", os.devnull, "-e", "inject=unlink:error=EIO", "true"]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    return f"strace is not permitted: {done.stderr.strip()}" if done.returncode else ""


def changing(lines: list[str], child: int, inside: Path) -> Iterator[Call]:
    """The calls of a log that change a file inside a folder, each with its number among those of its name."""
    counts, written = Counter[str](), set[str]()
    for line in lines:
        call = _CALL.match(line)
        if not call or not line.startswith(str(child)):
            continue
        name, rest = call.groups()
        counts[name] += 1
        if str(inside) not in rest or (name == "openat" and not _WRITES.search(rest)):
            continue
        about = PASSING.sub("*", rest.partition(str(inside))[2].partition(">")[0].partition('"')[0])
        if name == "openat":
            written.add(about)
        if name != "close" or about in written:
            yield Call(name, counts[name], about)
