"""The shelf by command, on the demo and on books of the moment."""

from __future__ import annotations

import io
import json
import shlex
import shutil
from pathlib import Path

import jsonschema
import pytest
import typer
from rich.console import Console

from blendwise import Book
from blendwise.cli.exit_codes import CLEAN, NOT_ASKED
from blendwise.cli.scents import app
from blendwise.records.book import BookFiles
from blendwise.show.blocks import BLOCK, Block, Rows
from blendwise.show.schemas import schema_of
from blendwise.show.terminal import terminal
from tests.answers.scents.conftest import ROOT, as_csv, oils, read
from tests.cli.conftest import Run

DEMO = str(ROOT / "demo_catalog")
COMMANDS = typer.main.get_command(app).commands  # type: ignore[attr-defined]


@pytest.fixture
def beside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a copy of the demo in it, as the current one."""
    shutil.copytree(DEMO, tmp_path / "demo_catalog")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_example_runs(run: Run, beside: Path, name: str) -> None:
    """What each help shows can be typed as it stands beside the demo."""
    example = COMMANDS[name].epilog.removeprefix("Example: blendwise ")
    ran = run(*shlex.split(example))
    assert CLEAN == ran.code, ran.err
    assert ran.out


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("list --note base", "scent-list"),
        ("search gourmand", "scent-list"),
        ("show tonka-milk", "scent"),
        ("compare tonka-milk lime", "compare"),
        ("import demo_catalog/bottles.csv", "import"),
        ("export shelf.xlsx", "export"),
    ],
)
def test_every_document_keeps_its_schema(run: Run, beside: Path, words: str, kind: str) -> None:
    """Under --json each command prints one document of its published schema."""
    ran = run("scents", *words.split(), "--json", "--book", "demo_catalog")
    assert CLEAN == ran.code
    jsonschema.validate(json.loads(ran.out), schema_of(kind))


def test_filters_keep_what_they_say(run: Run, demo: BookFiles) -> None:
    """Note, tag and stock each keep exactly the oils that have them."""
    ran = run("scents", "list", "--note", "base", "--tag", "gourmand", "--in-stock", "--json", "--book", DEMO)
    expected = [
        name
        for name, oil in demo.scents.items()
        if oil.scent_note == "base" and "gourmand" in oil.tags and oil.on_hand and oil.on_hand.value > 0
    ]
    assert expected == [each["name"] for each in json.loads(ran.out)["scents"]]
    assert expected


def test_a_slip_in_a_search_is_read_and_said(run: Run) -> None:
    """A word that stands nowhere is taken for the nearest, openly."""
    ran = run("scents", "search", "gormand", "--book", DEMO)
    assert '"gormand" is read as "gourmand"' in ran.out
    assert "tonka-milk" in ran.out


def test_one_oil_whole_names_evidence_plans_and_looks(run: Run) -> None:
    """Each statement has whose word it is and its line; plans and looks that held the oil are listed."""
    out = " ".join(run("scents", "show", "tonka-milk", "--more", "--book", DEMO).out.split())
    assert "browns to: brown at 4 % of oils, on 2026-04-25; told by your own batch, scents.yaml:" in out
    assert "greenhouse-morning (plans/greenhouse-morning.yaml)" in out
    assert "2026-04-25-greenhouse-morning-deep-week-6, week 6: soil: colour brown" in out


def test_the_line_told_is_the_line_written(demo: BookFiles) -> None:
    """Every line that a statement names holds that fact."""
    text = (ROOT / "demo_catalog" / "scents.yaml").read_text("utf-8").splitlines()
    told = Book(DEMO).scent("hive-and-clover").statements
    assert all(text[(one.line or 0) - 1].strip().startswith(f"{one.fact}:") for one in told)


def test_comparing_says_what_tells_them_apart(run: Run) -> None:
    """Side by side, differing facts first, what one lacks is not known."""
    out = " ".join(run("scents", "compare", "tonka-milk", "rain-barrel", "--book", DEMO).out.split())
    assert "vanillin: tonka-milk is 5 to 7 % (supplier); rain-barrel is 0 % (hearsay)" in out
    assert "rain-barrel is not known" in out
    assert NOT_ASKED == run("scents", "compare", "lime", "--book", DEMO).code


def test_names_that_are_not_plain_are_listed(run: Run) -> None:
    """Several near names are listed, never guessed in silence."""
    ran = run("scents", "show", "tonka", "--book", DEMO)
    assert (NOT_ASKED, "") == (ran.code, ran.out)
    assert "tonka-absolute, tonka-milk" in ran.err


def test_in_a_pipe_nothing_is_written_without_yes(run: Run, beside: Path) -> None:
    """What was understood is shown, and how to have it written is said."""
    before = sorted(beside.rglob("*"))
    ran = run("scents", "import", "demo_catalog/bottles.csv", "--book", "demo_catalog")
    assert CLEAN == ran.code
    assert "--yes" in ran.err
    assert "Nothing is written yet" in ran.out
    assert before == sorted(beside.rglob("*"))


def test_an_import_is_written_once_and_over_nothing(run: Run, beside: Path) -> None:
    """With --yes a new file loads as a catalogue; the same again is refused and changes nothing."""
    command = (
        "scents",
        "import",
        "demo_catalog/bottles.csv",
        "--yes",
        "--book",
        "demo_catalog",
        "--to",
        "new.yaml",
    )
    scents = (beside / "demo_catalog" / "scents.yaml").read_bytes()
    ran = run(*command)
    assert CLEAN == ran.code
    assert "Written: new.yaml, with four oils" in " ".join(ran.out.split())
    (beside / "own").mkdir()
    written = (beside / "new.yaml").read_bytes()
    (beside / "own" / "scents.yaml").write_bytes(written)
    assert ["Pear Drop", "Smoked Plum", "Marigold", "Hay Barn"] == list(Book(beside / "own").files.scents)
    assert NOT_ASKED == run(*command).code
    assert (written, scents) == (
        (beside / "new.yaml").read_bytes(),
        (beside / "demo_catalog" / "scents.yaml").read_bytes(),
    )


@pytest.mark.parametrize("name", ["shelf.csv", "shelf.tsv", "shelf.xlsx"])
def test_an_export_comes_back_as_it_was(tmp_path: Path, demo: BookFiles, name: str) -> None:
    """What is exported and imported again says the very same of every oil."""
    book = Book(DEMO)
    book.export_scents(tmp_path / name)
    result = read(tmp_path / name)
    assert [] == [cell for row in result.rows for cell in row.not_understood]
    again = oils(result)
    assert list(demo.scents) == list(again)
    for oil in demo.scents.values():
        assert oil.model_dump() == again[oil.name].model_dump()


@pytest.mark.parametrize("name", ["s.csv", "s.xlsx"])
def test_an_export_holds_nothing_that_works_itself_out(tmp_path: Path, name: str) -> None:
    """Cells that begin with = + - @ get an apostrophe, and come back without it."""
    (tmp_path / "scents.yaml").write_text(
        '"=HYPERLINK(1)": {own cast: "@sum", lot: "-1+1"}\n"+1": {lot: "fine"}\n', "utf-8"
    )
    result = Book(tmp_path).export_scents(tmp_path / name)
    assert 4 == result.made_harmless
    from blendwise.answers.spreadsheet.files.opened import read_sheets

    cells = [cell for _, row in read_sheets(tmp_path / name)[0].rows for cell in row]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@"))]
    assert ["=HYPERLINK(1)", "+1"] == list(oils(read(tmp_path / name)))


def test_an_export_writes_over_nothing(run: Run, beside: Path) -> None:
    """A file that is there stays as it is, and so does one of another kind."""
    (beside / "s.csv").write_text("mine")
    assert NOT_ASKED == run("scents", "export", "s.csv", "--book", "demo_catalog").code
    assert "mine" == (beside / "s.csv").read_text()
    assert NOT_ASKED == run("scents", "export", "s.pdf", "--book", "demo_catalog").code


def test_an_empty_shelf_is_said(run: Run, tmp_path: Path) -> None:
    """A catalogue of remarks alone is an empty shelf, not a broken one."""
    (tmp_path / "scents.yaml").write_text("# my oils\n", "utf-8")
    ran = run("scents", "list", "--book", str(tmp_path))
    assert CLEAN == ran.code
    assert "The shelf is empty" in ran.out


def test_frames_hold_canonical_numbers() -> None:
    """Frames are indexed by name, in fractions, grams and °C, with NaN where nothing is known."""
    book = Book(DEMO)
    scents, colours, base = book.scents_frame(), book.colourants_frame(), book.oils_frame()
    assert (0.05, 0.07, 180.0) == tuple(
        scents.loc["tonka-milk", ["vanillin_low", "vanillin_high", "on_hand"]]
    )
    assert bool(scents["limit_in_bar"].isna().loc["rain-barrel"])
    assert 0.01 == colours.loc["titanium-dioxide", "at"]
    assert (184.0, 196.0) == tuple(base.loc["olive", ["saponification_low", "saponification_high"]])


def test_an_import_without_evidence_says_whose_it_is_on_request(tmp_path: Path) -> None:
    """--evidence stands for every oil whose row does not say."""
    table = [("Name", "Evidence"), ("Fig", ""), ("Lime", "my batch")]
    found = oils(read(as_csv(tmp_path / "s.csv", table), evidence="supplier"))
    assert ["supplier", "own batch"] == [oil.evidence for oil in found.values()]


def test_a_list_of_sixty_is_a_table_of_sixty_lines(run: Run, tmp_path: Path) -> None:
    """At 80 columns an oil is a line, however its name is written; a narrow window gets sentences."""
    sheet = tmp_path / "oils.csv"
    sheet.write_bytes((ROOT / "tests" / "strangers" / "found" / "seller" / "oils60.csv").read_bytes())
    assert 0 == run("start", str(tmp_path / "b"), "--shelf", str(sheet), "--mass", "oz", "--defaults").code
    lines = run("scents", "list", "--book", str(tmp_path / "b"), "--plain").out.splitlines()
    assert max(map(len, lines)) <= 80
    assert 60 == sum(line.startswith("  ") for line in lines) - 1
    assert len(lines) <= 68


def test_a_swatch_stands_where_the_terminal_has_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """A colour of soap before each oil, or an empty place where nobody knows; none without colours."""
    lines = {"tan": "browns tan", "": "not known"}
    rows = Rows(("oil", "note"), (("fig", "top"), ("elm", "?")), tuple(lines), ("#c8a070", ""), close=True)
    monkeypatch.setenv("COLORTERM", "truecolor")
    for term, hued in (("xterm-256color", True), ("dumb", False)):
        monkeypatch.setenv("TERM", term)
        console = Console(force_terminal=True, width=80, file=io.StringIO())
        assert hued == (BLOCK in _printed([rows], console))


def _printed(blocks: list[Block], console: Console) -> str:
    assert isinstance(console.file, io.StringIO)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("rich.console.Console", lambda **_: console)
        terminal(blocks, 80)
    return console.file.getvalue()
