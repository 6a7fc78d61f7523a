"""A new book and an import on a terminal, where the maker is asked."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pexpect

from blendwise import Book

ROOT = Path(__file__).resolve().parents[3]
MAIN = ["-c", "from blendwise.cli.main import run; run()"]


def on_a_terminal(*arguments: str, folder: Path) -> pexpect.spawn[str]:
    """The program on a terminal of its own."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "dumb", "COLUMNS": "100"}
    return pexpect.spawn(
        sys.executable, [*MAIN, *arguments], cwd=str(folder), env=environment, encoding="utf-8", timeout=60
    )


def test_a_wrong_answer_is_asked_again(tmp_path: Path) -> None:
    """Every question has a default; an answer that is none is said and asked again; options are not asked."""
    child = on_a_terminal("start", "soap", "--mass", "oz", "--plain", folder=tmp_path)
    child.expect("Temperatures in C or F")
    child.sendline("K")
    child.expect("Write C or F")
    child.sendline("f")
    for asked in (
        "Rates",
        "36 oz",
        "concentration",
        "Superfat",
        "Scent",
        "scent",
        "lye",
        "hands",
        "91 °F",
        "68 °F",
    ):
        child.expect(asked)
        child.sendline("")
    child.expect("for sale or for home")
    child.sendline("sale")
    child.expect("Word after a price")
    child.sendline("")
    child.expect("A new book: soap")
    child.expect(pexpect.EOF)
    child.close()
    assert 0 == child.exitstatus
    usual = Book(tmp_path / "soap").files.usual
    assert ("oz", "F") == (usual.units.mass, usual.units.temperature)


def test_an_import_asks_before_it_writes(tmp_path: Path) -> None:
    """No leaves nothing, yes writes the file that was named."""
    for file in (ROOT / "demo_catalog").glob("bottles.csv*"):
        shutil.copy(file, tmp_path)
    command = ("scents", "import", "bottles.csv", "--to", "new.yaml")
    for answer, there in (("n", False), ("y", True)):
        child = on_a_terminal(*command, "--book", str(ROOT / "demo_catalog"), folder=tmp_path)
        if not there:
            child.expect("sold for use on skin: yes or unknown")
            child.sendline("")
        child.expect("Write 4 oils to new.yaml")
        child.sendline(answer)
        child.expect(pexpect.EOF)
        child.close()
        assert (0, there) == (child.exitstatus, (tmp_path / "new.yaml").exists())


def test_a_sheet_is_asked_about_on_a_terminal(tmp_path: Path) -> None:
    """Each doubt once, with its guess; ? explains, < goes back; at the end the oils are on the shelf."""
    found = ROOT / "tests" / "strangers" / "found" / "beginner" / "oils-title-row.xlsx"
    (tmp_path / "my oils.xlsx").write_bytes(found.read_bytes())
    child = on_a_terminal("start", "soap", "--shelf", "my oils.xlsx", "--plain", folder=tmp_path)
    for _ in range(14):
        child.expect(r"\]: |empty\)\S* ?: |: $")
        child.sendline("")
    child.expect("things are not certain in my oils.xlsx")
    child.expect(r"\[remark\]: ")
    child.sendline("?")
    child.expect("Write the heading that it stands for")
    child.sendline("")
    child.expect(r"Got left")
    child.sendline("<")
    child.expect("Price per 10 ml")
    child.sendline("")
    for _ in range(13):
        child.expect(r"\?( \[[^]]*\])?: ")
        child.sendline("")
    child.expect("A new book: soap")
    child.expect(pexpect.EOF)
    child.close()
    assert 0 == child.exitstatus
    shelf = Book(tmp_path / "soap").files.scents
    assert 12 == len(shelf)
    clove = shelf["Clove bud"].acceleration
    assert clove is not None
    assert "seizes" == clove.word


def test_what_is_not_guessed_is_explained_once(tmp_path: Path) -> None:
    """Enter at a question without a guess: its whole explanation the first time, then a line."""
    (tmp_path / "oils.csv").write_text("Name,Skin OK?\nFig,x\nElm,x\nAsh,\n", "utf-8")
    command = ("scents", "import", "oils.csv", "--to", "new.yaml", "--plain")
    child = on_a_terminal(*command, "--book", str(ROOT / "demo_catalog"), folder=tmp_path)
    screen = ""
    for typed in ("", "", "", "yes"):
        child.expect(r'what is "x"\?: ')
        screen += child.before or ""
        child.sendline(typed)
    assert 1 == screen.count("none of yes, no")
    assert 2 == screen.count("Enter alone is no answer here")
    child.close(force=True)


def test_an_interrupt_leaves_nothing(tmp_path: Path) -> None:
    """Ctrl-C among the questions ends in 130, and there is no book and no rest of one."""
    child = on_a_terminal("start", "soap", folder=tmp_path)
    child.expect("Do you weigh in g or oz")
    child.sendintr()
    child.expect(pexpect.EOF)
    child.close()
    assert 130 == child.exitstatus
    assert [] == list(tmp_path.iterdir())
