"""What came out otherwise, as pictures: of a kind together, expected beside seen on one axis."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blendwise.beliefs.expected import Compared, figures_in
from blendwise.records.kinds.scent import BANDS, RICING_WORDS, STRENGTH_WORDS
from blendwise.science.colour_words import hex_of_word
from blendwise.show.charts import measured, shifts

if TYPE_CHECKING:
    from markupsafe import Markup

COLOUR: Final = "browning band"
FLUID: Final = "minutes fluid"
SCALES: Final[dict[str, tuple[str, ...]]] = {
    COLOUR: BANDS,
    "after six weeks": tuple(reversed(STRENGTH_WORDS)),
    "ricing": RICING_WORDS,
}
HEADS: Final = {COLOUR: "Colour", "after six weeks": "Scent at six weeks", "ricing": "Ricing at the pot"}
MINUTES: Final = "Minutes fluid"


@dataclass(frozen=True, slots=True)
class Surprise:
    """One thing: whose, when, its picture, both in words, and what it came out."""

    portion: str
    batch: str
    when: str
    drawn: Markup | str
    expected: str
    seen: str
    verdict: str


@dataclass(frozen=True, slots=True)
class Kind:
    """All of one kind, those that were seen last first, on an axis of their own."""

    heading: str
    axis: Markup
    rows: tuple[Surprise, ...]


def surprises(compared: Iterable[Compared]) -> list[Kind]:
    """The kind of which there are most first."""
    odd = [row for row in compared if row.verdict not in ("", "as expected")]
    kinds: dict[str, list[Compared]] = {}
    for row in sorted(odd, key=lambda row: row.on, reverse=True):
        kinds.setdefault(row.what, []).append(row)
    return [_kind(what, rows) for what, rows in sorted(kinds.items(), key=lambda held: -len(held[1]))]


def _kind(what: str, rows: Sequence[Compared]) -> Kind:
    if what == FLUID:
        top = 1.1 * max([1.0, *(number for row in rows for number in _numbers(row))])
        axis = measured.axis(top, "minutes from emulsion")
        return Kind(MINUTES, axis, tuple(_surprise(row, lambda text: _minutes(text, top)) for row in rows))
    scale = SCALES[what]
    hues = [hex_of_word(word) or "" for word in scale] if what == COLOUR else []
    heading = HEADS[what]
    axis = shifts.words_axis(scale, hues, f"{heading}: {', '.join(scale)}")
    return Kind(heading, axis, tuple(_surprise(row, lambda text: _words(text, scale)) for row in rows))


def _surprise(row: Compared, places: Callable[[str], list[float]]) -> Surprise:
    told = f"{row.portion} of {row.batch}: {row.expected} expected, {row.seen} seen"
    expected, seen = places(row.expected), places(row.seen)
    drawn: Markup | str = ""
    if expected and seen:
        drawn = shifts.shift((min(expected), max(expected)), sum(seen) / len(seen), told)
    version = f" ({row.variation})" if row.variation else ""
    return Surprise(
        f"{row.portion}{version}", row.batch, row.look, drawn, row.expected, row.seen, row.verdict
    )


def _words(text: str, scale: Sequence[str]) -> list[float]:
    found = [word for word in text.split(" to ") if word in scale]
    return [shifts.step(scale.index(word), len(scale)) for word in found]


def _minutes(text: str, top: float) -> list[float]:
    return [100 * number / top for number in figures_in(text)]


def _numbers(row: Compared) -> list[float]:
    return figures_in(f"{row.expected} {row.seen}")


def counted(kinds: Sequence[Kind]) -> int:
    """How many things came out otherwise."""
    return sum(len(kind.rows) for kind in kinds)
