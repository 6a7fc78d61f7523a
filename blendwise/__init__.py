"""Blendwise: a rules-based scent and colour blend advisor for cold-process soap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blendwise.version import __version__ as __version__

if TYPE_CHECKING:
    from blendwise.api import Book as Book


def __getattr__(name: str) -> object:
    """``blendwise.Book``, imported when first asked for."""
    if name == "Book":
        from blendwise.api import Book

        return Book
    raise AttributeError(name)
