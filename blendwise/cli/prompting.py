"""One question on a terminal: within its columns, ``?`` explains it, ``<`` goes back to the one before."""

from __future__ import annotations

from typing import Final

import typer

BACK, EXPLAIN = "<", "?"
HOW: Final = "Enter takes what stands in brackets; ? explains, < goes back."
ANSWER: Final = 14
"""Columns kept for what is typed behind a question."""


class Back(Exception):  # noqa: N818 - the maker's wish, no failure
    """The question before is wanted once more."""


def prompted(question: str, default: str = "", explained: str = "") -> str:
    """What was typed, or the default; ``explained`` is told at ``?``, and Back raised at ``<``."""
    while True:
        asked = fitted(f"{question} [{default}]" if default else question, ANSWER)
        text = str(typer.prompt(asked, default=default, show_default=False, err=True)).strip()
        if text == BACK:
            raise Back
        if text != EXPLAIN or not explained:
            return text
        tell(explained)


def tell(text: str) -> None:
    """A line to whoever is asked, within the columns of the terminal."""
    typer.echo(fitted(text), err=True)


def fitted(text: str, left: int = 1) -> str:
    """The text in the columns of the terminal but for those ``left``, no word broken."""
    from blendwise.show.plain import width, wrapped

    return "\n".join(wrapped(line, width() - left, hanging="  ") for line in text.split("\n"))
