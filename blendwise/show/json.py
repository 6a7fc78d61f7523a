"""Answers and errors as one JSON document: plain ASCII, keys in fixed order, never NaN or infinity."""

from __future__ import annotations

from collections.abc import Mapping
from json import dumps

from blendwise.show.blocks import Blocks


def document(content: Mapping[str, object], says: Blocks | None = None) -> str:
    """The document as text that ends in a line end; ValueError where a number is not finite.

    ``says``: the short answer in words, added sentence by sentence under the key of that name.
    """
    words = {} if says is None else {"says": sentences(says)}
    return dumps({**content, **words}, indent=2, allow_nan=False) + "\n"


def sentences(blocks: Blocks) -> list[str]:
    """The answer in words, a sentence or line each."""
    from blendwise.show.plain import lines

    return [line.strip() for line in lines(blocks) if line.strip()]
