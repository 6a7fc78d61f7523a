"""A sentence read against the shapes that are known: a controlled language, never a guess.

Every word must have its part; what has none is handed back, with the nearest shape.
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import islice, product
from typing import Final

from blendwise.answers.rules.sentences.draft import Draft, Unread
from blendwise.answers.rules.sentences.heard import Heard
from blendwise.answers.rules.sentences.lexicon import MOST, Lexicon, Token, lexicon_of, tokens
from blendwise.answers.rules.sentences.parts import Meaning, span_of_months
from blendwise.answers.rules.sentences.patterns import SHAPES
from blendwise.answers.rules.sentences.plain import is_plain, read_plain
from blendwise.answers.rules.sentences.terms import LEVELS, SMALL
from blendwise.records.book import BookFiles

_LEVEL: Final = re.compile(rf"\s*({'|'.join(LEVELS)}|warn me)\s*[:,]\s*", re.IGNORECASE)
_REASON: Final = re.compile(
    r"[,;]?\s*\b(?:because|otherwise|or else|else|since|or it(?:'s|s)?|or they)\b(.*)$"
    r"|[,;.(]\s*(?:it(?:'s|s)?|they|that|this|so (?:it|that|they)|to (?:hold|keep|avoid|stop|save))\b"
    r"([^%\d]*)$"
    r"|\s+to (?:hold|keep|stop|save) (?:it|them|that)\b([^%\d]*)$",
    re.IGNORECASE | re.DOTALL,
)
_JOINT: Final = re.compile(r"\s*(?:[,;.]\s*(?:and|but|or)?|\b(?:and|but|or)\b)\s+", re.IGNORECASE)
MOST_WAYS: Final = 16
SUBJECTS: Final = "XCBD"
"""What may be the subject of a second demand that names none."""
_HINT: Final = re.compile(rf"\b(?:{'|'.join(SMALL)})\b,?", re.IGNORECASE)
_LISTED: Final = re.compile(
    r"\W*(?:,|\b(?:and|or|nor|plus)\b|&|\+)\W*(?:(?:and|or|a|an|the)\b\W*)*", re.IGNORECASE
)


def read_sentence(sentence: str, book: BookFiles, basis: str = "") -> Draft | Unread:
    """The rule that a sentence says; what was not understood where it says none.

    ``basis``: what a rate is of, where the sentence does not say (one of ``draft.BASES``).
    """
    text = sentence[:MOST]
    if is_plain(text):
        return read_plain(text)
    level, start = _level(text)
    reason = _REASON.search(text, start)
    core = " " * start + text[start : reason.start() if reason else len(text)]
    hinted = _HINT.search(core) is not None
    core = _HINT.sub(lambda found: " " * len(found[0]), core)
    lexicon = lexicon_of(book)
    found = _read(core, book, lexicon, basis)
    if isinstance(found, Unread):
        found = _two_rules(core, book, lexicon, found) or _respelt(core, book, lexicon, basis) or found
    if isinstance(found, Unread):
        return found
    return replace(found, level=level or ("hint" if hinted else found.level))


def reason_in(sentence: str) -> str:
    """What a sentence says after "because"; nothing where it gives no reason."""
    found = _REASON.search(sentence[:MOST])
    return (
        ""
        if found is None or is_plain(sentence)
        else next((each for each in found.groups() if each), "").strip(" .,")
    )


def _level(text: str) -> tuple[str, int]:
    found = _LEVEL.match(text)
    if found is None:
        return "", 0
    word = found[1].casefold()
    return ("caution" if word == "warn me" else word), found.end()


def _two_rules(core: str, book: BookFiles, lexicon: Lexicon, whole: Unread) -> Unread | None:
    """The two sentences that make up one, where each can be read alone; the second may lack its subject."""
    for joint in _JOINT.finditer(core):
        first, second = core[: joint.start()].strip(), core[joint.end() :].strip(" .")
        if not (first and second) or isinstance(_read(first, book, lexicon, ""), Unread):
            continue
        subject = next((part for part in tokens(first, lexicon) if part.letter in SUBJECTS), None)
        carried = f"{first[subject.start : subject.end]} {second}" if subject else second
        for text in (second, carried):
            if not isinstance(_read(text, book, lexicon, ""), Unread):
                return replace(whole, spans=(), alone=(first, text))
    return None


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


def _read(text: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | Unread:
    parts = tokens(text, lexicon)
    unknown = [part for part in parts if part.letter == "?"]
    ways = [_joined(way, text) for way in _ways([part for part in parts if part.letter != "?"])]
    if unknown or not ways[0]:
        return _unread(unknown, ways[0])
    drafts = {str(draft.body()): draft for draft in (_shaped(way, book, basis) for way in ways) if draft}
    if len(drafts) > 1:
        return _either(parts, ways[0])
    return next(iter(drafts.values()), None) or _unread([], ways[0])


def _shaped(parts: list[Token], book: BookFiles, basis: str) -> Draft | None:
    """The first shape that parts fit."""
    for shape in SHAPES:
        try:
            draft = shape.read(Heard.of(parts, Meaning(book), basis))
        except ValueError:  # kinds of words that no line of a rule takes together
            continue
        if draft is not None:
            return replace(draft, shape=shape.name)
    return None


def _ways(parts: list[Token]) -> list[list[Token]]:
    """Every way to take the parts that may be more than one thing ("honey": a tag, or an additive)."""
    choices: list[list[Token]] = []
    for at, part in enumerate(parts):
        following = parts[at + 1].letter[0] if at + 1 < len(parts) else ""
        letters = part.letter
        if set(letters) >= {"R", "g"}:  # "over" an amount, or an age
            letters = "g" if following == "Y" else "R"
        choices.append([_taken(part, letter) for letter in letters])
    return [list(way) for way in islice(product(*choices), MOST_WAYS)]


def _taken(part: Token, letter: str) -> Token:
    return replace(part, letter=letter, values=(part.values[part.letter.index(letter)],))


def _either(parts: list[Token], known: list[Token]) -> Unread:
    """A word that may mean two things, with the wordings that tell them apart."""
    part = next(part for part in parts if len(part.letter) > 1)
    wordings = {
        "X": "{} oils",
        "D": "additive {}",
        "Q": "{}, the constituent",
        "C": "{}, the colourant",
        "V": "portion {}",
    }
    either = tuple(wordings.get(letter, "{}").format(part.value) for letter in part.letter)
    return replace(_unread([], known), spans=((part.start, part.end),), either=either)


def _joined(parts: list[Token], text: str) -> list[Token]:
    """Names in a list ("lime, litsea and cedar") as one part; words that only carry others left out."""
    found: list[Token] = []
    parts = _rated(parts)
    for at, part in enumerate(parts):
        before = found[-1] if found else None
        following = parts[at + 1].letter if at + 1 < len(parts) else ""
        carries = part.letter == "M" and part.value == "scent rate" and following == "X"
        if part.letter == "&" or (carries and (before is None or before.letter == "N")):
            continue
        if part.letter in "cs" and before is not None and before.letter in "WPVXUE":
            continue
        if part.letter in "cs" and following in ("X" if part.letter == "s" else "V"):
            continue
        if part.letter == "M" and part.value == "portions" and before is not None and before.letter in "WPVX":
            continue  # "light colours"
        if before is not None and part.letter == before.letter and part.letter in "XSPCBUV":
            between = text[before.end : part.start]
            listed = _LISTED.fullmatch(between.replace("-", " "))
            if listed or part.letter == "S":
                span = part.letter == "S" and "to" in between.split()
                found[-1] = _together(before, part, span)
                continue
        found.append(part)
    return _belonging(found)


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
    letter = "O" if re.fullmatch(r"XG[PWV]", letters) else ""
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


def _unread(unknown: list[Token], known: list[Token]) -> Unread:
    letters = "".join(part.letter for part in known)
    nearest = max(SHAPES, key=lambda shape: shape.likeness(letters))
    return Unread(tuple((part.start, part.end) for part in unknown), nearest.name, nearest.example)
