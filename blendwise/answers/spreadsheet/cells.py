"""One cell → what a book writes for it; ``Unread`` with the reason where it cannot be understood."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from typing import Final

from blendwise.answers.spreadsheet.headings import Column, plainly, unit_word
from blendwise.answers.spreadsheet.numbers import Mark, Unread, one_spelling, reading
from blendwise.answers.spreadsheet.vocabulary import BLANKS, NEGATIONS, NOTHING, WORDS
from blendwise.records.writing.edit import Plain

LIKE: Final = 85.0
"""Likeness from which a slip is read as a word (judgement: one letter in seven)."""
LEAST_FAHRENHEIT, MOST_CELSIUS = 60.0, 140.0
"""A flash point without a unit beyond these is more likely in the other one (our own guard)."""
HARMFUL: Final = ("=", "+", "-", "@", "\t", "\r")
"""Signs at the head of a cell that make a spreadsheet work it out."""
LONGEST_BLANK: Final = max(map(len, BLANKS)) + 2
FORMULA: Final = "a formula without a stored value; formulas are not worked out"


@dataclass(frozen=True, slots=True)
class Taken:
    """What was read; ``guess`` says what it was read as, where that is not what stands in the cell."""

    value: Plain
    guess: str = ""


@dataclass(slots=True)
class Reader:
    """How the cells of one column are read: its heading, the sheet's decimal mark, units taken for granted.

    ``usual_mass``, ``usual_temperature``: units of bare numbers; ``small``: whether all bare numbers of the
    column are at most 1, so that per cent and fraction cannot be told apart.  ``assumed`` fills as one reads.
    """

    column: Column
    mark: Mark = Mark.UNSAID
    usual_mass: str = "g"
    usual_temperature: str = "°C"
    small: bool = False
    months_first: bool | None = None
    assumed: dict[str, None] = field(default_factory=dict)

    def read(self, text: str) -> Taken | None:
        """The cell's meaning, None where nothing is known."""
        if is_blank(text):
            return None
        if text.startswith(("=", "+=", "-=")):
            raise Unread(FORMULA)
        return _READERS[self.column.field](self, unprotected(text))

    def per_cent(self, text: str) -> Taken:
        """A content or limit in per cent; "none" is 0 % for a content."""
        if plainly(text) in NOTHING:
            if self.column.field == "limit in bar":
                raise Unread("a certificate gives a number; where it sets no limit, that is 100 %")
            return Taken("0 %", "0 %")
        found = reading(text, self.mark)
        unit = self._said(found.unit) or self.column.unit
        if unit == "%":
            return self._amount(found.amount("%"), text, found.loose)
        if unit:
            raise Unread(f'"{text}" is not in per cent')
        if self.small and found.top > 0:
            raise Unread(f'"{text}" may be per cent or a fraction; write % in the heading')
        self.assumed["bare numbers are per cent"] = None
        return self._amount(found.amount("%"), text, found.loose)

    def mass(self, text: str) -> Taken:
        """A mass, in the heading's unit or the book's where the cell names none."""
        found = reading(text, self.mark)
        unit = self._said(found.unit) or self.column.unit
        if unit in ("mL", "%", "°C", "°F"):
            raise Unread(f'"{text}" is not a mass; weigh it')
        if not unit:
            unit = self.usual_mass
            self.assumed[f"bare numbers are {unit}"] = None
        return self._amount(found.amount(unit), text, found.loose)

    def temperature(self, text: str) -> Taken:
        """A flash point; ">93" and "93+" are above 93."""
        found = reading(text.removeprefix("closed cup").strip(" :"), self.mark)
        unit = self._said(found.unit) or self.column.unit
        if not unit:
            unit = self.usual_temperature
            if (unit == "°C" and found.top > MOST_CELSIUS) or (unit == "°F" and found.top < LEAST_FAHRENHEIT):
                raise Unread(f'"{text}" has no unit, and as {unit} it is unlikely')
            self.assumed[f"bare numbers are {unit}"] = None
        if unit not in ("°C", "°F"):
            raise Unread(f'"{text}" is not a temperature')
        return self._amount(found.amount(unit), text, found.loose)

    def rate(self, text: str) -> Taken:
        """A dose on oils at which something was seen."""
        found = reading(text, self.mark)
        words = found.unit.casefold()
        unit = "% of batter" if words.endswith("of batter") else self._said(found.unit)
        unit = self.column.unit if unit in ("", "%") and self.column.unit else unit
        if unit not in ("% of oils", "oz ppo", "% of batter"):
            raise Unread(f'"{text}" does not say of what; write "% of oils" in the heading')
        return self._amount(found.amount(unit), text, found.loose)

    def price(self, text: str) -> Taken:
        """A price for a mass, which stands in the cell or in the heading."""
        plain = one_spelling(text, self.mark)
        found = _PRICE.fullmatch(plain)
        if found is None:
            raise Unread(f'"{text}" is no price')
        mass = found["mass"] or self.column.per
        if not mass:
            raise Unread(f'"{text}" is a price for an unsaid mass; write "per 100 g" in the heading')
        currency = (found["before"] or found["after"] or "").strip()
        return Taken(f"{currency}{found['price']} per {one_spelling(mass, self.mark)}")

    def word(self, text: str) -> Taken:
        """One of a closed set of words."""
        return _worded(self.column.field, text)

    def evidence(self, text: str) -> Taken:
        """Whose word it is."""
        return _worded("evidence", text)

    def yes(self, text: str) -> Taken:
        """Yes or no."""
        return _worded("yes", text)

    def day(self, text: str) -> Taken:
        """A day, as year-month-day; day and month must be certain."""
        value = _day(text, self.months_first)
        return Taken(value, "" if value == text else value)

    def words(self, text: str) -> Taken:
        """Tags, divided by commas, semicolons or strokes."""
        return Taken([" ".join(part.split()) for part in re.split(r"[,;|\n]", text) if part.strip()])

    def text(self, text: str) -> Taken:
        """Words as they stand, on one line."""
        return Taken(" ".join(text.split()))

    def contents(self, text: str) -> Taken:
        """Constituents with their share: a column each, or "linalool 3.2 %; limonene 1 %" in a cell."""
        if self.column.constituent:
            taken = self.per_cent(text)
            return Taken({self.column.constituent: taken.value}, taken.guess)
        if plainly(text) in ("none", "none named"):
            return Taken({}, "no names")
        parts = [part.strip() for part in _PARTS.split(one_spelling(text, self.mark)) if part.strip()]
        complete = {"complete": "yes"} if "complete" in [part.casefold() for part in parts] else {}
        return Taken(
            {**dict(_constituent(part) for part in parts if part.casefold() != "complete"), **complete}
        )

    def fits(self, text: str) -> Taken:
        """Oils it was found good or bad with: "cedar good; lime bad"; good where it is not said."""
        found: dict[str, str] = {}
        for part in (part.strip() for part in re.split(r"[,;\n]", text)):
            name, _, word = part.rpartition(" ")
            good = word.casefold() in ("good", "bad") and name
            found[name if good else part] = word.casefold() if good else "good"
        return Taken({name.rstrip(":"): fit for name, fit in found.items() if name})

    def seen(self, text: str) -> Taken:
        """What was seen, a line each, beginning with its day."""
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        found = [_SEEN.fullmatch(line) for line in lines]
        if not all(found):
            raise Unread("what was seen needs its day first, as in 2026-02-11 clean")
        return Taken([{"on": match[1], "what": match[2]} for match in found if match])

    @staticmethod
    def _said(unit: str) -> str:
        if not unit:
            return ""
        known = unit_word(unit)
        if not known:
            raise Unread(f'"{unit}" is not a unit that is known here')
        return known

    @staticmethod
    def _amount(value: str, text: str, loose: bool) -> Taken:
        return Taken(value, value if loose else "")


_PRICE: Final = re.compile(
    r"(?P<before>[^\d\s.,+-]{1,3})?\s*(?P<price>\d{1,9}(?:\.\d{1,6})?)\s*(?P<after>[^\d\s./,]{1,3})?"
    r"(?:\s*(?:/|per|for)\s*(?P<mass>\S.*))?"
)
_PARTS: Final = re.compile(r"[;\n]|,(?!\d)")
_CONTENT: Final = re.compile(
    r"(?P<name>[^\d\s][^;]*?)\s*[:=]?\s+"
    r"(?P<share>(?:up to |<)?\d[\d.]*(?:\s*(?:-|to)\s*\d[\d.]*)?\s*%|not known)",
    re.I,
)
_SEEN: Final = re.compile(r"(\d{4}-\d{2}-\d{2})\s*[:,]?\s+(.+)")
_NUMERIC_DAY: Final = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{2,4})")
_MONTHS: Final = {
    name: number
    for number, name in enumerate(
        ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), start=1
    )
}
_WORDED_DAY: Final = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[\s.-]*([a-z]{3})[a-z]*[\s.,-]*(\d{4})", re.I)


def unprotected(text: str) -> str:
    """The text without the apostrophe that an export sets before what a spreadsheet would work out."""
    return text[1:] if text[:1] == "'" and text[1:2] in HARMFUL else text


def is_blank(text: str) -> bool:
    """Whether a cell says nothing: empty, a dash, a question mark, "unknown"."""
    folded = text.strip().casefold()
    return folded in BLANKS or (len(folded) <= LONGEST_BLANK and plainly(folded) in BLANKS)


def _constituent(part: str) -> tuple[str, str]:
    found = _CONTENT.fullmatch(part)
    if found is None:
        raise Unread(f'"{part}" is no constituent with its per cent')
    share = " ".join(found["share"].replace("<", "up to ").split())
    return found["name"].strip(" :="), re.sub(r"\s*-\s*", " to ", share)


def _day(text: str, months_first: bool | None) -> str:
    plain = text.strip()
    if worded := _WORDED_DAY.fullmatch(plain):
        return _iso(int(worded[3]), _MONTHS.get(worded[2].casefold(), 0), int(worded[1]), text)
    found = _NUMERIC_DAY.fullmatch(plain)
    if found is None:
        raise Unread(f'"{text}" is no day; write year-month-day')
    first, middle, last = int(found[1]), int(found[3]), int(found[4])
    if len(found[1]) == 4:
        return _iso(first, middle, last, text)
    year = last if len(found[4]) == 4 else 2000 + last
    if found[2] == "." or first > 12 or months_first is False:
        return _iso(year, middle, first, text)
    if middle > 12 or months_first:
        return _iso(year, first, middle, text)
    raise Unread(f'"{text}" may be day or month first; write year-month-day')


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


@cache
def _worded(what: str, text: str) -> Taken:
    """The one word of a set that a cell means: itself, a known word for it, a slip of it, or held in it."""
    plain, words = plainly(text), WORDS[what]
    if plain in words:
        return Taken(plain)
    meanings = _meanings(what)
    meaning = meanings.get(plain) or _slip(plain, tuple(meanings), meanings) or _held(plain, meanings)
    if not meaning:
        raise Unread(f'"{text}" is none of {", ".join(words)}')
    return Taken(meaning, meaning)


@cache
def _meanings(what: str) -> dict[str, str]:
    return {plainly(word): meaning for meaning, given in WORDS[what].items() for word in given}


def _slip(plain: str, known: tuple[str, ...], meanings: Mapping[str, str]) -> str:
    if len(plain) < 4:
        return ""
    near = _nearest(plain, tuple(word for word in known if len(word) > 3))
    return meanings[near] if near else ""


@cache
def _nearest(plain: str, known: tuple[str, ...]) -> str:
    from rapidfuzz import fuzz, process

    found = process.extractOne(plain, known, scorer=fuzz.ratio, score_cutoff=LIKE)
    return str(found[0]) if found else ""


def _held(plain: str, meanings: Mapping[str, str]) -> str:
    """The one meaning among the words of a longer text; none where a "not" could turn it round."""
    if NEGATIONS & set(plain.split()):
        return ""
    padded, found = f" {plain} ", dict[str, str]()
    for word in sorted(meanings, key=len, reverse=True):
        if len(word) > 2 and f" {word} " in padded:
            found[word] = meanings[word]
            padded = padded.replace(f" {word} ", " | ")
    return next(iter(found.values())) if len(set(found.values())) == 1 else ""


_READERS: Final[dict[str, Callable[[Reader, str], Taken]]] = {
    **dict.fromkeys(
        ("kind", "scent note", "browns to", "acceleration", "ricing", "after six weeks"), Reader.word
    ),
    **dict.fromkeys(("vanillin", "ethyl vanillin", "limit in bar"), Reader.per_cent),
    **dict.fromkeys(("browns by", "allergen sheet"), Reader.contents),
    **dict.fromkeys(("browns to at", "acceleration at", "tested at"), Reader.rate),
    **dict.fromkeys(("browns to evidence", "acceleration evidence", "evidence"), Reader.evidence),
    **dict.fromkeys(("browns to on", "certificate dated", "supplier statement", "bought"), Reader.day),
    **dict.fromkeys(("for skin", "sheet complete"), Reader.yes),
    **dict.fromkeys(("on hand", "size"), Reader.mass),
    **dict.fromkeys(
        (
            *("own cast", "acceleration against", "acceleration control", "acceleration scented"),
            *("certificate", "certificate category", "label name", "lot", "name"),
        ),
        Reader.text,
    ),
    "flash point": Reader.temperature,
    "price": Reader.price,
    "tags": Reader.words,
    "goes with": Reader.fits,
    "seen": Reader.seen,
}
"""Field → how its cells are read (a remark is not read)."""
