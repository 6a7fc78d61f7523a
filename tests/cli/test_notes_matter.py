"""Each note of a maker, taught at the command line, speaks of a plan against it, and of no sound one."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from blendwise.cli.exit_codes import CLEAN
from tests.cli.conftest import Run
from tests.strangers.books import a_book

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
BASE = (DEMO / "plans" / "harbour-morning.yaml").read_text("utf-8")
BLEND = "{sea-glass: 2, lavender: 1, cedar: 1}"
BASIS = ("--basis", "portion oils")
LOAD = "  load: 4 % of batch oils"
FIRST = "doses:\n  foam: {hive-and-clover: all of it}\norder: [foam, tide, sand, slate]"
EMBED = "embeds:\n  - {what: cold process, mass: 60 g, scents: {clove-leaf: 1 g}}"
INNER = {"tide, share: 25 %": "tide, share: 25 %, lies: inner"}
NOTES: list[tuple[str, dict[str, str], str]] = [
    ("Tonka-milk and lime never again in one cup.", {BLEND: "{tonka-milk: 1, lime: 1}"}, ""),
    ("Not more than half a per cent of tonka-milk in anything white.", {BLEND: "{tonka-milk: 1}"}, ""),
    (
        "2 % citrus at most when the batter is over 90 °F",
        {BLEND: "{lime: 3, cedar: 1}", "batter at split: 33 °C": "batter at split: 95 °F"},
        "",
    ),
    ("Lime older than a year is for the diffuser.", {BLEND: "{lime: 1, cedar: 2}"}, "2024-01-10"),
    (
        "The fast ones go last",
        {
            BLEND: "{hive-and-clover: 1, cedar: 2}",
            "prefer:": f"{FIRST}\nprefer:",
            "pour: column": "pour: rough layers",
        },
        "",
    ),
    ("The fast ones not before minute 12", {BLEND: "{hive-and-clover: 1, cedar: 2}"}, ""),
    ("Clove-leaf only in the outer portions", {BLEND: "{clove-leaf: 1, cedar: 9}", **INNER}, ""),
    ("Clove-leaf never in the core of a column.", {BLEND: "{clove-leaf: 1, cedar: 9}", **INNER}, ""),
    (
        "Tonka-milk and burnt-sugar together: not over 2 % of a cup's oils.",
        {BLEND: "{tonka-milk: 1, burnt-sugar: 1}"},
        "",
    ),
    (
        "No clove-leaf inside embeds.",
        {"pour: column": f"{EMBED}\npour: column"},
        "",
    ),
]  # fmt: skip
"""Sentence, what is changed in a sound plan, and since when the lime stands there ("": as it is)."""


def spoken(run: Run, book: Path, plan: str, rule: str) -> bool:
    """Whether a check at the command line tells of a rule."""
    found = json.loads(run("check", str(book / "plans" / f"{plan}.yaml"), "--json").out)["findings"]
    return any(f["rule"] == rule and f["status"] in ("broken", "tight") for f in found)


@pytest.mark.parametrize(("said", "changes", "bought"), NOTES, ids=lambda value: str(value)[:40])
def test_a_note_matters(said: str, changes: dict[str, str], bought: str, run: Run, tmp_path: Path) -> None:
    """Against the note the plan is told of with its rule; the sound plan is not."""
    book = shutil.copytree(DEMO, tmp_path / "book")
    taught = json.loads(run("rules", "new", said, *BASIS, "--book", str(book), "--json").out)
    assert CLEAN == run("rules", "new", said, *BASIS, "--book", str(book), "--yes").code
    text = BASE
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    (book / "plans" / "against.yaml").write_text(text, "utf-8")
    if bought:
        shelf = book / "scents.yaml"
        before, lime, rest = shelf.read_text("utf-8").partition("\nlime:\n")
        old = re.sub(r"bought: \S+", f"bought: {bought}", rest, count=1)
        shelf.write_text(f"{before}{lime}{old}", "utf-8")
    assert spoken(run, book, "against", taught["rule"])
    assert not spoken(run, book, "harbour-morning", taught["rule"])


def test_what_a_rule_would_have_said_is_what_it_says_once_kept(run: Run, tmp_path: Path) -> None:
    """In ounces: the plans that it is shown to speak of, broken or tight, are those it then speaks of."""
    book = a_book(tmp_path / "book", 4, 4).folder
    told = json.loads(
        run("rules", "new", "each portion at least 12 minutes fluid", "--book", str(book), "--json").out
    )
    spoken = {each["plan"] for each in told["tried"] if each["broken"] or each["tight"]}
    assert any(each["tight"] or each["broken"] for each in told["tried"])
    assert (
        CLEAN
        == run("rules", "new", "each portion at least 12 minutes fluid", "--book", str(book), "--yes").code
    )
    rule, kept = told["rule"], set[str]()
    for each in told["tried"]:
        day = ("--today", each["poured"]) if each["poured"] else ()
        said = json.loads(run("check", each["plan"], "--book", str(book), "--json", *day).out)
        found = {f["status"] for f in said["findings"] if f["rule"] == rule}
        kept |= {each["plan"]} if found & {"broken", "tight"} else set()
    assert spoken == kept
