"""Amounts with units and basis: parsing, exact factors, display.  Knows nothing of soap."""

from blendwise.quantity.amount import Amount, Basis, Dimension, Price, QuantityError
from blendwise.quantity.parse import (
    THE_REST,
    parse_amount,
    parse_inside,
    parse_price,
    parse_ratio,
    parse_share,
)

__all__ = [
    "THE_REST",
    "Amount",
    "Basis",
    "Dimension",
    "Price",
    "QuantityError",
    "parse_amount",
    "parse_inside",
    "parse_price",
    "parse_ratio",
    "parse_share",
]
