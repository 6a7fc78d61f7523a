"""Three strangers' ways from a spreadsheet to a second batch, at a real terminal of sixty columns."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from blendwise import Book
from tests.strangers.terminal import COLUMNS, ROOT, at_a_terminal

FOUND = ROOT / "tests" / "strangers" / "found"


def too_wide(screen: str) -> list[str]:
    """The lines that are wider than the window, but for names that cannot be divided."""
    lines = re.sub(r"\x1b\[[0-9;]*m", "", screen).replace("\r", "").split("\n")
    return [line for line in lines if len(line) > COLUMNS and " " in line.strip()]


def test_a_beginner_in_grams(tmp_path: Path) -> None:
    """Own words all the way; the answers are kept, and no file is opened by hand."""
    shutil.copy(FOUND / "beginner" / "oils-title-row.xlsx", tmp_path / "my oils.xlsx")
    told = {"weigh in": ["grams"], "Temperatures": ["celsius"], "Rates": ["?", "%"], "Base oils": ["500"]}
    told |= {"Lye concentration": ["33%", "33"], "Superfat": ["<", "5%"], "for home": ["home"]}
    code, screen = at_a_terminal(["start", "soap", "--shelf", "my oils.xlsx"], tmp_path, told)
    assert 0 == code, screen
    assert [] == too_wide(screen)
    usual = Book(tmp_path / "soap").files.usual
    assert usual.recipe is not None
    assert usual.recipe.amount is not None
    assert usual.recipe.amount.oils is not None
    assert ("home", 500.0) == (usual.for_, usual.recipe.amount.oils.value)
    code, screen = at_a_terminal(["pair", "vanilla", "orange", "--book", "soap"], tmp_path, {})
    assert code in (0, 1), screen
    assert "home" == Book(tmp_path / "soap").pair("vanilla", "orange").check.purpose
    said = {
        "Name of the first": ["?", "milk"],
        'Share of "milk"': ["half"],
        "Name of the next": ["cocoa", ""],
    }
    said |= {
        "How much": ["20x8x6"],
        "Lye as a share": ["33% 5%"],
        "Next oil": ["vanilla", "cedar", ""],
        "How dark": ["chocolate", "chocolate"],
    }
    code, screen = at_a_terminal(["draft", "weekend bar", "--book", "soap"], tmp_path, said)
    assert code in (0, 1), screen
    assert [] == too_wide(screen)
    assert '"vanilla" is taken as Vanilla Biscuit' in " ".join(screen.split())
    plan = Book(tmp_path / "soap").plan("weekend bar")
    assert {"Vanilla Biscuit", "Cedarwood"} == set(plan.scents.blend if plan.scents else ())
    _second_batch(tmp_path, "weekend bar", "milk")


def test_a_seller_in_ounces(tmp_path: Path) -> None:
    """Sixty oils of a spreadsheet, a plan in ounces, a note in words, and the next plan solved."""
    shutil.copy(FOUND / "seller" / "oils60.csv", tmp_path / "oils60.csv")
    told = {"weigh in": ["ounces"], "Temperatures": ["fahrenheit"], "Rates": ["ppo"], "for home": ["sell"]}
    code, screen = at_a_terminal(["start", "soap", "--shelf", "oils60.csv"], tmp_path, told)
    assert 0 == code, screen
    assert 60 == len(Book(tmp_path / "soap").files.scents)
    said = {"Name of the first": ["cream"], 'Share of "cream"': ["half"], "Name of the next": ["orange", ""]}
    said |= {"Next oil": ["Elder Rain", "Fig Meadow", ""], "How much": ["2 lb 4 oz"]}
    code, screen = at_a_terminal(["draft", "harvest", "--book", "soap"], tmp_path, said)
    assert code in (0, 1), screen
    assert [] == too_wide(screen)
    assert re.search(r"\d oz of oils", " ".join(screen.split()))
    _second_batch(tmp_path, "harvest", "cream")


def test_a_rule_writer(tmp_path: Path) -> None:
    """A rule of one's own counts at once, and one bad rule is named without stopping the others."""
    assert 0 == at_a_terminal(["start", "soap", "--with-demo", "--defaults"], tmp_path, {})[0]
    rules = tmp_path / "soap" / "rules" / "mine" / "own.yaml"
    shutil.copy(FOUND / "rule-writer" / "own.yaml", rules)
    code, screen = at_a_terminal(["check", "soap/plans/first.yaml"], tmp_path, {})
    assert code in (0, 1), screen
    assert "Traceback" not in screen
    code, screen = at_a_terminal(["rules", "lint", "--book", "soap"], tmp_path, {})
    assert code in (0, 1), screen


def _second_batch(folder: Path, plan: str, portion: str) -> None:
    """From a split over looks in own words to the next plan's split."""
    split = ["assign", f"soap/plans/{plan}.yaml", "--write", "soap/plans/made.yaml"]
    code, screen = at_a_terminal(split, folder, {})
    assert code in (0, 1), screen
    made = folder / "soap" / "plans" / "made.yaml"
    if not made.exists():
        pytest.fail(screen)
    look = {f"{portion}: minutes": ["12"], "Anything else": ["smelt good"]}
    code, screen = at_a_terminal(["note", "soap/plans/made.yaml", "--look", "pot"], folder, look)
    assert 0 == code, screen
    saw = {f"{portion}: colour": ["sparkling", "orangey tan"], f"{portion}: edge": ["crisp"]}
    saw |= {f"{portion}: halo": ["3 mm"], "again": ["y"]}
    code, screen = at_a_terminal(["note", "soap/plans/made.yaml", "--look", "cut"], folder, saw)
    assert 0 == code, screen
    assert [] == too_wide(screen)
    noted = " ".join(screen.split())
    assert '"orangey tan" is noted as #d39259' in noted
    assert "Noted in notes/" in noted
    assert 0 == at_a_terminal(["review", "made", "--book", "soap"], folder, {})[0]
    following = ["again", "made", "--book", "soap", "--write", "soap/plans/second.yaml"]
    code, screen = at_a_terminal(following, folder, {})
    assert code in (0, 1), screen
    code, screen = at_a_terminal(["assign", "soap/plans/second.yaml"], folder, {})
    assert code in (0, 1), screen
    assert "Traceback" not in screen
