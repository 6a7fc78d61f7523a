"""A book's own words beside the trade's, and a sentence cut into them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import Final, NamedTuple

from blendwise.answers.rules.sentences.amounts import amount_at
from blendwise.answers.rules.sentences.terms import FILLERS, MEASURES, SEASONS, TERMS, is_adverb
from blendwise.facts.scales import MONTHS
from blendwise.quantity.typed import TYPED
from blendwise.records.book import BookFiles
from blendwise.records.place import RecordError
from blendwise.records.reading.nodes import decode, parse_nodes, read_bytes
from blendwise.records.reading.trade_words import SAME
from blendwise.science.constituents import constituents
from blendwise.science.substances import substances

_WORD: Final = re.compile(rf"\bw/o?(?![^\W\d_])|[^\W\d_]+(?:'[^\W\d_]+)?|{TYPED}|[<>]=?|[%°≤≥]", re.UNICODE)
_SPAN: Final = re.compile(r"(?<=[\d%°CF])-(?=[.,]?\d)(?!\d+[/⁄])")
VERBS: Final = frozenset({"may", "march", "fall"})
_TIMED: Final = re.compile(
    r"(?:\b(?:in|from|to|until|till|through|since|during|every|each)(?: the| early| late| last)?"
    r"|\b(?:january|february|march|april|june|july|august|september|october|november|december)"
    r"(?:\s*,)?(?: and| or)?)$",
    re.IGNORECASE,
)
LONGEST: Final = 9
"""Words of the longest wording."""
SHORTEST_ALONE: Final = 4
"""Letters of a word that may stand alone for the name it is part of."""
OF_CUPS: Final = "WP"
"""Letters of words for cups at large, which a cup of that name may bear too."""
CALLED: Final = (
    "portion", "portion called", "portion named", "portion I call", "cup called", "cup named", "cup I call",
    "one I call",
)  # fmt: skip
NAMING: Final = "XCBDQUVWPSMFz"
"""Letters of words that name an oil, a colour, a cup, a pour, a time or a measure."""
LONG: Final = 8
"""Letters of a word that may hold two slips."""
MOST: Final = 300
"""Letters of a sentence that are read."""


@dataclass(frozen=True, slots=True)
class Token:
    """A part of a sentence: its letter, its values, and where it stands."""

    letter: str
    values: tuple[str, ...]
    start: int
    end: int

    @property
    def value(self) -> str:
        return self.values[0]


Key = tuple[str, ...]


def key_of(text: str) -> Key:
    """A wording as it is looked up: its words in small letters, hyphens aside."""
    plain = text.replace(" ", "").replace("'", "")
    if plain.isascii() and plain.isalpha():  # most are: no need to look for figures and signs
        return tuple(text.casefold().split())
    return tuple(word.casefold().replace("’", "'") for word in _WORD.findall(text.replace("’", "'")))


@dataclass(frozen=True)
class Lexicon:
    """Wordings → (letter, value), the book's own names before the trade's words."""

    own: Mapping[Key, tuple[tuple[str, str], ...]]
    named: frozenset[str] = frozenset()
    """Every word of the book's own names."""

    @cached_property
    def entries(self) -> dict[Key, list[tuple[str, str]]]:
        found: dict[Key, list[tuple[str, str]]] = {}
        for key, entries in self.own.items():
            found.setdefault(key, []).extend(entries)
        for key, letter, value in _terms():
            found.setdefault(key, []).append((letter, value))
        return found

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word of every wording."""
        return frozenset(word for key in self.entries for word in key) | FILLERS

    @cached_property
    def names(self) -> frozenset[str]:
        """Every word that only names something; a misspelt word that binds a sentence is never guessed."""
        binding = {key[0] for key, letter, _ in _terms() if letter not in NAMING and len(key) == 1} | FILLERS
        named = {
            word for key, entries in self.entries.items() if entries[0][0] in f"{NAMING}R" for word in key
        }
        return frozenset(named - binding)

    def nearest(self, word: str) -> str:
        """The one known name that a slip of the pen makes into this word; nothing where none is near."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if word.casefold() in self.words:  # a part of a name, the rest of which is misspelt
            return word
        if len(word) <= SHORTEST_ALONE:
            return ""
        slips = 1 if len(word) < LONG else 2
        near = process.extract(
            word.casefold(), sorted(self.names), scorer=OSA.distance, score_cutoff=slips, limit=2
        )
        return str(near[0][0]) if near and (len(near) == 1 or near[0][1] < near[1][1]) else ""

    def at(self, words: tuple[str, ...]) -> list[tuple[str, str]]:
        """What a run of words may be, its last word in the plural too."""
        found = self.entries.get(words) or self.entries.get(tuple(map(self._read, words)))
        if found is None and words and words[-1].endswith("s"):
            last = words[-1]
            singles = (last[:-1], last[:-2], last[:-3] + "y" if last.endswith("ies") else "")
            found = next(
                (self.entries[k] for one in singles if (k := (*words[:-1], one)) in self.entries), None
            )
        return found or []

    def _read(self, word: str) -> str:
        """The trade's word for one that means the same, where the word has no part of its own here."""
        if word.endswith("'s") and (word[:-2],) in self.entries:  # "the room's over 25 °C"
            return word[:-2]
        return word if word in FILLERS or (word,) in self.entries else SAME.get(word, word)


class _Named(NamedTuple):
    """The names of a book: of its oils with their tags, and of its pours with what else they are called."""

    scents: tuple[tuple[str, tuple[str, ...]], ...]
    colourants: tuple[str, ...]
    oils: tuple[str, ...]
    pours: tuple[tuple[str, ...], ...]
    portions: tuple[str, ...]


def lexicon_of(book: BookFiles) -> Lexicon:
    """All names of a book as a sentence may say them; made once for the same names."""
    scents = tuple((name, tuple(scent.tags)) for name, scent in book.scents.items())
    pours = tuple((pour.name, *pour.also_called) for pour in book.pours.values())
    return _lexicon(
        _Named(scents, tuple(book.colourants), tuple(book.oils), pours, portion_names(book)),
    )


@lru_cache(maxsize=4)
def _lexicon(book: _Named) -> Lexicon:
    own: dict[Key, dict[str, str]] = {}
    for letter, names in _names(book):
        for said, value in names:
            own.setdefault(key_of(said), {}).setdefault(letter, value)
    named = frozenset(word for key in own for word in key) - FILLERS
    shelf = {key_of(name) for name in (*(name for name, _ in book.scents), *book.colourants)}
    for key, letter, value in _of_the_trade():
        if letter == "D" and key in shelf:  # what is on the shelf, rather than a powder that is on none
            continue
        own.setdefault(key, {}).setdefault(letter, value)
    for key, oil in _alone(book, own):
        own.setdefault(key, {"X": oil})
    return Lexicon({key: tuple(entries.items()) for key, entries in own.items()}, named)


def _alone(book: _Named, own: Iterable[Key]) -> Iterator[tuple[Key, str]]:
    """A word of one oil's name that stands nowhere else, for that oil: "litsea" for "Litsea Bright"."""
    taken = {word for key in own for word in key if len(key) == 1} | FILLERS
    taken |= {word for key, _, _ in _terms() for word in key}
    scents = dict(book.scents)
    named = [(name, set(key_of(name))) for name in (*scents, *book.colourants, *book.oils)]
    yield from _beginnings(scents, [key_of(name) for name, _ in named])
    count = Counter(word for _, words in named for word in words)
    for name, words in named:
        if name in scents:
            for word in words - taken:
                if count[word] == 1 and len(word) >= SHORTEST_ALONE:
                    yield (word,), name


def _beginnings(scents: Iterable[str], named: list[Key]) -> Iterator[tuple[Key, str]]:
    """The first words of one name alone, two or more: "sea glass" for "Sea Glass Cove"."""
    told = {key for key, _, _ in _terms()}
    for name in scents:
        words = key_of(name)
        for count in range(2, len(words)):
            key = words[:count]
            if key not in told and sum(other[:count] == key for other in named) == 1:
                yield key, name


def portion_names(book: BookFiles) -> tuple[str, ...]:
    """The names of the portions in all plans of the book; plans that cannot be read are left out."""
    return _named_in(tuple((path, path.stat().st_mtime_ns) for path in book.plan_paths()))


@lru_cache(maxsize=4)
def _named_in(plans: tuple[tuple[Path, int], ...]) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for path, _ in plans:
        try:
            plain = parse_nodes(decode(read_bytes(path), path), path).plain
        except RecordError:
            continue
        portions = plain.get("portions") if isinstance(plain, dict) else None
        for each in portions if isinstance(portions, list) else ():
            if isinstance(each, dict) and isinstance(each.get("name"), str):
                found.setdefault(each["name"])
    return tuple(found)


def _names(book: _Named) -> Iterator[tuple[str, Iterable[tuple[str, str]]]]:
    """Letter → (wording, value), the nearest to a maker's hand first."""
    yield "X", ((name, name) for name, _ in book.scents)
    yield "X", ((tag, tag) for _, tags in book.scents for tag in tags)
    yield "C", ((name, name) for name in book.colourants)
    yield "B", ((said, name) for name in book.oils for said in (name, f"{name} oil", f"{name} butter"))
    for called in book.pours:
        yield "U", ((said, called[0]) for each in called for said in (each, f"{each} pour"))
    yield "X", ((f"{tag} oil", tag) for _, tags in book.scents for tag in tags)
    yield "X", ((f"{name} oil", name) for name, _ in book.scents)
    yield "C", ((f"colourant {name}", name) for name in book.colourants)
    told = {key for key, letter, _ in _terms() if letter not in OF_CUPS + "C"}
    for name in book.portions:
        alone = () if key_of(name) in told or set(key_of(name)) <= FILLERS else ((name, name),)
        yield (
            "V",
            (*alone, *((f"the {name}", name) for _ in alone), *((f"{cup} {name}", name) for cup in CALLED)),
        )


@cache
def _terms() -> tuple[tuple[Key, str, str], ...]:
    """(wording, letter, value) of every term of the trade's table."""
    return tuple((key_of(said), term.letter, term.value) for term in TERMS for said in term.said)


@cache
def _of_the_trade() -> tuple[tuple[Key, str, str], ...]:
    """(wording, letter, value) of what has its name in any book: additives, constituents, months."""
    measured = {said for term in MEASURES for said in term.said}
    additives = [each.name for each in substances()]
    named = [
        *(("D", name, name) for name in additives if name not in measured),
        *(("D", f"additive {name}", name) for name in additives),
        *(
            ("Q", said, each.name.casefold())
            for each in constituents()
            if each.kind != "whole oil"
            for said in (each.name, f"constituent {each.name}")
        ),
        *(("S", name, name) for name in (*MONTHS, *SEASONS)),
        *(("S", name[:3], name) for name in MONTHS if name != "May"),
        ("S", "Sept", "September"),
    ]
    return tuple((key_of(said), letter, value) for letter, said, value in named)


def tokens(sentence: str, lexicon: Lexicon) -> list[Token]:
    """A sentence cut into its longest known parts; ``?`` for a word that nobody knows, fillers left out."""
    text = _SPAN.sub("–", sentence.replace("’", "'")).replace("-", " ")
    words = [word for word in _WORD.finditer(text) if not is_adverb(word[0].casefold())]
    found: list[Token] = []
    at = 0
    while at < len(words):
        token, count = _longest(text, words, at, lexicon)
        if token is not None:
            found.append(token)
        at += count
    return found


def _is_season(text: str, word: re.Match[str]) -> bool:
    """Whether "may", "march" or "fall" is the time of year: by a word before it, or a capital within."""
    before = text[: word.start()].rstrip()
    if re.match(r" (?:only|scents?|months|season)\b", text[word.end() :], re.IGNORECASE):
        return True
    return _TIMED.search(before) is not None or bool(before and word[0][0].isupper())


def _longest(text: str, words: list[re.Match[str]], at: int, lexicon: Lexicon) -> tuple[Token | None, int]:
    """The part that begins at a word, and how many words it takes."""
    start = words[at].start()
    amount = amount_at(text, start)
    taken = sum(1 for word in words[at:] if amount is not None and word.start() < amount.end)
    for count in range(min(LONGEST, len(words) - at), max(taken, 1) - 1, -1):
        run = words[at : at + count]
        key = tuple(word[0].casefold() for word in run)
        entries = lexicon.at(key)
        if count == 1 and key[0] in VERBS:
            season = _is_season(text, run[0])
            entries = [entry for entry in entries if (entry[0] == "S") == season]
        if entries and not (count == 1 and key[0] in FILLERS and entries[0][0] in "ct"):
            if entries[0][0] == "-":  # carries nothing as a whole
                return None, count
            by_letter: dict[str, str] = {}
            for letter, value in entries:
                by_letter.setdefault(letter, value)
            return Token("".join(by_letter), tuple(by_letter.values()), start, run[-1].end()), count
    if amount is not None:
        return Token(amount.letter, (amount.text,), start, amount.end), taken
    said = words[at][0].casefold()
    if said in FILLERS or SAME.get(said) in FILLERS:
        return None, 1
    return Token("?", (words[at][0],), start, words[at].end()), 1
