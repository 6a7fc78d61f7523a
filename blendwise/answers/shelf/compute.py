"""The shelf against one oil: by the rules, by what the maker has noted, with reasons and no scores."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from blendwise.answers.check.compute import at_home
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.result import OPEN
from blendwise.answers.pair.sides import ends, words_of
from blendwise.answers.refusals import NotAskable, defer_health
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blend_judge import NONE, Asked, Bench, Verdicts
from blendwise.answers.shelf.blends import Blends
from blendwise.answers.shelf.result import ShelfResult, ShelfRow, ShelfWord
from blendwise.facts.assumed import Assumed, assumed
from blendwise.facts.columns import Bools, Column
from blendwise.facts.scales import BANDS, NOTED
from blendwise.judge.conditions.logic import BROKEN, UNDECIDED
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.judge.findings.findings import findings_of
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import Dimension, QuantityError, parse_amount, parse_price
from blendwise.records.kinds.scent import Scent

AT_A_TIME: Final = 512
CAUTION: Final = LEVELS.index("caution")
WORDS: Final[tuple[ShelfWord, ...]] = ("goes", "with care", "where it may brown", "not known", "does not go")
NOTES: Final = ("top", "middle", "base")
PER: Final = 100.0
"""Grams that a bare price is for."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Filters:
    """What the maker wants to see of the shelf; ``price``: most per gram, in the book's currency."""

    note: str | None = None
    tags: tuple[str, ...] = ()
    in_stock: bool = False
    price: float | None = None
    clean_in_white: bool = False


def read_filters(
    note: str = "",
    tags: Sequence[str] = (),
    in_stock: bool = False,
    price_up_to: str = "",
    clean_in_white: bool = False,
) -> Filters:
    """Filters as typed; NotAskable with the words there are."""
    for text in (note, *tags, price_up_to):
        defer_health(text)
    word = note.strip().casefold()
    if word and word not in NOTES:
        raise NotAskable(f'"{note}" is no scent note.', f"Write one of: {', '.join(NOTES)}.")
    wanted = tuple(tag.strip().casefold() for tag in tags)
    return Filters(word or None, wanted, in_stock, _price(price_up_to), clean_in_white)


def _price(text: str) -> float | None:
    """A price per gram: "15 per 100 g", or a bare number for 100 g."""
    if not text.strip():
        return None
    try:
        return parse_price(text).per_gram
    except QuantityError:
        return parse_amount(text, Dimension.NUMBER, ranges=False).value / PER


def shelf(
    question: Question, rulebook: Rulebook, filters: Filters | None = None, progress: Progress | None = None
) -> ShelfResult:
    """Every oil of the shelf with the question's first oil at its ratio and load, the willing first.

    ``question.oils``: the oil, and nothing else; ``question.shares``: (its share, the other's).
    NotAskable for a shelf that holds no other oil.
    """
    oil = question.oils[0]
    others = [name for name in question.book.scents if name != oil]
    if not others:
        raise NotAskable(f"The shelf holds nothing but {oil}.", "Write your other oils into scents.yaml.")
    filters = filters or Filters()
    left_out, kept = _sieve(question, others, filters)
    planned, said = _planned(question, filters)
    bench = Bench(Shelf(planned), rulebook.rules)
    alone = _Alone(bench, oil, planned.shares[0])
    rows: list[ShelfRow] = []
    for start in range(0, len(kept), AT_A_TIME):
        rows += _rows(bench, alone, kept[start : start + AT_A_TIME], planned.shares)
        if progress is not None:
            progress(min(start + AT_A_TIME, len(kept)), len(kept))
    if filters.clean_in_white:
        left_out["clean in white"] = sum(row.bands.high != BANDS[0] for row in rows)
        rows = [row for row in rows if row.bands.high == BANDS[0]]
    return ShelfResult(
        oil=oil,
        shares=(planned.shares[0], planned.shares[1]),
        load=bench.shelf.load,
        colour=planned.colour,
        planned=planned.may_become,
        pour=planned.pour,
        own=alone.reasons,
        rows=tuple(sorted(rows, key=_rank)),
        left_out={name: number for name, number in left_out.items() if number},
        said=(*question.said, *said, *_not_asked(bench)),
        units=question.book.usual.units,
    )


def _not_asked(bench: Bench) -> Iterator[Assumed]:
    if bench.not_asked:
        yield assumed("asked of a pair alone", rules=tuple(sorted(bench.not_asked)))


def _sieve(question: Question, others: Sequence[str], filters: Filters) -> tuple[dict[str, int], list[str]]:
    """How many each filter leaves out (the first that does counts), and who is left."""
    left_out: dict[str, int] = {}
    kept = []
    for name in others:
        why = unwanted(question.book.scents[name], filters)
        if why is None:
            kept.append(name)
        else:
            left_out[why] = left_out.get(why, 0) + 1
    return left_out, kept


def unwanted(record: Scent, filters: Filters) -> str | None:
    """The first filter that leaves an oil out, in words; None where it passes them all."""
    if filters.note is not None and record.scent_note != filters.note:
        return f"{filters.note} note"
    tags = {tag.casefold() for tag in record.tags}
    lacking = [tag for tag in filters.tags if tag not in tags]
    if lacking:
        return f"tag {lacking[0]}"
    if filters.in_stock and (record.on_hand is None or record.on_hand.value <= 0):
        return "stock"
    if filters.price is not None and (
        record.price is None or record.price.per_gram > filters.price * (1 + 1e-9)
    ):
        return "price"
    return None


def _planned(question: Question, filters: Filters) -> tuple[Question, list[Assumed]]:
    """The bar at the colour that the oil itself brings: its own browning is not held against others."""
    if question.colour is not None or filters.clean_in_white:
        return question, []
    shelf_alone = Shelf(question, question.oils[:1])
    band = _alone_column(shelf_alone, "browning band", question.shares[0])
    reaches = float(band.high[0])
    if not np.isfinite(reaches) or reaches < 1:
        return question, []
    word = BANDS[int(reaches)]
    return replace(question, may_become=word), [assumed("turns alone", oil=question.oils[0], band=word)]


def _alone_column(bar: Shelf, measure: str, share: float) -> Column:
    column = Blends(bar, np.zeros((1, 1), dtype=np.intp), np.array([[share]])).home(measure)
    assert isinstance(column, Column)
    return column


class _Alone:
    """The asked oil alone, at its dose in a pair: what it breaks is said once, not of every other."""

    def __init__(self, bench: Bench, oil: str, share: float) -> None:
        self.place = bench.shelf.place[oil]
        only = Blends(bench.shelf, np.array([[self.place]]), np.array([[share]]), told=True)
        held = [asked for asked in bench.asked(only) if _counts(asked)[0]]
        self.broken = frozenset(asked.rule.name for asked in held if asked.outcomes[0] == BROKEN)
        self.aside = frozenset(asked.rule.name for asked in held)
        self.reasons = tuple(reason for asked in held for _, reason in _told(asked, bench.shelf.folder))


def _counts(asked: Asked) -> Bools:
    """Blends (rows,) against which the rule counts: broken, or left open by a stop or conflict."""
    heavy = LEVELS.index(asked.rule.level) > CAUTION
    return np.asarray((asked.outcomes == BROKEN) | ((asked.outcomes == UNDECIDED) & heavy))


def _told(asked: Asked, folder: Path) -> Iterator[tuple[int, Finding]]:
    """(blend, finding) for every finding of the rule that counts."""
    outcomes = asked.verdict.outcomes
    times = len(outcomes) // max(len(asked.outcomes), 1)
    of_blend = np.repeat(np.arange(len(asked.outcomes)), times)
    wanted = _counts(asked)[of_blend] & (outcomes == asked.outcomes[of_blend])
    masked = replace(asked.verdict, outcomes=np.where(wanted, outcomes, np.int8(0)))
    for row, finding in zip(np.flatnonzero(wanted), findings_of(masked, asked.facts), strict=True):
        yield int(of_blend[row]), at_home(finding, folder)


def _rows(bench: Bench, alone: _Alone, names: Sequence[str], shares: Sequence[float]) -> list[ShelfRow]:
    places = np.array([[alone.place, bench.shelf.place[name]] for name in names], dtype=np.intp).reshape(
        -1, 2
    )
    blends = Blends(bench.shelf, places, np.tile(np.asarray(shares, dtype=float), (len(names), 1)), told=True)
    verdicts = bench.judge(blends, alone.aside)
    darker = bench.judge(blends, alone.aside | bench.of_browning)
    most, stop = bench.most(blends, alone.aside)
    reasons, mended = _reasons(bench, alone, blends)
    band, minutes, noted = (
        blends.home(name) for name in ("browning band", "minutes fluid", "noted together")
    )
    assert isinstance(band, Column)
    assert isinstance(minutes, Column)
    assert isinstance(noted, Column)
    return [
        ShelfRow(
            name=name,
            word=_word(verdicts, darker, row),
            noted=NOTED[int(noted.low[row])],  # type: ignore[arg-type]
            note=bench.shelf.question.book.scents[name].scent_note,
            bands=words_of(band, row),
            minutes=ends(minutes, row) if bench.shelf.clock is not None else OPEN,
            most=float(most[row]) if np.isfinite(most[row]) else None,
            stopped_by=bench.rules[stop[row]].name if stop[row] != NONE else "",
            reasons=tuple(reasons[row]),
            mends=tuple(mended[row]),
        )
        for row, name in enumerate(names)
    ]


def _word(verdicts: Verdicts, darker: Verdicts, row: int) -> ShelfWord:
    """By the rules; what only browning stands against may go in a bar that is planned darker."""
    if verdicts.broken[row] > CAUTION:
        browns = max(darker.broken[row], darker.undecided[row]) <= CAUTION
        return "where it may brown" if browns else "does not go"
    if verdicts.undecided[row] > CAUTION:
        return "not known"
    return "with care" if verdicts.cautions[row] else "goes"


def _reasons(bench: Bench, alone: _Alone, blends: Blends) -> tuple[list[list[Finding]], list[list[str]]]:
    """What the rules say of each blend, and which of the oil's own troubles the other one mends."""
    found: list[list[Finding]] = [[] for _ in range(len(blends))]
    mended: list[list[str]] = [[] for _ in range(len(blends))]
    for asked in bench.asked(blends):
        if asked.rule.name in alone.broken:
            for row in np.flatnonzero(asked.outcomes < UNDECIDED):
                mended[int(row)].append(asked.rule.name)
        if asked.rule.name not in alone.aside and _counts(asked).any():
            for blend, reason in _told(asked, bench.shelf.folder):
                found[blend].append(reason)
    return found, mended


def _rank(row: ShelfRow) -> tuple[object, ...]:
    """The willing first; noted as good before others; what mends most, then what is said against it least."""
    return WORDS.index(row.word), -NOTED.index(row.noted), -len(row.mends), len(row.reasons), row.name


__all__ = ["Filters", "read_filters", "shelf"]
