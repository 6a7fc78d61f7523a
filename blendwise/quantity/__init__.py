"""Amounts with units and basis: parsing, exact factors, display.  Knows nothing of soap."""

from blendwise.quantity.amount import Amount, Basis, Dimension, Price, QuantityError
from blendwise.quantity.notations import (
    THE_REST,
    parse_colour_dose,
    parse_inside,
    parse_price,
    parse_ratio,
    parse_saponification,
    parse_share,
)
from blendwise.quantity.parse import parse_amount
from blendwise.quantity.show import (
    METRIC,
    ShownIn,
    Units,
    format_amount,
    format_number,
    format_pair,
    format_value,
    in_units,
)

__all__ = [
    "METRIC",
    "THE_REST",
    "Amount",
    "Basis",
    "Dimension",
    "Price",
    "QuantityError",
    "ShownIn",
    "Units",
    "format_amount",
    "format_number",
    "format_pair",
    "format_value",
    "in_units",
    "parse_amount",
    "parse_colour_dose",
    "parse_inside",
    "parse_price",
    "parse_ratio",
    "parse_saponification",
    "parse_share",
]
