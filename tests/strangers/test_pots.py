"""Laws of heat and time on generated pots: books of strangers, in grams and in ounces."""

from __future__ import annotations

import datetime
from itertools import pairwise

import numpy as np
import pytest

from blendwise.api import Book
from blendwise.facts.columns import Column
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import vocabulary
from blendwise.records.as_of import AsOf
from tests.strangers.books import TODAY, a_book

SEEDS = (0, 1, 2, 3, 4, 5)
LAYERED = ("flat layers", "tilted layers", "piped top")
DAY = AsOf(datetime.date.fromisoformat(TODAY), as_written=True)


@pytest.fixture(scope="module", params=SEEDS)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A generated book without looks; six of them, in either unit system."""
    made = a_book(tmp_path_factory.mktemp("pots") / "book", int(request.param), plans=1, looks=False)
    vocabulary()
    return Book(made.folder)


def pot(book: Book, oils: dict[str, float], pour: str = "column", scents: str = "") -> Situation:
    """Three cups of a recipe in per cent of oils."""
    said = ", ".join(f"{name}: {share:.6f} %" for name, share in oils.items() if share > 0)
    return book.situation(
        f"plan: pot\nfor: home\nrecipe: {{oils: {{{said}}}, amount: {{oils: 1000 g}}, "
        "lye: {concentration: 30 %, superfat: 5 %}}\n"
        "process: {batter at split: 35 °C, room: 20 °C, gel: avoid, stays fluid: 25 min}\n"
        f"pour: {pour}\nportions:\n  - {{name: a, share: 1 parts}}\n  - {{name: b, share: 1 parts}}\n"
        f"  - {{name: c, share: 1 parts}}\n{scents}",
        DAY,
    )


def test_more_hard_fat_never_lowers_the_clear_temperature(book: Book) -> None:
    """A hard fat in the place of liquid oil, step by step: neither point of the recipe falls."""
    oils = book.files.oils
    liquid = next(name for name, oil in oils.items() if oil.hardness == "liquid")
    hard = [name for name, oil in oils.items() if oil.hardness in ("hard", "soft")]
    assert hard
    for fat in hard:
        beside = next((name for name in hard if name != fat), None)
        rest = {beside: 15.0} if beside else {}
        seen = []
        for share in np.linspace(5, 80, 6):
            s = pot(book, {liquid: 100 - share - sum(rest.values()), fat: float(share), **rest})
            points = (s.home("clear temperature"), s.home("setting temperature"))
            seen.append([float(end[0]) for each in points for end in (each.outer[0], each.low)])  # type: ignore[union-attr]
        for less, more in pairwise(seen):
            assert (np.array(more) >= np.array(less) - 1e-9).all(), fat


@pytest.mark.parametrize("pour", LAYERED)
def test_a_scent_on_top_never_shortens_the_layers_below(book: Book, pour: str) -> None:
    """The book's quickest scents put into the last cup alone: no minute of the two below it changes."""
    liquid = next(name for name, oil in book.files.oils.items() if oil.hardness == "liquid")
    names = [n for n, each in book.files.scents.items() if each.acceleration is not None][:4]
    blend = ", ".join(f"{name!r}: 1" for name in names)
    scents = f"scents: {{blend: {{{blend}}}, load: 3 % of batch oils, dosing: same total}}\n"
    s = pot(book, {liquid: 100.0}, pour, scents)
    top = s.with_doses(s.x * np.array([0, 0, 1]))
    bare = s.with_doses(s.x * 0)
    assert top.x.sum() > 0
    for measure in ("scented at", "minutes fluid", "minutes needed", "minutes to spare", "fluid until"):
        one, other = top.home(measure), bare.home(measure)
        assert isinstance(one, Column)
        assert isinstance(other, Column)
        for mine, theirs in zip((one.low, *one.outer), (other.low, *other.outer), strict=True):
            assert mine[:2] == pytest.approx(theirs[:2])


@pytest.mark.parametrize("minutes", [(10, 12), (20, 30), (25, 25)])
def test_narrowing_goes_through_tight_at_the_pot(book: Book, minutes: tuple[int, int]) -> None:
    """Batter known better, about the same middle: what is settled stays as it is."""
    liquid = next(name for name, oil in book.files.oils.items() if oil.hardness == "liquid")
    found = []
    for spread in (1.0, 0.5, 0.0):
        low, high = minutes[0], minutes[0] + (minutes[1] - minutes[0]) * spread
        s = pot(book, {liquid: 100.0})
        process = s.plan.process
        assert process is not None
        text = f"{low} to {high:.3f} min" if high > low else f"{low} to {low + 0.001} min"
        plan = s.plan.model_copy(
            update={"process": process.model_copy(update={"stays_fluid": _minutes(text)})}
        )
        spare = book.situation(plan, DAY).home("minutes to spare")
        assert isinstance(spare, Column)
        found.append((spare.outer[0], spare.low, spare.outer[1]))
    for wide, narrow in pairwise(found):
        assert (narrow[0] >= wide[0] - 1e-9).all()
        assert (narrow[2] <= wide[2] + 1e-9).all()
        assert narrow[1] == pytest.approx(wide[1])


def _minutes(text: str) -> object:
    from blendwise.quantity import Dimension, parse_amount

    return parse_amount(text, Dimension.TIME, ranges=True)
