"""A sentence read against the shapes that are known: a controlled language, never a guess.

Every word must have its part; what has none is handed back, with the nearest shape.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice, product
from typing import Final

from blendwise.answers.rules.sentences.amounts import DEGREES, in_degrees
from blendwise.answers.rules.sentences.draft import SUBJECTS, Draft, Unread, UnsureError
from blendwise.answers.rules.sentences.fitting.nearest import nearest_to
from blendwise.answers.rules.sentences.fitting.table import SHAPES
from blendwise.answers.rules.sentences.halving import conditions_of, lead, subject, two_rules
from blendwise.answers.rules.sentences.heard import STRICT, Heard
from blendwise.answers.rules.sentences.joining.lists import joined
from blendwise.answers.rules.sentences.lexicon import MOST, Lexicon, Token, lexicon_of, tokens
from blendwise.answers.rules.sentences.normal import plainer
from blendwise.answers.rules.sentences.parts import BY_SORT, Meaning
from blendwise.answers.rules.sentences.plain import is_plain, read_plain
from blendwise.answers.rules.sentences.reasons.asides import (
    may_demand,
    tells,
    unclear_in,
    without_asides,
    without_chatter,
)
from blendwise.answers.rules.sentences.reasons.beyond import beyond_words, made_colour
from blendwise.answers.rules.sentences.reasons.clauses import Clauses, Told, clauses, halves, reasons_before
from blendwise.answers.rules.sentences.reasons.effects import without_effects
from blendwise.answers.rules.sentences.terms import BROWN
from blendwise.quantity.typed import NEGATIVE
from blendwise.records.book import BookFiles

ONE_UNIT: Final = (
    (frozenset({"batter temperature", "room temperature"}), DEGREES),
    (frozenset({"superfat", "lye concentration", "B"}), "%"),
)
"""Measures of which a bare figure can only be of one unit."""
VAGUE: Final = {
    "warm": (
        ("batter at most 32 °C", "when the room is above 26 °C"),
        ("batter at most 90 °F", "when the room is above 80 °F"),
    ),
    "much": (("at most 2 % of portion oils",), ("at most 0.3 oz ppo of portion oils",)),
    "little": (("at most 0.5 % of portion oils",), ("at most 0.1 oz ppo of portion oils",)),
    "soon": (("before minute 8", "after minute 12"),) * 2,
    "spoon": (("at most 0.5 % of portion oils",), ("at most 0.1 oz ppo of portion oils",)),
    "old": (("older than 12 months", "older than 2 years"),) * 2,
}
"""Word that is no figure → what to say in its place, in a book of grams and in one of ounces."""
MOST_WAYS: Final = 16
OF_A_DEMAND: Final = "AHJIY#"
"""Parts that no reason before a demand may hold: they would be lost."""
OF_A_REASON: Final = f"{SUBJECTS}?NwL~hvT&"
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


_TOLD_OF_IT: Final = re.compile(r"\s*(?:it|they|this|that|these)\b[^,;:.]*[,;:.]?\s*\bso\b", re.IGNORECASE)
_THEM: Final = re.compile(r"\b(?:them|they|these|both|the two)\b", re.IGNORECASE)
"""Words for all that was named before."""


def read_sentence(sentence: str, book: BookFiles, basis: str = "") -> Draft | Unread:
    """The rule that a sentence says; what was not understood where it says none.

    ``basis``: what a rate is of, where the sentence does not say (one of ``draft.BASES``).
    """
    found = rule_in_words(sentence, book, basis)
    if isinstance(found, Unread) and not found.nearest:
        text, lexicon = sentence[:MOST], lexicon_of(book)
        shape, like = nearest_to(tokens(text, lexicon), book, lexicon)
        return replace(found, nearest=shape, example=like)
    return found


def rule_in_words(sentence: str, book: BookFiles, basis: str = "") -> Draft | Unread:
    """The rule that a sentence says, without looking for what it is most like where it says none."""
    text = sentence[:MOST]
    if is_plain(text):
        return read_plain(text)
    if minus := NEGATIVE.search(text):  # a sign that no part of the sentence would take up
        return Unread((minus.span(),), "", "")
    text, chatter = without_chatter(text)
    found = replace(_in_words(text, book, basis), aside=chatter)
    if isinstance(found, Draft) or found.alone or found.either or found.figures:
        return found
    return _beside_asides(text, chatter, found, book, basis)


def _beside_asides(
    text: str, chatter: tuple[str, ...], found: Unread, book: BookFiles, basis: str
) -> Draft | Unread:
    """The rule that is left once what tells why is set aside; asked where that is not sure."""
    beside, aside = without_asides(text, lexicon_of(book))
    if not aside or not beside.strip(" ,;.:!"):
        return _perhaps_why(text, book, basis) or found
    other = _in_words(beside, book, basis)
    read = isinstance(other, Draft) or other.alone or other.either or other.figures
    return replace(other, aside=(*chatter, *aside)) if read else found


def _perhaps_why(text: str, book: BookFiles, basis: str) -> Unread | None:
    """The question whether a clause is only a reason, where all else of a sentence is a rule."""
    lexicon = lexicon_of(book)
    for start, end in unclear_in(text, lexicon):
        rest = f"{text[:start]}{' ' * (end - start)}{text[end:]}".rstrip(" ,;.-–—")
        if isinstance(_in_words(rest, book, basis), Draft):
            clause = text[start:end].strip(" ,;:.!()–—-")
            at = text.index(clause, start)
            way = f"{' '.join(rest.split())} because {clause}"
            return replace(_unread([]), spans=((at, at + len(clause)),), either=(way,))
    return None


def _in_words(text: str, book: BookFiles, basis: str) -> Draft | Unread:
    """The rule that a sentence says, every word of it accounted for."""
    text = plainer(text)
    said = clauses(text)
    lexicon = lexicon_of(book)
    if text.rstrip().endswith("?"):  # a question is no rule
        return _unread([])
    if beyond := beyond_words(text) or made_colour(tokens(text, lexicon), text):
        return replace(_unread([]), spans=(beyond,))
    told = _TOLD_OF_IT.match(
        said.core
    )  # "it goes brown, so …" is of what was said before, of which we know not
    found = _unread([]) if told else _read(said.core, book, lexicon, basis)
    if isinstance(found, Unread):
        found = (
            two_rules(said.core, lexicon, found, lambda text: _read(text, book, lexicon, ""))
            or _reasoned(said.core, book, lexicon, basis)
            or (_reasoned(text, book, lexicon, basis) if said.reason and not said.level else None)
            or _respelt(said.core, book, lexicon, basis)
            or found
        )
    elif not said.marked and may_demand(said.reason, lexicon) and not _demanded(said, book, lexicon):
        at = text.rindex(said.reason)
        return replace(_unread([]), spans=((at, at + len(said.reason)),))
    elif second := _demanded(said, book, lexicon):
        return Unread((), found.shape, "", alone=(said.core.strip(" ,"), second))
    if isinstance(found, Unread):
        return found
    if said.level and (way := _warned_of(found, said.core, lexicon)):
        return replace(_unread([]), either=way)
    return replace(found, level=said.level or ("hint" if said.hinted else found.level))


def _warned_of(found: Draft, core: str, lexicon: Lexicon) -> tuple[str, ...]:
    """ "stop: superfat below 3 %" may forbid it, or ask for it."""
    parts = tokens(core, lexicon)
    strict = [part.value for part in parts if "R" in part.letter and part.value in STRICT]
    if not strict or any(part.letter in ("N", "O", "e", "v") for part in parts) or len(found.must) != 1:
        return ()
    return f"never {strict[0]} …", f"always {strict[0]} …"


def reason_in(sentence: str, book: BookFiles) -> str:
    """What a sentence says after "because", before "so", or beside its demand; nothing where none."""
    if is_plain(sentence):
        return ""
    (text, chatter), lexicon = without_chatter(sentence[:MOST]), lexicon_of(book)
    aside: tuple[str, ...] = ()
    if isinstance(_in_words(text, book, ""), Unread):
        text, aside = without_asides(text, lexicon)
    return "; ".join(filter(None, (*chatter, *aside, _reason_in(text, book, lexicon))))


def _reason_in(text: str, book: BookFiles, lexicon: Lexicon) -> str:
    said = clauses(text)
    if not isinstance(_read(said.core, book, lexicon, ""), Unread):
        return said.reason
    before = (told.text for core in (said.core, text) for told, _ in _demands(core, book, lexicon, ""))
    return next(before, said.reason)


def _demanded(said: Clauses, book: BookFiles, lexicon: Lexicon) -> str:
    """A demand of its own behind a reason, which may not be lost; with its subject where it names none."""
    for _, second in halves(said.reason):
        parts, before = tokens(second, lexicon), tokens(said.core, lexicon)
        first = lead(said.core, before)
        if first and not conditions_of(second, lexicon):
            second = f"{first} {second}"
        carried = f"{subject(said.core, before)} {second}"
        if any(isinstance(_read(text, book, lexicon, ""), Draft) for text in (carried, second)):
            return carried if not subject(second, parts) else second
        if parts and parts[0].letter in ("N", "O", "R"):
            return second
    return ""


def _reasoned(core: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | None:
    """The rule behind a reason that comes first: "it riced in the cup, so lime goes last"."""
    return next((draft for _, draft in _demands(core, book, lexicon, basis)), None)


def _demands(core: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Iterator[tuple[Told, Draft]]:
    for told in reasons_before(core):
        parts = tokens(without_effects(core[: told.begins]), lexicon)
        letters = {letter for part in parts for letter in part.letter}
        open_words = "?" in letters or without_effects(told.text) != told.text
        told_so = letters <= set(OF_A_REASON) and (tells(told.text) if open_words else "~" in letters)
        if letters & set(OF_A_DEMAND) or not (told.sure or told_so):
            continue
        demand = core[told.begins :]
        subjects = {
            core[p.start : p.end] for p in parts if p.letter in tuple(SUBJECTS) and p.value not in BY_SORT
        }
        named = any(set(part.letter) <= set(SUBJECTS) for part in tokens(demand, lexicon))
        if not named and (len(subjects) == 1 or _THEM.search(demand)):
            demand = f"{subject(core, [p for p in parts if p.value not in BY_SORT])} {demand}"
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


def _read(text: str, book: BookFiles, lexicon: Lexicon, basis: str) -> Draft | Unread:
    parts = _in_degrees(tokens(text, lexicon), book)
    unknown = [part for part in parts if part.letter == "?"]
    known = [part for part in parts if part.letter != "?"]
    if unknown or not known:
        return _unread(unknown)
    if vague := [part for part in parts if part.letter == "~"]:
        figures = VAGUE["warm" if vague[0].value == "cool" else vague[0].value][book.usual.units.mass == "oz"]
        spans = tuple((part.start, part.end) for part in vague)
        return replace(_unread([]), spans=spans, figures=figures)
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
            return _either(parts)
        if found:
            return next(iter(found.values()))
    return replace(_unread([]), either=unsure)


def _in_degrees(parts: list[Token], book: BookFiles) -> list[Token]:
    """Bare figures with the one unit they can have; temperatures in degrees alone as the book's own.

    A word that nobody knows where they can hardly be that.
    """
    found = []
    only = {part.value for part in parts if part.letter == "M"} | {
        part.letter for part in parts if part.letter in "BcszTI"
    }
    unit = next((said for measures, said in ONE_UNIT if only and only <= measures), "")
    for part in parts:
        if part.letter == "#" and unit:
            part = replace(part, letter="A" if unit == "%" else "H", values=(f"{part.value} {unit}",))
        if part.letter == "H" and DEGREES in part.value:
            said = in_degrees(part.value, book.usual.units.temperature)
            part = replace(part, values=(said,)) if said else replace(part, letter="?", values=(part.value,))
        found.append(part)
    return found


def _joined(way: list[Token], text: str) -> list[Token]:
    """The parts put together; none where nothing is demanded."""
    try:
        return joined(way, text)
    except UnsureError:
        raise
    except ValueError:
        return []


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
        if "V" in letters and BROWN in part.values:  # a cup called so is that cup
            letters = letters.replace("W", "")
        if "V" in letters and set(letters) & set(COLOURS_AND_PLACES):
            letters = "V" if own_cups else letters.replace("V", "")
        choices.append([_taken(part, letter) for letter in letters])
    return [list(way) for way in islice(product(*choices), MOST_WAYS)]


def _taken(part: Token, letter: str) -> Token:
    if len(part.letter) == 1:
        return part
    return replace(part, letter=letter, values=(part.values[part.letter.index(letter)],))


def _either(parts: list[Token]) -> Unread:
    """A word that may mean two things, with the wordings that tell them apart."""
    part = next(part for part in parts if len(part.letter) > 1)
    either = tuple(
        WORDINGS.get(letter, "{}").format(value)
        for letter, value in zip(part.letter, part.values, strict=True)
    )
    return replace(_unread([]), spans=((part.start, part.end),), either=either)


def _unread(unknown: list[Token]) -> Unread:
    """What was not understood; the example most like it is looked for once, at the end."""
    return Unread(tuple((part.start, part.end) for part in unknown), "", "")
