"""A sentence read against the shapes that are known: a controlled language, never a guess.

Every word must have its part; what has none is handed back, with the nearest shape.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice, product
from typing import Final

from blendwise.answers.rules.sentences.clauses import Told, clauses, halves, reasons_before
from blendwise.answers.rules.sentences.draft import Draft, Unread, UnsureError
from blendwise.answers.rules.sentences.fitting.table import SHAPES
from blendwise.answers.rules.sentences.heard import Heard
from blendwise.answers.rules.sentences.lexicon import MOST, Lexicon, Token, lexicon_of, of_the_book, tokens
from blendwise.answers.rules.sentences.parts import Meaning, span_of_months
from blendwise.answers.rules.sentences.plain import is_plain, read_plain
from blendwise.answers.rules.sentences.spans import spans_of
from blendwise.facts.measures.members import SORTS
from blendwise.records.book import BookFiles

MOST_WAYS: Final = 16
SUBJECTS: Final = "XCBDQ"
"""What may be the subject of a second demand that names none."""
OF_A_DEMAND: Final = "AHJIY#"
"""Parts that no reason before a demand may hold: they would be lost."""
OF_A_REASON: Final = f"{SUBJECTS}?NwL"
_LISTED: Final = re.compile(
    r"\W*(?:,|\b(?:and|or|nor|plus)\b|&|\+)\W*(?:(?:and|or|a|an|the)\b\W*)*", re.IGNORECASE
)


COLOURS_AND_PLACES: Final = "WP"
WORDINGS: Final = {
    "X": "{} oils",
    "D": "additive {}",
    "Q": "constituent {}",
    "C": "colourant {}",
    "V": "portion {}",
    "M": "all {}",
}
"""Letter → what tells a word of it from the same word as another part."""


_JOINED: Final = re.compile(r"(?:[\W]|\b(?:in|the|a|an|any|for|cups?|portions?)\b)*\b(?:and|or|nor)\b"
                            r"(?:[\W]|\b(?:in|the|a|an|any|for)\b)*", re.IGNORECASE)  # fmt: skip


_AGAIN: Final = re.compile(r"\W*(?:and|or)?\W*\b(?:no|nor|not|never)\b\W*(?:the|a|an|any)?\W*", re.IGNORECASE)


def read_sentence(sentence: str, book: BookFiles, basis: str = "") -> Draft | Unread:
    """The rule that a sentence says; what was not understood where it says none.

    ``basis``: what a rate is of, where the sentence does not say (one of ``draft.BASES``).
    """
    text = sentence[:MOST]
    if is_plain(text):
        return read_plain(text)
    said = clauses(text)
    lexicon = lexicon_of(book)
    found = _read(said.core, book, lexicon, basis)
    if isinstance(found, Unread):
        found = (
            _two_rules(said.core, book, lexicon, found)
            or _reasoned(said.core, book, lexicon, basis)
            or (_reasoned(text, book, lexicon, basis) if said.reason and not said.level else None)
            or _respelt(said.core, book, lexicon, basis)
            or found
        )
    elif _demanded(said.reason, book, lexicon):
        return Unread((), found.shape, example(found.shape, book), alone=(said.core.strip(" ,"), said.reason))
    if isinstance(found, Unread):
        return found
    return replace(found, level=said.level or ("hint" if said.hinted else found.level))


def reason_in(sentence: str, book: BookFiles) -> str:
    """What a sentence says after "because", or before "so"; nothing where it gives no reason."""
    if is_plain(sentence):
        return ""
    said = clauses(sentence[:MOST])
    lexicon = lexicon_of(book)
    if not isinstance(_read(said.core, book, lexicon, ""), Unread):
        return said.reason
    before = (
        told.text for core in (said.core, sentence[:MOST]) for told, _ in _demands(core, book, lexicon, "")
    )
    return next(before, said.reason)


def _demanded(reason: str, book: BookFiles, lexicon: Lexicon) -> bool:
    """Whether a reason holds a demand of its own, which may not be lost."""
    return any(not isinstance(_read(second, book, lexicon, ""), Unread) for _, second in halves(reason))


def _two_rules(core: str, book: BookFiles, lexicon: Lexicon, whole: Unread) -> Unread | None:
    """The two sentences that make up one, where each can be read alone; the second may lack its subject."""
    for first, second in halves(core):
        if isinstance(_read(first, book, lexicon, ""), Unread):
            continue
        parts = tokens(first, lexicon)
        if re.fullmatch(f"N[{SUBJECTS}]", "".join(part.letter for part in parts)):  # where, the second says
            continue
        subject = next((part for part in parts if part.letter in SUBJECTS), None)
        carried = f"{first[subject.start : subject.end]} {second}" if subject else second
        for text in (second, carried):
            if not isinstance(_read(text, book, lexicon, ""), Unread):
                return replace(whole, spans=(), either=(), alone=(first, text))
    return None


def _reasoned(core: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | None:
    """The rule behind a reason that comes first: "it riced in the cup, so lime goes last"."""
    return next((draft for _, draft in _demands(core, book, lexicon, basis)), None)


def _demands(core: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Iterator[tuple[Told, Draft]]:
    for told in reasons_before(core):
        parts = tokens(core[: told.begins], lexicon)
        letters = {letter for part in parts for letter in part.letter}
        if letters & set(OF_A_DEMAND) or not (told.sure or (letters <= set(OF_A_REASON) and "?" in letters)):
            continue
        demand = core[told.begins :]
        subjects = {
            core[p.start : p.end] for p in parts if p.letter in tuple(SUBJECTS) and p.value not in SORTS
        }
        named = any(set(part.letter) & set(SUBJECTS) for part in tokens(demand, lexicon))
        if not named and len(subjects) == 1:
            demand = f"{subjects.pop()} {demand}"
        found = _read(demand, book, lexicon, basis)
        if isinstance(found, Draft):
            yield told, found


def _respelt(text: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | None:
    """The rule where each unknown word is taken for the known word most like it, and that is said."""
    taken: dict[str, str] = {}
    for part in reversed([part for part in tokens(text, lexicon) if part.letter == "?"]):
        near = lexicon.nearest(part.value)
        if not near:
            return None
        if near != part.value:
            taken[part.value] = near
        text = text[: part.start] + near + text[part.end :]
    found = _read(text, book, lexicon, basis) if taken else None
    if not isinstance(found, Draft):
        return None
    return replace(found, counts={word: f"taken for {near}" for word, near in taken.items()} | found.counts)


def example(shape: str, book: BookFiles) -> str:
    """An example of a shape, in words that the book has."""
    return of_the_book(next(each.example for each in SHAPES if each.name == shape), book)


def _read(text: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | Unread:
    parts = tokens(text, lexicon)
    unknown = [part for part in parts if part.letter == "?"]
    known = [part for part in parts if part.letter != "?"]
    if unknown or not known:
        return _unread(unknown, known, book)
    unsure: tuple[str, ...] = ()
    for own_cups in (False, True):  # a cup called "black" only where black cups at large are not meant
        try:
            ways = [_joined(way, text) for way in _ways(known, own_cups)]
            found = {
                str(draft.body()): draft for draft in (_shaped(way, book, basis) for way in ways) if draft
            }
        except UnsureError as error:
            unsure = unsure or error.ways
            continue
        if len(found) > 1:
            return _either(parts, known, book)
        if found:
            return next(iter(found.values()))
    return replace(_unread([], known, book), either=unsure)


def _shaped(parts: list[Token], book: BookFiles, basis: str) -> Draft | None:
    """The first shape that parts fit."""
    for shape in SHAPES:
        try:
            draft = shape.read(Heard.of(parts, Meaning(book), basis))
        except UnsureError:
            raise
        except ValueError:  # kinds of words that no line of a rule takes together
            continue
        if draft is not None:
            return replace(draft, shape=shape.name)
    return None


def _ways(parts: list[Token], own_cups: bool) -> list[list[Token]]:
    """Every way to take the parts that may be more than one thing ("honey": a tag, or an additive)."""
    choices: list[list[Token]] = []
    for at, part in enumerate(parts):
        following = parts[at + 1].letter[0] if at + 1 < len(parts) else ""
        letters = part.letter
        if set(letters) >= {"R", "g"}:  # "over" an amount, or an age
            letters = "g" if following == "Y" else "R"
        if "V" in letters and set(letters) & set(COLOURS_AND_PLACES):
            letters = "V" if own_cups else letters.replace("V", "")
        choices.append([_taken(part, letter) for letter in letters])
    return [list(way) for way in islice(product(*choices), MOST_WAYS)]


def _taken(part: Token, letter: str) -> Token:
    return replace(part, letter=letter, values=(part.values[part.letter.index(letter)],))


def _either(parts: list[Token], known: list[Token], book: BookFiles) -> Unread:
    """A word that may mean two things, with the wordings that tell them apart."""
    part = next(part for part in parts if len(part.letter) > 1)
    either = tuple(
        WORDINGS.get(letter, "{}").format(value)
        for letter, value in zip(part.letter, part.values, strict=True)
    )
    return replace(_unread([], known, book), spans=((part.start, part.end),), either=either)


def _joined(parts: list[Token], text: str) -> list[Token]:
    """Names in a list ("lime, litsea and cedar") as one part; words that only carry others left out."""
    found: list[Token] = []
    parts = spans_of(_asking(_rated(_without_repeats(parts, text))), text)
    counts = any(part.letter == "#" for part in parts)
    for at, part in enumerate(parts):
        before = found[-1] if found else None
        following = parts[at + 1].letter if at + 1 < len(parts) else ""
        carries = part.letter == "M" and part.value == "scent rate" and following == "X"
        if part.letter == "&" or (carries and (before is None or before.letter == "N")):
            continue
        if part.letter == "z" and part.value == "in bar" and not counts:
            continue
        if part.letter in "cs" and before is not None and before.letter in "WPVXUE":
            continue
        if part.letter in "cs" and following == ("X" if part.letter == "s" else "V"):
            continue
        if part.letter == "M" and part.value == "portions" and before is not None and before.letter in "WPVX":
            continue  # "light colours"
        if before is not None and _both_or_each(before, part, text[before.end : part.start]):
            raise UnsureError((f"{before.value} …", f"{part.value} …"))
        if before is not None and part.letter == before.letter and part.letter in "XSPCBDUVW":
            between = text[before.end : part.start]
            listed = _LISTED.fullmatch(between.replace("-", " ")) or _AGAIN.fullmatch(between)
            if listed or part.letter == "S":
                span = part.letter == "S" and bool({"to", "through", "until", "till"} & set(between.split()))
                found[-1] = _together(before, part, span)
                continue
        found.append(part)
    return _belonging(found)


def _without_repeats(parts: list[Token], text: str) -> list[Token]:
    """ "no charcoal and no indigo in white": the second "no" says again what the first said of both."""
    kept: list[Token] = []
    for at, part in enumerate(parts):
        before = next((each for each in reversed(kept) if each.letter != "&"), None)
        after = parts[at + 1] if at + 1 < len(parts) else None
        again = part.letter == "N" and any(each.letter == "N" for each in kept)
        alike = before and after and before.letter == after.letter and before.letter in SUBJECTS
        if not (again and alike and before and after and _AGAIN.fullmatch(text[before.end : after.start])):
            kept.append(part)
    return kept


def _asking(parts: list[Token]) -> list[Token]:
    """ "a column needs 20 minutes of working time" asks for at least so many."""
    letters = {part.letter for part in parts}
    if not {"e", "I", "M"} <= letters or "R" in letters:
        return parts
    return [replace(part, letter="R", values=("at least",)) if part.letter == "e" else part for part in parts]


def _both_or_each(before: Token, part: Token, between: str) -> bool:
    """ "white and outer cups", "in a column or in white": cups that are both, or each of them?"""
    several = {before.letter, part.letter} <= set("WPVUS") and before.letter != part.letter
    return several and _JOINED.fullmatch(between) is not None


def _rated(parts: list[Token]) -> list[Token]:
    """ "20 g of peppermint per kilo": the mass and what it is a rate of as one amount."""
    rate = next((part for part in parts if part.letter == "K"), None)
    mass = next((part for part in parts if part.letter == "J"), None)
    if rate is None or mass is None or mass.value.split()[1] != rate.value.split()[0]:
        return parts
    amount = replace(mass, letter="A", values=(f"{mass.value.split()[0]} {rate.value}",))
    return [amount if part is mass else part for part in parts if part is not rate]


def _belonging(parts: list[Token]) -> list[Token]:
    """ "clove goes in the last portion" is "only in"; beside another word the going says nothing."""
    letters = "".join(part.letter for part in parts if part.letter != "c")
    letter = "O" if re.fullmatch(r"XG[PWVS]", letters) else ""
    return [
        replace(part, letter=letter) if part.letter == "G" else part
        for part in parts
        if letter or part.letter != "G"
    ]


def _together(before: Token, part: Token, span: bool) -> Token:
    """Two parts of a kind as one; two months with "to" between them are a span."""
    values = (*before.values, *part.values)
    if span:
        values = span_of_months(before.values[-1], part.value)
    return replace(before, values=tuple(dict.fromkeys(values)), end=part.end)


def _unread(unknown: list[Token], known: list[Token], book: BookFiles) -> Unread:
    letters = "".join(part.letter for part in known)
    nearest = max(SHAPES, key=lambda shape: shape.likeness(letters))
    spans = tuple((part.start, part.end) for part in unknown)
    return Unread(spans, nearest.name, of_the_book(nearest.example, book))
