"""Amounts as a maker writes them."""

from __future__ import annotations

import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.quantity import (
    THE_REST,
    Amount,
    Basis,
    Dimension,
    QuantityError,
    parse_amount,
    parse_inside,
    parse_price,
    parse_ratio,
    parse_saponification,
    parse_share,
)

D, B = Dimension, Basis
DOSE = frozenset({B.PORTION_OILS, B.BATCH_OILS, B.PORTION_BATTER, B.BATCH_BATTER})

READ = [
    ("7.5 oz", (D.MASS,), {}, 212.6214234375, 212.6214234375, None),
    ("7.5oz", (D.MASS,), {}, 212.6214234375, 212.6214234375, None),
    ("1 lb", (D.MASS,), {}, 453.59237, 453.59237, None),
    ("180 g", (D.MASS,), {}, 180.0, 180.0, None),
    (".5 kg", (D.MASS,), {}, 500.0, 500.0, None),
    ("0 g", (D.MASS,), {}, 0.0, 0.0, None),
    ("1 tsp", (D.VOLUME,), {}, 4.92892159375, 4.92892159375, None),
    ("1/2 tsp", (D.VOLUME,), {}, 2.464460796875, 2.464460796875, None),
    ("½ tsp", (D.VOLUME,), {}, 2.464460796875, 2.464460796875, None),
    ("1 1/2 tsp", (D.VOLUME,), {}, 7.393382390625, 7.393382390625, None),
    ("1½ tsp", (D.VOLUME,), {}, 7.393382390625, 7.393382390625, None),
    ("2 fl oz", (D.VOLUME,), {}, 59.147059125, 59.147059125, None),
    ("10 in³", (D.VOLUME,), {}, 163.87064, 163.87064, None),
    ("33 °C", (D.TEMPERATURE,), {}, 33.0, 33.0, None),
    ("212 °F", (D.TEMPERATURE,), {}, 100.0, 100.0, None),
    ("-40 F", (D.TEMPERATURE,), {}, -40.0, -40.0, None),
    ("25 min", (D.TIME,), {}, 25.0, 25.0, None),
    ("10 - 20 min", (D.TIME,), {}, 10.0, 20.0, None),
    ("10–20 min", (D.TIME,), {}, 10.0, 20.0, None),
    ("1 to 2 hours", (D.TIME,), {}, 60.0, 120.0, None),
    ("6 weeks", (D.TIME,), {}, 60480.0, 60480.0, None),
    ("33 %", (D.FRACTION,), {"default_basis": B.WHOLE}, 0.33, 0.33, B.WHOLE),
    ("35%", (D.FRACTION,), {"default_basis": B.WHOLE}, 0.35, 0.35, B.WHOLE),
    ("5 to 7 %", (D.FRACTION,), {"default_basis": B.SCENT}, 0.05, 0.07, B.SCENT),
    ("5 % to 7 %", (D.FRACTION,), {"default_basis": B.SCENT}, 0.05, 0.07, B.SCENT),
    ("up to 7 %", (D.FRACTION,), {"default_basis": B.SCENT}, 0.0, 0.07, B.SCENT),
    ("9.1 %", (D.FRACTION,), {"default_basis": B.FINISHED_BAR}, 0.091, 0.091, B.FINISHED_BAR),
    ("4 % of batch oils", (D.FRACTION,), {"bases": DOSE}, 0.04, 0.04, B.BATCH_OILS),
    ("3.5 % of the portion oils", (D.FRACTION,), {"bases": DOSE}, 0.035, 0.035, B.PORTION_OILS),
    ("4 % of oils", (D.FRACTION,), {"bases": {B.OILS, B.BATTER}}, 0.04, 0.04, B.OILS),
    ("4 % of oils", (D.FRACTION,), {"bases": {B.BATCH_OILS, B.BATCH_BATTER}}, 0.04, 0.04, B.BATCH_OILS),
    ("4 %", (D.FRACTION,), {"bases": {B.BATCH_OILS}}, 0.04, 0.04, B.BATCH_OILS),
    ("0.7 oz ppo", (D.FRACTION,), {"bases": {B.OILS}}, 0.04375, 0.04375, B.OILS),
    ("0.7 oz per lb of oils", (D.FRACTION,), {"bases": {B.OILS}}, 0.04375, 0.04375, B.OILS),
    ("31 g per kg of oils", (D.FRACTION,), {"bases": {B.OILS}}, 0.031, 0.031, B.OILS),
    ("3 g per 100 g of portion oils", (D.FRACTION,), {"bases": DOSE}, 0.03, 0.03, B.PORTION_OILS),
    ("0.5 to 0.7 oz ppo", (D.FRACTION,), {"bases": {B.OILS}}, 0.03125, 0.04375, B.OILS),
    ("2 parts", (D.PARTS,), {}, 2.0, 2.0, None),
    ("2", (D.PARTS, D.FRACTION), {"default_basis": B.WHOLE}, 2.0, 2.0, None),
    ("176 to 187", (D.NUMBER,), {}, 176.0, 187.0, None),
    ("1 oz - 30 g", (D.MASS,), {}, 28.349523125, 30.0, None),
    ("12", (D.LENGTH,), {"default_unit": "in"}, 30.48, 30.48, None),
    ("1 lb 2 oz to 1 lb 4 oz", (D.MASS,), {}, 18 * 28.349523125, 20 * 28.349523125, None),
    ("1 lb 2 oz to 2 lb", (D.MASS,), {}, 18 * 28.349523125, 907.18474, None),
    ("1 lb 2 oz to 1 lb 2 oz", (D.MASS,), {}, 18 * 28.349523125, 18 * 28.349523125, None),
]


@pytest.mark.parametrize(("text", "allowed", "options", "low", "high", "basis"), READ)
def test_reads(text, allowed, options, low, high, basis) -> None:  # type: ignore[no-untyped-def]
    """Every spelling a maker uses is read into canonical units, to the last digits, with its basis."""
    found = parse_amount(text, *allowed, **options)
    assert (low, high) == pytest.approx((found.low, found.high), rel=1e-14)
    assert basis == found.basis
    assert text == found.text == str(found)


REFUSED = [
    ("45,5 %", (D.FRACTION,), {"default_basis": B.WHOLE}, "Write 45.5 %"),
    ("1,100 g", (D.MASS,), {}, "1100 g if thousands"),
    ("nan g", (D.MASS,), {}, "30 g"),
    ("inf g", (D.MASS,), {}, "30 g"),
    ("1e3 g", (D.MASS,), {}, "Write the number out"),
    ("-3 g", (D.MASS,), {}, ""),
    ("5000000 g", (D.MASS,), {}, "slip"),
    ("120 %", (D.FRACTION,), {"default_basis": B.WHOLE}, "slip"),
    ("7 to 5 %", (D.FRACTION,), {"default_basis": B.SCENT}, "lower number first"),
    ("12", (D.MASS,), {}, "30 g"),
    ("12 spoons", (D.MASS,), {}, "30 g"),
    ("12 min", (D.MASS,), {}, "30 g"),
    ("1 tsp", (D.MASS,), {}, "30 g"),
    ("12 g of oils", (D.MASS,), {}, "30 g"),
    ("4 %", (D.FRACTION,), {"bases": DOSE}, '"4 % of portion oils" or "4 % of batch oils"'),
    ("4 % of oils", (D.FRACTION,), {"bases": DOSE}, '"4 % of portion oils" or "4 % of batch oils"'),
    ("0.7 oz ppo", (D.FRACTION,), {"bases": DOSE}, "of portion oils"),
    ("4 % of soup", (D.FRACTION,), {"bases": DOSE}, "of portion oils"),
    ("4 % of finished bar", (D.FRACTION,), {"bases": DOSE}, "of portion oils"),
    ("above 93 °C", (D.TEMPERATURE,), {}, ""),
    ("> 93 °C", (D.TEMPERATURE,), {}, "range"),
    ("1/0 tsp", (D.VOLUME,), {}, ""),
    ("", (D.MASS,), {}, ""),
    ("1" * 200, (D.NUMBER,), {}, ""),
    ("1.0000000000000000000000000000000001 g", (D.MASS,), {}, "Round"),
    ("-300 °C", (D.TEMPERATURE,), {}, ""),
    ("٣ g", (D.MASS,), {}, "30 g"),
    ("1 lb 2 oz to 30 min", (D.MASS, D.TIME), {}, "both ends in one unit"),
    ("1 lb 4 oz to 1 lb 2 oz", (D.MASS,), {}, "lower number first"),
]


@pytest.mark.parametrize(("text", "allowed", "options", "remedy"), REFUSED)
def test_refuses_with_a_remedy(text, allowed, options, remedy) -> None:  # type: ignore[no-untyped-def]
    """What cannot be meant, or could mean two things, is refused, and the remedy says what to write."""
    with pytest.raises(QuantityError) as caught:
        parse_amount(text, *allowed, **options)
    assert caught.value.message
    assert remedy in caught.value.remedy


def test_an_open_end_only_where_it_may_stand() -> None:
    """ "above 93 °C" has an infinite upper end, and is read only where an open end is allowed."""
    found = parse_amount("above 93 °C", D.TEMPERATURE, open_above=True)
    assert (93.0, math.inf) == (found.low, found.high)


def test_a_range_counts_by_its_top() -> None:
    """A range's value is its top, its middle is the mean of the ends."""
    found = parse_amount("5 to 7 %", D.FRACTION, default_basis=B.SCENT)
    assert found.is_range
    assert (0.07, 0.06) == pytest.approx((found.value, found.mid))


def test_no_range_where_one_number_must_stand() -> None:
    """Where a thing is weighed, a range is refused."""
    with pytest.raises(QuantityError, match="single amount"):
        parse_amount("5 to 7 g", D.MASS, ranges=False)


def test_a_percentage_is_exact_to_the_last_bit() -> None:
    """35 % is the same float as 0.35, so that a value exactly at a limit is not beyond it."""
    for whole in range(1, 101):
        assert whole / 100 == parse_amount(f"{whole} %", D.FRACTION, default_basis=B.WHOLE).value


def test_shares() -> None:
    """A share is a percentage, parts, a bare number of parts, a mass, or the rest."""
    assert parse_share("the rest") == THE_REST
    kinds = [parse_share(text) for text in ("35 %", "2 parts", "2", "300 g")]
    assert [D.FRACTION, D.PARTS, D.PARTS, D.MASS] == [k.dimension for k in kinds if isinstance(k, Amount)]


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("25 x 9 x 6.5 cm", (25.0, 9.0, 6.5)),
        ("25×9×6.5cm", (25.0, 9.0, 6.5)),
        ("10 in x 3.5 in x 2.5 in", (25.4, 8.89, 6.35)),
        ("10 x 3.5 x 2.5 in", (25.4, 8.89, 6.35)),
        ("250 x 90 x 65 mm", (25.0, 9.0, 6.5)),
    ],
)
def test_inside_of_a_mould(text: str, sizes: tuple[float, float, float]) -> None:
    """Three lengths with one unit or three; the last unit serves for those without."""
    assert sizes == pytest.approx(parse_inside(text))


@pytest.mark.parametrize(
    "text", ["25 x 9 cm", "25 x 9 x 0 cm", "25 x 9 x 6.5", "25 x 9 x 6.5 g", "25 x 9 x 6 a", "x x x"]
)
def test_inside_refused(text: str) -> None:
    """Two lengths, a side of nothing and a missing unit are refused."""
    with pytest.raises(QuantityError):
        parse_inside(text)


@pytest.mark.parametrize(
    ("text", "per_gram", "currency"),
    [
        ("14.50 per 100 g", 0.145, ""),
        ("14.50 per oz", 14.5 / 28.349523125, ""),
        ("€14.50 per 100 g", 0.145, "€"),
        ("14.50 EUR per kg", 0.0145, "EUR"),
        ("3 / 1 lb", 3 / 453.59237, ""),
    ],
)
def test_prices(text: str, per_gram: float, currency: str) -> None:
    """A price for any mass becomes a price per gram; the currency word is kept."""
    found = parse_price(text)
    assert per_gram == pytest.approx(found.per_gram, rel=1e-14)
    assert currency == found.currency
    assert text == str(found)


@pytest.mark.parametrize(
    "text", ["14.50", "14,50 per 100 g", "14.50 per 100 mL", "14.50 per 0 g", "-3 per g"]
)
def test_prices_refused(text: str) -> None:
    """A price needs a mass that is not nothing."""
    with pytest.raises(QuantityError):
        parse_price(text)


@pytest.mark.parametrize("text", ["2.33", "2.33 : 1", "2.33:1", "2.33 to 1"])
def test_water_to_lye(text: str) -> None:
    """Water to lye may be written as a number or as so much to one."""
    assert parse_ratio(text).value == 2.33


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text whatever does anything but give a finite, bounded amount or a QuantityError."""
    try:
        found = parse_amount(text, *D, bases=frozenset(B), default_basis=B.WHOLE)
    except QuantityError:
        return
    assert math.isfinite(found.low)
    assert found.low <= found.high


_PIECES = st.sampled_from(
    [
        "5",
        "0.7",
        "1/2",
        "½",
        ",",
        "-",
        "to",
        "%",
        "oz",
        "ppo",
        "per lb",
        "g",
        "of",
        "oils",
        "batch",
        " ",
        "above",
        ">",
    ]
)


@given(st.lists(_PIECES, max_size=10).map("".join), st.booleans())
def test_any_pieces_are_read_or_refused(text: str, open_above: bool) -> None:
    """No mixture of the words that amounts are made of escapes as another error."""
    for read in (parse_inside, parse_price, parse_ratio, parse_share):
        with suppress(QuantityError):
            assert read(text) is not None
    with suppress(QuantityError):
        found = parse_amount(text, *D, bases=DOSE, open_above=open_above)
        assert found.low <= found.high


@pytest.mark.parametrize("text", ["184 to 196", "184 to 196 mg KOH/g", "184 to 196 mg KOH per g"])
def test_a_saponification_value_may_carry_its_unit(text: str) -> None:
    """A saponification range reads the same with and without its unit."""
    found = parse_saponification(text)
    assert (found.low, found.high, found.text) == (184.0, 196.0, text)
