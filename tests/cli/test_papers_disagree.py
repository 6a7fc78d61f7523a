"""Papers against an entry, a sheet that names nothing: the worse counts, both are shown; grams and ounces."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.danger.harness import HERE, TODAY, in_process

BOOKS = {"metric": ("winter-fir", "snow-fir"), "ounces": ("market-lavender", "Farm Lavender")}
Said = tuple[dict[str, Any], str]


def papers(to: Path, book: str, fields: dict[str, Any]) -> list[str]:
    """The arguments that follow a command: the plan, in a copy of the book with one oil's fields changed."""
    plan, oil = BOOKS[book]
    shutil.copytree(HERE / "sound" / book, to)
    shelf = to / "scents.yaml"
    found = yaml.load(shelf.read_text("utf-8"), yaml.BaseLoader)  # words as written, yes and on too
    found[oil].update(fields)
    text = re.sub(r'"(yes|no)"', r"\1", json.dumps(found, indent=1, ensure_ascii=False))
    shelf.write_text(text, "utf-8")
    written = to / "plans" / f"{plan}.yaml"
    written.write_text(written.read_text("utf-8").replace("for: home", "for: sale"), "utf-8")
    return [str(written), "--today", TODAY]


def checked(to: Path, book: str, fields: dict[str, Any]) -> Said:
    """The finding per broken rule, and what `check --more` prints."""
    args = papers(to, book, fields)
    told = json.loads(in_process(["check", *args, "--json"]).said)
    broken = {each["rule"]: each for each in told["findings"] if each["status"] == "broken"}
    return {**broken, "label": told["label"]}, " ".join(in_process(["check", *args, "--more"]).said.split())


@pytest.mark.parametrize("book", BOOKS)
def test_browns_by_above_the_sheet_counts_and_both_are_shown(book: str, tmp_path: Path) -> None:
    sheet = {"linalool": "1 %", "eugenol": "0.5 %", "complete": "yes"}
    broken, said = checked(tmp_path / "b", book, {"allergen sheet": sheet, "browns by": {"eugenol": "12 %"}})
    assert "sheet-against-entry" in broken
    assert "Eugenol: 12 % stated, 0.5 % on the sheet" in said
    share = next(line["share"] for line in broken["label"]["due"] if line["name"] == "Eugenol")
    assert share > 0.12 * 0.01  # a load of about 3 %: by the sheet it were a twentieth of it


@pytest.mark.parametrize("book", BOOKS)
def test_a_complete_sheet_that_leaves_out_what_the_entry_states_is_told(book: str, tmp_path: Path) -> None:
    sheet = {"linalool": "1 %", "complete": "yes"}
    broken, said = checked(tmp_path / "b", book, {"allergen sheet": sheet, "vanillin": "4 %"})
    assert "sheet-against-entry" in broken
    assert "Vanillin: 4 % stated, not on a sheet that calls itself complete" in said
    assert "Vanillin" in [line["name"] for line in broken["label"]["due"]]


@pytest.mark.parametrize("book", BOOKS)
def test_vanillin_on_the_sheet_above_the_stated_counts(book: str, tmp_path: Path) -> None:
    fields = {
        "allergen sheet": {"vanillin": "9 %", "complete": "yes"},
        "vanillin": "0 %",
        "browns to": {"band": "ivory", "at": "3 % of oils", "evidence": "supplier"},
    }
    broken, _ = checked(tmp_path / "b", book, fields)
    assert "sheet-against-vanillin" in broken
    assert "sheet-against-entry" not in broken
    assert "browning-shows-in-light" in broken


@pytest.mark.parametrize("book", BOOKS)
def test_a_certificate_that_allows_all_does_not_outrank_the_sheet(book: str, tmp_path: Path) -> None:
    """The certificate bounds nothing; what the sheet names passes its maximum in law all the same."""
    fields = {
        "limit in bar": {"most": "100 %", "certificate": "51st amendment", "dated": "2026-02-03"},
        "allergen sheet": {"methyl eugenol": "5 %", "complete": "yes"},
    }
    broken, said = checked(tmp_path / "b", book, fields)
    assert broken["over-a-published-maximum"]["level"] == "stop"
    assert "ethyl eugenol" in said


@pytest.mark.parametrize("book", BOOKS)
def test_papers_that_agree_are_silent(book: str, tmp_path: Path) -> None:
    sheet = {"linalool": "1 to 3 %", "eugenol": "1 to 2 %", "complete": "yes"}
    broken, _ = checked(tmp_path / "b", book, {"allergen sheet": sheet, "browns by": {"eugenol": "2 %"}})
    assert "sheet-against-entry" not in broken


@pytest.mark.parametrize("book", BOOKS)
def test_a_complete_sheet_without_a_name_is_told(book: str, tmp_path: Path) -> None:
    """It counts as nothing to name, and is said to be so on the check and on the label's draft."""
    oil = BOOKS[book][1]
    args = papers(tmp_path / "b", book, {"allergen sheet": {"complete": "yes"}})
    for command in (["check"], ["check", "--more"], ["label"]):
        said = " ".join(in_process([command[0], *args, *command[1:]]).said.split())
        assert f"the sheet of {oil} names none: look whether a name was left out" in said, command
