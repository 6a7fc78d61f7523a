"""What cannot be timed is said, at the command line, in books of either unit system."""

from __future__ import annotations

import pytest

from tests.strangers.books import StrangeBook, a_book
from tests.strangers.runs import Ran, ran

SEEDS = {"grams": 1, "ounces": 2}
AMOUNTS = {
    "grams": {"oils": "1000 g", "warm": "32 °C", "room": "20 °C", "soft": "18 °C", "warmer": "44 °C"},
    "ounces": {"oils": "35 oz", "warm": "90 °F", "room": "68 °F", "soft": "65 °F", "warmer": "111 °F"},
}
COLOURS = "abcdefgh"
Shelf = tuple[StrangeBook, str]


@pytest.fixture(scope="module", params=SEEDS)
def shelf(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Shelf:
    """A generated book of one unit system, with one fat of which nobody says how hard it is."""
    kind = str(request.param)
    book = a_book(tmp_path_factory.mktemp(kind) / "book", SEEDS[kind], plans=1, looks=False)
    with (book.folder / "oils.yaml").open("a", encoding="utf-8") as oils:
        oils.write("\nquellfett: {saponification: 185 to 195}\nolive press: {saponification: 185 to 195}\n")
    return book, kind


def asked(
    shelf: Shelf, *said: str, cups: int = 2, oil: str = "olive press", pour: str = "combed slab"
) -> Ran:
    """A plan of so many cups of one oil, unscented, with more lines."""
    book, kind = shelf
    at = AMOUNTS[kind]
    head = [
        "plan: timed",
        "for: home",
        f"recipe: {{oils: {{{oil}: 100 %}}, amount: {{oils: {at['oils']}}}, "
        "lye: {concentration: 30 %, superfat: 5 %}}",
        f"pour: {pour}",
        "portions:",
        *(f"  - {{name: {name}, share: 1 parts, scented: no}}" for name in COLOURS[:cups]),
        *said,
    ]
    if not any(line.startswith("process:") for line in said):
        head.append(f"process: {{batter at split: {at['warm']}, room: {at['room']}, gel: avoid}}")
    path = book.folder / "plans" / "timed.yaml"
    path.write_text("\n".join(head) + "\n", encoding="utf-8")
    return ran("check", path, "--json")


def faults(run: Ran) -> str:
    """What was wrong with the files."""
    return " ".join(fault["message"] for fault in run.document["faults"])


def of_rule(run: Ran, rule: str) -> list[tuple[str, str]]:
    """(level, status) of a rule's findings."""
    return [(f["level"], f["status"]) for f in run.document["findings"] if f["rule"] == rule]


def test_a_range_upside_down_is_refused(shelf: Shelf) -> None:
    run = asked(shelf, "process: {gel: avoid, stays fluid: 40 to 30 min}")
    assert run.code == 2
    assert "runs backwards" in faults(run)


def test_a_style_without_minutes_is_refused(shelf: Shelf) -> None:
    """A style of one's own must say what it takes; with its minutes it is poured."""
    mine = shelf[0].folder / "rules" / "mine"
    mine.mkdir(parents=True, exist_ok=True)
    own, style = mine / "pours.yaml", "own swirl: {family: interleaved, batter: light, basis: my own, "
    try:
        own.write_text(f"{style}tolerates: slight, touching: each other}}\n", encoding="utf-8")
        bare = asked(shelf, pour="own swirl")
        own.write_text(
            f"{style}tolerates: slight, touching: each other, minutes: 5 to 9 min}}\n", encoding="utf-8"
        )
        timed = asked(shelf, pour="own swirl")
    finally:
        own.unlink()
    assert bare.code == 2
    assert "minutes" in faults(bare)
    assert timed.code in (0, 1)


def test_embeds_that_melt_at_room_temperature_are_refused(shelf: Shelf) -> None:
    soft = AMOUNTS[shelf[1]]["soft"]
    embeds = f"embeds: [{{what: melt-and-pour, mass: 80 g, softens: {soft}, scents: {{}}}}]"
    run = asked(shelf, embeds)
    assert run.code == 2
    assert "no plausible figure" in faults(run)


def test_a_tilted_mould_of_eight_is_a_conflict(shelf: Shelf) -> None:
    """Four it bears; the fifth is thick in its cup by then."""
    rule = "more-portions-than-the-pour-bears"
    assert of_rule(asked(shelf, cups=8, pour="tilted layers"), rule) == [("conflict", "broken")]
    assert of_rule(asked(shelf, cups=4, pour="tilted layers"), rule) == []


def test_a_fat_of_which_nobody_says_how_hard_it_is_is_not_liquid(shelf: Shelf) -> None:
    """Without hardness and with a strange name: not known where it is clear; an olive is liquid by name."""
    strange, plain = (
        [fact for fact in working(asked_working(shelf, oil)) if fact["measure"] in OPEN]
        for oil in ("quellfett", "olive press")
    )
    assert {fact["measure"]: fact["high"] for fact in strange} == {
        "clear temperature": None,
        "hard fats": 1.0,
    }
    assert all(fact["low"] == fact["high"] for fact in plain)


OPEN = ("clear temperature", "hard fats")


def asked_working(shelf: Shelf, oil: str) -> Ran:
    """The plan of one oil with every fact."""
    asked(shelf, oil=oil)
    return ran("check", shelf[0].folder / "plans" / "timed.yaml", "--working", "--json")


def working(run: Ran) -> list[dict[str, object]]:
    """The facts of a run with ``--working``."""
    found: list[dict[str, object]] = run.document["working"]
    return found
