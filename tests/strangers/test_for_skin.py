"""Sheets without a column on skin: asked once at a terminal, kept, and never guessed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.spreadsheet.skin import with_skin_said
from blendwise.records.kinds.scent import Scent
from blendwise.records.writing.edit import Plain
from tests.strangers.runs import ran
from tests.strangers.terminal import ROOT, at_a_terminal

FOUND = ROOT / "tests" / "strangers" / "found"
ASKED = "sold for use on skin: yes or unknown?"
SHEETS = [
    ("beginner", "oils-no-title.xlsx", "Vanilla Biscuit"),
    ("ten-years", "bottles.csv", "Sea Glass Cove"),
]


def _has_papers(scent: Scent) -> bool:
    limit = scent.limit_in_bar
    return limit is not None and (limit.certificate is not None or limit.dated is not None)


@pytest.mark.parametrize(("stranger", "sheet", "oil"), SHEETS)
@pytest.mark.parametrize(("typed", "said"), [("y", True), ("", None), ("no", None)])
def test_asked_once_and_kept(
    tmp_path: Path, stranger: str, sheet: str, oil: str, typed: str, said: bool | None
) -> None:
    """Yes is of all of them; Enter and no leave it open, and the same sheet does so again unasked."""
    shutil.copy(FOUND / stranger / sheet, tmp_path)
    code, screen = at_a_terminal(["start", "soap", "--shelf", sheet], tmp_path, {"on skin": ["?", typed]})
    assert 0 == code, screen
    assert 2 == " ".join(screen.split()).count(ASKED)
    assert 15 >= int(screen.split(" things are not certain")[0].split()[-1])
    scents = Book(tmp_path / "soap").files.scents
    unsaid = {each.for_skin for each in scents.values() if not _has_papers(each)}
    assert {said} == unsaid
    again = ran("start", tmp_path / "again", "--shelf", tmp_path / sheet, "--defaults")
    assert 0 == again.code, again.err
    assert said is Book(tmp_path / "again").files.scents[oil].for_skin


def test_a_sheet_that_says_it_is_not_asked(tmp_path: Path) -> None:
    """The sixty oils of a seller have such a column."""
    shutil.copy(FOUND / "seller" / "oils60.csv", tmp_path)
    code, screen = at_a_terminal(["start", "soap", "--shelf", "oils60.csv"], tmp_path, {})
    assert 0 == code, screen
    assert ASKED not in " ".join(screen.split())


def test_an_oil_that_speaks_of_skin_speaks_for_itself() -> None:
    """A remark on skin, or a word of its own, stands above what is said of them all."""
    plain: dict[str, Plain] = {"kind": "fragrance oil"}
    assert {**plain, "for skin": "yes"} == with_skin_said(plain, [("Remarks", "nice")], "yes")
    assert plain == with_skin_said(plain, [("Remarks", "not for SKIN")], "yes")
    assert plain == with_skin_said(plain, [], "unknown") == with_skin_said(plain, [], None)
    own: dict[str, Plain] = {"for skin": "no"}
    assert own == with_skin_said(own, [], "yes")
