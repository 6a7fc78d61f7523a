"""The README's screens: what each command shown there prints, kept true.

``python -m tests.readme`` writes them anew; ``tests/test_readme.py`` fails where they differ.  A fenced block
that begins with ``$ blendwise …`` is a screen; ``console lines=20`` keeps its first twenty lines.
"""

from __future__ import annotations

import contextlib
import os
import re
import shlex
from pathlib import Path
from unittest import mock

from tests.strangers.runs import here

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
COLUMNS, TODAY = "80", "2026-11-25"
SCREEN = re.compile(r"```console(?: lines=(\d+))?\n\$ (blendwise [^\n]*)\n(.*?)```\n", re.DOTALL)
DATED = {"check", "assign"}


def printed(command: str) -> str:
    """What a command prints beside the demo, in 80 columns, on a fixed day."""
    _, name, *rest = shlex.split(command)
    dated = ["--today", TODAY] if name in DATED else []
    with contextlib.chdir(ROOT), mock.patch.dict(os.environ, COLUMNS=COLUMNS):
        done = here([name, *rest, *dated])
    if done.code not in (0, 1) or (done.err and done.code):
        raise RuntimeError(f"{command}: {done.code} {done.err}")
    return done.out


def screen(match: re.Match[str]) -> str:
    """One screen made anew, cut to its lines where it names a number."""
    lines, command = match[1], match[2]
    text = printed(command)
    if lines:
        text = "".join(text.splitlines(keepends=True)[: int(lines)]).rstrip() + "\n…\n"
    head = "```console" + (f" lines={lines}" if lines else "")
    return f"{head}\n$ {command}\n{text}```\n"


def fresh(text: str) -> str:
    """The README with every screen as it would be printed now."""
    return SCREEN.sub(screen, text)


if __name__ == "__main__":
    README.write_text(fresh(README.read_text("utf-8")), "utf-8")
