"""Days as people write them → year-month-day; the order of day and month is never guessed here."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from blendwise.answers.spreadsheet.words.numbers import Unread

_NUMERIC_DAY: Final = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{2,4})")
_MONTHS: Final = {
    name: number
    for number, name in enumerate(
        ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), start=1
    )
}
_SERIAL: Final = re.compile(r"(?:3[3-9]|4\d|5[0-4])\d{3}(?:\.0+)?")
"""Days since 1899-12-30, as spreadsheets keep them: 1990 to 2050."""
_MONTH: Final = re.compile(r"([a-z]{3})[a-z]*\.?[\s/-]*(\d{4})|(\d{4})[-/](\d{1,2})", re.I)
_WORDED_DAY: Final = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[\s.-]*([a-z]{3})[a-z]*[\s.,-]*(\d{4})", re.I)


def day_of(text: str, months_first: bool | None) -> str:
    """The day, as year-month-day; Unread where it is none, or could be two and ``months_first`` is None."""
    plain = text.strip()
    if _SERIAL.fullmatch(plain):
        return (date(1899, 12, 30) + timedelta(days=int(float(plain)))).isoformat()
    if worded := _WORDED_DAY.fullmatch(plain):
        return _iso(int(worded[3]), _MONTHS.get(worded[2].casefold(), 0), int(worded[1]), text)
    found = _NUMERIC_DAY.fullmatch(plain)
    if found is None:
        raise Unread(f'"{text}" is no day; write year-month-day', _first_of_month(plain))
    first, middle, last = int(found[1]), int(found[3]), int(found[4])
    if len(found[1]) == 4:
        return _iso(first, middle, last, text)
    year = last if len(found[4]) == 4 else 2000 + last
    if found[2] == "." or first > 12 or months_first is False:
        return _iso(year, middle, first, text)
    if middle > 12 or months_first or first == middle:
        return _iso(year, first, middle, text)
    raise Unread(f'"{text}" may be day or month first; write year-month-day')


def is_number(text: str) -> bool:
    """Whether a day is written as a spreadsheet counts them."""
    return _SERIAL.fullmatch(text.strip()) is not None


def may_be_either(text: str) -> bool:
    """Whether day and month of a day with strokes or hyphens could change places."""
    found = _NUMERIC_DAY.fullmatch(text.strip())
    if found is None:
        return False
    year_first, dotted = len(found[1]) == 4, found[2] == "."
    return not (year_first or dotted) and max(int(found[1]), int(found[3])) <= 12 and found[1] != found[3]


def _first_of_month(text: str) -> str:
    """The first day of a month that stands without its day: of a certificate the older, careful reading."""
    found = _MONTH.fullmatch(text)
    month = (_MONTHS.get(found[1].casefold(), 0) if found[1] else int(found[4])) if found else 0
    return f"{(found[2] or found[3])}-{month:02d}-01" if found and 1 <= month <= 12 else ""


def _iso(year: int, month: int, day: int, text: str) -> str:
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        raise Unread(f'"{text}" is no day of the calendar') from None


def months_first(cells: Sequence[str]) -> bool | None:
    """Whether a column of days with strokes has the month first, by those that can only be one."""
    seen = {
        int(found[1]) <= 12
        for cell in cells
        if (found := _NUMERIC_DAY.fullmatch(cell.strip()))
        and len(found[1]) < 3
        and max(int(found[1]), int(found[3])) > 12
    }
    return seen.pop() if len(seen) == 1 else None
