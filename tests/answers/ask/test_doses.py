"""A figure that a question names is judged, or is said not to be taken up: on generated books and strangers'.

Grams and ounces; doses as masses, rates and multiples, with a plan and without one.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import ask, names_of
from blendwise.answers.ask.reading import understand
from blendwise.answers.ask.result import AskResult
from tests.answers.ask.asked import ON, told
from tests.strangers.books import FOUND, a_book
from tests.strangers.runs import ran

SEEDS: Final = (3, 11)
"""Generated books: one in grams, one in ounces."""
BATTER_PER_OILS: Final = 1.9
"""More than any batter weighs of its oils: a dose above its limit by this is above it in every bar."""
MOST_OF_OILS: Final = 0.29
"""A load above which no plan is read; an oil whose limit is near that is not asked of."""
OVER: Final = 1.2
MANY: Final = (
    *("can I use {a} of {o}", "{a} {o}", "is {a} of {o} too much", "{o} at {a}, does it brown", "{o} {a}?"),
    *("will {a} of {o} be quick", "what water for {a} of {o}", "does it gel with {a} of {o}"),
    *(
        "when can I cut it with {a} of {o}",
        "how much in each cup if I take {a} of {o}",
        "add another {a} {o}",
    ),
    *("label with {a} {o}", "it seized with {a} of {o}", "my certificate for {o} says {a}, what now"),
)
AMOUNTS: Final = ("8 oz", "35 g", "3 %", "1 oz ppo", "0.05 oz ppo", "30 g per kg", "eight ounces")


@pytest.fixture(scope="module", params=SEEDS)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Book:
    """A generated book."""
    return Book(a_book(tmp_path_factory.mktemp("made") / "book", request.param, plans=2, looks=False).folder)


def first_plan(book: Book) -> Path:
    """One of its plans."""
    return sorted((book.folder / "plans").glob("*.yaml"))[0]


def oils_of(book: Book, plan: Path) -> list[str]:
    """The oils of a plan."""
    scents = book.plan(plan).scents
    assert scents is not None
    return list(scents.blend)


def put(book: Book, text: str, plan: Path | None) -> AskResult:
    """A question as it is asked."""
    return ask(book, text, plan, ON)


@pytest.mark.parametrize("number", range(len(MANY)))
def test_what_is_named_is_never_ignored_in_silence(made: Book, number: int) -> None:
    """Whatever the question: its amount is in the answer, or the answer says that it is not."""
    plan = first_plan(made)
    oil = oils_of(made, plan)[number % len(oils_of(made, plan))]
    amount = AMOUNTS[number % len(AMOUNTS)]
    for at in (plan, None):
        result = put(made, MANY[number].format(a=amount, o=oil), at)
        if result.status != "answered":
            continue
        assert result.named.amounts, result.asked
        text = told(result)
        for each in result.named.amounts:
            assert (each in result.taken) != (each in text.partition("not taken up")[0][-90:]), (each, text)
            own = result.dosed is not None or any(way.asked for way in result.water)
            assert each not in result.taken or own or each in result.command, (each, text)


def test_far_over_its_limit_is_no(made: Book) -> None:
    """More than a bar may hold by the certificate is "No" at the command line, by mass and by rate."""
    plan = first_plan(made)
    units = made.files.usual.units.mass
    asked = 0
    for oil in oils_of(made, plan):
        limit = made.pair(oil, on=ON).sides[0].limit
        pot = made.situation(plan, ON).pot.oils_total
        if limit is None or OVER * limit * BATTER_PER_OILS > MOST_OF_OILS:
            continue
        over = OVER * limit * BATTER_PER_OILS
        mass = f"{over * pot / 28.3495:.2f} oz" if units == "oz" else f"{over * pot:.0f} g"
        for amount in (mass, f"{100 * over:.1f} %"):
            run = ran("ask", f"can I use {amount} of {oil}", plan, "--book", made.folder)
            assert re.search(r"Stop: No, [\d.]+ (?:oz|g) of", " ".join(run.out.split())), run.out
            asked += 1
    assert asked


def test_a_mass_a_rate_and_a_multiple_are_the_same_dose(made: Book) -> None:
    """Twice what the plan holds, as a multiple, as a mass and as a rate, is one dose and one verdict."""
    plan = first_plan(made)
    s = made.situation(plan, ON)
    oil = next(name for name in oils_of(made, plan) if s.x[s.scents.index(name)].sum() > 0)
    now = float(s.x[s.scents.index(oil)].sum())
    ways = (
        f"twice the {oil}",
        f"use {2 * now:.6f} g of {oil}",
        f"{200 * now / s.pot.oils_total:.6f} % {oil} ok",
    )
    found = [put(made, text, plan) for text in ways]
    for each in found:
        assert each.dosed is not None, each.asked
        assert each.dosed.wanted[oil] == pytest.approx(2 * now, rel=1e-3)
        assert each.question == "how strong"
    assert len({told(each).split(":")[0].partition("(")[0] for each in found}) == 1


def test_the_most_that_is_told_holds(made: Book) -> None:
    """Asked as a dose, the most of an oil that is told breaks no limit in the plan."""
    plan = first_plan(made)
    for oil in oils_of(made, plan):
        first = put(made, f"can I use 9 % of {oil}", plan)
        if first.dosed is None or first.dosed.most is None:
            continue
        again = put(made, f"can I use {first.dosed.most:.6f} g of {oil}", plan)
        assert "Stop: No" not in told(again), told(again)


SAID: Final = (
    ("can I use 8 oz of Clove Bud Attic", (("Clove Bud Attic", "8 oz"),)),
    ("Clove Bud Attic at 0.5 ounces per pound ok", (("Clove Bud Attic", "0.5 oz ppo"),)),
    ("half an ounce of Clove Bud Attic", (("Clove Bud Attic", "0.5 oz"),)),
    ("can I double the Clove Bud Attic in porch-layers", (("Clove Bud Attic", "x 2"),)),
    ("three times as much Clove Bud Attic", (("Clove Bud Attic", "x 3"),)),
    ("raise Clove Bud Attic from 0.05 oz to 0.5 oz", (("Clove Bud Attic", "0.5 oz"),)),
    ("another 0.5 oz of Clove Bud Attic", (("Clove Bud Attic", "+ 0.5 oz"),)),
    ("can I double the batch with Clove Bud Attic", ()),
    ("how much Clove Bud Attic for 40 oz of oils", ()),
    ("Clove Bud Attic with 5 % vanillin", ()),
    ("the certificate of Clove Bud Attic says 5 %", ()),
    ("can I double the scent", (("", "x 2"),)),
    ("put Clove Bud Attic in half of the batter", ()),
)


@pytest.mark.parametrize(("text", "doses"), SAID)
def test_which_amount_is_a_dose(text: str, doses: tuple[tuple[str, str], ...]) -> None:
    """An amount is a dose of the oil beside it; one of the batch, of a paper or of a sheet is none."""
    book = Book(FOUND / "ten-years" / "book")
    plan = book.folder / "plans" / "porch-layers.yaml"
    assert understand(text, names_of(book, plan))[1].doses == doses


def test_a_multiple_of_the_batch_is_no_dose() -> None:
    """ "Double the batch" is still answered by a size."""
    book = Book(FOUND / "ten-years" / "book")
    result = put(book, "can I double the batch", book.folder / "plans" / "porch-layers.yaml")
    assert result.question == "why: a bigger mould"
    assert result.resized is not None
