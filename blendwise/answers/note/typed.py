"""Days and looks as people type them: "28 Nov", "cut", "6 weeks"; never guessed where two fit."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Final

from blendwise.answers.refusals import NotAskable
from blendwise.records.nearest import nearest
from blendwise.records.notes.note import LOOKS

_AGO: Final = re.compile(r"(\d{1,3}|a|one|two|three) (day|week)s? ago")
_COUNTS: Final = {"a": 1, "one": 1, "two": 2, "three": 3}
_NO_YEAR: Final = re.compile(
    r"(?P<day>\d{1,2})(?:st|nd|rd|th)?[ .-]*(?P<month>[a-z]{3,9})\.?|"
    r"(?P<month2>[a-z]{3,9})\.? (?P<day2>\d{1,2})(?:st|nd|rd|th)?"
)
_MONTH_FIRST: Final = re.compile(
    r"(?P<month>[a-z]{3,9})\.? (?P<day>\d{1,2})(?:st|nd|rd|th)?,? (?P<year>\d{4})"
)
_WEEK: Final = re.compile(r"(?:w|wk|week|weeks)?\s*(\d{1,3})\s*(?:w|wk|wks|week|weeks)?")
_OTHER_LOOKS: Final = {
    **dict.fromkeys(("pot", "pour", "at the pour", "poured", "in the pot", "day 0", "making"), "at the pot"),
    **dict.fromkeys(
        ("cut", "cutting", "at cut", "at cutting", "unmould", "unmold", "unmoulding"), "at the cut"
    ),
}


def day_typed(text: str, today: date) -> date:
    """The day meant; NotAskable where it is none, or where two days fit."""
    plain = " ".join(text.casefold().split())
    if plain in ("today", "yesterday"):
        return today - timedelta(days=plain == "yesterday")
    if ago := _AGO.fullmatch(plain):
        count = _COUNTS.get(ago[1]) or int(ago[1])
        return today - timedelta(days=count * (7 if ago[2] == "week" else 1))
    if found := _MONTH_FIRST.fullmatch(plain):
        plain = f"{found['day']} {found['month']} {found['year']}"
    elif found := _NO_YEAR.fullmatch(plain):
        return _last(found["day"] or found["day2"], found["month"] or found["month2"], text, today)
    return _whole(plain, text)


def _last(day: str, month: str, text: str, today: date) -> date:
    """The last such day up to today: a look lies in the past."""
    this = _whole(f"{day} {month} {today.year}", text)
    return this if this <= today else _whole(f"{day} {month} {today.year - 1}", text)


def _whole(plain: str, text: str) -> date:
    from blendwise.answers.spreadsheet.words.days import day_of, is_number, may_be_either
    from blendwise.answers.spreadsheet.words.numbers import Unread

    try:
        if may_be_either(plain):
            days = [day_of(plain, first) for first in (False, True)]
            raise NotAskable(f'"{text}" may be {days[0]} or {days[1]}.', "Write one of them.")
        if not is_number(plain):
            return date.fromisoformat(day_of(plain, None))
    except Unread:
        pass
    raise NotAskable(f'"{text}" is no day.', "Write it like 2026-03-14, 14 March or yesterday.")


def look_typed(text: str) -> str:
    """The look meant, an empty text where none is named; NotAskable with the nearest where it is none."""
    plain = " ".join(text.casefold().split()).replace("the the", "the")
    if not plain or plain in LOOKS:
        return plain
    if plain in _OTHER_LOOKS:
        return _OTHER_LOOKS[plain]
    if (week := _WEEK.fullmatch(plain)) and f"week {week[1]}" in LOOKS:
        return f"week {week[1]}"
    near = nearest(text, LOOKS)
    like = f'The nearest is "{near}"; they' if near else "They"
    raise NotAskable(f'"{text}" is not one of the looks.', f"{like} are {', '.join(LOOKS)}.")
