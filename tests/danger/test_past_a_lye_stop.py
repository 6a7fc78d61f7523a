"""Past a lye stop no command says the lye in grams or ounces, or how the scents are divided.

Generated strangers' books, metric and in ounces, a plan of each with far too much lye; by the parser in
process, one in twenty as a process of its own.  Here each command is asked of a metric book and of one in
ounces; every command of every book by `python tests/long.py past_a_lye_stop`.
"""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.records.as_of import AsOf
from tests.danger.harness import TODAY, Ran, as_subprocess, build, in_process, read, write
from tests.strangers.books import a_book

OUNCE = 28.349523125
OF_OILS = 0.2171
LARGER = 1500.0  # g of oils, of the plan scaled
SEEDS = (202, 207, 205, 208, 217, 212, 223, 216)
"""Metric, in ounces, metric and so on, each with a recipe of its own."""
COMMANDS = (
    ("check", "PLAN"),
    ("check", "PLAN", "--working"),
    ("check", "PLAN", "--plain"),
    ("check", "PLAN", "--json", "--working"),
    ("assign", "PLAN"),
    ("assign", "PLAN", "--json"),
    ("assign", "PLAN", "--free", "--plain"),
    ("assign", "PLAN", "--oils", "1500 g"),
    ("assign", "PLAN", "--oils", "1500 g", "--write", "OUT"),
    ("assign", "PLAN", "--write", "OUT"),
    ("sheet", "PLAN", "--json"),
    ("sheet", "PLAN", "--out", "PAGE"),
    ("note", "PLAN", "--dry-run"),
    ("note", "PLAN", "--dry-run", "--json"),
    ("why", "soap is heating up", "PLAN"),
)
IN_MANY = 20
PARTS = 3  # the commands are shared out to the pairs of books
FIGURE = re.compile(r"(?<![\w.\"-])\d+\.\d+(?![\w\"])")


def with_too_much_lye(plan: Path) -> float:
    """Write half as much lye again as the oils need, in the plan's unit; grams of it.

    A seventh of the oils in grams is about what oils need; 0.217 g a gram is past any of them but coconut's.
    """
    data = read(plan)
    oils = float(Book(plan.parents[1]).situation(plan, AsOf()).pot.oils_total)
    grams = oils * OF_OILS
    ounces = "oz" in plan.read_text("utf-8")
    lye, water = (f"{mass / OUNCE:.3f} oz" if ounces else f"{mass:.2f} g" for mass in (grams, 2.3 * grams))
    data["recipe"]["lye"] = {"NaOH": lye, "water": water}
    write(plan, data)
    return grams


def says_of(grams: float, said: str) -> list[str]:
    """Where an answer says that much lye, in g or oz, rounded or cut off; in a document its figures."""
    masses: tuple[float, ...] = (grams, grams / OUNCE)
    cut = {
        f"{math.floor(mass * 10**digits) / 10**digits:.{digits}f}" for mass in masses for digits in range(4)
    }
    if said.lstrip().startswith("{"):
        masses += tuple(float(each) for each in cut if len(each) > 2)
        return [n for n in FIGURE.findall(said) if any(abs(float(n) - m) < 2e-5 * m for m in masses)]
    said = re.sub(r"<[^>]*>", "", said)  # a page may set the unit apart from its figure
    figures = cut | {f"{mass:.{digits}f}" for mass in masses for digits in range(4)}
    units = "|".join(re.escape(each) for each in figures if len(each) > 2)
    return re.findall(rf"(?<![\d.])(?:{units}) ?(?:g\b|oz\b|grams)", said)


def ran(command: tuple[str, ...], plan: Path, number: int, to: Path) -> Ran:
    places = {"PLAN": str(plan), "OUT": str(to / f"new-{number}.yaml"), "PAGE": str(to / f"{number}.html")}
    words = [places.get(word, word) for word in command]
    runner = as_subprocess if number % IN_MANY == 0 else in_process
    told = runner([*words, "--today", TODAY])
    page = Path(places["PAGE"])
    return Ran(told.command, told.code, told.said + (page.read_text("utf-8") if page.exists() else ""))


@pytest.mark.parametrize("place", range(len(SEEDS)))
def test_no_output_holds_its_lye_or_a_split(place: int, tmp_path: Path) -> None:
    none_holds_its_lye_or_a_split(SEEDS[place], COMMANDS[place // 2 % PARTS :: PARTS], place, tmp_path)


def none_holds_its_lye_or_a_split(
    seed: int, commands: tuple[tuple[str, ...], ...], place: int, tmp_path: Path
) -> None:
    """Ask these of a seed's book, the ``place``-th of several; AssertionError where one holds either."""
    book = a_book(tmp_path / "book", seed, plans=1, looks=False)
    plan = book.plans[0]
    grams = with_too_much_lye(plan)
    first = in_process(["check", str(plan), "--json", "--today", TODAY])
    assert first.code == 1, first.said[:400]
    assert any(stop["protects"] == "lye" for stop in first.stops), first.said[:600]
    assert json.loads(first.said)["grams"] == []
    for number, command in enumerate(commands, place * len(commands)):
        answer = ran(command, plan, number, tmp_path)
        assert answer.code in (0, 1, 2), answer.said[:400]
        assert answer.code == 0 or command[0] not in ("note", "why"), answer.said[:400]
        for mass in {grams, OF_OILS * LARGER} if "--oils" in command else {grams}:
            assert [] == says_of(mass, answer.said), command
        assert "proven the best" not in answer.said, command
        assert not (tmp_path / f"new-{number}.yaml").exists()
        assert "--write" not in command or (answer.code, "--lever 1" in answer.said) == (2, True), answer.said


@pytest.mark.parametrize(("base", "lye"), [("weighed", "152 g"), ("doses-oz", "6 1/4 oz")])
def test_only_a_lever_that_is_asked_for_writes_the_mended_plan(base: str, lye: str, tmp_path: Path) -> None:
    """What is written then holds no lye stop any more, and the plan itself is left as it was."""
    plan, new = build(base, [("set", "plan", "recipe/lye/NaOH", lye)], tmp_path), tmp_path / "new.yaml"
    before = plan.read_text("utf-8")
    refused = in_process(["assign", str(plan), "--write", str(new), "--today", TODAY])
    assert (2, False) == (refused.code, new.exists()), refused.said
    in_process(["assign", str(plan), "--lever", "1", "--write", str(new), "--today", TODAY])
    new = new.replace(plan.with_name("mended.yaml"))
    judged = in_process(["check", str(new), "--json", "--today", TODAY])
    assert [] == [stop for stop in judged.stops if stop["protects"] == "lye"], judged.said[:600]
    assert before == plan.read_text("utf-8")


def test_the_finder_of_lye_finds_it(tmp_path: Path) -> None:
    """The judge itself: a figure of that lye is seen in either unit, and in what a sound plan prints."""
    plan = build("weighed", [("set", "plan", "recipe/lye/NaOH", "140.37 g")], tmp_path)
    working = ("check", "PLAN", "--working")
    for number, command in enumerate([working, (*working, "--json"), ("sheet", "PLAN", "--out", "PAGE")], 1):
        assert says_of(140.37, ran(command, plan, number, tmp_path).said), command
    assert says_of(217.1, "weigh 217 g of it") == ["217 g"]
    assert says_of(217.1, "weigh 7.658 oz of it") == ["7.658 oz"]
    assert says_of(217.1, "weigh 216 g of it") == []
    assert says_of(217.7, "weigh 217 g of it") == ["217 g"]
    assert says_of(140.37, '{"lye": 140.3}') == ["140.3"]


@pytest.mark.parametrize(("base", "lye"), [("weighed", "152 g"), ("doses-oz", "6 1/4 oz")])
def test_a_batch_already_poured_stays_open(base: str, lye: str, tmp_path: Path) -> None:
    """A note and a question are answered: do not use, gloves on, what must go back into it."""
    plan = build(base, [("set", "plan", "recipe/lye/NaOH", lye)], tmp_path)
    noted = in_process(["note", str(plan), "--today", TODAY])
    asked = in_process(["why", "soap is heating up", str(plan), "--today", TODAY])
    assert (0, 0) == (noted.code, asked.code), noted.said + asked.said
    reviewed = in_process(["review", "--book", str(plan.parents[1]), "--today", TODAY])
    page = tmp_path / "review.html"
    in_process(["review", "--book", str(plan.parents[1]), "--page", str(page), "--today", TODAY])
    assert "poured past a stop: do not use it, gloves on" in page.read_text("utf-8")
    assert reviewed.code == 0, reviewed.said
    for answer in (noted, asked, reviewed):
        said = " ".join(answer.said.split())
        assert "Do not use it, sell it or give it away. Gloves on" in said
        assert "more of the recipe's oils to use that up" in said
    again = in_process(["again", read(plan)["plan"], "--book", str(plan.parents[1]), "--today", TODAY])
    assert again.code == 1, again.said
    assert "NaOH" not in again.said
    assert "The lye comes first" in " ".join(again.said.split())
    new = tmp_path / "new.yaml"
    told = in_process(
        ["again", read(plan)["plan"], "--book", str(plan.parents[1]), "--write", str(new), "--today", TODAY]
    )
    assert (2, False) == (told.code, new.exists()), told.said


def test_a_sound_batch_is_not_called_poured_past_a_stop(tmp_path: Path) -> None:
    plan = build("weighed", (), tmp_path)
    in_process(["note", str(plan), "--today", TODAY])
    reviewed = in_process(["review", "--book", str(plan.parents[1]), "--json", "--today", TODAY])
    assert [line.get("past") for line in json.loads(reviewed.said)["batches"]] == [None]
