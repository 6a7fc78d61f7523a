"""Parts of a sentence as lines of a rule: who is meant, which cups, which months, how much."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.answers.rules.sentences.terms import BROWN, LIGHTNESS, SEASONS
from blendwise.facts.measures.members import SORTS, listed
from blendwise.facts.scales import ACCELERATION, MONTHS
from blendwise.records.book import BookFiles

BY_SORT: Final[Mapping[str, tuple[str, str]]] = {
    "fast": ("acceleration", "at least fast"),
    "seizer": ("acceleration", "at least seizes"),
    "ricer": ("ricing", "at least slight"),
    "slow": ("acceleration", "at most slight"),
    "browner": ("browning power", "at least 0.5 % of the scent"),
    **{word: ("kind", word) for word in SORTS if SORTS[word].measure == "kind"},
    **{f"{note} note": ("scent note", note) for note in ("top", "middle", "base")},
}
"""Sort of oil → the line that a rule on scents or doses says it with."""
assert set(BY_SORT) >= set(SORTS)
assert ACCELERATION[-1] == "seizes"

COLOUR_KINDS: Final = ("mica", "clay", "dye", "pigment", "plant")
OPPOSITE: Final = {"at most": "above", "below": "at least", "at least": "below", "above": "at most"}


class Meaning:
    """The parts of one sentence against a book; ``counts`` gathers what its words count as."""

    def __init__(self, book: BookFiles) -> None:
        self.book = book
        self.counts: dict[str, str] = {}

    def oils(self, token: Token, side: str = "") -> Conditions:
        """Who is meant, as lines on a scent or dose; ValueError where several kinds of words stand mixed."""
        lines: dict[str, list[str]] = {}
        for word in token.values:
            measure, said = self._oil(word)
            lines.setdefault(measure, []).append(said)
        if len(lines) != 1:
            raise ValueError("mixed")
        ((measure, words),) = lines.items()
        if len(words) > 1 and measure not in ("scent", "tags"):
            raise ValueError("mixed")
        return {f"{side}{measure}": words[0] if len(words) == 1 else words}

    def _oil(self, word: str) -> tuple[str, str]:
        if word in BY_SORT:
            self.counts[word] = " ".join(BY_SORT[word])
            return BY_SORT[word]
        if word in self.book.scents:
            return "scent", word
        self.counts[word] = self._tagged(word)
        return "tags", word

    def names(self, token: Token) -> str:
        """Who is meant, as a measure of named oils writes it."""
        for word in token.values:
            if word in BY_SORT and word not in SORTS:  # no measure sums these
                raise ValueError(word)
            self._oil(word)
        return listed(token.values)

    def _tagged(self, tag: str) -> str:
        oils = [name for name, scent in self.book.scents.items() if tag in scent.tags]
        return f"every oil tagged {tag}: {', '.join(oils)}" if oils else f"every oil tagged {tag}"

    def colour(self, token: Token, side: str = "", *, negated: bool = False) -> Conditions:
        """A cup that is white, pale, dark or black (or one of these), by its planned lightness."""
        if token.values == (BROWN,):
            self.counts[BROWN] = "planned to become brown or darker (`may become:`)"
            return {f"{side}planned band": f"{'below' if negated else 'at least'} {BROWN}"}
        if BROWN in token.values:
            raise ValueError("brown and others")
        lines = [LIGHTNESS[value] for value in token.values]
        for value, (relation, limit) in zip(token.values, lines, strict=True):
            self.counts[value] = f"planned lightness {relation} {limit}, before anything browns"
        widest = [
            (relation, pick([limit for each, limit in lines if each == relation]))
            for relation, pick in (("at least", min), ("at most", max))
            if any(each == relation for each, _ in lines)
        ]
        said = [
            {f"{side}planned lightness": f"{_turned(r) if negated else r} {limit}"} for r, limit in widest
        ]
        if len(said) == 1:
            return said[0]
        if negated or side:
            raise ValueError("light and dark")
        return {"any of": said}

    def colourants(self, token: Token, side: str = "", *, negated: bool = False) -> Conditions:
        """Colourants by name, or by kind; ValueError where both stand mixed."""
        kinds = [value in COLOUR_KINDS and value not in self.book.colourants for value in token.values]
        if any(kinds) and not all(kinds):
            raise ValueError("mixed")
        measure = f"{side}{'colourant kinds' if all(kinds) else 'colourants'}"
        words = list(token.values)
        return {measure: {"none of": words} if negated else _one_or(words) if side else words}

    def place(self, token: Token, *, negated: bool = False) -> Conditions:
        """Where a cup comes to lie."""
        if token.value in ("outer", "inner"):
            self.counts[token.value] = "lies"
        return {"place": {"none of": list(token.values)} if negated else _one_or(token.values)}

    def months(self, token: Token) -> list[str]:
        """The months that are named; seasons are those of the north, and said to be."""
        self.counts["months"] = "of the day of pouring"
        found: list[str] = []
        for word in token.values:
            if word in SEASONS:
                self.counts[word] = f"{', '.join(SEASONS[word])}; say the months where yours are others"
            found += SEASONS.get(word, (word,))
        return found


def _one_or(values: Sequence[str]) -> str | list[str]:
    return values[0] if len(values) == 1 else list(values)


def _turned(relation: str) -> str:
    return OPPOSITE[relation]


def span_of_months(first: str, last: str) -> tuple[str, ...]:
    """The months from one to another, over the turn of the year too."""
    start, end = MONTHS.index(first), MONTHS.index(last)
    return tuple(MONTHS[(start + k) % 12] for k in range((end - start) % 12 + 1))
