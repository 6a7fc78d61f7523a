"""A question whose meaning is given, so that what is said is tested apart from what is understood."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from blendwise import Book
from blendwise.answers.ask.compute import answer, names_of
from blendwise.answers.ask.reading import understand
from blendwise.answers.ask.result import AskResult
from blendwise.records.as_of import AsOf
from blendwise.show.ask.blocks import ask_blocks
from blendwise.show.plain import plain

ON = AsOf(date(2026, 11, 30))


def asked(book: Book, question: str, text: str, plan: Path | None = None, on: AsOf = ON) -> AskResult:
    """The answer to a question by its name; ``text``: the words in which it was put, with its names."""
    _, named, _ = understand(text, names_of(book, plan))
    name = plan.name if plan else ""
    blank = AskResult(text, "answered", named=named, plan=name, units=book.files.usual.units, sure=True)
    return answer(replace(blank), question, book, plan, on)


def told(result: AskResult) -> str:
    """What is shown of it, its lines joined."""
    return " ".join(plain(ask_blocks(result), 200).split())
