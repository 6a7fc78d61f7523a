"""Which question of a draft comes next, and what an answer would be by default.

A draft is nothing but its answers, each under a key; the next question follows from those given, so that a
draft taken up again goes on where it stopped.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from blendwise.answers.draft import checks as check
from blendwise.answers.draft.answers import MOST, Answers, oils_of, scents_of, usual_amount
from blendwise.quantity import THE_REST
from blendwise.records.book import BookFiles
from blendwise.records.kinds.scent import BANDS

SOMETHING_TO_START_WITH: Final = "31 %, 5 %"
SIMPLE_POUR: Final = "in-pot swirl"
FIRST_SHARE, FIRST_LOAD, BATTER = "50 %", "3 % of batch oils", "33 °C"


@dataclass(frozen=True, slots=True)
class Question:
    """One question: its ``key`` in the answers, its ``kind`` (which names its words) and its ``default``.

    ``subject``: the portion or oil it is about; ``words``: what may be answered, where that is a list;
    ``empty``: whether nothing is an answer too (no more portions, no colour).
    """

    key: str
    kind: str
    default: str = ""
    subject: str = ""
    words: tuple[str, ...] = ()
    empty: bool = False


def next_question(answers: Answers, book: BookFiles) -> Question | None:
    """The first question without an answer; None where the draft is complete."""
    return next((each for each in _questions(answers, book) if each.key not in answers), None)


def _questions(answers: Answers, book: BookFiles) -> Iterator[Question]:
    usual = book.usual
    yield Question("for", "for", usual.for_ or check.FOR_WHOM[0], words=check.FOR_WHOM)
    yield Question("oils", "oils", check.USUAL if usual.recipe else "", words=tuple(book.oils))
    if not _by_mass(answers, book):
        yield Question("amount", "amount", usual_amount(book))
        if "inside" in _safely(answers.get("amount", "")):
            yield Question("bars", "bars", empty=True)
    yield Question("lye", "lye", check.USUAL if _has_lye(book) else SOMETHING_TO_START_WITH)
    if usual.batter_at_split is None:
        yield Question("batter", "batter", BATTER)
    if usual.gel_plan is None:
        yield Question("gel", "gel", "leave", words=("avoid", "leave", "force"))
    pours = tuple(book.pours)
    yield Question("pour", "pour", SIMPLE_POUR if SIMPLE_POUR in pours else pours[0], words=pours)
    yield from _portion_questions(answers, book)
    yield from _scent_questions(answers, book)


def _portion_questions(answers: Answers, book: BookFiles) -> Iterator[Question]:
    rest = False
    for number in range(1, MOST + 1):
        head = f"portion {number}"
        yield Question(f"{head} name", "portion", empty=number > 1)
        name = answers.get(f"{head} name", "")
        if not name:
            return
        default = FIRST_SHARE if number == 1 else "" if rest else THE_REST
        yield Question(f"{head} share", "share", default, name)
        rest = rest or answers.get(f"{head} share") == THE_REST
        yield Question(f"{head} colours", "colours", "", name, tuple(book.colourants), empty=True)
        yield Question(f"{head} becomes", "becomes", BANDS[0], name, BANDS)


def _scent_questions(answers: Answers, book: BookFiles) -> Iterator[Question]:
    for number in range(1, MOST + 1):
        head = f"scent {number}"
        yield Question(f"{head} name", "scent", words=tuple(book.scents), empty=True)
        name = answers.get(f"{head} name", "")
        if not name:
            break
        yield Question(f"{head} parts", "parts", "1", name)
    if not scents_of(answers):
        return
    load = book.usual.load.text if book.usual.load else FIRST_LOAD
    yield Question("load", "load", load)
    yield Question("dosing", "dosing", book.usual.dosing or check.DOSINGS[0], words=check.DOSINGS)
    yield Question("never", "never", empty=True)


def _has_lye(book: BookFiles) -> bool:
    return book.usual.lye is not None or (book.usual.recipe is not None and book.usual.recipe.lye is not None)


def _by_mass(answers: Answers, book: BookFiles) -> bool:
    """Whether the oils are masses, which say how much by themselves."""
    oils = oils_of(answers, book)
    return bool(oils) and not any("%" in text for text in oils.values())


def _safely(amount: str) -> dict[str, str]:
    """The fields of an amount that was checked when it was given; none where it was not."""
    try:
        return check.amount(amount)
    except ValueError:
        return {}
