"""Blendwise: a rules-based scent and colour blend advisor for cold-process soap."""

__version__ = "0.1.0"


def __getattr__(name: str) -> object:
    """``blendwise.Book``, imported when first asked for."""
    if name == "Book":
        from blendwise.api import Book

        return Book
    raise AttributeError(name)
