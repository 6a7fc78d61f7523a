"""Headings of a sheet → fields of an oil: by meaning, and where that fails by nearness of spelling."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Final, Literal

from blendwise.answers.spreadsheet.files.table import Row
from blendwise.answers.spreadsheet.words.guesses import TURNING
from blendwise.answers.spreadsheet.words.tongues import ASK_THE_OTHER_WAY, HEADINGS_ABROAD, HOMONYMS
from blendwise.answers.spreadsheet.words.vocabulary import FADES, HEADINGS, OTHER_USES, REMARK, WORDS

# fmt: off
How = Literal[
    "as written", "by meaning", "by a part", "by nearness", "not understood", "second of its kind",
    "as answered", "of another use",
]
# fmt: on
LIKE: Final = 85.0
"""Likeness (0 to 100) from which a slip in a heading is read as the word (judgement: one letter in seven)."""
LOOKED_AT: Final = 20
"""Rows among which the headings are looked for; titles and addresses often stand above them."""

SHORTEST_ABROAD: Final = 5
FOR_SKIN: Final = "for skin"
"""A field of safety: a heading that holds these words among others may ask what hurts it."""

_BRACKETS: Final = re.compile(r"[(\[]([^)\]]*)[)\]]")
_PER: Final = re.compile(
    r"(?:/|\b(?:per|pro|je|par|pour|por|for|an?)\b)\s*((?:\d+(?:[.,]\d+)?\s*)?(?:g|grams?|kg|oz|ounces?|lbs?|pounds?|ml|l)\b)",
    re.I,
)
_LAST: Final = re.compile(r"(.+?)(?:\s*,\s*|\s+in\s+|\s+)([^\s,]+(?:\s+of\s+oils)?)", re.I | re.S)
_FIRST: Final = re.compile(r"(oz|ounces?|grams?|ml|lbs?)\s+(.+)", re.I | re.S)
_CATEGORY: Final = re.compile(
    r"\b(?:cat(?:egory|[eé]gorie|egor[ií]a)?|kat(?:egorie)?)\.?\s*(\d+[a-d]?)", re.I
)
_ORDER: Final = re.compile(r"[\s,(]+((?:month|day) first|day numbers)\)?\s*$", re.I)
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
    **dict.fromkeys(("fraction", "as a fraction", "fraction of one"), "fraction"),
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
    ``constituent``: the name on an allergen sheet where the column holds its content.  ``may_be``: fields
    that a part of the heading could mean; ``order`` of days in strokes ("month first") or "day numbers".
    """

    index: int
    heading: str
    field: str
    unit: str = ""
    per: str = ""
    how: How = "as written"
    constituent: str = ""
    may_be: tuple[str, ...] = ()
    order: str = ""
    turned: bool = False
    """Whether the heading asks the other way round ("Fades?")."""

    @property
    def understood(self) -> bool:
        """Whether its cells go into a field."""
        return self.field != REMARK


def unit_word(text: str) -> str:
    """The unit that a word stands for ("ounces" → "oz"), or an empty text."""
    return _UNIT_WORDS.get(" ".join(text.casefold().split()), "")


@lru_cache(maxsize=4096)
def plainly(text: str) -> str:
    """A heading or word in one spelling: lower case, no accents, hyphens, underscores or outer stops."""
    text = text.strip()
    if text.isascii() and text.isalpha():
        return text.casefold()
    flat = "".join(
        sign for sign in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(sign)
    )
    return " ".join(re.sub(r"[-_/&:;,.!?#*\n]+", " ", flat.replace("’", "'")).split())


def column_of(index: int, heading: str) -> Column:
    """What one heading says of its column."""
    order = _ORDER.search(heading)
    label, unit, per = _taken_apart(heading[: order.start()] if order else heading)
    plain = plainly(label)
    days, turned = order[1].casefold() if order else "", plain in _turned()
    if _of_another_use(label):
        return Column(index, heading, REMARK, unit, "", "of another use")
    if field := HOMONYMS.get(plain):
        return Column(index, heading, field, unit, per, "by nearness", order=days)
    if field := _phrases().get(plain):
        exact = plain == field or heading.strip().casefold() == field
        return Column(
            index,
            heading,
            field,
            unit,
            per,
            "as written" if exact else "by meaning",
            order=days,
            turned=turned,
        )
    if held := _held(plain):
        turned = held[0] == FOR_SKIN or _turns(plain)
        return Column(index, heading, held[0], unit, per, "by a part", may_be=held, order=days, turned=turned)
    if constituent := _constituent(label):
        return Column(index, heading, "allergen sheet", unit, "", "by meaning", constituent)
    if phrase := _near(plain):
        field, turned = _phrases()[phrase], phrase in _turned()
        return Column(index, heading, field, unit, per, "by nearness", order=days, turned=turned)
    return Column(index, heading, REMARK, unit, "", "not understood")


def _of_another_use(label: str) -> bool:
    """Whether a heading speaks of another category than bar soap's (9), or of something that is no soap."""
    category = _CATEGORY.search(label)
    return (category is not None and category[1] != "9") or bool(OTHER_USES & set(plainly(label).split()))


def _taken_apart(heading: str) -> tuple[str, str, str]:
    """(label, unit, "per" mass) of a heading; a unit stands in brackets, at the end, or as a sign within."""
    unit = next((word for inside in _BRACKETS.findall(heading) if (word := unit_word(inside))), "")
    per = None if unit else _PER.search(heading)
    label = _BRACKETS.sub(" ", heading if per is None else _PER.sub(" ", heading)).strip()
    if not unit and (found := _LAST.fullmatch(label)) and (last := unit_word(found[2])):
        label, unit = found[1], last
    if not unit and "%" in label:
        label, unit = label.replace("%", " "), "%"
    if not unit and (first := _FIRST.fullmatch(label.strip())):
        label, unit = first[2], unit_word(first[1])
    return label, unit, per[1] if per else ""


@cache
def _phrases() -> dict[str, str]:
    """Every heading known, in one spelling → its field; the first field that names it keeps it."""
    found: dict[str, str] = {}
    for table in (HEADINGS, HEADINGS_ABROAD):
        for name, headings in table.items():
            for heading in headings:
                found.setdefault(plainly(heading), name)
    return found


@cache
def _turned() -> frozenset[str]:
    return frozenset(map(plainly, (*FADES, *ASK_THE_OTHER_WAY)))


def _turns(label: str) -> bool:
    """Whether a heading that is known by a part may ask the other way round."""
    held = f" {label} "
    return bool(TURNING & set(label.split())) or any(f" {each} " in held for each in _turned())


@cache
def _parts() -> tuple[str, ...]:
    """The phrases that count within a longer heading: short words of another tongue mean too much there."""
    own = {plainly(heading) for headings in HEADINGS.values() for heading in headings}
    return tuple(each for each in _phrases() if len(each) > (2 if each in own else SHORTEST_ABROAD))


def _held(label: str) -> tuple[str, ...]:
    """The fields of known phrases that a label holds, the longest phrase first."""
    padded = f" {label} "
    held = [phrase for phrase in _parts() if f" {phrase} " in padded]
    return tuple(dict.fromkeys(_phrases()[phrase] for phrase in sorted(held, key=len, reverse=True)))


def _near(label: str) -> str:
    if len(label) < 4:
        return ""
    from rapidfuzz import fuzz, process

    phrases = [phrase for phrase in _phrases() if len(phrase) > 3]
    found = process.extractOne(label, phrases, scorer=fuzz.ratio, score_cutoff=LIKE)
    return str(found[0]) if found else ""


def _constituent(label: str) -> str:
    """The constituent that an allergen sheet names so, or an empty text."""
    from blendwise.science.labels import label_names_for

    name = " ".join(label.split())
    return name.casefold() if len(name) > 3 and label_names_for(name) else ""


def answered(column: Column, answer: str) -> Column:
    """The column as a maker says it is to be read: by another heading in its place."""
    told = column_of(column.index, answer)
    return replace(told, heading=column.heading, how="as answered")


def find_headings(rows: Sequence[Row]) -> tuple[int, tuple[Column, ...]]:
    """(index of the row that is understood best as headings, its columns); -1 where none says anything."""
    best: tuple[int, int, tuple[Column, ...]] = (0, -1, ())
    for place, (_, cells) in enumerate(rows[:LOOKED_AT]):
        columns = tuple(column_of(index, cell) for index, cell in enumerate(cells) if cell)
        understood = len({(column.field, column.constituent) for column in columns if column.understood})
        if understood > best[0]:
            best = (understood, place, columns)
    return best[1:]


def once_each(columns: Sequence[Column]) -> Iterator[Column]:
    """Each field once: the column understood best keeps it, the others are kept as remarks."""
    rank = ("as answered", "as written", "by meaning", "by a part", "by nearness")
    taken: dict[tuple[str, str], Column] = {}
    for column in sorted(
        (each for each in columns if each.understood), key=lambda each: rank.index(each.how)
    ):
        taken.setdefault((column.field, column.constituent), column)
    for column in columns:
        if column.understood and taken[column.field, column.constituent] is not column:
            yield replace(column, field=REMARK, how="second of its kind", may_be=(column.field,))
        else:
            yield column


def by_its_cells(column: Column, below: Sequence[Row]) -> Column:
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
