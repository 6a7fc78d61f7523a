"""Headings of a sheet → fields of an oil: by meaning, and where that fails by nearness of spelling."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final, Literal

from blendwise.answers.spreadsheet.table import Row
from blendwise.answers.spreadsheet.vocabulary import HEADINGS, NAME, REMARK, WORDS

How = Literal["as written", "by meaning", "by nearness", "not understood", "second of its kind"]
LIKE: Final = 85.0
"""Likeness (0 to 100) from which a slip in a heading is read as the word (judgement: one letter in seven)."""
LOOKED_AT: Final = 20
"""Rows among which the headings are looked for; titles and addresses often stand above them."""

_BRACKETS: Final = re.compile(r"[(\[]([^)\]]*)[)\]]")
_PER: Final = re.compile(
    r"(?:/|\bper\b)\s*((?:\d+(?:[.,]\d+)?\s*)?(?:g|grams?|kg|oz|ounces?|lbs?|pounds?|ml|l)\b)", re.I
)
_LAST: Final = re.compile(r"(.+?)(?:\s*,\s*|\s+in\s+|\s+)([^\s,]+(?:\s+of\s+oils)?)", re.I | re.S)
_TOLD_BY_CELLS: Final = {"notes": "scent note", "note": "scent note", "eo fo": "kind", "fo eo": "kind"}
"""Headings with two meanings: the second counts where most of the cells are its words."""
_UNIT_WORDS: Final = {
    **dict.fromkeys(("%", "percent", "per cent", "pct", "w/w", "% w/w"), "%"),
    **dict.fromkeys(("% of oils", "% oils", "percent of oils", "% of oil weight"), "% of oils"),
    **dict.fromkeys(("ppo", "oz ppo", "oz per lb", "oz per pound", "oz/lb"), "oz ppo"),
    **dict.fromkeys(("g", "gram", "grams", "gr", "gm"), "g"),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilograms"), "kg"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("ml", "millilitres", "milliliters"), "mL"),
    **dict.fromkeys(
        ("°c", "c", "deg c", "degc", "celsius", "degrees c", "degrees celsius", "º c", "ºc"), "°C"
    ),
    **dict.fromkeys(
        ("°f", "f", "deg f", "degf", "fahrenheit", "degrees f", "degrees fahrenheit", "ºf"), "°F"
    ),
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading as typed, the field it holds, its unit, and how that was understood.

    ``field`` is a field of an oil or a helper (``REMARK`` where its cells are kept as remarks);
    ``constituent``: the name on an allergen sheet where the column holds its content.
    """

    index: int
    heading: str
    field: str
    unit: str = ""
    per: str = ""
    how: How = "as written"
    constituent: str = ""

    @property
    def understood(self) -> bool:
        """Whether its cells go into a field."""
        return self.field != REMARK


def unit_word(text: str) -> str:
    """The unit that a word stands for ("ounces" → "oz"), or an empty text."""
    return _UNIT_WORDS.get(" ".join(text.casefold().split()), "")


def plainly(text: str) -> str:
    """A heading or word in one spelling: lower case, no accents, hyphens, underscores or outer stops."""
    flat = "".join(
        sign for sign in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(sign)
    )
    return " ".join(re.sub(r"[-_/&:;,.!?#*\n]+", " ", flat.replace("’", "'")).split())


def column_of(index: int, heading: str) -> Column:
    """What one heading says of its column."""
    label, unit, per = _taken_apart(heading)
    if field := _meant(plainly(label)):
        exact = plainly(label) == field or heading.strip().casefold() == field
        return Column(index, heading, field, unit, per, "as written" if exact else "by meaning")
    if constituent := _constituent(label):
        return Column(index, heading, "allergen sheet", unit, "", "by meaning", constituent)
    if field := _near(plainly(label)):
        return Column(index, heading, field, unit, per, "by nearness")
    return Column(index, heading, REMARK, unit, "", "not understood")


def _taken_apart(heading: str) -> tuple[str, str, str]:
    """(label, unit, "per" mass) of a heading; a unit stands in brackets, at the end, or as a sign within."""
    unit = next((word for inside in _BRACKETS.findall(heading) if (word := unit_word(inside))), "")
    per = None if unit else _PER.search(heading)
    label = _BRACKETS.sub(" ", heading if per is None else _PER.sub(" ", heading)).strip()
    if not unit and (found := _LAST.fullmatch(label)) and (last := unit_word(found[2])):
        label, unit = found[1], last
    if not unit and "%" in label:
        label, unit = label.replace("%", " "), "%"
    return label, unit, per[1] if per else ""


@cache
def _phrases() -> dict[str, str]:
    """Every heading known, in one spelling → its field; the first field that names it keeps it."""
    found: dict[str, str] = {}
    for field, headings in HEADINGS.items():
        for heading in headings:
            found.setdefault(plainly(heading), field)
    return found


def _meant(label: str) -> str:
    """The field of a label that is known, or that holds a known phrase: the longest counts."""
    phrases = _phrases()
    if label in phrases:
        return phrases[label]
    padded = f" {label} "
    held = [phrase for phrase in phrases if f" {phrase} " in padded and len(phrase) > 2]
    return phrases[max(held, key=len)] if held else ""


def _near(label: str) -> str:
    if len(label) < 4:
        return ""
    from rapidfuzz import fuzz, process

    phrases = [phrase for phrase in _phrases() if len(phrase) > 3]
    found = process.extractOne(label, phrases, scorer=fuzz.ratio, score_cutoff=LIKE)
    return _phrases()[found[0]] if found else ""


def _constituent(label: str) -> str:
    """The constituent that an allergen sheet names so, or an empty text."""
    from blendwise.science.labels import label_names_for

    name = " ".join(label.split())
    return name.casefold() if len(name) > 3 and label_names_for(name) else ""


def find_columns(rows: Sequence[Row]) -> tuple[int, tuple[Column, ...]]:
    """(index of the row of headings, its columns); -1 where no row says what the oils are called."""
    best: tuple[int, int, tuple[Column, ...]] = (0, -1, ())
    for place, (_, cells) in enumerate(rows[:LOOKED_AT]):
        columns = tuple(column_of(index, cell) for index, cell in enumerate(cells) if cell)
        understood = len({(column.field, column.constituent) for column in columns if column.understood})
        if understood > best[0]:
            best = (understood, place, columns)
    _, place, columns = best
    named = _named(columns, rows[place][1]) if columns else ()
    return (place, tuple(_settled(named, rows[place + 1 :]))) if named else (-1, ())


def _named(columns: tuple[Column, ...], cells: Sequence[str]) -> tuple[Column, ...]:
    """The columns with one that holds the names: the one called so, a "bottle", or a first one not called
    anything beside others that are understood; none where it stays open what the oils are called."""
    if any(column.field == NAME for column in columns):
        return columns
    for column in columns:
        if plainly(column.heading) == "bottle":
            told = replace(column, field=NAME, how="by meaning")
            return tuple(told if each is column else each for each in columns)
    if not cells[0] and sum(column.understood for column in columns) >= 2:
        return (Column(0, "", NAME, how="by meaning"), *columns)
    return ()


def _settled(columns: Sequence[Column], below: Sequence[Row]) -> Iterator[Column]:
    """Each field once: the column understood best keeps it, the others are kept as remarks."""
    rank = ("as written", "by meaning", "by nearness")
    taken: dict[tuple[str, str], Column] = {}
    told = [_by_its_cells(column, below) for column in columns]
    for column in sorted((each for each in told if each.understood), key=lambda each: rank.index(each.how)):
        taken.setdefault((column.field, column.constituent), column)
    for column in told:
        if column.understood and taken[column.field, column.constituent] is not column:
            yield replace(column, field=REMARK, how="second of its kind")
        else:
            yield column


def _by_its_cells(column: Column, below: Sequence[Row]) -> Column:
    """A column of "notes" that holds mostly top, middle and base is the scent note, and its like."""
    field = _TOLD_BY_CELLS.get(plainly(column.heading))
    if field is None:
        return column
    known = {word for words in WORDS[field].values() for word in words}
    cells = [plainly(cells[column.index]) for _, cells in below if column.index < len(cells)]
    told = [cell for cell in cells if cell]
    if told and sum(cell in known for cell in told) * 2 >= len(told):
        return replace(column, field=field, how="by meaning")
    return replace(column, field=REMARK, how="by meaning") if field == "scent note" else column
