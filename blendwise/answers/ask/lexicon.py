"""The file of wordings as it is read: which words are one, what they speak of, how each question is put."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Final

from blendwise.answers.why.nearness import stem
from blendwise.records.reading.trade_words import SAME

FILE: Final = Path(__file__).with_name("wordings.txt")
WORD, THING, PAIR, TRIGRAM = 1.0, 1.4, 0.9, 0.4
"""How much a word, what it speaks of, two words in a row and three letters count, before their rarity."""
SEVERAL: Final = 0.5
"""How much it counts that several oils, or several cups, are named."""
LITTLE: Final = 0.35
"""How much a word counts that tells little."""
OTHERS, OURS = 1.4, 1.5
"""How much a word of another subject and one of the trade count, beside one that was never heard of."""
MOST_WORDS: Final = 60
SLOTS: Final = ("OIL", "CUP", "POUR", "COLOUR", "PLAN", "AMOUNT")


@dataclass(frozen=True, slots=True)
class Lexicon:
    """``wordings``: question and wording; ``same``: word → the words it is read as; ``alike``: stem → things.

    ``little``, ``asking``: words that tell little; ``ours``, ``others``: of the trade, of other subjects;
    ``crafts``: what others make with the same scents: no question of ours but beside words of ``soap``.
    """

    wordings: list[tuple[str, str]] = field(default_factory=list)
    same: dict[str, list[str]] = field(default_factory=dict)
    alike: dict[str, list[str]] = field(default_factory=dict)
    little: set[str] = field(default_factory=set)
    asking: set[str] = field(default_factory=set)
    ours: set[str] = field(default_factory=set)
    others: set[str] = field(default_factory=set)
    crafts: set[str] = field(default_factory=set)
    soap: set[str] = field(default_factory=set)
    other_stems: set[str] = field(default_factory=set)
    known: dict[str, dict[str, float]] = field(default_factory=dict)

    def words(self, text: str) -> list[str]:
        """The words of a text with those that mean the same made one; slots stay as they are."""
        found: list[str] = []
        for word in split(text)[:MOST_WORDS]:
            found += [word] if word in SLOTS else self.same.get(word.casefold(), [word.casefold()])
        return found

    def features(self, words: Sequence[str]) -> dict[str, float]:
        """What is compared of a text: words, what they speak of, pairs, trigrams; how much each counts."""
        found: dict[str, float] = {}
        before = ""
        for word in words:
            found.update(self.known.get(word) or self._of_word(word))
            now = stem_of(word)
            if before:
                found[f"p {before} {now}"] = PAIR
            before = now
        found |= {f"n {slot}": SEVERAL for slot in ("OIL", "CUP") if words.count(slot) > 1}
        return found

    def _of_word(self, word: str) -> dict[str, float]:
        stemmed = stem_of(word)
        part = LITTLE if word in self.little else 1.0
        found = dict.fromkeys(_grams(stemmed), part * TRIGRAM)
        found[f"w {stemmed}"] = part * WORD
        found |= {f"c {name}": THING for name in self.alike.get(stemmed, ())}
        self.known[word] = found
        return found

    def ours_alone(self, words: Sequence[str]) -> bool:
        """Whether something of the book is named, and nothing of another subject beside it."""
        others = any(self.of_another(word) for word in words)
        return not others and any(word in ("OIL", "CUP", "COLOUR", "POUR") for word in words)

    def of_the_trade(self, words: Sequence[str]) -> bool:
        """Whether a word is of soap making alone, and none of another subject."""
        return any(word in self.ours for word in words) and not any(map(self.of_another, words))

    def of_another(self, word: str) -> bool:
        """Whether a word is of another subject, in whatever form ("baked" as "bake")."""
        if word in SLOTS or word in self.ours or word in self.little:
            return False
        return word in self.others or (
            stem_of(word) in self.other_stems and not self.alike.get(stem_of(word))
        )

    def of_another_craft(self, words: Sequence[str]) -> bool:
        """Whether it is of what others make or mend ("body-oil": two in a row), no word of soap beside."""
        said = {*words, *(f"{one}-{other}" for one, other in pairwise(words))}
        return bool(said & self.crafts) and not said & self.soap

    def strange(self, words: Sequence[str], heard: dict[str, int]) -> bool:
        """Whether it seems to be of another subject: words never ``heard`` here, and none of the trade."""
        said = [word for word in words if word not in self.little and word not in self.asking]
        figures = float(sum(map(str.isdigit, said)))
        figures = ONE_FIGURE if figures == 1 else figures
        said = [word for word in said if not word.isdigit()]
        if not said and not figures:  # words of any question: what it comes nearest to decides
            return False
        if self.of_another_craft(words):
            return True
        ours = sum(word in SLOTS or word in self.ours for word in said)
        others = sum(map(self.of_another, said))
        never = sum(f"w {stem_of(word)}" not in heard and stem_of(word) not in self.alike for word in said)
        odd = never + figures + OTHERS * others - OURS * ours
        return odd >= (len(said) + figures) / 2


ONE_FIGURE: Final = 0.5
"""How much a bare figure alone counts of a word that was never heard; several are a sum."""


def split(text: str) -> list[str]:
    """The words of a text, apostrophes dropped."""
    return re.findall(r"[^\W_]+", text.replace("'", "").replace("’", ""))


@lru_cache(maxsize=8192)
def stem_of(word: str) -> str:
    """A word's stem; a slot is its own."""
    return word if word in SLOTS else stem(word)


def _grams(word: str) -> tuple[str, ...]:
    if word in SLOTS or len(word) < 3:
        return ()
    padded = f"_{word}_"
    return tuple(padded[at : at + 3] for at in range(len(padded) - 2))


def read_lexicon(file: Path = FILE) -> Lexicon:
    """The file of wordings; its own remarks say what each line means."""
    found, question, things = Lexicon(), "", list[tuple[str, str]]()
    found.same.update((said, read.split()) for said, read in SAME.items())
    for line in file.read_text("utf-8").splitlines():
        mark, text = line[:1], line[1:].strip()
        name, _, words = (part.strip() for part in text.partition(":"))
        if mark == "[":
            question = text.strip("]")
        elif mark == "=":
            things.append((name, words))
        elif mark == ">":
            _read_as(found, name, words)
        elif mark in "+-" and mark:
            (found.ours if mark == "+" else found.others).update(text.split())
        elif line.strip() and mark != "#":
            found.wordings.append((question, line.strip()))
    for name, words in things:
        for each in dict.fromkeys(stem_of(word) for text in words.split() for word in found.words(text)):
            found.alike.setdefault(each, []).append(name)
    found.other_stems.update(map(stem_of, found.others))
    return found


def _read_as(found: Lexicon, name: str, words: str) -> None:
    held = {"little": found.little, "asking": found.asking, "crafts": found.crafts, "soap": found.soap}
    held[name].update(words.split())
