"""Texts bent with a knowledge of their structure: a figure, a unit, a key, a branch, or any stretch of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from random import Random
from typing import Final

import yaml

from blendwise.records.reading.record import spelt

FIGURE: Final = re.compile(r"\d+(?:\.\d+)?")
UNIT: Final = re.compile(r"(?<=\d) ?(%|g|kg|oz|lb|°C|°F|min|cm|in|mL|tsp)(?![\w%])")
UNITS: Final = ("%", "g", "kg", "oz", "lb", "°C", "°F", "min", "cm", "in", "mL", "tsp")
LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
ODD: Final = (
    "", "~", "null", "nan", "inf", "-inf", "-1 %", "0", "0 %", "0 g", "1e309 g", "1e-320 %", "1e9 g",
    "½", "1/0", "0/0", "0/1 oz", "1 to 0 %", "10 to 5 %", "5 %%", "١٢ %", "１２ %", "²", "5\u00a0%",
    "5 ‰", "not known", "the rest", "none", "all", "yes", "no", "same", "half of it", "a third of it",
    "1 : 0", "0 : 1", "999:1", "9999-12-31", "0001-01-01", "2026-02-30", "0000-00-00",
    "99999999999999999999 g", "0." + "0" * 400 + "1 %", "1" * 5000, "x" * 5000, "'", '"', "{", "}", "[",
    "]", "{}", "[]", "{a: 1}", "[1, 2]", "[[[[]]]]", "*a", "&a 1", "!!python/object:os.system x", "|",
    ">", "- 1", "? x", "a: b: c", "#", "\t", "\x07", "\x00", "\ufeff", "\u2028", "\u202e", "🧼",
    "e\u0301", "%s", "{portion}", "{0.__class__}", "<script>", "=1+1", "../../x", "con", "\\", "\n",
    "limit", "limit + 1", "limit - 1 %", "at least 5 %", "at most limit", "between 1 and 0", "is yes",
    "is not x", "above", "at least superfat", "at least superfat error of the lye scale", "-0 %",
    "+5 %", "1,5 %", "1.234,5 g", "25 x 9 x 6.5 cm", "0 x 0 x 0 cm", "4 % of oils",
    "4 % of portion oils", "4 % of portion batter", "0.5 oz ppo", "#a0b1c2", "#zzz", "above 93 °C",
    "-300 °C", "1e6 °C", "0 min", "1e12 min", "brings 1 g a gram", "neutral",
)  # fmt: skip


@dataclass(frozen=True)
class Bent:
    """A text that was bent: how, what stood there and what stands there now.

    ``must_show``: it means something else now, so that whoever reads it has to take it, refuse it or tell it.
    """

    text: str
    how: str
    before: str
    now: str
    must_show: bool


@dataclass(frozen=True)
class Scalar:
    """A scalar of a document by its place in the text, and whether it is a key."""

    start: int
    end: int
    key: bool


@lru_cache(200)
def scalars(text: str) -> tuple[Scalar, ...]:
    """Every key and value of a text; none of one that is no YAML."""
    try:
        return tuple(_scalars(yaml.compose(text, Loader=LOADER)))
    except (yaml.YAMLError, RecursionError, ValueError):
        return ()


def _scalars(node: yaml.Node | None, key: bool = False) -> Iterator[Scalar]:
    if isinstance(node, yaml.ScalarNode):
        yield Scalar(node.start_mark.index, node.end_mark.index, key)
    elif isinstance(node, yaml.SequenceNode):
        for each in node.value:
            yield from _scalars(each)
    elif isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            yield from _scalars(name, key=True)
            yield from _scalars(value)


def other_figure(rng: Random, text: str) -> str | None:
    """The text with one of its figures worth something else; None where it has none."""
    found = list(FIGURE.finditer(text))
    if not found:
        return None
    one = rng.choice(found)
    new = rng.choice(_FIGURES)(one[0])
    if float(new) == float(one[0]):
        new = str(int(float(one[0])) + 1)
    return text[: one.start()] + new + text[one.end() :]


_FIGURES: Final[tuple[Callable[[str], str], ...]] = (
    lambda n: n + "0" if "." not in n else f"2{n}",
    lambda n: n + "5" if "." in n else n + ".5",
    lambda n: "0",
    lambda n: n[:-1] + str((int(n[-1]) + 1) % 10),
    lambda n: "1" + n,
    lambda n: "9" * 12,
    lambda n: "0.000001",
)


def other_unit(rng: Random, text: str) -> str | None:
    """The text with one unit another; None where it has none."""
    found = list(UNIT.finditer(text))
    if not found:
        return None
    one = rng.choice(found)
    new = rng.choice([unit for unit in UNITS if unit != one[1]])
    return text[: one.start(1)] + new + text[one.end(1) :]


def misspelt(rng: Random, word: str) -> str:
    """A word with a letter dropped, doubled, or two exchanged."""
    at = rng.randrange(len(word))
    kind = rng.randrange(3)
    if kind == 0 and len(word) > 1:
        return word[:at] + word[at + 1 :]
    if kind == 1:
        return word[:at] + word[at] + word[at:]
    return word[:at] + word[at : at + 2][::-1] + word[at + 2 :]


def bent(rng: Random, text: str) -> Bent:
    """A text bent once; figures most often."""
    found = scalars(text)
    if not found or rng.random() < 0.12:
        return _stretch(rng, text)
    return rng.choices((_figure, _unit, _key, _value, _line, _swap), (8, 2, 2, 5, 2, 2))[0](rng, text, found)


def _put(text: str, at: Scalar, new: str, how: str, must_show: bool = False) -> Bent:
    before = text[at.start : at.end]
    return Bent(text[: at.start] + new + text[at.end :], how, before, new, must_show and new != before)


def _figure(rng: Random, text: str, found: Sequence[Scalar]) -> Bent:
    numbers = [one for one in found if FIGURE.search(text, one.start, one.end)]
    if not numbers:
        return _value(rng, text, found)
    one = rng.choice(numbers)
    return _put(text, one, other_figure(rng, text[one.start : one.end]) or "", "figure", must_show=True)


def _unit(rng: Random, text: str, found: Sequence[Scalar]) -> Bent:
    values = [one for one in found if not one.key and UNIT.search(text, one.start, one.end)]
    if not values:
        return _value(rng, text, found)
    one = rng.choice(values)
    new = other_unit(rng, text[one.start : one.end]) or ""
    return _put(text, one, new, "unit", must_show=float(FIGURE.findall(new)[0]) != 0)


def _key(rng: Random, text: str, found: Sequence[Scalar]) -> Bent:
    keys = [one for one in found if one.key and one.end > one.start]
    if not keys:
        return _value(rng, text, found)
    one = rng.choice(keys)
    old = text[one.start : one.end]
    new = misspelt(rng, old)
    return _put(text, one, new, "key", must_show=spelt(new) != spelt(old))


def _value(rng: Random, text: str, found: Sequence[Scalar]) -> Bent:
    one, other = rng.choice(found), rng.choice(found)
    new = rng.choice(ODD) if rng.random() < 0.7 else text[other.start : other.end]
    return _put(text, one, new, "value")


def _line(rng: Random, text: str, _: Sequence[Scalar]) -> Bent:
    lines = text.splitlines(keepends=True)
    at = rng.randrange(len(lines))
    before = lines[at]
    lines[at : at + 1] = rng.choice(([], [before, before], ["  " + before], [before.lstrip()]))
    return Bent("".join(lines), "line", before, "", must_show=False)


def _swap(rng: Random, text: str, found: Sequence[Scalar]) -> Bent:
    one, other = sorted((rng.choice(found), rng.choice(found)), key=lambda each: each.start)
    if one.end > other.start:
        return _value(rng, text, found)
    first, second = text[one.start : one.end], text[other.start : other.end]
    new = text[: one.start] + second + text[one.end : other.start] + first + text[other.end :]
    return Bent(new, "swap", first, second, must_show=False)


def _stretch(rng: Random, text: str) -> Bent:
    start = rng.randrange(len(text) + 1)
    end = min(len(text), start + rng.randrange(60))
    new = rng.choice((rng.choice(ODD), "", text[start:end] * 2, text[start:end][::-1]))
    return Bent(text[:start] + new + text[end:], "stretch", text[start:end], new, must_show=False)
