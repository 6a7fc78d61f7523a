"""What a pour decides is declared so: rules that read it are asked of every style, its column never kept."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest

from blendwise.answers.pair.pours import LOOKED_AT, poured
from blendwise.answers.pair.question import ask
from blendwise.api import Book
from blendwise.facts.columns import Column
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from tests.answers.pair.conftest import TODAY


@pytest.fixture(scope="module")
def styles(book: Book) -> list[Situation]:
    """The same blend in three portions, in every style that takes three."""
    asked = ask(book.files, ["tonka-milk", "lime"], today=TODAY)
    made = [poured(asked, style) for style in book.files.pours.values()]
    return [s for s in made if len(s.portions) > 1]


def values(s: Situation, name: str) -> list[Any]:
    """What a column says: its numbers where it is asked, or its words."""
    found = s.home(name)
    if not isinstance(found, Column):
        return [field for field in dataclasses.astuple(found) if isinstance(field, np.ndarray)]
    asked = np.ones(len(found), dtype=bool) if found.asked is None else found.asked
    return [asked, *(end[asked] for end in (found.low, found.high, *found.outer))]


def moves(one: list[Any], other: list[Any]) -> bool:
    """Whether two columns differ in what is asked or in a number."""
    return any(a.shape != b.shape or not np.array_equal(a, b) for a, b in zip(one, other, strict=True))


ASKED = [name for name, measure in REGISTRY.items() if measure.word.grain in LOOKED_AT]


@pytest.mark.parametrize("name", sorted(ASKED))
def test_what_a_pour_moves_is_declared_to_be_of_the_pour(styles: list[Situation], name: str) -> None:
    """A measure that differs between styles says ``of_pour``; one that does not say it never differs."""
    if not REGISTRY[name].use.of_pour:
        first, *others = (values(s, name) for s in styles)
        assert not any(moves(first, each) for each in others)


def test_some_measures_are_moved_by_every_pour(styles: list[Situation]) -> None:
    """The comparison tells a difference where there is one."""
    for name in ("minutes needed", "pour minutes", "quickness the pour bears"):
        assert any(moves(values(styles[0], name), values(s, name)) for s in styles[1:])
