"""What has been said in a draft so far, put together: portions, oils of the blend, the recipe."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from blendwise.answers.draft import checks as check
from blendwise.records.book import BookFiles

Answers = Mapping[str, str]
MOST: Final = 12
"""Portions and oils that are asked for at most."""


def portions_of(answers: Answers) -> list[dict[str, str]]:
    """The portions named so far: name, share, colours, becomes (as far as they are answered)."""
    return list(_group(answers, "portion", ("share", "colours", "becomes")))


def scents_of(answers: Answers) -> list[dict[str, str]]:
    """The oils named so far: name and parts."""
    return list(_group(answers, "scent", ("parts",)))


def _group(answers: Answers, what: str, fields: tuple[str, ...]) -> Iterator[dict[str, str]]:
    for number in range(1, MOST + 1):
        name = answers.get(f"{what} {number} name", "")
        if not name:
            return
        held = {field: answers[key] for field in fields if (key := f"{what} {number} {field}") in answers}
        yield {"name": name, **held}


def oils_of(answers: Answers, book: BookFiles) -> dict[str, str]:
    """The base oils, as answered or as usual."""
    said = answers.get("oils", "")
    if said and said != check.USUAL:
        return check.base_oils(said, book)
    usual = usual_recipe(book).get("oils", {})
    return {str(name): str(text) for name, text in usual.items()} if isinstance(usual, dict) else {}


def usual_recipe(book: BookFiles) -> dict[str, Any]:
    """The usual recipe as typed in ``usual.yaml`` (empty where there is none)."""
    doc = book.docs.get("usual.yaml")
    plain = doc.root.plain if doc is not None else {}
    found = plain.get("recipe", {}) if isinstance(plain, dict) else {}
    return found if isinstance(found, dict) else {}


def usual_amount(book: BookFiles) -> str:
    """The usual amount in the words in which it is asked for ("" where the book has none)."""
    amount = usual_recipe(book).get("amount", "")
    if not isinstance(amount, dict):
        return str(amount)
    told = {str(key): str(text) for key, text in amount.items()}
    if {"oils", "inside"} & told.keys() or {"cavities", "volume"} <= told.keys():
        return check.amount_words({"mould": "loaf", **told})
    return ""
