"""From a maker's words to conditions: ``at least 1.2 × minutes needed``, ``one of amine or aldehyde``.

The grammar is closed and nothing is ever evaluated: each text is matched against the words of
``conditions.RELATIONS``, then its rest is read as an amount, a word of the measure's scale, or the name
of another measure with a factor.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from blendwise.facts.columns import Vocabulary, Word
from blendwise.facts.scales import MONTHS
from blendwise.judge.conditions.conditions import (
    ANY_OF,
    KNOWING,
    RELATIONS,
    RELATIONS_OF,
    Atom,
    Condition,
    Limit,
)
from blendwise.judge.conditions.limits import (
    LONGEST_TEXT,
    ConditionError,
    Steps,
    find_word,
    kind_of,
    read_limit,
    short,
    suggest,
    what_may_stand,
)

MOST_ATOMS: Final = 40
_LONGEST_FIRST = "|".join(sorted(RELATIONS, key=len, reverse=True))
_RELATION: Final = re.compile(rf"({_LONGEST_FIRST})(?:\s+(.*))?", re.DOTALL)


@dataclass
class Reader:
    """Reads the conditions of one rule; ``errors`` gathers everything wrong, so that all is said at once."""

    vocabulary: Vocabulary
    grain: str
    line_of: Callable[[Steps], int] = lambda _: 0
    errors: list[ConditionError] = field(default_factory=list)

    def condition(self, raw: Mapping[str, object], path: Steps) -> Condition:
        """Read a ``when`` or a ``must``; what cannot be read is left out and stands in ``errors``."""
        atoms = self._atoms({key: text for key, text in raw.items() if key != ANY_OF}, path)
        condition = Condition(atoms, self._branches(raw[ANY_OF], (*path, ANY_OF)) if ANY_OF in raw else ())
        if sum(1 for _ in condition) > MOST_ATOMS:
            self.errors.append(
                ConditionError(f"More than {MOST_ATOMS} lines in one condition.", "Split the rule.", path)
            )
        self.errors += circles(condition, path)
        return condition

    def _branches(self, raw: object, path: Steps) -> tuple[tuple[Atom, ...], ...]:
        if not isinstance(raw, Sequence) or isinstance(raw, str) or not raw:
            self.errors.append(ConditionError('"any of" needs a list.', "Write `any of: [{…}, {…}]`.", path))
            return ()
        return tuple(self._branch(branch, (*path, i)) for i, branch in enumerate(raw))

    def _branch(self, raw: object, path: Steps) -> tuple[Atom, ...]:
        if not isinstance(raw, Mapping) or not raw:
            self.errors.append(
                ConditionError(
                    "An entry of `any of` is not a measure with what it must be.",
                    "Write it like `{contrast: at least 8}`.",
                    path,
                )
            )
            return ()
        if ANY_OF in raw:
            self.errors.append(
                ConditionError("`any of` inside `any of`.", "Only one level; write two rules.", path)
            )
            return ()
        return self._atoms(raw, path)

    def _atoms(self, raw: Mapping[str, object], path: Steps) -> tuple[Atom, ...]:
        read = (self._atom(measure, text, (*path, measure)) for measure, text in raw.items())
        return tuple(atom for atom in read if atom is not None)

    def _atom(self, measure: str, raw: object, path: Steps) -> Atom | None:
        try:
            word = find_word(measure, self.grain, self.vocabulary)
            return read_atom(word, raw, self.vocabulary, self.grain, self.line_of(path))
        except ConditionError as error:
            self.errors.append(ConditionError(error.message, error.remedy, path))
            return None


def circles(condition: Condition, path: Steps) -> Iterator[ConditionError]:
    """Measures that are held against one another in a circle, each circle said once, at its first line."""
    against = {atom.measure: atom.limit_measures for atom in condition.atoms}
    done: set[str] = set()
    for first in against:
        chain = _back_to(first, against)
        if chain and done.isdisjoint(chain):
            done.update(chain)
            names = ", ".join(f'"{name}"' for name in chain)
            message = f"{names} are held against one another in a circle."
            remedy = f'Hold all of them against one, as in "between 0.8 × {first} and 1.2 × {first}".'
            yield ConditionError(message, remedy, (*path, first))


def _back_to(first: str, against: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """A way from a measure over the measures of its limits back to itself; empty if there is none."""
    ways: list[tuple[str, ...]] = [(first,)]
    seen = set()
    while ways:
        way = ways.pop()
        for following in against.get(way[-1], ()):
            if following == first:
                return way
            if following not in seen:
                seen.add(following)
                ways.append((*way, following))
    return ()


def read_atom(word: Word, raw: object, vocabulary: Vocabulary, grain: str, line: int = 0) -> Atom:
    """Read what is said of one measure.

    ``raw`` is a text ("at most 4 %"), a list of words (one of them), or ``{"none of": [...]}``.
    Raises ConditionError with the allowed words.
    """
    relation, rest = _split(word, raw)
    if relation not in RELATIONS_OF[word.kind]:
        allowed = ", ".join(RELATIONS_OF[word.kind])
        raise ConditionError(
            f'"{relation}" cannot be said of "{word.name}" ({kind_of(word)}).', f"Allowed: {allowed}."
        )
    if relation in KNOWING:
        _nothing_after(relation, rest)
        return Atom(word, relation, line=line)
    if relation == "between":
        return Atom(word, relation, _ends(word, rest, vocabulary, grain), line=line)
    if relation in ("one of", "none of") or word.kind == "set":
        return Atom(word, relation, words=_words(word, rest, relation), line=line)
    return Atom(word, relation, (read_limit(word, rest, vocabulary, grain),), line=line)


def _split(word: Word, raw: object) -> tuple[str, str | tuple[str, ...]]:
    """Relation and the rest of the text; a list is ``one of``, a bare word of the scale is ``is``."""
    if isinstance(raw, Mapping) and len(raw) == 1:
        ((relation, words),) = raw.items()
        if relation in ("one of", "none of") and _is_words(words):
            return str(relation), tuple(words)
    if _is_words(raw):
        return "one of", tuple(raw)  # type: ignore[arg-type]
    if not isinstance(raw, str):
        raise ConditionError(
            f'What is said of "{word.name}" is not a text or a list of words.', what_may_stand(word)
        )
    text = " ".join(raw.split())
    if len(text) > LONGEST_TEXT:
        raise ConditionError(
            f'"{short(text)}" is {len(text)} characters long.', f"At most {LONGEST_TEXT} may stand here."
        )
    match = _RELATION.fullmatch(text)
    if match is not None:
        return match[1], (match[2] or "").strip()
    if word.scale == MONTHS and (months := _months(text)):
        return "one of", months
    if word.kind != "number" and (word.scale is None or text in word.scale):
        return "is", text
    raise ConditionError(f'"{text}" does not say how "{word.name}" should stand.', what_may_stand(word))


def _months(text: str) -> tuple[str, ...]:
    """The months from one to another, over the turn of the year too: "November to February"."""
    first, to, last = text.partition(" to ")
    if not to or first not in MONTHS or last not in MONTHS:
        return ()
    start, count = MONTHS.index(first), (MONTHS.index(last) - MONTHS.index(first)) % len(MONTHS) + 1
    return tuple(MONTHS[(start + k) % len(MONTHS)] for k in range(count))


def _is_words(raw: object) -> bool:
    return isinstance(raw, list | tuple) and bool(raw) and all(isinstance(word, str) for word in raw)


def _nothing_after(relation: str, rest: object) -> None:
    if rest:
        raise ConditionError(
            f'"{relation}" stands alone, but "{rest}" follows it.', f"Write only `{relation}`."
        )


def _ends(word: Word, rest: str | tuple[str, ...], vocabulary: Vocabulary, grain: str) -> tuple[Limit, Limit]:
    parts = re.split(r"\s+and\s+", rest, maxsplit=1) if isinstance(rest, str) else []
    if len(parts) != 2:
        raise ConditionError('"between" needs two ends.', "Write `between … and …`.")
    tail = re.search(r"[^\d.]*$", parts[1])
    first = parts[0] + tail[0] if re.fullmatch(r"-?[\d.]+", parts[0]) and tail else parts[0]
    low, high = (read_limit(word, part, vocabulary, grain) for part in (first, parts[1]))
    if not (low.measure or high.measure) and low.value > high.value:
        raise ConditionError(
            f'"between {rest}" runs backwards and can never be true.', "Write the lower end first."
        )
    return low, high


def _words(word: Word, rest: str | tuple[str, ...], relation: str) -> tuple[str, ...]:
    words = _list(rest, relation) if isinstance(rest, str) else rest
    if not words or not all(words):
        raise ConditionError(f'No word follows "{relation}".', what_may_stand(word))
    for each in words:
        if word.scale is not None and each not in word.scale:
            raise ConditionError(
                f'"{short(each)}" is not a word for "{word.name}".', suggest(each, word.scale)
            )
    return tuple(dict.fromkeys(words))


def _list(text: str, relation: str) -> tuple[str, ...]:
    if relation in ("is", "is not"):
        return (text,) if text else ()
    inner = text[1:-1] if text.startswith("[") and text.endswith("]") else text
    return tuple(part.strip() for part in re.split(r",|\s+or\s+", inner))
