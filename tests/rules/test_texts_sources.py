"""Each text that can hurt stands where the table of sources says; what was found wrong is said nowhere."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from blendwise.records.shipped import starter_folder

TABLE = Path(__file__).with_name("texts_sources.csv")
STANDINGS = {"read", "read in part", "reported", "memory", "practice", "judgement"}
SHEETS = tuple(
    f"blendwise/show/{part}"
    for part in (
        *("sheet/front.py", "sheet/trouble.py", "sheet/words.py", "pages/templates/sheet.html"),
        *("pages/templates/sheet/after.html", "pages/templates/sheet/trouble.html"),
    )
)
FALSE = (
    *(
        "phenolphthalein must stay clear",
        "turn phenolphthalein pink",
        "Test a fresh face with phenolphthalein",
    ),
    *("phenolphthalein rather than the tongue", "at least as flammable as its lowest part"),
    *("no longer stays dissolved", "hydrogen sulphide until the lye is used up", "irritate skin more"),
    "may be lye",
    *("Its powder is classed", "salty in smell", "the weighing was off", "leave it as it is."),
    "15 minutes or more",
)


def rows() -> list[dict[str, str]]:
    """The table's lines."""
    lines = TABLE.read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def text_of(file: str) -> str:
    """One of our texts on a single line."""
    rules = starter_folder("rules")
    if file.startswith("rules/"):
        return " ".join((rules / file.removeprefix("rules/")).read_text("utf-8").split())
    import blendwise

    root = Path(blendwise.__file__).parent.parent
    return " ".join((root / file).read_text("utf-8").split())


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["holds"])
def test_the_text_stands_and_has_a_source(row: dict[str, str]) -> None:
    assert row["holds"] in text_of(row["file"])
    assert row["standing"] in STANDINGS
    assert row["rests_on"]
    assert row["who"]


@pytest.mark.parametrize("said", FALSE)
def test_what_was_found_wrong_is_said_nowhere(said: str) -> None:
    files = [f"rules/{path.name}" for path in starter_folder("rules").glob("*.yaml")]
    assert [file for file in [*files, *SHEETS] if said in text_of(file)] == []
