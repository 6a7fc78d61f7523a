"""The code that leads from a bar back to its batch: the plan, the day, and the version where there is one."""

from __future__ import annotations

import re
from typing import Final

_WITH_VERSION: Final = re.compile(r"(.+ \d{4}-\d{2}-\d{2}) \((.+)\)")


def code_of(plan: str, day: str, version: str | None = None) -> str:
    """ "greenhouse-morning 2026-11-25 (deep)": what stands on the sheet, and what a note is asked by."""
    return f"{plan} {day}" + (f" ({version})" if version else "")


def parted(code: str) -> tuple[str, str | None]:
    """A code as it stands on a sheet: the batch's own, which all its versions share, and the version."""
    found = _WITH_VERSION.fullmatch(code.strip())
    return (found[1], found[2]) if found else (code, None)
