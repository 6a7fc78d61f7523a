"""One cell → what a book writes for it; ``Unread`` with the reason where it cannot be understood."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

from blendwise.answers.spreadsheet.words.days import day_of, is_number, may_be_either
from blendwise.answers.spreadsheet.words.guesses import GUESSES, YES_OR_NO
from blendwise.answers.spreadsheet.words.headings import Column, plainly, unit_word
from blendwise.answers.spreadsheet.words.meant import Taken, in_english, over_weeks, worded
from blendwise.answers.spreadsheet.words.numbers import Mark, Unread, one_spelling, reading
from blendwise.answers.spreadsheet.words.vocabulary import BLANKS, NOTHING
from blendwise.quantity import format_number
from blendwise.quantity.parse import COMPOUND

LEAST_FAHRENHEIT, MOST_CELSIUS = 60.0, 140.0
"""A flash point without a unit beyond these is more likely in the other one (our own guard)."""
HARMFUL: Final = ("=", "+", "-", "@", "\t", "\r")
"""Signs at the head of a cell that make a spreadsheet work it out."""
CLOSED: Final = frozenset(
    {"kind", "scent note", "browns to", "acceleration", "ricing", "after six weeks", "for skin", "evidence"}
    | {"vanillin", "ethyl vanillin", "limit in bar"}
)
"""Fields whose words are read in other tongues too."""
LONGEST_BLANK: Final = max(map(len, BLANKS)) + 2
FORMULA: Final = "a formula without a stored value; formulas are not worked out"


@dataclass(slots=True)
class Reader:
    """How the cells of one column are read: its heading, the sheet's decimal mark, units taken for granted.

    ``usual_mass``, ``usual_temperature``: units of bare numbers; ``small``: whether all bare numbers of the
    column are at most 1, so that per cent and fraction cannot be told apart.  ``assumed`` fills as one reads.
    ``answered``: the cell is the maker's own answer, and is taken at its word.
    """

    column: Column
    mark: Mark = Mark.UNSAID
    usual_mass: str = "g"
    usual_temperature: str = "°C"
    small: bool = False
    months_first: bool | None = None
    assumed: dict[str, None] = field(default_factory=dict)
    answered: bool = False
    held: dict[tuple[str, bool], Taken | None] = field(default_factory=dict)

    def _doubted(self, text: str, heading: str) -> str:
        """``heading`` where the column must be asked about before this cell is sure, else an empty text."""
        return "" if self.answered or (self.column.how == "as answered" and self.column.unit) else heading

    def read(self, text: str) -> Taken | None:
        """The cell's meaning, None where nothing is known; like cells of a column are read once."""
        cell = text, self.answered
        if cell not in self.held:
            self.held[cell] = self._read(text)
        return self.held[cell]

    def _read(self, text: str) -> Taken | None:
        if is_blank(text):
            return None
        if text.startswith(("=", "+=", "-=")):
            raise Unread(FORMULA)
        told = unprotected(text)
        english = in_english(told) if self.column.field in CLOSED else told
        if english is not told and is_blank(english):
            return None
        if self.column.field in CLOSED and not self.answered:
            self._other_way_round(english)
        taken = _READERS[self.column.field](self, english)
        return taken if english is told or taken.guess else replace(taken, guess=str(taken.value))

    def _other_way_round(self, text: str) -> None:
        """Unread where a word may mean its opposite: below a heading that turns it round, or asks only half
        of what the column is taken for ("Trace tested?")."""
        column, plain = self.column, plainly(text)
        if any(sign.isdigit() for sign in text) or plain in ("gone", "faded completely"):
            return
        if column.turned:
            guess = over_weeks(text) if column.field == "after six weeks" else ""
            why = f'the column may ask the other way round, so that "{text}" may mean either'
            raise Unread(why, guess, must=True)
        if column.how == "by a part" and plain in YES_OR_NO:
            raise Unread(f'"{text}" answers the whole of its heading, which is not certain', must=True)

    def per_cent(self, text: str) -> Taken:
        """A content or limit in per cent; "none" is 0 % for a content."""
        what, plain = self.column.field, plainly(text)
        if guess := GUESSES.get(what, {}).get(plain):
            why = "a certificate gives a number; where it sets no limit, that is 100 %"
            raise Unread(why if what == "limit in bar" else f'"{text}" is no number', guess)
        if plain in NOTHING:
            if what == "limit in bar":
                raise Unread(f'"{text}" may be no limit, or that none of it may be used', must=True)
            return Taken("0 %", "0 %")
        found = reading(text, self.mark)
        unit = self._said(found.unit) or self.column.unit
        if unit == "fraction":
            return Taken(f"{format_number(100 * found.top, 6)} %", f"{format_number(100 * found.top, 6)} %")
        if unit == "%":
            return self._amount(found.amount("%"), text, found.loose)
        if unit:
            raise Unread(f'"{text}" is not in per cent')
        if self.small and found.top > 0:
            why = f'"{text}" may be per cent or a fraction; write % in the heading'
            raise Unread(why, heading=f"{self.column.constituent or what} %")
        self.assumed["bare numbers are per cent"] = None
        taken = self._amount(found.amount("%"), text, found.loose)
        doubtful = what == "limit in bar" and 0 < found.top <= 1
        return replace(taken, heading=self._doubted(text, f"{what} %")) if doubtful else taken

    def mass(self, text: str) -> Taken:
        """A mass, in the heading's unit or the book's where the cell names none; ``1 lb 2 oz`` too."""
        if COMPOUND.fullmatch(text.strip()):
            return Taken(" ".join(text.split()))
        found = reading(text, self.mark)
        unit = self._said(found.unit) or self.column.unit
        if unit in ("mL", "%", "°C", "°F", "fraction"):
            raise Unread(f'"{text}" is not a mass; weigh it')
        if unit:
            return self._amount(found.amount(unit), text, found.loose)
        unit = self.usual_mass
        self.assumed[f"bare numbers are {unit}"] = None
        taken = self._amount(found.amount(unit), text, found.loose)
        return replace(taken, heading=self._doubted(text, f"{self.column.field} {unit}"))

    def temperature(self, text: str) -> Taken:
        """A flash point; ">93" and "93+" are above 93."""
        found = reading(text.removeprefix("closed cup").strip(" :"), self.mark)
        unit, heading = self._said(found.unit) or self.column.unit, ""
        if not unit:
            unit = self.usual_temperature
            heading = self._doubted(text, f"{self.column.field} {unit}")
            if (unit == "°C" and found.top > MOST_CELSIUS) or (unit == "°F" and found.top < LEAST_FAHRENHEIT):
                raise Unread(f'"{text}" has no unit, and as {unit} it is unlikely')
            self.assumed[f"bare numbers are {unit}"] = None
        if unit not in ("°C", "°F"):
            raise Unread(f'"{text}" is not a temperature')
        return replace(self._amount(found.amount(unit), text, found.loose), heading=heading)

    def rate(self, text: str) -> Taken:
        """A dose on oils at which something was seen."""
        found = reading(text, self.mark)
        words = found.unit.casefold()
        unit = "% of batter" if words.endswith("of batter") else self._said(found.unit)
        if unit == "%" and self.column.unit == "oz ppo":
            raise Unread(f'"{text}" is per cent in a column of oz ppo', f"{found.amount('% of oils')}")
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
            why = f'"{text}" is a price for an unsaid mass; write "per 100 g" in the heading'
            raise Unread(why, heading="price")
        if unit_word(mass.strip("0123456789., ")) == "mL":
            raise Unread(f'"{text}" is a price for a volume; a price here is for a mass')
        currency = (found["before"] or found["after"] or "").strip()
        return Taken(f"{currency}{found['price']} per {one_spelling(mass, self.mark)}")

    def word(self, text: str) -> Taken:
        """One of a closed set of words."""
        return worded(self.column.field, text)

    def evidence(self, text: str) -> Taken:
        """Whose word it is."""
        return worded("evidence", text)

    def yes(self, text: str) -> Taken:
        """Yes or no."""
        return worded("yes", text)

    def day(self, text: str) -> Taken:
        """A day, as year-month-day; day and month must be certain."""
        order, heading = self.column.order, ""
        first = {"month first": True, "day first": False}.get(order, self.months_first)
        if first is None and may_be_either(text):
            first = self.usual_temperature == "°F"
            heading = f"{self.column.field}, {'month' if first else 'day'} first"
        elif is_number(text) and not order:
            heading = f"{self.column.field}, day numbers"
        value = day_of(text, first)
        return Taken(value, "" if value == text else value, heading=heading)

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
    r"(?:\s*(?:/|(?:per|for|an?)\b)\s*(?P<mass>\S.*))?"
)
_PARTS: Final = re.compile(r"[;\n]|,(?!\d)")
_CONTENT: Final = re.compile(
    r"(?P<name>[^\d\s][^;]*?)\s*[:=]?\s+"
    r"(?P<share>(?:up to |<)?\d[\d.]*(?:\s*(?:-|to)\s*\d[\d.]*)?\s*%|not known)",
    re.I,
)
_SEEN: Final = re.compile(r"(\d{4}-\d{2}-\d{2})\s*[:,]?\s+(.+)")


def unprotected(text: str) -> str:
    """The text without the apostrophe that an export sets before what a spreadsheet would work out."""
    return text[1:] if text[:1] == "'" and text[1:2] in HARMFUL else text


@lru_cache(maxsize=4096)
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
            *("certificate", "certificate category", "label name", "lot", "name", "supplier"),
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
