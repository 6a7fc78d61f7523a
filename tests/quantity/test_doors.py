"""Wherever a maker may type a number it is worth the same, or is refused: never another number in silence."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

import pytest

from blendwise.answers.ask.slots import read
from blendwise.answers.cup.question import APART
from blendwise.answers.draft import checks
from blendwise.answers.label.compute import read_weights
from blendwise.answers.note.said import checked, doses_said
from blendwise.answers.refusals import NotAskable
from blendwise.answers.rules.sentences.amounts import amount_at
from blendwise.answers.rules.sentences.lexicon import Lexicon, tokens
from blendwise.answers.spreadsheet.words.numbers import Mark, Unread, reading
from blendwise.quantity import (
    Dimension,
    QuantityError,
    ShownIn,
    parse_amount,
    parse_colour_dose,
    parse_inside,
    parse_price,
    parse_share,
)
from blendwise.quantity.amount import Basis
from blendwise.quantity.typed import name_and_amount, with_unit
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.records.place import RecordError

SURE: Final = {
    ".5": 0.5,
    "0.5": 0.5,
    "1/2": 0.5,
    "½": 0.5,
    "1 1/2": 1.5,
    "1½": 1.5,
    "1-1/2": 1.5,
    "2.25": 2.25,
}
"""Numbers that are worth one thing alone."""
COMMAS: Final = {"0,5": 0.5, ",5": 0.5, "2,25": 2.25}
"""Numbers with a decimal comma: read or refused."""
UNSURE: Final = ("1,000", "1.000,5", "1.5.2", "1 000")
"""Numbers of which two readings fit, or none."""
OUNCES: Final = ShownIn("oz", "F", "ppo")


def _ask(number: str) -> float:
    """As the load of a question in a maker's own words."""
    (said,) = read(f"is tonka ok at {number} oz ppo, will it brown", {}, ())[1].amounts
    bases = frozenset({Basis.BATCH_OILS})
    return 16 * parse_amount(said, Dimension.FRACTION, bases=bases, ranges=False).value


def _ask_mass(number: str) -> float:
    (said,) = read(f"scale it to {number} g of oils", {}, ())[1].amounts
    return parse_amount(said, Dimension.MASS, ranges=False).value


def _rule(number: str) -> float:
    said = amount_at(f"{number} % of the bar", 0)
    if said is None or said.letter != "A":
        raise NotAskable("not read", "")
    return float(said.text.removesuffix(" %"))


def _rule_whole(number: str) -> float:
    """As a sentence is cut: nothing of the number may be left over or lost."""
    found = tokens(f"{number} oz", Lexicon({}))
    if [token.letter for token in found] != ["J"]:
        raise NotAskable("not read", "")
    return float(found[0].value.removesuffix(" oz"))


def _dose(number: str) -> float:
    (mass,) = doses_said([f"top: night oil {number} oz"], ["top"])["top"].values()
    return parse_amount(mass, Dimension.MASS).value / GRAMS_PER_OUNCE


def _halo(number: str) -> float:
    return parse_amount(checked("halo", f"{number} mm"), Dimension.LENGTH).value * 10


def _minutes(number: str) -> float:
    return parse_amount(checked("minutes to thick", number), Dimension.TIME).value


def _bare_mass(number: str) -> float:
    """At a prompt that has asked in ounces."""
    return parse_amount(with_unit(number, "oz"), Dimension.MASS).value / GRAMS_PER_OUNCE


def _amount(number: str) -> float:
    """A mould's last side, which is the one that may carry a unit."""
    fields = checks.amount(f"9 x 3 x {number} in", OUNCES)
    return parse_inside(fields["inside"])[2] / 2.54


def _sheet(number: str) -> float:
    return float(reading(f"{number} %", Mark.UNSAID).top)


def _named(number: str) -> float:
    name, rate = name_and_amount(f"titanium {number} %")
    assert name == "titanium"
    return 100 * parse_colour_dose(f"{rate} of portion oils", [Basis.PORTION_OILS]).value


def _share(number: str) -> float:
    share = parse_share(f"{number} parts")
    assert share != "the rest"
    return share.value


def _weight(number: str) -> float:
    return read_weights(f"{number} oz")[0] / GRAMS_PER_OUNCE


def _cups(number: str) -> float:
    """As one of several doses of a test cup."""
    first, second = APART.split(f"{number} %, 3 %")
    assert second == "3 %"
    return 100 * parse_amount(first, Dimension.FRACTION, default_basis=Basis.BATCH_OILS).value


def _plan(number: str) -> float:
    return parse_amount(f"{number} g", Dimension.MASS).value


def _load(number: str) -> float:
    said = checks.load(checks._in_full("load", number, OUNCES))
    return 16 * parse_amount(said, Dimension.FRACTION, bases=[Basis.BATCH_OILS]).value


DOORS: Final[dict[str, Callable[[str], float]]] = {
    **{"ask, a load": _ask, "ask, a mass": _ask_mass, "rules new": _rule, "rules new, cut": _rule_whole},
    **{"note, a dose": _dose, "note, a halo": _halo, "note, minutes": _minutes},
    **{"a prompt": _bare_mass, "draft, a mould": _amount, "draft, a load": _load, "draft, a colour": _named},
    **{"a share": _share, "a plan": _plan, "a spreadsheet": _sheet, "label": _weight, "cup": _cups},
}
REFUSALS: Final = (QuantityError, NotAskable, Unread, RecordError)


@pytest.mark.parametrize("door", DOORS)
def test_a_number_is_worth_what_was_typed(door: str) -> None:
    """Points, fractions and signs are read as they stand."""
    read_at = DOORS[door]
    assert {number: pytest.approx(value) for number, value in SURE.items()} == {
        number: read_at(number) for number in SURE
    }


@pytest.mark.parametrize("door", DOORS)
def test_a_comma_is_read_rightly_or_refused(door: str) -> None:
    """A decimal comma may be asked back; it is never a thousand, a list, or dropped."""
    for number, value in COMMAS.items():
        told = _told(DOORS[door], number)
        assert told is None or told == pytest.approx(value), number


@pytest.mark.parametrize("door", DOORS)
def test_what_may_be_two_numbers_is_refused(door: str) -> None:
    """``1,000`` is neither a thousand nor one until its maker says so; a spreadsheet has its own marks."""
    for number in UNSURE:
        told = _told(DOORS[door], number)
        allowed = {"1 000": 1000, "1.000,5": 1000.5}.get(number) if door == "a spreadsheet" else None
        assert told in (None, allowed), number


def _told(door: Callable[[str], float], number: str) -> float | None:
    try:
        return door(number)
    except REFUSALS:
        return None


@pytest.mark.parametrize("number", [".5", "½", "1/2"])
def test_a_load_in_a_question_is_the_load_of_pair(number: str) -> None:
    """At the command line: what ``ask`` judges is what was typed, to the last digit."""
    from tests.strangers.runs import ran

    demo = Path(__file__).parents[2] / "demo_catalog"
    said = ran(
        "ask", f"is orange-veil ok at {number} oz ppo, how strong can I go", "--book", demo, "--json"
    ).document
    assert "0.5 oz ppo" in [word.replace("½", "0.5").replace("1/2", "0.5") for word in said["command"]]


def test_a_price_keeps_its_point() -> None:
    """``.50`` is no fifty, and a comma before it no currency."""
    assert parse_price(".50 per g").per_gram == pytest.approx(0.5)
    with pytest.raises(QuantityError):
        parse_price(",5 per g")
