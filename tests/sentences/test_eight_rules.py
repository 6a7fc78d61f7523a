"""Eight rules taught by sentence in a book of ounces: each is kept, and each speaks where a plan is bent."""

from __future__ import annotations

from pathlib import Path

from blendwise.api import Book
from tests.strangers.books import a_book
from tests.strangers.runs import ran

OUNCES = 2
"""A generated book that weighs in ounces and warms in °F."""
KEPT = (("gel: force", "gel: avoid"), ("for: sale", "for: home"))
"""What its plan has changed first, so that it keeps all eight."""
EIGHT = (
    ("batter at most 85 °F", "batter at split: 81 °F", "batter at split: 100 °F"),
    ("room at most 75 °F", "room: 73 °F", "room: 80 °F"),
    ("never gel", "gel: avoid", "gel: force"),
    ("lard at most 35 % of the oils", "lard: 30 %, shea: 40 %", "lard: 40 %, shea: 30 %"),
    ("sunflower no more than 10 % of the oils", "Rapsöl: 25 %", "Rapsöl: 10 %"),
    ("lye at most 40 %", "water: 206 g", "water: 130 g"),
    ("no hanger swirl for sale", "for: home", "for: sale"),
    ("oat milk at most 2 %", "oat milk: 1.5 %", "oat milk: 3 %"),
)
"""(sentence, what the plan says, what breaks the rule)."""
MORE = (("Rapsöl: 10 %", "sunflower: 5 %", "sunflower: 20 %"),)
"""What is bent beside it, so that the oils still make 100 %."""


def test_eight_rules_are_taught_and_each_of_them_matters(tmp_path: Path) -> None:
    """Taught at the command line, a rule is silent on a plan that keeps it, and named where one breaks it."""
    made = a_book(tmp_path / "book", OUNCES, looks=False)
    units = Book(made.folder).files.usual.units
    assert ("oz", "F") == (units.mass, units.temperature)
    plan = next(path for path in made.plans if path.stem == "market-day")
    text = plan.read_text("utf-8")
    for was, becomes in KEPT:
        text = bent(text, was, becomes)
    names = []
    for sentence, _, _ in EIGHT:
        done = ran("rules", "new", sentence, "--book", made.folder, "--yes", "--json")
        assert 0 == done.code, (sentence, done.out, done.err)
        names.append(done.document["rule"])
    assert len(EIGHT) == len(set(names))
    plan.write_text(text, "utf-8")
    assert set() == spoken(plan) & set(names)
    for name, (_, was, becomes) in zip(names, EIGHT, strict=True):
        broken = bent(text, was, becomes)
        for here, other_was, other in MORE:
            broken = bent(broken, other_was, other) if here == becomes else broken
        plan.write_text(broken, "utf-8")
        assert {name} == spoken(plan) & set(names)


def bent(text: str, was: str, becomes: str) -> str:
    """A plan with one place changed."""
    assert 1 == text.count(was), was
    return text.replace(was, becomes)


def spoken(plan: Path) -> set[str]:
    """The rules that a check says are broken."""
    found = ran("check", plan, "--json").document["findings"]
    return {finding["rule"] for finding in found if finding["status"] == "broken"}
