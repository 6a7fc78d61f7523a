"""Each answer of a draft checked as it is given: what it says is returned tidy, what cannot be is refused.

Every function raises QuantityError or FieldError's kin as NotAskable, with what to write instead.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final, TypeVar, get_args

from blendwise.answers.names import find_name
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import (
    METRIC,
    THE_REST,
    Amount,
    Basis,
    Dimension,
    Units,
    format_number,
    parse_amount,
    parse_colour_dose,
    parse_inside,
    parse_share,
)
from blendwise.quantity.typed import figures, name_and_amount, share_in_words, sides, with_unit
from blendwise.records.book import BookFiles
from blendwise.records.kinds.plan import Dosing, ForWhom
from blendwise.records.kinds.scent import BANDS
from blendwise.records.nearest import hint
from blendwise.records.reading.fields import DOSE_BASES, FieldError, parse_gel, parse_name

Answers = Mapping[str, str]

T = TypeVar("T")
USUAL: Final = "usual"
NONE: Final = frozenset({"", "none", "no"})
FOR_WHOM: Final = get_args(ForWhom)
DOSINGS: Final = get_args(Dosing)
_CAVITIES: Final = re.compile(r"(\d+)\s+(?:cavities|cavity|bars?)\s*(?:of|x|×|,)?\s*(.+)", re.IGNORECASE)
_MOULD: Final = re.compile(r"(loaf|slab)\s*(?:of|,|:)?\s*(.+)", re.IGNORECASE)
_BARE_RATE: Final = re.compile(r"%|\boz (?:ppo|per (?:lb|pound))", re.IGNORECASE)
_UNSAFE: Final = re.compile(r'[<>:"/\\|?*]|^\.|\.$')


def one_of(text: str, words: Iterable[str], what: str, whose: str) -> str:
    """One of some words, blanks and hyphens alike; the nearest stated where it is none of them."""
    known = list(words)
    tidy = " ".join(text.split())
    for spelt in (str.casefold, _unhyphened):
        for word in known:
            if spelt(word) == spelt(tidy):
                return word
    raise NotAskable(f'There is no {what} "{tidy}".', hint(tidy, known, whose))


def _unhyphened(text: str) -> str:
    return " ".join(re.split(r"[\s_-]+", text.casefold()))


def plan_name(text: str) -> str:
    """A name that can be a file's name everywhere."""
    name = _field(parse_name, text)
    if _UNSAFE.search(name):
        raise NotAskable(
            f'"{name}" cannot be the name of a file.', "Use letters, figures, blanks and hyphens."
        )
    return name


def _field(read: Callable[[str], T], text: str) -> T:
    try:
        return read(text)
    except FieldError as error:
        raise NotAskable(error.message, error.remedy) from None


def amount(text: str, units: Units = METRIC) -> dict[str, str]:
    """How much: "loaf 25 x 9 x 6.5 cm", "6 cavities of 95 mL", "1100 g" of oils → fields of ``amount:``."""
    tidy = " ".join(text.split())
    if inside := sides(tidy, "in" if units.mass == "oz" else "cm"):
        return {"mould": "loaf", "inside": _inside(inside)}
    if (match := _MOULD.fullmatch(tidy)) is not None:
        return {"mould": match[1].lower(), "inside": _inside(match[2])}
    if (match := _CAVITIES.fullmatch(tidy)) is not None:
        parse_amount(match[2], Dimension.VOLUME, ranges=False)
        return {"mould": "cavities", "cavities": match[1], "volume": match[2]}
    mass = with_unit(tidy.removesuffix(" of oils").removesuffix(" oils"), units.mass)
    try:
        parse_amount(mass, Dimension.MASS, ranges=False)
    except ValueError as error:
        message = f'"{tidy}" says neither a mould nor a mass of oils.'
        raise NotAskable(
            message, "Write like 1100 g, loaf 25 x 9 x 6.5 cm, or 6 cavities of 95 mL."
        ) from error
    return {"oils": mass}


def amount_words(fields: Mapping[str, str]) -> str:
    """An amount as it would be typed again."""
    if "oils" in fields:
        return fields["oils"]
    if "inside" in fields:
        return f"{fields['mould']} {fields['inside']}"
    return f"{fields['cavities']} cavities of {fields['volume']}"


def _inside(text: str) -> str:
    parse_inside(text)
    return text


def bars(text: str) -> str:
    """A whole number of bars, or nothing."""
    if text.strip().lower() in NONE:
        return ""
    if not re.fullmatch(r"[1-9]\d{0,3}", text.strip()):
        raise NotAskable(f'"{text}" is no number of bars.', "Write a whole number, such as 10.")
    return text.strip()


def base_oils(text: str, book: BookFiles) -> dict[str, str]:
    """The recipe's oils: "olive 45 %, coconut 25 %, …" → oil → share or mass as typed."""
    found: dict[str, str] = {}
    named = [_named(part, "an oil and its share, such as olive 45 %") for part in _parts(text)]
    for name, share in _in_per_cent(named):
        oil = one_of(name, book.oils, "base oil", "The book")
        parse_amount(share, Dimension.FRACTION, Dimension.MASS, default_basis=Basis.WHOLE, ranges=False)
        if oil in found:
            raise NotAskable(f'"{oil}" is there twice.', "Name each oil once.")
        found[oil] = share
    return found


def _in_per_cent(named: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Oils with bare figures that make a hundred, as per cent; others stay, so that a unit is asked for."""
    bare = [share.replace(",", ".") for _, share in named]
    if all(re.fullmatch(r"\d+(?:\.\d+)?", each) for each in bare) and round(sum(map(float, bare)), 6) == 100:
        return [(name, f"{share} %") for name, share in named]
    return named


def lye(text: str) -> dict[str, str]:
    """Lye concentration and superfat: "31 %, 5 %" → fields of ``lye:``."""
    bare = figures(text, 2)
    parts = bare or [part.replace("superfat", "").replace("lye", "").strip() for part in _parts(text)]
    if len(parts) != 2:
        raise NotAskable(f'"{text}" is not two figures.', "Write lye and superfat, such as 31 %, 5 %.")
    for part in parts:
        parse_amount(part, Dimension.FRACTION, default_basis=Basis.WHOLE, ranges=False)
    return {"concentration": parts[0], "superfat": parts[1]}


def temperature(text: str) -> str:
    """A temperature, as typed."""
    parse_amount(text, Dimension.TEMPERATURE, ranges=False)
    return text.strip()


def gel(text: str) -> str:
    """Avoid, leave or force (at …)."""
    return _field(parse_gel, text).text


def share(text: str) -> str:
    """A portion's share: per cent, parts, grams or the rest."""
    found = parse_share(text)
    if isinstance(found, Amount) and found.value <= 0:
        raise NotAskable("A portion needs a share above nothing.", "Write 30 %, 2 parts, 300 g or the rest.")
    return THE_REST if found == THE_REST else text.strip()


def colours(text: str, book: BookFiles) -> dict[str, str]:
    """Colourants: "titanium-dioxide 1 %, green-clay 2 %" → colourant → rate on the portion's oils as typed.

    A colourant without a rate takes the middle of what the catalogue calls usual.
    """
    if text.strip().lower() in NONE:
        return {}
    found = {}
    for part in _parts(text):
        typed, rate = name_and_amount(part)
        name = one_of(typed, book.colourants, "colourant", "The catalogue")
        found[name] = _rate(rate) if rate else _usual_rate(name, book)
    return found


def _rate(text: str) -> str:
    """A rate as typed; a bare per cent is one of the portion's oils."""
    bare = _BARE_RATE.search(text) is not None and " of " not in text
    told = f"{text} {Basis.PORTION_OILS}" if bare else text
    parse_colour_dose(told, DOSE_BASES)
    return told


def _usual_rate(name: str, book: BookFiles) -> str:
    usual = book.colourants[name].usual_rate or book.colourants[name].at
    if usual is None:
        raise NotAskable(f'The catalogue gives no usual rate for "{name}".', f"Write it, such as {name} 1 %.")
    return f"{format_number(100 * usual.mid, 2)} % {Basis.PORTION_OILS}"


def band(text: str) -> str:
    """How dark a portion may turn, by a band or in words that a sheet of oils would say it in too."""
    from blendwise.answers.spreadsheet.words.meant import worded
    from blendwise.answers.spreadsheet.words.numbers import Unread

    try:
        meant = worded("browns to", text)
    except Unread:
        meant = None
    if meant is not None and meant.sure:
        return str(meant.value)
    return one_of(text, BANDS, "band", "The scale")


def scent(text: str, book: BookFiles) -> str:
    """An oil of the shelf, by its name or as ``pair`` understands it."""
    return find_name(text, book.scents, "scent").name


def parts(text: str) -> str:
    """Parts by mass, above nothing."""
    read = parse_amount(text, Dimension.PARTS, Dimension.FRACTION, default_basis=Basis.WHOLE, ranges=False)
    if read.value <= 0:
        raise NotAskable("An oil of the blend needs at least some part.", "Write 1, or leave the oil out.")
    return text.strip()


def load(text: str) -> str:
    """All scent together, as a rate of the batch's oils unless said otherwise."""
    bases = frozenset({Basis.BATCH_OILS, Basis.BATCH_BATTER})
    read = parse_amount(text, Dimension.FRACTION, bases=bases, default_basis=Basis.BATCH_OILS, ranges=False)
    if read.value <= 0:
        raise NotAskable("A load of nothing scents nothing.", "Write such as 3 %, or name no oil.")
    return text.strip() if " of " in text or "ppo" in text else f"{text.strip()} {Basis.BATCH_OILS}"


def kept_out(text: str, scents: Iterable[str], portions: Iterable[str]) -> list[tuple[str, str]]:
    """ "tonka-milk in milk, lime in soil" → (scent, portion)."""
    if text.strip().lower() in NONE:
        return []
    pairs = []
    for part in _parts(text):
        head, found, tail = part.partition(" in ")
        if not found:
            raise NotAskable(
                f'"{part}" does not say a scent and a portion.', "Write like tonka-milk in milk."
            )
        one = one_of(head, scents, "scent", "The blend")
        pairs.append((one, one_of(tail, portions, "portion", "The plan")))
    return pairs


def _parts(text: str) -> Iterator[str]:
    return (part.strip() for part in text.split(",") if part.strip())


def _named(part: str, example: str) -> tuple[str, str]:
    name, figure = name_and_amount(part)
    if not figure:
        raise NotAskable(f'"{part}" lacks a figure.', f"Write {example}.")
    return name, figure


def checked(kind: str, said: str, book: BookFiles, answers: Answers) -> str:
    """An answer to a question of a kind, as it is kept: names as the book spells them, figures as typed."""
    said = _in_full(kind, said, book.usual.units)
    simple = _SIMPLE.get(kind)
    if simple is not None:
        return simple(said)
    if kind == "oils":
        return said if said == USUAL and book.usual.recipe else inline(base_oils(said, book))
    if kind == "pour":
        meant = book.pour_named(said)
        return meant.name if meant else one_of(said, book.pours, "pour", "The rulebook")
    if kind == "colours":
        return inline(colours(said, book))
    if kind == "amount":
        return amount_words(amount(said, book.usual.units))
    if kind in ("portion", "scent"):
        return _named_once(kind, said, book, answers)
    if kind == "share":
        return _share_left(said, answers)
    scents, portions = (_names(answers, what) for what in ("scent", "portion"))
    return ", ".join(f"{scent} in {portion}" for scent, portion in kept_out(said, scents, portions))


def _in_full(kind: str, said: str, units: Units) -> str:
    """A bare number with the unit it was asked in, a share in words as per cent."""
    if kind == "share":
        return share_in_words(said)
    if kind == "batter":
        return with_unit(said, f"°{units.temperature}")
    return with_unit(said, "oz ppo" if units.rates == "ppo" else "%") if kind == "load" else said


def _lye(said: str) -> str:
    return said if said == USUAL else ", ".join(lye(said).values())


def _dosing(said: str) -> str:
    return one_of(said, DOSINGS, "way of dosing", "A plan")


def _purpose(said: str) -> str:
    return one_of(said, FOR_WHOM, "purpose", "A plan")


_SIMPLE: Final[Mapping[str, Callable[[str], str]]] = {
    "for": _purpose,
    "bars": bars,
    "lye": _lye,
    "batter": temperature,
    "gel": gel,
    "becomes": band,
    "parts": parts,
    "load": load,
    "dosing": _dosing,
}


def _names(answers: Answers, what: str) -> list[str]:
    return [said for key, said in answers.items() if re.fullmatch(rf"{what} \d+ name", key) and said]


def _named_once(kind: str, said: str, book: BookFiles, answers: Answers) -> str:
    if said.lower() in NONE:
        return ""
    name = _field(parse_name, said) if kind == "portion" else scent(said, book)
    if name in _names(answers, kind):
        raise NotAskable(f'"{name}" is there already.', "Give another name, or nothing to go on.")
    return name


def _share_left(said: str, answers: Answers) -> str:
    tidy = share(said)
    taken = [text for key, text in answers.items() if key.endswith(" share")]
    if tidy == THE_REST and THE_REST in taken:
        raise NotAskable("A portion takes the rest already.", "Only one can; give this one its share.")
    return tidy


def inline(fields: Mapping[str, str]) -> str:
    """Names and figures as they would be typed again: "olive 45 %, coconut 25 %"."""
    return ", ".join(f"{name} {text}" for name, text in fields.items())
