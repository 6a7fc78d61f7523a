"""``blendwise pair`` on the command line: exit codes, streams, bad input, what is shown while one waits."""

from __future__ import annotations

import json
import shutil
import sys
import time
from pathlib import Path

import jsonschema
import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from blendwise.cli.main import main
from blendwise.cli.waiting import PATIENCE, waiting
from blendwise.show.schemas import schema_of
from tests.answers.pair.conftest import DEMO

BOOK = ("--book", str(DEMO), "--today", "2026-11-25")


def run(capsys: pytest.CaptureFixture[str], *args: str) -> tuple[int, str, str]:
    """Exit code, standard output, standard error."""
    code = main(["pair", *args, *BOOK])
    caught = capsys.readouterr()
    return code, caught.out, caught.err


@pytest.mark.parametrize(
    ("args", "code"),
    [
        (("lavender", "cedar"), CLEAN),
        (("lime",), CLEAN),
        (("tonka-milk", "lime"), FINDINGS),
        (("lime", "--with-all"), CLEAN),
        (("Lime", "sea glass", "--ratio", "2:1", "--load", "4", "%"), CLEAN),
    ],
)
def test_it_leaves_with_what_it_found(
    capsys: pytest.CaptureFixture[str], args: tuple[str, ...], code: int
) -> None:
    """0 where nothing is worse than a caution, 1 otherwise; the answer alone on standard output."""
    left, out, err = run(capsys, *args)
    assert (code, "") == (left, err)
    assert out.endswith("\n")


@pytest.mark.parametrize(
    ("args", "part"),
    [
        (("unobtainium",), 'There is no scent "unobtainium"'),
        (("tonka",), "tonka-absolute, tonka-milk"),
        (("lime", "LIME"), "the same oil"),
        (("sea", "glass"), 'in quotes ("sea glass")'),
        (("lime", "cedar", "--ratio", "2:1:1"), "3 parts for 2 oils"),
        (("lime", "--load", "90%"), "not one that soap is made with"),
        (("lime", "--load", "4,5%"), "decimal comma"),
        (("lime", "--pour", "swirl"), "may be 3 pour styles"),
        (("lime", "--colour", "oxide"), "may be 4 colourants"),
        (("lime", "--for", "profit"), "--for sale or --for home"),
        (("lime", "--note", "top"), "go with --with-all"),
        (("lime", "cedar", "--with-all"), "from one oil"),
        (("lime", "--with-all", "--stabilised", "lime"), "asked of named oils"),
        (("lime", "--stabilised", "cedar"), 'There is no oil "cedar"'),
        (("lime", "--with-all", "--note", "heart"), "no scent note"),
        (("lime", "--with-all", "--price-up-to", "cheap"), "is not an amount"),
        (("lavender", "in pregnancy"), "a midwife or a doctor"),
        (("lavender", "--for", "babies"), "a midwife or a doctor"),
        ((), "Missing argument"),
    ],
)
def test_what_cannot_be_asked_is_told_in_one_line(
    capsys: pytest.CaptureFixture[str], args: tuple[str, ...], part: str
) -> None:
    """Exit code 2, one line on standard error with what to write, nothing on standard output."""
    code, out, err = run(capsys, *args)
    assert (NOT_ASKED, "") == (code, out)
    assert part in err
    assert 1 == len(err.splitlines())


@pytest.mark.parametrize(
    ("args", "kind"), [(("tonka-milk", "lime"), "pair"), (("lime", "--with-all"), "shelf")]
)
def test_json_is_one_document_of_its_schema(
    capsys: pytest.CaptureFixture[str], args: tuple[str, ...], kind: str
) -> None:
    """The region and the reasons for programs, plain ASCII, nothing else on either stream."""
    _, out, err = run(capsys, *args, "--json")
    document = json.loads(out)
    jsonschema.Draft202012Validator(schema_of(kind)).validate(document)
    assert f"blendwise/{kind}/2" == document["schema"]
    assert out.isascii()
    assert "" == err


def test_bad_input_is_a_document_too(capsys: pytest.CaptureFixture[str]) -> None:
    """Under --json the same fault is the error document."""
    code, out, err = run(capsys, "tonka", "--json")
    document = json.loads(out)
    jsonschema.Draft202012Validator(schema_of("error")).validate(document)
    assert (NOT_ASKED, "", NOT_ASKED) == (code, err, document["exit_code"])


def test_the_same_question_has_the_same_answer(capsys: pytest.CaptureFixture[str]) -> None:
    """Byte for byte."""
    assert run(capsys, "vetiver", "tonka-milk", "lime", "--json") == run(
        capsys, "vetiver", "tonka-milk", "lime", "--json"
    )


def test_an_empty_shelf_and_a_bare_book_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A book without oils, and one without a recipe: what to write, exit code 2."""
    scents = tmp_path / "scents.yaml"
    for text, part in (("{}\n", "The shelf is empty"), ("lime:\n  kind: essential oil\n", "names no recipe")):
        scents.write_text(text, "utf-8")
        assert NOT_ASKED == main(["pair", "lime", "--book", str(tmp_path)])
        assert part in capsys.readouterr().err


def test_nothing_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A question leaves the book as it was."""
    book = tmp_path / "book"
    shutil.copytree(DEMO, book)
    before = {path: path.read_bytes() for path in sorted(book.rglob("*")) if path.is_file()}
    for extra in ((), ("--with-all",)):
        main(["pair", "lime", *extra, "--book", str(book)])
    capsys.readouterr()
    assert before == {path: path.read_bytes() for path in sorted(book.rglob("*")) if path.is_file()}


class Screen:
    """A standard error that says it is a terminal, and keeps what it is given."""

    encoding = "utf-8"

    def __init__(self, is_terminal: bool) -> None:
        self.is_terminal = is_terminal
        self.text = ""

    def isatty(self) -> bool:
        return self.is_terminal

    def write(self, text: str) -> int:
        self.text += text
        return len(text)

    def flush(self) -> None:
        """Nothing is held back."""

    def fileno(self) -> int:
        raise OSError("no file behind it")


@pytest.mark.parametrize(
    ("is_terminal", "late", "shown"), [(True, True, True), (True, False, False), (False, True, False)]
)
def test_a_bar_appears_past_a_second_and_only_on_a_terminal(
    monkeypatch: pytest.MonkeyPatch, is_terminal: bool, late: bool, shown: bool
) -> None:
    """Quick answers draw nothing, pipes get nothing; after a second a terminal is told how far it is."""
    screen, now = Screen(is_terminal), [0.0]
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setattr(time, "monotonic", lambda: now[0])
    monkeypatch.setenv("TERM", "xterm")
    with waiting("oils of the shelf") as progress:
        now[0] = PATIENCE * (1.5 if late else 0.5)
        progress(20, 300)
        progress(300, 300)
    assert shown == ("oils of the shelf" in screen.text)
    assert shown == ("300/300" in screen.text)
