"""Answers of a conversation that is not finished: kept on disk one by one, so that nothing is asked twice."""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

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
        temporary = self.file.with_name(f"{self.file.name}.{secrets.token_hex(4)}")
        with suppress(OSError):
            self.file.parent.mkdir(exist_ok=True)
            try:
                with open(temporary, "w", encoding="utf-8") as stream:
                    stream.write(json.dumps(dict(answers)))
                    stream.flush()
                    os.fsync(stream.fileno())
                os.replace(temporary, self.file)
            finally:
                with suppress(FileNotFoundError):
                    os.unlink(temporary)

    def finish(self) -> None:
        """What they were for is written: they are no longer needed."""
        with suppress(OSError):
            self.file.unlink()
