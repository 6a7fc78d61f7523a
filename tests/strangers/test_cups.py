"""Test cups on generated books, in grams and in ounces, at the command line."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import Any

import pytest
import yaml

from blendwise.api import Book
from tests.strangers.books import StrangeBook, a_book
from tests.strangers.runs import Ran, ran
from tests.strangers.units import OUNCE

SEEDS = (1, 2, 3, 10, 22, 36)
"""Books in grams and in ounces, some with a scale of a whole gram."""
POT, WEEK = "2026-12-01", "2027-01-05"
NAOH_PER_KOH = 39.997 / 56.1056  # molar masses, IUPAC 2021


@pytest.fixture(scope="module", params=SEEDS)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> StrangeBook:
    """A generated book without looks."""
    return a_book(tmp_path_factory.mktemp("cups") / "book", int(request.param), plans=2, looks=False)


def shelf(book: StrangeBook) -> dict[str, Any]:
    """The oils of a book as written."""
    return dict(yaml.safe_load((book.folder / "scents.yaml").read_text("utf-8")))


def printed(run: Ran, what: str) -> float:
    """Grams of a thing as the plain text gives it."""
    flat = " ".join(run.out.split())
    found = re.search(rf"(?:^|[\s:]){re.escape(what)} ([0-9.]+) (g|oz)\b", flat)
    assert found is not None, (what, flat)
    return float(found[1]) * (OUNCE if found[2] == "oz" else 1.0)


def whole(run: Ran) -> tuple[float, float]:
    """Grams of all batter, and of what clings to the pot, as printed."""
    found = re.search(r": ([0-9.]+) (g|oz) of batter, of which about ([0-9.]+)", " ".join(run.out.split()))
    assert found is not None, run.out
    unit = OUNCE if found[2] == "oz" else 1.0
    return float(found[1]) * unit, float(found[3]) * unit


def poured(book: StrangeBook) -> list[tuple[dict[str, Any], Ran]]:
    """Cups of the first oils of a book that are not refused: document and plain text."""
    found = []
    for oil in list(shelf(book))[:4]:
        asked = ("cup", oil, "--book", book.folder)
        document = ran(*asked, "--json").document
        if not document["refused"]:
            found.append((document, ran(*asked)))
    return found


def test_printed_amounts_are_the_batter_of_the_cups(book: StrangeBook) -> None:
    """Oils, lye and water as printed sum to the batter printed: 100 g a cup, and what clings to the pot."""
    cups = poured(book)
    assert cups
    for document, text in cups:
        batter, spare = whole(text)
        total = sum(printed(text, each["what"]) for each in document["pot"])
        step = max(each["step"] for each in document["pot"])
        assert total == pytest.approx(batter, abs=step / 2)
        assert batter - spare == pytest.approx(
            100.0 * len(document["cups"]), abs=step * len(document["cups"])
        )
        for cup in document["cups"]:
            assert cup["batter"]["grams"] == pytest.approx(100.0, abs=cup["batter"]["step"] / 2 + 1e-6)


def test_lye_as_printed_keeps_the_superfat_asked_for(book: StrangeBook) -> None:
    """The lye on the paper, on the oils on the paper, leaves no less fat free than the maker's own recipe."""
    oils = Book(book.folder).files.oils
    for document, text in poured(book):
        assert document["superfat"] >= document["asked"] - 1e-9
        if any(each["kind"] == "additive" for each in document["pot"]):
            continue
        need = 0.0
        for each in document["pot"]:
            if each["kind"] == "oil":
                record = oils[each["what"]]
                value = record.lot_saponification or record.saponification
                need += printed(text, each["what"]) * value.mid / 1000 * NAOH_PER_KOH
        usual = yaml.safe_load((book.folder / "usual.yaml").read_text("utf-8"))
        purity = float(str(usual["lye"].get("purity", "100 %")).split()[0]) / 100
        superfat = 1 - printed(text, "sodium hydroxide") * purity / need
        assert superfat == pytest.approx(document["superfat"], abs=2e-4)
        assert superfat >= document["asked"] - 2e-4


def test_a_cup_holds_what_the_portion_would_hold(book: StrangeBook) -> None:
    """The dose of a plan's portion, on the cup's own oils, to a step of the scale."""
    looked = 0
    for plan in book.plans:
        checked = ran("check", plan, "--json").document
        for row in checked.get("grams", ()):
            doses = {oil: grams / row["oils"] for oil, grams in row["scents"].items() if grams}
            if not doses:
                continue
            asked = ("cup", "--plan", plan, "--portion", row["portion"], "--json")
            document = ran(*asked).document
            if document["refused"]:
                continue
            cup = document["cups"][1]
            base = sum(each["grams"] for each in document["pot"] if each["kind"] == "oil")
            oils = cup["batter"]["grams"] * base / document["whole"]
            for each in cup["scents"]:
                assert each["grams"] == pytest.approx(doses[each["what"]] * oils, abs=each["step"] * 0.75)
                looked += 1
    assert looked or all(ran("check", plan, "--json").code for plan in book.plans)


def test_what_may_not_be_poured_holds_nothing_to_weigh(book: StrangeBook) -> None:
    """An oil not sold for skin, and one whose papers name a banned substance, are refused as in a plan."""
    file = book.folder / "scents.yaml"
    doc = yaml.safe_load(file.read_text("utf-8"))
    before = file.read_text("utf-8")
    candle, banned = list(doc)[:2]
    doc[candle]["for skin"] = "no"
    doc[banned]["for skin"] = "yes"
    doc[banned]["allergen sheet"] = {"Lilial": "2 %"}
    file.write_text(yaml.safe_dump(doc, allow_unicode=True, sort_keys=False), "utf-8")
    try:
        for oil in (candle, banned):
            run = ran("cup", oil, "--book", book.folder, "--keep", "--json")
            assert (run.code, run.document["refused"]) == (1, True)
            assert [run.document[key] for key in ("pot", "cups", "kept")] == [[], [], None]
            assert "sodium hydroxide" not in ran("cup", oil, "--book", book.folder, "--more").out
    finally:
        file.write_text(before, "utf-8")
    assert not list((book.folder / "notes").glob("*cup*"))


def test_past_the_limits_of_skin_a_cup_is_for_looking_only(book: StrangeBook) -> None:
    """Over its certificate an oil may be looked at in soap: the cup is said to be not for skin."""
    file = book.folder / "scents.yaml"
    before = file.read_text("utf-8")
    doc = yaml.safe_load(before)
    oil = next(iter(doc))
    doc[oil] |= {"for skin": "yes", "limit in bar": {"most": "3 %", "category": "9", "dated": "2026-01-10"}}
    doc[oil].pop("allergen sheet", None)
    doc[oil].pop("tags", None)
    file.write_text(yaml.safe_dump(doc, allow_unicode=True, sort_keys=False), "utf-8")
    try:
        asked = ("cup", oil, "--doses", "1 %; 8 %", "--book", book.folder)
        document = ran(*asked, "--json").document
        assert not document["refused"]
        assert [cup["looking_only"] for cup in document["cups"]] == [False, False, True]
        assert "for looking only, not for skin" in " ".join(ran(*asked).out.split())
    finally:
        file.write_text(before, "utf-8")


def test_a_cup_noted_changes_the_belief_as_own_cup(book: StrangeBook, tmp_path: Path) -> None:
    """Cup, note, and from then on pair tells another minute factor and colour, on the word of the cup."""
    oil = next(name for name, each in shelf(book).items() if each.get("for skin") in (True, "yes"))
    where = ("--book", book.folder)
    kept = ran("cup", oil, *where, "--keep", "--json").document
    assert (book.folder / kept["kept"]).is_file()
    name, cup = kept["name"], kept["cups"][1]["name"]
    saw = ("--saw", "control: thick at 24 min", "--saw", f"{cup}: thick at 6 min")
    noted = ran("note", name, *saw, *where, "--today", POT, "--json")
    assert noted.code == 0, noted.err
    assert noted.document["measured"][0]["times"] == pytest.approx(4.0)
    for day, look in ((POT, "at the pot"), (WEEK, "week 4")):
        said = ran("pair", oil, *where, "--json", "--today", day).document["sides"][0]
        if look == "at the pot":
            assert said["acceleration_by"] == "own cup"
            ran("note", name, "--saw", f"{cup}: colour brown, strength fair", *where, "--today", WEEK)
        else:
            assert said["browning_by"] == "own cup"
    told = ran("review", "--scent", oil, *where, "--today", WEEK).out
    assert "test cup" in " ".join(told.split())
    assert ran("review", *where, "--today", WEEK).out.count("cup-") == 0


@pytest.mark.parametrize("seed", [4, 5, 7, 11])
def test_a_cup_that_is_advised_can_be_made(tmp_path: Path, seed: int) -> None:
    """Where a check, a split or a pair says `blendwise cup …`, that command answers and refuses nothing."""
    made = a_book(tmp_path / "book", seed, plans=4, looks=False)
    oils = list(shelf(made))
    asked: list[tuple[str | Path, ...]] = [("check", plan) for plan in made.plans]
    asked += [
        ("pair", *oils[at : at + 2], "--book", made.folder, "--more") for at in range(0, len(oils) - 1, 3)
    ]
    advised = 0
    for words in asked:
        flat = " ".join(ran(*words).out.split())
        for command in re.findall(r"`blendwise cup ([^`]+)`", flat):
            run = ran("cup", *shlex.split(command), "--book", made.folder, "--json")
            assert run.code in (0, 1), (words, command, run.out, run.err)
            assert words[0] != "check" or not run.document["refused"], (words, command)
            advised += 1
    assert advised
