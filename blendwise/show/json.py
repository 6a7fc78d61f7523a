"""Answers and errors as one JSON document: plain ASCII, keys in fixed order, never NaN or infinity."""

from __future__ import annotations

from collections.abc import Mapping
from json import dumps


def document(content: Mapping[str, object]) -> str:
    """The document as text that ends in a line end; ValueError where a number is not finite."""
    return dumps(content, indent=2, allow_nan=False) + "\n"
