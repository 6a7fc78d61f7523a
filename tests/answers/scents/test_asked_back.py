"""Sheets that strangers kept: every cell understood or asked back, nothing guessed wrong, nothing lost."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
import yaml
from openpyxl import Workbook

from blendwise.answers.spreadsheet.answers import Answers, answers_file, keep_answers, key, read_answers
from blendwise.answers.spreadsheet.result import ImportResult
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.records.book import load_book
from blendwise.records.place import RecordError
from tests.answers.scents.conftest import ROOT, TODAY, as_csv, asked, import_with_guesses, oils, read
from tests.cli.conftest import Run

FOUND = ROOT / "tests" / "strangers" / "found"
SHEETS = ("seller/oils60.csv", "ten-years/bottles.csv", "beginner/oils-title-row.xlsx")
MOST_QUESTIONS, LEAST = 15, 0.95
NO_FIELD = ("remark", "name")


def meanings(sheet: str) -> list[dict[str, str]]:
    """What each cell of a sheet means, told by hand from the sheet alone ("?": a maker must say)."""
    with (FOUND / "meanings.csv").open(encoding="utf-8", newline="") as stream:
        return [row for row in csv.DictReader(stream) if row["sheet"] == sheet]


def plain(text: str) -> str:
    """A value in one spelling: no padding of numbers, no currency."""
    return re.sub(r"(\d+\.\d*?)0+(?!\d)", r"\1", text.lstrip("$")).replace(". ", " ").strip().casefold()


def said(entry: Mapping[str, object]) -> dict[str, str]:
    """An entry's facts by the name of their column."""
    facts = {name: value for name, value in entry.items() if name != "limit in bar"}
    limit = entry.get("limit in bar")
    if isinstance(limit, dict):
        facts |= {"limit in bar": limit["most"]}
        facts |= {f"certificate{each}": limit[part] for part, each in PARTS.items() if part in limit}
    return {
        name: ", ".join(value) if isinstance(value, list) else str(value) for name, value in facts.items()
    }


PARTS = {"certificate": "", "dated": " dated"}


def is_asked(result: ImportResult, heading: str, cell: str) -> bool:
    """Whether a cell is asked about: its column, its like, or all odd ones of its column."""
    cells = ("", key(cell), "*")
    return any(key(q.heading) == key(heading) and key(q.cell) in cells for q in result.questions)


def verdicts(sheet: str) -> Iterator[str]:
    """Each cell: read as it is meant, asked, lost, or wrong."""
    result = asked(FOUND / sheet)
    entries = yaml.load(result.text, yaml.BaseLoader)
    for row in meanings(sheet):
        facts = {key(name): value for name, value in said(entries.get(row["oil"], {})).items()}
        value = facts.get(row["field"])
        if row["field"] in NO_FIELD:
            yield (
                "read"
                if row["oil"] in entries and (row["field"] == "name" or row["cell"] in result.text)
                else "lost"
            )
        elif is_asked(result, row["heading"], row["cell"]):
            yield "asked"
        elif value is None:
            yield "lost"
        else:
            yield "read" if plain(value) == plain(row["meaning"]) else f"wrong: {row} {value}"


@pytest.mark.parametrize("sheet", SHEETS)
def test_each_cell_of_strangers_is_understood_or_asked_back(sheet: str) -> None:
    """At least 95 % understood or asked back, none wrong, at most fifteen questions, none of them twice."""
    counts = Counter(verdicts(sheet))
    good = counts["read"] + counts["asked"]
    assert [] == [each for each in counts if each.startswith("wrong")]
    assert counts["read"] > 0
    assert good >= LEAST * counts.total(), counts
    questions = asked(FOUND / sheet).questions
    assert len(questions) <= MOST_QUESTIONS
    assert len({(q.kind, key(q.heading), key(q.cell)) for q in questions}) == len(questions)


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_cell_that_is_asked_about_is_no_fact_before(sheet: str) -> None:
    """What is asked is left out until it is answered; a guess is never on the shelf by itself."""
    result = asked(FOUND / sheet)
    entries = yaml.load(result.text, yaml.BaseLoader)
    doubtful = {(key(q.heading), key(q.cell)) for q in result.questions if q.kind == "cell" and q.cell != "*"}
    for row in meanings(sheet):
        if (key(row["heading"]), key(row["cell"])) in doubtful:
            assert row["field"] not in said(entries[row["oil"]]), row


def test_a_guess_about_skin_or_seizing_is_never_taken_unasked() -> None:
    """With all guesses taken that may be, "no limit", fractions and "yes" for speed wait for the maker."""
    result, _ = import_with_guesses(FOUND / SHEETS[1], Path("x.yaml"), Answers(), today=TODAY)
    assert {("EVan", ""), ("IFRA cat 9", "no limit")} == {(q.heading, q.cell) for q in result.questions}
    result, _ = import_with_guesses(FOUND / SHEETS[2], Path("x.yaml"), Answers(), today=TODAY)
    assert {"Fades?", "Speeds up?"} == {q.heading for q in result.questions}
    seizes = {
        name for name, oil in oils(result).items() if oil.acceleration and oil.acceleration.word == "seizes"
    }
    assert {"Clove bud"} == seizes


def test_answers_are_kept_and_asked_again_without_a_terminal(run: Run, tmp_path: Path) -> None:
    """Without a terminal the questions stand in a file; with the signs taken away the command goes on."""
    sheet = tmp_path / "my oils.xlsx"
    sheet.write_bytes((FOUND / SHEETS[2]).read_bytes())
    book = tmp_path / "my book"
    command = ("start", str(book), "--shelf", str(sheet), "--defaults")
    ran = run(*command)
    assert (FINDINGS, False) == (ran.code, book.exists())
    assert "YES!!" in ran.out
    kept = answers_file(sheet)
    kept.write_text(kept.read_text("utf-8").replace(' ?"', '"'), "utf-8")
    assert CLEAN == run(*command).code
    shelf = load_book(book).scents
    assert 12 == len(shelf)
    words = {name: oil.acceleration.word for name, oil in shelf.items() if oil.acceleration}
    assert ("fast", "moderate", "seizes", "slight") == tuple(
        words[name] for name in ("Rose Garden", "Ylang-ylang", "Clove bud", "Vanilla Biscuit")
    )
    assert ("fair", "strong") == (shelf["Pepper mint"].after_six_weeks, shelf["Rose Garden"].after_six_weeks)


@pytest.mark.parametrize(
    "text", ["- 1", "columns: [a]", "cells: {a: b}", "nothing: {a: b}", "columns: {a: {b: c}}", "{"]
)
def test_a_spoilt_file_of_answers_is_said(tmp_path: Path, text: str) -> None:
    """It is refused with its place, and left as it is."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", "Kind"), ("Fig", "FO")])
    answers_file(sheet).write_text(text, "utf-8")
    with pytest.raises(RecordError):
        read_answers(sheet)
    assert text == answers_file(sheet).read_text("utf-8")


@pytest.mark.parametrize("odd", ["a: b", 'say "so"', "x\\y", "é ½ #", "'", "? a", "- no"])
def test_what_is_kept_is_read_back(tmp_path: Path, odd: str) -> None:
    """Any heading, cell and answer comes back as it was."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", odd), ("Fig", odd)])
    held = Answers({key(odd): odd}, {key(odd): {key(odd): f"{odd}!"}}, {key(odd): "lots"})
    keep_answers(sheet, held)
    assert held == read_answers(sheet)


def test_an_answer_that_cannot_be_read_is_asked_again(tmp_path: Path) -> None:
    """A wrong answer in the file is told with its reason, never taken for a remark."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", "Max %"), ("Fig", "no limit")])
    answers = Answers(cells={"max %": {"no limit": "lots"}})
    (question,) = asked(sheet, answers=answers).questions
    assert "lots" in question.why


LOTS = [("Name", "Supplier", "Lot", "Max %"), ("Fig", "Hill", "A1", "5"), ("Fig", "Hill", "A2", "6")]


@pytest.mark.parametrize(
    ("rows", "names"),
    [
        (LOTS, ["Fig", "Fig (lot A2)"]),
        ([*LOTS[:2], ("Fig", "Dale", "B1", "6")], ["Fig", "Fig (Dale)"]),
        ([*LOTS[:2], LOTS[1]], ["Fig"]),
        ([LOTS[0], ("Fig", "", "A1", "5"), ("fig", "", "A2", "6")], ["Fig"]),
    ],
)
def test_a_name_that_stands_twice(tmp_path: Path, rows: list[tuple[str, ...]], names: list[str]) -> None:
    """Of one supplier two lots, of another another oil, the same row once; without a supplier it is asked."""
    result = asked(as_csv(tmp_path / "s.csv", rows))
    assert names == list(oils(result))
    assert (["name"] if not rows[1][1] else []) == [q.kind for q in result.questions]
    if result.questions:
        for word, second in (("lots", "fig (lot A2)"), ("oils", "fig (2)")):
            told = asked(as_csv(tmp_path / "s.csv", rows), answers=Answers(names={"fig": word}))
            assert ["Fig", second] == list(oils(told))
            assert () == told.questions


@pytest.fixture
def book(run: Run, tmp_path: Path) -> Path:
    """A book of two oils."""
    sheet = as_csv(
        tmp_path / "first.csv", [("Name", "Vanillin %", "Max %"), ("Fig", "2", "5"), ("Oak", "0", "9")]
    )
    assert CLEAN == run("start", str(tmp_path / "book"), "--defaults", "--shelf", str(sheet)).code
    return tmp_path / "book"


def test_an_import_adds_to_the_shelf_and_changes_nothing_there(run: Run, tmp_path: Path, book: Path) -> None:
    """New oils stand at its end; one that is there stays, and what differs is shown; twice adds nothing."""
    before = (book / "scents.yaml").read_text("utf-8")
    sheet = as_csv(
        tmp_path / "more.csv", [("Name", "Vanillin %", "Max %"), ("Fig", "7", "5"), ("Moss", "1", "3")]
    )
    ran = run("scents", "import", str(sheet), "--yes", "--book", str(book))
    assert CLEAN == ran.code
    assert "vanillin: 7 % here, 2 % there" in " ".join(ran.out.split())
    after = (book / "scents.yaml").read_text("utf-8")
    assert after.startswith(before.rstrip())
    assert ["Fig", "Oak", "Moss"] == list(load_book(book).scents)
    assert CLEAN == run("scents", "import", str(sheet), "--yes", "--book", str(book)).code
    assert after == (book / "scents.yaml").read_text("utf-8")
    assert CLEAN == run("scents", "show", "moss", "--book", str(book)).code


def test_another_lot_of_what_is_there_is_asked_about(run: Run, tmp_path: Path, book: Path) -> None:
    """Both bottles stay apart: the shelf's entry as it was, the new lot under a name of its own."""
    sheet = as_csv(tmp_path / "more.csv", [("Name", "Vanillin %", "Max %", "Lot"), ("Elm", "1", "3", "L1")])
    assert CLEAN == run("scents", "import", str(sheet), "--yes", "--book", str(book)).code
    as_csv(sheet, [("Name", "Vanillin %", "Max %", "Lot"), ("Elm", "4", "2", "L2")])
    ran = run("scents", "import", str(sheet), "--book", str(book))
    assert (FINDINGS, True) == (ran.code, "stands twice" in ran.out)
    assert CLEAN == run("scents", "import", str(sheet), "--yes", "--book", str(book)).code
    shelf = load_book(book).scents
    assert ("L1", "L2") == (shelf["Elm"].lot, shelf["Elm (lot L2)"].lot)


@pytest.mark.parametrize(
    ("table", "heading"),
    [
        ([("Name", "Flash"), ("Fig", "143"), ("Oak", "93")], "flash point °C"),
        ([("Name", "Stock"), ("Fig", "143"), ("Oak", "93")], "on hand g"),
        ([("Name", "Kind", "Limit"), ("Fig", "FO", "0.8"), ("Oak", "FO", "5 %")], "limit in bar %"),
        ([("Name", "Kind", "Cost"), ("Fig", "FO", "3.20"), ("Oak", "FO", "4/oz")], "price per oz"),
        (
            [("Name", "Paid"), ("Fig", "3.20"), ("Elm", "$18/lb"), ("Oak", "4/oz"), ("Ash", "2 an oz")],
            "price per oz",
        ),
        ([("Name", "Bought"), ("Fig", "3/4/2026")], "bought, day first"),
        ([("Name", "Bought"), ("Fig", "46054")], "bought, day numbers"),
        ([("Name", "Kind", "IFRA cat 4"), ("Fig", "FO", "5 %")], "remark"),
        ([("Name", "Kind", "Max in candles"), ("Fig", "FO", "5 %")], "remark"),
        ([("Name", "Kind", "Gewicht"), ("Fig", "FO", "5 %")], "remark"),
        ([("Name", "Kind", "IFRA", "Skin limit"), ("Fig", "FO", "5 %", "6 %")], "remark"),
        ([("Flasche", "Kind", "Vanillin %"), ("Fig", "FO", "5")], "name"),
        ([("Name", "Stock (g)", "Price per 100 g"), ("Screws", "5", "6")], "name"),
    ],
)
def test_a_column_that_is_not_certain_is_asked_about_once(
    tmp_path: Path, table: list[tuple[str, ...]], heading: str
) -> None:
    """Units nobody said, another use, a heading that is none, a sheet of something else: one question."""
    result = asked(as_csv(tmp_path / "s.csv", table))
    asking = [q for q in result.questions if q.kind == "column"]
    assert [heading] == [q.guess for q in asking][-1:]
    answer = Answers(columns={key(asking[-1].heading): heading})
    left = asked(as_csv(tmp_path / "s.csv", table), answers=answer).questions
    assert asking[-1].heading not in [q.heading for q in left if q.kind == "column"]


@pytest.mark.parametrize(
    ("heading", "cell", "field"),
    [
        ("Fades?", "slight", "after_six_weeks"),
        ("Fades", "strong", "after_six_weeks"),
        ("IFRA cat 4", "5 %", "limit_in_bar"),
    ],
)
def test_the_opposite_is_never_guessed(tmp_path: Path, heading: str, cell: str, field: str) -> None:
    """A heading that asks the other way round, or is of another use, gives no fact of itself."""
    table = [("Name", "Kind", heading), ("Fig", "FO", cell)]
    result = import_with_guesses(as_csv(tmp_path / "s.csv", table), tmp_path / "x", Answers(), today=TODAY)[0]
    assert getattr(oils(result)["Fig"], field) is None


REMARKS = {
    "it seized in lavender": {"acceleration": "seizes"},
    "not for skin!": {"for skin": "no"},
    "soap on a stick, twice": {"acceleration": "seizes"},
    "Candles only": {"for skin": "no"},
    "lovely; max 0.5 %": {"limit in bar": "0.5 %"},
    "0,5% max": {"limit in bar": "0.5 %"},
    "never above 2 per cent, rices": {"limit in bar": "2 %", "ricing": "bad"},
    "phototoxic": {"tags": "phototoxic"},
    "phototoxic above 0.7%": {"limit in bar": "0.7 %", "tags": "phototoxic"},
    "IFRA 1.4 %": {"limit in bar": "1.4 %"},
}
"""Remarks that speak of safety, and what they say by hand."""


@pytest.mark.parametrize("heading", ["Notes", "Whatever"])
@pytest.mark.parametrize("remark", REMARKS)
def test_a_remark_about_safety_is_asked_about(tmp_path: Path, heading: str, remark: str) -> None:
    """It stays a remark only where the maker says so; agreed, each thing that it says is a fact."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", "Kind", heading), ("Fig", "FO", remark)])
    as_remark = Answers(columns={"whatever": "remark"})
    (question,) = asked(sheet, answers=as_remark).questions
    told = asked(sheet, answers=as_remark.with_answer(question, question.guess))
    facts = said(yaml.load(told.text, yaml.BaseLoader)["Fig"])
    assert ({"kind": "fragrance oil", **REMARKS[remark]}, ()) == (facts, told.questions)


@pytest.mark.parametrize(
    "remark", ["max 0.5 % of oils", "no ricing", "never seizes", "rice milk, 20 % off", "smells of 5 o'clock"]
)
def test_no_fact_is_made_of_a_remark_that_does_not_say_it(tmp_path: Path, remark: str) -> None:
    """A limit of the oils is none of the bar, a "not" turns the word round, and rice may be milk."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", "Kind", "Notes"), ("Fig", "FO", remark)])
    told = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)[0]
    assert {"kind": "fragrance oil"} == said(yaml.load(told.text, yaml.BaseLoader)["Fig"])


@pytest.mark.parametrize(("column", "limit"), [("0.2 %", "0.2 %"), ("3 %", "0.5 %")])
def test_of_a_column_and_a_remark_the_stricter_limit_stands(tmp_path: Path, column: str, limit: str) -> None:
    """Whichever says less."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", "Limit in bar %", "Notes"), ("Fig", column, "max 0.5 %")])
    agreed = Answers(cells={"notes": {key("max 0.5 %"): "limit in bar 0.5 %"}})
    assert limit == yaml.safe_load(asked(sheet, answers=agreed).text)["Fig"]["limit in bar"]["most"]


def test_per_cent_in_a_column_of_ounces_a_pound_are_asked_back(tmp_path: Path) -> None:
    """ "5%" there is 5 % of the oils, not five ounces a pound; the dose is not lost."""
    table = [
        ("Name", "Accelerates", "Accelerates at (oz ppo)"),
        ("Fig", "fast", "5%"),
        ("Elm", "fast", "0.8"),
    ]
    sheet = as_csv(tmp_path / "s.csv", table)
    assert [("5%", "5 % of oils")] == [(q.cell, q.guess) for q in asked(sheet).questions]
    found = {name: oil["acceleration"]["at"] for name, oil in yaml.safe_load(read(sheet).text).items()}
    assert {"Fig": "5 % of oils", "Elm": "0.8 oz ppo"} == found


@pytest.mark.parametrize("columns", [("Accelerates?", "Notes"), ("Notes", "Accelerates?")])
@pytest.mark.parametrize("said", ["moderate", "yes"])
def test_what_seizes_by_an_agreed_remark_is_no_milder_by_its_column(
    tmp_path: Path, columns: tuple[str, str], said: str
) -> None:
    """Whichever column comes first: an answer about seizing is not lost."""
    row = {"Accelerates?": said, "Notes": "seizes when warm"}
    table = [("Name", "Kind", *columns), ("Fig", "FO", *(row[each] for each in columns))]
    agreed = Answers(cells={"notes": {key("seizes when warm"): "seizes"}})
    told = asked(as_csv(tmp_path / "s.csv", table), answers=agreed)
    fig = oils(told)["Fig"]
    assert fig.acceleration is not None
    assert ("seizes", ()) == (fig.acceleration.word, told.questions)


def test_pounds_and_ounces_and_a_price_in_words(tmp_path: Path) -> None:
    """Cells of a maker in ounces, as they are kept: none of them needs a question."""
    heads = ("Name", "Color in CP", "How much left", "Paid")
    rows = [("Fig", "chocolate brown", "1 lb 2 oz", "1.95 an oz"), ("Elm", "white", "6 1/2 oz", "$18/lb")]
    sheet = as_csv(tmp_path / "s.csv", [heads, *rows])
    told = asked(sheet, answers=Answers(columns={"how much left": "on hand oz"}))
    fig = oils(told)["Fig"]
    assert (fig.on_hand, fig.browns_to) != (None, None)
    assert ("1 lb 2 oz", "1.95 per oz", ()) == (str(fig.on_hand), str(fig.price), told.questions)


def test_the_size_of_a_bottle_without_a_price_is_kept(tmp_path: Path) -> None:
    """It has no field of an oil; nothing of a sheet is dropped unsaid."""
    told = asked(as_csv(tmp_path / "s.csv", [("Name", "Kind", "Bottle (oz)"), ("Fig", "FO", "16 oz")]))
    assert "# Bottle (oz): 16 oz" in told.text


def test_a_sheet_that_says_what_the_shelf_says_differs_in_nothing(run: Run, tmp_path: Path) -> None:
    """Facts of several parts too; where one differs, it is told as it is written."""
    heads = ("Name", "Kind", "Accelerates?", "Discolors", "Usage rate, oz ppo")
    sheet = as_csv(tmp_path / "s.csv", [heads, ("Fig", "FO", "moderate", "tan", "0.7 oz ppo")])
    home = str(tmp_path / "home")
    assert CLEAN == run("start", home, "--defaults", "--shelf", str(sheet)).code
    assert "Differs" not in run("scents", "import", str(sheet), "--book", home).out
    as_csv(sheet, [heads, ("Fig", "FO", "fast", "tan", "0.7 oz ppo")])
    out = " ".join(run("scents", "import", str(sheet), "--book", home).out.split())
    assert "acceleration: fast, at 0.7 oz ppo here, moderate, at 0.7 oz ppo there" in out


def test_totals_repeated_headings_and_other_sheets_are_no_oils(tmp_path: Path) -> None:
    """A workbook's best sheet is read; its total, its repeated headings and its title are none."""
    made = Workbook()
    first = made.active
    assert first is not None
    first.append(["Orders of 2026"])
    first.append(["Customer", "Amount"])
    first.append(["A", 3])
    oils_ = made.create_sheet("oils")
    for row in (
        ["My oils"],
        [],
        ["Name", "Flash °F", "Stock (g)"],
        ["Fig", 160, 20],
        ["Name", "Flash °F", "Stock (g)"],
    ):
        oils_.append(row)
    oils_.append(["Oak", 170, 30])
    oils_.append(["Total", None, "=SUM(C4:C6)"])
    made.save(tmp_path / "s.xlsx")
    result = asked(tmp_path / "s.xlsx")
    assert ["Fig", "Oak"] == list(oils(result))
    assert 'sheet "oils"' in result.how[0]


def test_merged_cells_and_days_as_numbers(tmp_path: Path) -> None:
    """A merged cell counts once, where it begins; a day without its format is asked about."""
    made = Workbook()
    sheet = made.active
    assert sheet is not None
    for row in (["Name", "Kind", "Bought"], ["Fig", "FO", 46054], ["Oak", "EO", 46055]):
        sheet.append(row)
    sheet.merge_cells("B2:B3")
    made.save(tmp_path / "s.xlsx")
    result = asked(tmp_path / "s.xlsx")
    assert [("fragrance oil", None), (None, None)] == [(o.kind, o.bought) for o in oils(result).values()]
    assert ["bought, day numbers"] == [q.guess for q in result.questions]
    told = asked(tmp_path / "s.xlsx", answers=Answers(columns={"bought": "bought, day numbers"}))
    assert "2026-02-01" == str(oils(told)["Fig"].bought)


def test_many_odd_cells_are_asked_about_together(tmp_path: Path) -> None:
    """Sixty oils with sixty odd words in each of two columns still leave at most fifteen questions."""
    rows = [(f"oil {n}", "FO", f"word{chr(97 + n % 26)}{n} no", f"zz{n} not", f"{n}/x") for n in range(60)]
    result = asked(as_csv(tmp_path / "s.csv", [("Name", "Kind", "Trace", "Ricing", "Max %"), *rows]))
    assert 0 < len(result.questions) <= MOST_QUESTIONS
    assert all(q.must for q in result.questions if q.heading in ("Trace", "Max %"))


def test_columns_of_another_tongue_are_said_to_be_remarks(run: Run, tmp_path: Path) -> None:
    """By guesses alone nothing of them becomes a fact, and the new book says which; a sum is no oil."""
    heads = ("Name", "Vanillin %", "Kiihdyttää?", "Varasto g")
    rows = [("Fig", "6,5", "ja, stark", "120,5"), ("Oak", "0", "nein", "50"), ("Summe", "", "", "170,5")]
    sheet = as_csv(tmp_path / "s.csv", [heads, *rows])
    ran = run("start", str(tmp_path / "book"), "--defaults", "--shelf", str(sheet))
    assert CLEAN == ran.code
    assert '"Kiihdyttää?" and "Varasto g"' in " ".join(ran.out.split())
    assert ["Fig", "Oak"] == list(load_book(tmp_path / "book").scents)


def test_a_limit_of_no_named_certificate_is_not_called_one(run: Run, tmp_path: Path) -> None:
    """The sum counts such an oil as one without a certificate, and so does the line that tells of it."""
    rows = [
        ("Name", "Kind", "IFRA max %", "Certificate"),
        ("Fig", "FO", "6.5", ""),
        ("Oak", "EO", "8", "51st"),
    ]
    sheet = as_csv(tmp_path / "s.csv", rows)
    home = str(tmp_path / "home")
    assert CLEAN == run("start", home, "--defaults", "--shelf", str(sheet)).code
    for more in ((), ("--more",)):
        out = " ".join(run("pair", "Fig", "Oak", "--book", home, *more).out.split())
        assert "is of no certificate that is named" in out
        assert 1 == out.count("its certificate allows")
