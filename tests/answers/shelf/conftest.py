"""The tests of the shelf ask the book that those of pairing ask, read once."""

from __future__ import annotations

from tests.answers.pair.conftest import book

__all__ = ["book"]
