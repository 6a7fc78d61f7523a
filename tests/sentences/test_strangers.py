"""Sentences on strangers' shelves: oils of any name, in grams and in ounces, are named and no others."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

import pytest

from blendwise.answers.rules.sentences.alike import demand, rule_of
from blendwise.answers.rules.sentences.draft import Draft
from blendwise.answers.rules.sentences.printing import sentence_of
from blendwise.answers.rules.sentences.reading import read_sentence
from blendwise.api import Book
from blendwise.facts.measures.members import listed
from blendwise.records.book import BookFiles
from tests.strangers.books import a_book, found
from tests.strangers.runs import ran

SEEDS = range(3)
FOUND = ("seller", "beginner", "ten-years")
LATER = 50
"""Oils of a shelf that are named."""


def said_of(a: str, b: str) -> list[tuple[str, dict[str, Any]]]:
    """Sentences of two oils, each with the rule that it says."""
    return [
        (
            f"never {a} with {b}",
            {
                "looks at": "pair",
                "when": {"one scent": [a], "other scent": [b]},
                "must": {"together": "is no"},
            },
        ),
        (
            f"No more than 0.3 oz ppo of {a} in white, of the cup's oils",
            {
                "looks at": "portion",
                "when": {"planned lightness": "at least 80"},
                "must": {f"dose of {listed((a,))}": "at most 0.3 oz per lb"},
            },
        ),
        (
            f"{a} and {b} together at most 2 % of portion oils",
            {"looks at": "portion", "must": {f"dose of {listed((a, b))}": "at most 2 % of portion oils"}},
        ),
        (
            f"{a} below 95 °F",
            {"looks at": "dose", "when": {"scent": [a]}, "must": {"batter temperature": "below 95 °F"}},
        ),
        (
            f"no {a} older than 9 months",
            {"looks at": "scent", "when": {"scent": [a]}, "must": {"bottle age": "at most 9 months"}},
        ),
    ]


def wanted(body: dict[str, Any]) -> Draft:
    """A rule by hand."""
    return Draft(body["looks at"], body.get("when", {}), body["must"], "caution", "meant")


def verdicts(book: BookFiles) -> list[str]:
    """How sentences about each oil and the next are understood."""
    names = list(book.scents)[:LATER]
    out = []
    for a, b in itertools.pairwise(names):
        for sentence, body in said_of(a, b):
            draft, rule = read_sentence(sentence, book), rule_of(wanted(body))
            if not isinstance(draft, Draft):
                out.append(f"not: {sentence}")
                continue
            read = rule_of(draft)
            same = rule is not None and read is not None and demand(read) == demand(rule)
            out.append("as meant" if same else f"otherwise: {sentence}: {draft.body()}")
            assert read is not None
            back = read_sentence(sentence_of(read, book), book)
            assert isinstance(back, Draft)
            again = rule_of(back)
            assert again is not None
            assert demand(again) == demand(read), sentence
    return out


@pytest.mark.parametrize("seed", SEEDS)
def test_oils_of_any_name_are_named(seed: int, tmp_path: Path) -> None:
    """On generated shelves nothing is understood otherwise, and nearly everything as meant."""
    told = verdicts(Book(a_book(tmp_path / "book", seed, plans=0, looks=False).folder).files)
    assert [] == [each for each in told if each.startswith("otherwise")]
    assert told.count("as meant") >= 0.88 * len(told), [each for each in told if each != "as meant"]


@pytest.mark.parametrize("name", FOUND)
def test_oils_of_strangers_are_named(name: str, tmp_path: Path) -> None:
    """On strangers' own shelves nothing is understood otherwise, and nearly everything as meant."""
    told = verdicts(Book(found(name, tmp_path / "book").folder).files)
    assert [] == [each for each in told if each.startswith("otherwise")]
    assert told.count("as meant") >= 0.9 * len(told), [each for each in told if each != "as meant"]


def test_a_rule_in_ounces_is_taught_and_speaks(tmp_path: Path) -> None:
    """In a book of ounces: taught at the command line, kept, and told by a check in the maker's words."""
    folder = found("seller", tmp_path / "book").folder
    book = Book(folder)
    plan = next(path for path in book.files.plan_paths() if book.situation(path).scents)
    oil = book.situation(plan).scents[0]
    sentence = f"{oil} below 20 °F"
    done = ran("rules", "new", sentence, "--book", folder, "--yes")
    assert done.code == 0, done.out + done.err
    told = " ".join(ran("check", plan, "--book", folder).out.split())
    assert f"your rule says {oil} below 20 °F" in told
