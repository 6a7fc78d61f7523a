"""What is shown while a maker waits: nothing for a second, then a bar on standard error if a terminal."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from rich.progress import Progress

PATIENCE: Final = 1.0
"""Seconds before anything is shown."""


class _Bar:
    """A bar that appears once the patience is used up, and is gone again at the end."""

    def __init__(self, what: str) -> None:
        self.what = what
        self.began = time.monotonic()
        self.drawn: Progress | None = None

    def show(self, done: int, total: int) -> None:
        """Say how far it is: ``done`` of ``total``."""
        if not sys.stderr.isatty() or (self.drawn is None and time.monotonic() - self.began < PATIENCE):
            return
        if self.drawn is None:
            self.drawn = self._begin()
            self.task = self.drawn.add_task(self.what, total=total)
        self.drawn.update(self.task, completed=done, total=total)

    def _begin(self) -> Progress:
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

        columns = (TextColumn("{task.description}", markup=False), BarColumn(), MofNCompleteColumn())
        begun = Progress(*columns, console=Console(stderr=True), transient=True)
        begun.start()
        return begun

    def end(self) -> None:
        """Take the bar away."""
        if self.drawn is not None:
            self.drawn.stop()


@contextmanager
def waiting(what: str) -> Iterator[Callable[[int, int], None]]:
    """A function to say ``(done, total)`` to, as often as one likes."""
    bar = _Bar(what)
    try:
        yield bar.show
    finally:
        bar.end()
