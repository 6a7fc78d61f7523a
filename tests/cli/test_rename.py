"""`scents rename`: who speaks of an oil, and the new name everywhere, byte for byte else."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from blendwise.answers.scents import rename
from blendwise.api import Book
from blendwise.cli.exit_codes import CLEAN, NOT_ASKED
from blendwise.records.writing.write import replace_whole
from tests.cli.conftest import Run

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
RULES = """# lime is mine
- rule: no-lime   # keep
  looks at: pair
  when: {one scent: lime, other scent: [cedar, "lime"]}
  must: {together: is no}
  else: hint
  because: The lime bit.
- {rule: sums, looks at: portion, must: {"dose of [lime, cedar]": at most 2 %}, else: hint}
- {rule: tagged, looks at: scent, when: {tags: lime}, must: {certificate: yes}, else: hint}
"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """The demo's book with rules that speak of lime."""
    shutil.copytree(DEMO, tmp_path / "book")
    (tmp_path / "book" / "rules" / "mine").mkdir(parents=True)
    (tmp_path / "book" / "rules" / "mine" / "own.yaml").write_bytes(RULES.replace("\n", "\r\n").encode())
    return tmp_path / "book"


def everything(book: Path) -> dict[Path, bytes]:
    """Every file of a book with its bytes."""
    return {path: path.read_bytes() for path in sorted(book.rglob("*")) if path.is_file()}


def test_it_is_told_who_speaks_of_it(run: Run, own: Path) -> None:
    """Shelf, rules, plans and notes are named; nothing is written."""
    before = everything(own)
    ran = run("scents", "rename", "lime", "persian-lime", "--book", str(own))
    assert CLEAN == ran.code
    assert "rules/mine/own.yaml:4, 8" in ran.out
    assert "plans/greenhouse-morning.yaml" in ran.out
    assert "add `--yes`" in ran.out
    assert before == everything(own)


def test_the_new_name_stands_everywhere_and_back_again_every_byte(run: Run, own: Path) -> None:
    """Renamed, checks say the same of the new name; renamed back, every file has its bytes again."""
    before = everything(own)
    said = [f.rule for f in Book(own).check("greenhouse-morning").findings]
    assert CLEAN == run("scents", "rename", "lime", "persian-lime", "--book", str(own), "--yes").code
    book = Book(own)
    assert "lime" not in book.files.scents
    assert "persian-lime" in book.files.scents
    assert said == [f.rule for f in book.check("greenhouse-morning").findings]
    rules = (own / "rules" / "mine" / "own.yaml").read_text("utf-8")
    assert '[cedar, "persian-lime"]' in rules
    assert "dose of [persian-lime, cedar]" in rules
    assert "The lime bit." in rules
    assert "tags: lime" in rules
    shown = json.loads(run("scents", "show", "persian-lime", "--book", str(own), "--json").out)
    assert shown["plans"]
    assert shown["notes"]
    assert CLEAN == run("scents", "rename", "persian-lime", "lime", "--book", str(own), "--yes").code
    assert before == everything(own)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("limee", "x", 'The shelf has "lime".'),
        ("lime", "cedar", "Choose another name."),
        ("lime", "a: b", "Use letters, digits, blanks and hyphens."),
        ("lime", "", "Use letters, digits, blanks and hyphens."),
        ("lime", "yes", "Use letters, digits, blanks and hyphens."),
    ],
)
def test_a_name_that_cannot_be_is_refused(run: Run, own: Path, old: str, new: str, said: str) -> None:
    """With the reason, and nothing is changed."""
    before = everything(own)
    ran = run("scents", "rename", old, new, "--book", str(own), "--yes")
    assert NOT_ASKED == ran.code
    assert said in ran.err
    assert before == everything(own)


def test_a_file_that_cannot_be_read_stops_the_renaming(run: Run, own: Path) -> None:
    """Nobody knows what it speaks of: it is named, and on yes nothing is written."""
    (own / "rules" / "mine" / "torn.yaml").write_text("- [lime", "utf-8")
    before = everything(own)
    assert "rules/mine/torn.yaml" in run("scents", "rename", "lime", "x-lime", "--book", str(own)).out
    assert NOT_ASKED == run("scents", "rename", "lime", "x-lime", "--book", str(own), "--yes").code
    assert before == everything(own)


@pytest.mark.parametrize("at", [1, 2, 3])
def test_an_interrupt_midway_leaves_every_byte(own: Path, monkeypatch: pytest.MonkeyPatch, at: int) -> None:
    """Ctrl-C after some files: those are written back."""
    before, calls = everything(own), []
    book = Book(own)

    def interrupted(*words: Path) -> None:
        calls.append(words)
        if len(calls) == at:
            raise KeyboardInterrupt
        replace_whole(*words)  # type: ignore[arg-type]

    monkeypatch.setattr(rename, "replace_whole", interrupted)
    with pytest.raises(KeyboardInterrupt):
        book.write_renamed(book.rename_scent("lime", "key lime"))
    assert before == everything(own)


@pytest.mark.parametrize("at", [1, 2, 3])
def test_a_renaming_that_was_killed_goes_on_with_the_same_command(
    own: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    """Files written before the kill stay so; asked again, the book is what it is without the kill."""
    shutil.copytree(own, tmp_path / "calm")
    calm, book, calls = Book(tmp_path / "calm"), Book(own), []
    calm.write_renamed(calm.rename_scent("lime", "key lime"))

    def dying(*words: Path) -> None:
        calls.append(words)
        if len(calls) > at:  # whatever is tried after the kill: nothing comes of it
            raise KeyboardInterrupt
        replace_whole(*words)  # type: ignore[arg-type]

    with monkeypatch.context() as patch:
        patch.setattr(rename, "replace_whole", dying)
        with pytest.raises(KeyboardInterrupt):
            book.write_renamed(book.rename_scent("lime", "key lime"))
    again = Book(own)
    again.write_renamed(again.rename_scent("lime", "key lime"))
    assert list(everything(tmp_path / "calm").values()) == list(everything(own).values())
