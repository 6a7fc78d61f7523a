"""Makers' spreadsheets as they keep them: what is understood, what is not, and that nothing is made up."""

from __future__ import annotations

import datetime
from contextlib import suppress
from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook

from blendwise.answers.spreadsheet.files.workbook import read_workbook
from blendwise.answers.spreadsheet.importing import import_sheet
from blendwise.answers.spreadsheet.words.cells import Reader
from blendwise.answers.spreadsheet.words.headings import column_of
from blendwise.answers.spreadsheet.words.numbers import Mark, Unread, one_spelling, reading
from blendwise.records.book import BookFiles
from blendwise.records.place import RecordError
from tests.answers.scents.conftest import TODAY, Imported, as_csv, as_xlsx, asked, oils, read

HEADINGS = [
    ("Fragrance Oil Name", "name", ""),
    ("Vanilin (%)", "vanillin", "%"),
    ("% Vanillin", "vanillin", "%"),
    ("ethyl-vanillin", "ethyl vanillin", ""),
    ("FLASH POINT (°F)", "flash point", "°F"),
    ("Flashpoint C", "flash point", "°C"),
    ("On hand, g", "on hand", "g"),
    ("stock in ounces", "on hand", "oz"),
    ("Discolors?", "browns to", ""),
    ("Max % in soap", "limit in bar", "%"),
    ("Usage rate (% of oils)", "tested at", "% of oils"),
    ("Limonene %", "allergen sheet", "%"),
    ("Supplier name", "supplier", ""),
    ("Gewicht", "remark", ""),
]


@pytest.mark.parametrize(("heading", "field", "unit"), HEADINGS)
def test_a_heading_is_known_by_meaning_or_nearness(heading: str, field: str, unit: str) -> None:
    """Makers' headings lead to the field they mean, and give up their unit."""
    column = column_of(0, heading)
    assert (field, unit) == (column.field, column.unit)


@pytest.mark.parametrize(
    ("cell", "plain"),
    [
        ("5,5", "5.5"),
        ("1.234,5", "1234.5"),
        ("1,234.5", "1234.5"),
        ("0,125", "0.125"),
        ("1 250 g", "1250 g"),
        ("5–7", "5-7"),
        ("1,234,567", "1234567"),
    ],
)
def test_numbers_come_into_one_spelling(cell: str, plain: str) -> None:
    """A number that can be read in one way only is written plainly."""
    assert plain == one_spelling(cell, Mark.UNSAID)


def test_a_number_of_two_readings_waits_for_the_rest_of_the_sheet() -> None:
    """A comma before three digits is read as the sheet writes its other numbers, else left open."""
    assert "1250" == one_spelling("1,250", Mark.POINT)
    assert "1.250" == one_spelling("1,250", Mark.COMMA)
    with pytest.raises(Unread, match=r"1\.250 or 1250"):
        one_spelling("1,250", Mark.UNSAID)


@given(st.integers(0, 10**7), st.integers(0, 99))
def test_either_decimal_mark_gives_the_same_number(whole: int, part: int) -> None:
    """A number written with points or with commas is one number."""
    point, comma = f"{whole:,}.{part:02d}", f"{whole:_}".replace("_", ".") + f",{part:02d}"
    assert float(f"{whole}.{part:02d}") == float(one_spelling(point, Mark.UNSAID))
    assert float(f"{whole}.{part:02d}") == float(one_spelling(comma, Mark.UNSAID))


@given(st.text(max_size=40))
def test_no_cell_is_a_failure(cell: str) -> None:
    """Whatever stands in a cell is read, left open, or said not to be understood."""
    for heading in ("vanillin %", "flash point", "price", "acceleration", "bought", "allergens", "seen"):
        with suppress(Unread):
            taken = Reader(column_of(0, heading)).read(cell)
            assert taken is None or taken.value or cell.strip()


@pytest.mark.parametrize(
    ("cell", "amount"),
    [
        ("5-7", "5 to 7 %"),
        ("5% - 7%", "5 to 7 %"),
        ("<1", "up to 1 %"),
        ("1 1/2", "1 1/2 %"),
        ("between 5 and 7", "5 to 7 %"),
    ],
)
def test_ranges_and_bounds_become_amounts(cell: str, amount: str) -> None:
    """Ranges and upper bounds keep both their ends."""
    assert amount == reading(cell, Mark.UNSAID).amount("%")


def test_headings_may_stand_in_any_order(imported: Imported) -> None:
    """The order of columns changes nothing."""
    columns = {"Oil": "Fig", "Vanillin %": "2", "Flash point °C": ">93", "Trace": "slightly"}
    seen = {
        oil.model_dump_json(include={"name", "vanillin", "flash_point"})
        for order in permutations(columns)
        for oil in imported([order, [columns[name] for name in order]]).values()
    }
    assert 1 == len(seen)


def test_units_stand_in_headings_or_cells(imported: Imported) -> None:
    """The unit of a cell outranks that of its heading."""
    table = [("Name", "Flash (F)", "Stock (oz)"), ("Fig", "200", "4"), ("Lime", "46 °C", "120 g")]
    found = imported(table)
    assert [pytest.approx(93.333, abs=0.001), 46.0] == [
        o.flash_point.value for o in found.values() if o.flash_point
    ]
    assert [pytest.approx(113.398, abs=0.001), 120.0] == [
        o.on_hand.value for o in found.values() if o.on_hand
    ]


def test_a_blank_is_not_known_and_never_none(imported: Imported) -> None:
    """Empty cells, dashes and question marks leave the fact out; only a written none or zero is zero."""
    table = [("Name", "Vanillin %", "Acceleration"), ("a", "", "?"), ("b", "-", "n/a"), ("c", "none", "none")]
    found = imported([*table, ("d", "0", "unknown")])
    assert [None, None, 0.0, 0.0] == [oil.vanillin and oil.vanillin.value for oil in found.values()]
    assert [None, None, "none", None] == [
        oil.acceleration and oil.acceleration.word for oil in found.values()
    ]


def test_bare_numbers_up_to_one_are_not_guessed(tmp_path: Path) -> None:
    """0.05 may be per cent or a fraction: a column that does not say is left open, with what to write."""
    result = read(as_csv(tmp_path / "s.csv", [("Name", "Vanillin"), ("Fig", "0.05"), ("Lime", "0")]))
    assert [None, 0.0] == [o.vanillin and o.vanillin.value for o in oils(result).values()]
    assert "write % in the heading" in result.rows[0].not_understood[0].said


def test_what_is_not_understood_is_kept_as_a_remark(tmp_path: Path) -> None:
    """Nothing of the sheet is lost: such cells stand below their oil, and each is told with its row."""
    table = [("Name", "Trace", "Shelf"), ("Fig", "goes mad", "third\n# x: y")]
    result = read(as_csv(tmp_path / "s.csv", table))
    assert ["  # Shelf: third # x: y", "  # Trace: goes mad"] == result.text.splitlines()[-2:]
    assert (2, "Trace") == (result.rows[0].row - 1, result.rows[0].not_understood[0].heading)
    assert "Fig" in oils(result)


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_any_delimiter_and_encoding(tmp_path: Path, delimiter: str, encoding: str) -> None:
    """The same oils come out of every usual way of writing them."""
    table = [("Name", "Flash point °C", "Price/100 g"), ("Crème brûlée", "94,5", "14,50 €")]
    result = read(as_csv(tmp_path / "s.csv", table, delimiter, encoding))
    oil = oils(result)["Crème brûlée"]
    assert oil.flash_point is not None
    assert oil.price is not None
    assert (94.5, "€") == (oil.flash_point.value, oil.price.currency)
    assert abs(oil.price.per_gram - 0.145) < 1e-9


def test_mixed_encodings_are_read_line_by_line_and_said(tmp_path: Path) -> None:
    """A file glued from two programs is read rightly, and the lines are named."""
    file = tmp_path / "s.csv"
    file.write_bytes("Name,Kind\nCrème,FO\n".encode() + "Rosé,FO\n".encode("cp1252"))
    result = read(file)
    assert {"Crème", "Rosé"} == oils(result).keys()
    assert "Windows-1252 in line 3" in result.how[0]


@pytest.mark.parametrize(
    ("encoding", "names"),
    [
        ("cp1250", ["Żółta róża", "Świerk i łąka", "Mięta pieprzowa"]),
        ("cp1253", ["Λεβάντα", "Πράσινο τσάι"]),
        ("cp1251", ["Лаванда", "Кофе с молоком", "Зелёный чай"]),
        ("cp1252", ["Grüner Tee", "Maiglöckchen", "Weißer Moschus"]),
        ("cp1252", ["Crème brûlée", "Rosé", "Forêt d’hiver"]),
        ("utf-16-le", ["Crème brûlée", "Rosé"]),
        ("utf-16-be", ["Crème brûlée", "Rosé"]),
    ],
)
def test_names_of_other_languages_keep_their_letters(tmp_path: Path, encoding: str, names: list[str]) -> None:
    """A code page that is not the western one is found where its language is plain."""
    table = [("Name", "Flash point C")]
    file = as_csv(tmp_path / "s.csv", [*table, *((name, "93") for name in names)], ";", encoding)
    assert names == list(oils(read(file)))


def test_what_is_no_text_is_refused(tmp_path: Path) -> None:
    """A picture that is called .csv gives no oils."""
    file = tmp_path / "s.csv"
    file.write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + bytes(range(256)) * 4)
    with pytest.raises(RecordError, match="not a text file"):
        read(file)


@pytest.mark.parametrize("above", ["My oils", "My oils, 2026, from the shed"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_the_dividing_sign_is_found_below_a_title(tmp_path: Path, above: str, delimiter: str) -> None:
    """Decimal commas and a title do not hide which sign divides the columns."""
    table = [("Name", "Flash point °C", "Remark"), ("Fig", "94,5", "nice; sweet, too"), ("Oak", "8", "ok")]
    file = as_csv(tmp_path / "s.csv", table, delimiter)
    file.write_text(f"{above}\n\n{file.read_text('utf-8')}", "utf-8")
    assert ["Fig", "Oak"] == list(oils(read(file)))


@pytest.mark.parametrize(("cell", "value"), [("½", "1/2 oz"), ("1½ oz", "1 1/2 oz"), ("0.5", "0.5 oz")])
def test_fractions_are_read_as_everywhere(cell: str, value: str) -> None:
    """A number is what it is in a book: one reading of numbers serves both."""
    assert value == reading(cell, Mark.UNSAID).amount("oz")


def test_a_number_that_cannot_be_is_not_understood() -> None:
    """Dividing by nothing gives no number."""
    with pytest.raises(Unread, match="divides by zero"):
        reading("1/0", Mark.UNSAID).top  # noqa: B018


def test_a_workbook_keeps_per_cents_days_and_stored_values(tmp_path: Path) -> None:
    """A cell formatted as per cent is per cent; days are days; formulas are never worked out."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["My oils"])
    sheet.append([])
    sheet.append(["Name", "Vanillin", "Bought", "Stock (g)"])
    sheet.append(["Fig", 0.055, datetime.date(2026, 2, 11), "=1+1"])
    sheet["B4"].number_format = "0.0%"
    book.save(tmp_path / "s.xlsx")
    result = asked(tmp_path / "s.xlsx")
    fig = oils(result)["Fig"]
    assert fig.vanillin is not None
    assert abs(fig.vanillin.value - 0.055) < 1e-12
    assert (datetime.date(2026, 2, 11), None) == (fig.bought, fig.on_hand)
    assert "formula" in result.rows[0].not_understood[0].said


def test_a_day_of_two_readings_is_left_open(imported: Imported) -> None:
    """02/03/2026 is no day until the column shows which comes first."""
    assert imported([("Name", "Bought"), ("a", "02/03/2026")])["a"].bought is None
    found = imported([("Name", "Bought"), ("a", "02/03/2026"), ("b", "25/03/2026")])
    assert datetime.date(2026, 3, 2) == found["a"].bought


def test_what_a_record_refuses_is_told_and_left_out(tmp_path: Path) -> None:
    """A limit above 100 %, or contents that add up to more than the oil, never reach the catalogue."""
    table = [("Name", "Max %", "Vanillin %", "Ethyl vanillin %"), ("Fig", "200", "70", "60")]
    result = asked(as_csv(tmp_path / "s.csv", table))
    assert oils(result)["Fig"].limit_in_bar is None
    assert {"Max %", "Vanillin %"} == {cell.heading for cell in result.rows[0].not_understood}


def test_a_name_stands_once(tmp_path: Path) -> None:
    """The second row of a name is left out, and asked about, until a maker says what it is."""
    result = asked(as_csv(tmp_path / "s.csv", [("Name", "Kind"), ("Fig", "FO"), ("Fig", "EO")]))
    assert (1, '"Fig" stands in an earlier row') == (result.oils, result.rows[1].why_not)


@pytest.mark.parametrize(
    ("name", "content", "part"),
    [
        ("s.csv", b"", "empty"),
        ("s.csv", b"Weight,Colour\n1,2\n", "No heading says what the oils are called"),
        ("s.csv", b"Name,Kind\n", "No row below the headings"),
        ("s.csv", b"\x00\x01\x02\x03PNG\x00", "not a text file"),
        ("s.xlsx", b"not a workbook", "not an XLSX workbook"),
        ("s.ods", b"x", "not an ODS sheet"),
        ("s.pdf", b"x", "not a kind of spreadsheet"),
        ("s.csv", b"Name,Kind\nFig\x81\x8d,FO\n", "neither UTF-8 nor Windows-1252"),
    ],
)
def test_what_cannot_be_read_is_said(tmp_path: Path, name: str, content: bytes, part: str) -> None:
    """A file that gives no oils says why, and nothing is made of it."""
    (tmp_path / name).write_bytes(content)
    with pytest.raises(RecordError, match=part):
        read(tmp_path / name)


@pytest.mark.parametrize("make", [as_csv, as_xlsx])
def test_too_many_rows_are_refused(tmp_path: Path, make: object) -> None:
    """A catalogue holds 5,000 oils; a longer sheet is refused at once, whichever file holds it."""
    table = [("Name", "Kind"), *((f"oil {number}", "FO") for number in range(5_001))]
    file = tmp_path / ("s.csv" if make is as_csv else "s.xlsx")
    assert callable(make)
    with pytest.raises(RecordError, match="5,000"):
        read(make(file, table))


def test_a_damaged_workbook_is_said(tmp_path: Path) -> None:
    """Cut short or overwritten anywhere, it ends in a message or is read as it was: never otherwise."""
    file = as_xlsx(tmp_path / "s.xlsx", [("Name", "Kind"), ("Fig", "FO")])
    whole, sound = file.read_bytes(), oils(read(file))
    places = range(0, len(whole), 101)
    refused = 0
    for damaged in (
        whole[: len(whole) // 2],
        *(whole[:at] + b"\xff" * 20 + whole[at + 20 :] for at in places),
    ):
        file.write_bytes(damaged)
        try:
            assert sound == oils(read(file))
        except RecordError:
            refused += 1
    assert refused > len(places) // 2


def test_a_workbook_is_read_as_another_library_reads_it(tmp_path: Path) -> None:
    """Texts, numbers as their format shows them, days, formulas without a value, gaps, two sheets."""
    made = Workbook()
    first = made.active
    assert first is not None
    first.append(["Name", "Flash", "Max", "Bought", "Stock", "Skin", None, "Sum"])
    first.append(["Fig & <é>", 93.5, 0.05, datetime.date(2026, 2, 3), 9, True, None, "=B2+1"])
    first["A9"] = "  Oak  "
    first["B9"] = -0.000125
    first["C2"].number_format, first["E2"].number_format = "0.0%", '0.0" oz"'
    made.create_sheet("more")["B2"] = "x"
    made.save(tmp_path / "s.xlsx")
    one, more = read_workbook(tmp_path / "s.xlsx")
    assert [
        (1, ("Name", "Flash", "Max", "Bought", "Stock", "Skin", "", "Sum")),
        (2, ("Fig & <é>", "93.5", "5 %", "2026-02-03", "9 oz", "yes", "", "=")),
        (9, ("Oak", "-0.000125")),
    ] == list(one.rows)
    assert one.formulas == frozenset({(2, 7)})
    assert [(2, ("", "x"))] == list(more.rows)


def test_of_an_oil_on_the_shelf_it_is_told_what_could_not_be_read(tmp_path: Path, demo: BookFiles) -> None:
    """Its row is left out, yet neither an unreadable limit nor a stock by volume is passed over."""
    table = [["Name", "Max % in bar", "On hand (ml)", "Lot"], ["lime", "plenty", "30", "L-1"]]
    sheet = as_csv(tmp_path / "oils.csv", table)
    shelf = {"lime": demo.scents["lime"].model_copy(update={"lot": None})}
    (row,) = import_sheet(sheet, tmp_path / "new.yaml", today=TODAY, shelf=shelf).rows
    assert "on the shelf" == row.why_not
    assert [("Max % in bar", "plenty"), ("On hand (ml)", "30")] == [
        (cell.heading, cell.cell) for cell in row.not_understood
    ]
