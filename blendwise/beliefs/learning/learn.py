"""What the notes of a book teach of its oils: three regressions, one for each trait, all oils at once.

Several oils in one cup are told apart only over batches: each has a column, and what one cup cannot settle
stays wide.  A lot has a column of its own beside its oil's, so that a new bottle is believed a little less.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from blendwise.beliefs.learning import evidence, hexes, laws, priors
from blendwise.beliefs.learning.evidence import HexLook, Row
from blendwise.beliefs.learning.grains import grains_of
from blendwise.beliefs.learning.layout import Layout, Word, lay_out, own_words
from blendwise.beliefs.learning.pace import paces
from blendwise.beliefs.learning.priors import Centre
from blendwise.beliefs.learning.regression import TWO_SIDED, Floats, Posterior, Predict, fit
from blendwise.beliefs.lessons import Belief, Learned, Lessons, Told
from blendwise.beliefs.traits import Traits
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent
from blendwise.records.notes.batches import Batch

# How far a batch as a whole departs: log minutes where its time was kept, and where not; log load; strength.
LIFE_KEPT, LIFE_GUESSED, BROWNING_BATCH, REMAINS_BATCH = 0.25, 0.6, 0.15, 0.05

# Lots whose own words lie within so many standard deviations of a lot agree: judgement.
LOTS_AGREE = 3.0
# Minutes within which a cup is solid that seized (scales.yaml; common practice).
AT_ONCE = 1.0

Law = Callable[[Floats, Floats], Predict]


@dataclass(frozen=True, slots=True)
class Shelf:
    """The catalogue as the regressions need it: records and prior traits by oil."""

    scents: Mapping[str, Scent]
    traits: Mapping[str, Traits]
    scales: Scales
    usual_dose: float
    batter_to_oils: float

    def dose(self, oil: str) -> float:
        """The dose at which the oil's acceleration is spoken of (g per g of oils)."""
        stated = self.traits[oil].speed.dose
        return stated if stated > 0 else self.usual_dose

    def lot(self, oil: str) -> str:
        """The lot of the bottle on the shelf."""
        return self.scents[oil].lot or ""


@dataclass(frozen=True, slots=True)
class _Question:
    """One trait's regression: its looks, where each oil begins, how lots and batches depart, its law."""

    rows: Sequence[Row]
    centres: Mapping[str, Centre]
    lot_sd: float
    batch_sd: Callable[[Row], float]
    law: Law
    base_apart: bool = False
    harsh_is_more: bool = True


def learn(batches: Sequence[Batch], shelf: Shelf) -> Lessons:
    """All three regressions over all oils of the shelf."""
    batches = [each for each in batches if not (each.is_cup and each.is_unlooked)]
    speed, browning, remains = (
        _answer(question, batches, shelf)
        for question in (_speed(batches, shelf), _browning(batches, shelf), _remains(batches, shelf))
    )
    named = dict.fromkeys([*speed, *browning, *remains])
    return Lessons(
        {oil: Learned(speed.get(oil), browning.get(oil), remains.get(oil)) for oil in named},
        len(batches),
        sum(not look.is_setting_out for batch in batches for look in batch.looks),
        {oil: lot for batch in batches for oil, lot in batch.lots.items()},
        cups=sum(batch.is_cup for batch in batches),
        pours=paces(batches),
        grains=grains_of(batches, {oil: shelf.lot(oil) for oil in shelf.scents}),
    )


def learn_one(trait: str, oil: str, batches: Sequence[Batch], shelf: Shelf) -> Belief | None:
    """One trait of one oil from these batches alone, as it would have been believed then; None: no look."""
    ask = {"acceleration": _speed, "browning": _browning, "after six weeks": _remains}[trait]
    batches = [each for each in batches if not (each.is_cup and each.is_unlooked)]
    return _answer(ask(batches, shelf), batches, shelf, only=oil).get(oil)


def _speed(batches: Sequence[Batch], shelf: Shelf) -> _Question:
    rows = list(evidence.speed_rows(batches, {oil: shelf.dose(oil) for oil in shelf.scents}))
    centres = {oil: priors.speed_prior(traits) for oil, traits in shelf.traits.items()}
    return _Question(rows, centres, priors.SPEED_LOT, _life_sd, laws.speed_law, base_apart=True)


def _life_sd(row: Row) -> float:
    return LIFE_KEPT if row.life_kept else LIFE_GUESSED


def _browning(batches: Sequence[Batch], shelf: Shelf) -> _Question:
    found = list(evidence.browning_rows(batches, shelf.scales))
    by_hex = hexes.rows_of([each for each in found if isinstance(each, HexLook)])
    rows = [*(each for each in found if isinstance(each, Row)), *by_hex]
    centres = {
        oil: priors.browning_prior(traits, shelf.scales, shelf.usual_dose, shelf.batter_to_oils)
        for oil, traits in shelf.traits.items()
    }
    return _Question(rows, centres, priors.BROWNING_LOT, lambda _: BROWNING_BATCH, laws.browning_law)


def _remains(batches: Sequence[Batch], shelf: Shelf) -> _Question:
    rows = list(evidence.remains_rows(batches, shelf.scales))
    centres = {oil: priors.remains_prior(record, shelf.scales) for oil, record in shelf.scents.items()}
    return _Question(
        rows, centres, priors.REMAINS_LOT, lambda _: REMAINS_BATCH, laws.remains_law, harsh_is_more=False
    )


def _answer(question: _Question, batches: Sequence[Batch], shelf: Shelf, only: str = "") -> dict[str, Belief]:
    """The beliefs of every oil that any look speaks of (an oil that has left the shelf hides its looks).

    Each oil is asked of the looks at portions that held it, and of the unscented ones beside them: what
    another portion showed never moves it.  A cup with an oil whose lots differ speaks of that oil alone.
    """
    rows = [row for row in question.rows if all(oil in question.centres for oil, _ in row.amounts)]
    oils = list(dict.fromkeys(oil for row in rows for oil, _ in row.amounts if only in ("", oil)))
    asked = {oil: _asked(question, oil, list(_of_oil(rows, oil)), batches, shelf) for oil in oils}
    differing = {oil for oil, belief in asked.items() if belief.lots_differ}
    for oil in oils if differing else ():
        without = {name for name in differing if name != oil}
        left = [row for row in rows if without.isdisjoint(name for name, _ in row.amounts)]
        if any(name == oil for row in left for name, _ in row.amounts):
            asked[oil] = _by_lot(question, oil, list(_of_oil(left, oil)), batches, shelf)
        elif oil not in differing:
            del asked[oil]
        else:
            asked[oil] = _by_lot(question, oil, list(_of_oil(rows, oil)), batches, shelf)
    return asked


def _by_lot(
    question: _Question, oil: str, rows: Sequence[Row], batches: Sequence[Batch], shelf: Shelf
) -> Belief:
    """An oil whose lots differ: the bottle's own is believed, the harshest is kept as its harsh end.

    Of a bottle whose lot was never seen the harshest lot is believed.
    """
    whole = _asked(question, oil, rows, batches, shelf)
    if not whole.lots_differ:
        return whole
    own = shelf.lot(oil)
    by = {lot: _asked(question, oil, _of_lot(rows, oil, lot), batches, shelf) for lot in whole.lots if lot}
    harsh = max if question.harsh_is_more else min
    worst = harsh(by, key=lambda lot: by[lot].mean)
    used = own if own in by else worst
    told = tuple(each for lot in by for each in by[lot].told)
    return replace(
        by[used], told=told, lots=whole.lots, is_this_lot=own in by, lots_differ=True,
        sd=by[used].sd if own in by else math.hypot(by[used].sd, question.lot_sd),
        harsh_lot=worst, harsh=by[worst].mean,
    )  # fmt: skip


def _of_lot(rows: Sequence[Row], oil: str, lot: str) -> list[Row]:
    """The rows that hold the oil in this lot, or not at all."""
    return [row for row in rows if all(name != oil or held == lot for name, held in row.amounts)]


def _of_oil(rows: Sequence[Row], oil: str) -> Iterator[Row]:
    held = {place for place, row in enumerate(rows) if oil in row.oils}
    beside = {rows[place].batch for place in held}
    for place, row in enumerate(rows):
        if place in held or (not row.amounts and row.batch in beside):
            yield row


def _asked(
    question: _Question, oil: str, rows: Sequence[Row], batches: Sequence[Batch], shelf: Shelf
) -> Belief:
    laid = lay_out(rows, question.centres, question.lot_sd, _batch_sds(rows, len(batches), question.batch_sd))
    predict = question.law(laid.amounts, laid.members)
    after = fit(predict, laid.looks, laid.prior)
    words = [
        word
        for word in own_words(rows, laid, after, predict(after.mean), question.base_apart)
        if word.oil == oil
    ]
    told = tuple(_told(batches, word, is_speed=question.base_apart) for word in words)
    apart = _lots_apart(words)
    agree = apart is not None and apart <= LOTS_AGREE * question.lot_sd
    found = _belief(laid, after, oil, shelf.lot(oil), question, _counts(rows, oil), told, agree)
    if question.base_apart and not any(row.has_control for row in rows if row.amounts):
        # What bare batter does as well shows no thinning.
        least = min(found.prior_mean, 0.0)
        words_of_it = tuple(replace(each, value=max(each.value, least)) for each in found.told)
        found = replace(found, mean=max(found.mean, least), told=words_of_it)
    return replace(found, lots_differ=apart is not None and not agree)


def _told(batches: Sequence[Batch], word: Word, *, is_speed: bool) -> Told:
    row, batch = word.row, batches[word.row.batch]
    dose = _dose_of(batch, word.oil, row.portion)
    lot = next(lot for name, lot in row.amounts if name == word.oil)
    at_once = is_speed and row.side == TWO_SIDED and row.value >= -math.log(AT_ONCE) - 1e-9
    return Told(batch.key, row.note, row.portion, row.shown, word.value, row.side, dose, lot, at_once)


def _dose_of(batch: Batch, oil: str, portion: str) -> float | None:
    """The oil's dose in a portion as poured (g per g of portion oils), the strongest of the versions."""
    frozen = [
        poured for poured in map(batch.frozen, batch.variations) if poured and portion in poured.portions
    ]
    doses = [poured.doses[portion].get(oil, 0.0) / poured.portions[portion].oils for poured in frozen]
    return max(doses, default=None)


def _lots_apart(words: Sequence[Word]) -> float | None:
    """How far the lots of an oil lie apart by their own words; None where fewer than two were seen."""
    said: dict[str, list[float]] = {}
    for word in words:
        lot = next(lot for name, lot in word.row.amounts if name == word.oil)
        if lot:
            said.setdefault(lot, []).append(word.value)
    middles = [sum(values) / len(values) for values in said.values()]
    return max(middles) - min(middles) if len(middles) > 1 else None


def _batch_sds(rows: Iterable[Row], batches: int, of: Callable[[Row], float]) -> list[float]:
    found = [1.0] * batches
    for row in rows:
        found[row.batch] = of(row)
    return found


def _counts(rows: Sequence[Row], oil: str) -> tuple[int, int, int]:
    """Looks and batches of an oil, and how many of those were test cups."""
    held = [row for row in rows if oil in row.oils]
    batches, cups = ({row.batch for row in some} for some in (held, [row for row in held if row.is_cup]))
    return len(held), len(batches), len(cups)


def _belief(
    laid: Layout,
    after: Posterior,
    oil: str,
    lot: str,
    question: _Question,
    counts: tuple[int, int, int],
    told: tuple[Told, ...],
    agree: bool,
) -> Belief:
    """The oil in the bottle on the shelf: its own column and its lot's, where that lot was seen.

    Where nobody writes lots down, neither on the shelf nor in notes, all looks are the bottle's.
    """
    pick, seen = laid.pick(oil, lot)
    lots = tuple(lot for name, lot in laid.bottles if name == oil)
    is_this = seen or not any((lot, *lots))
    more = 0.0 if seen else question.lot_sd**2
    sd = math.sqrt(max(float(pick @ after.covariance @ pick), 0.0) + more)
    mean, width = question.centres[oil]
    return Belief(
        float(pick @ after.mean), sd, mean, math.hypot(width, question.lot_sd), *counts, told,
        lots, is_this, agree,
    )  # fmt: skip
