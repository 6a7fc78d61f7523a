"""Answers of a conversation that is not finished: kept on disk one by one, so that nothing is asked twice."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from blendwise.records.writing.write import passing, sweep

LARGEST: Final = 1_000_000


class Unfinished:
    """The answers under their keys, in a hidden file beside what they will become.

    A folder that cannot be written to loses nothing but the resuming: the conversation goes on.
    """

    def __init__(self, file: Path) -> None:
        self.file = file

    def read(self) -> dict[str, str]:
        """The answers kept; none where there is no such file or it is not ours."""
        with suppress(OSError, ValueError, RecursionError):
            if self.file.stat().st_size <= LARGEST:
                found = json.loads(self.file.read_text("utf-8"))
                if isinstance(found, dict):
                    return {str(key): str(value) for key, value in found.items()}
        return {}

    def keep(self, answers: Mapping[str, str]) -> None:
        """Write the answers whole or not at all."""
        with suppress(OSError):
            self.file.parent.mkdir(exist_ok=True)
            sweep(self.file.parent)
            with passing(self.file, json.dumps(dict(answers)).encode(), 0o666) as temporary:
                os.replace(temporary, self.file)

    def finish(self) -> None:
        """What they were for is written: they are no longer needed."""
        with suppress(OSError):
            self.file.unlink()
