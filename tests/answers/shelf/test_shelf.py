"""The shelf against one oil: by the rules, by the maker's notes, with reasons."""

from __future__ import annotations

from dataclasses import replace

import jsonschema
import pytest

from blendwise.answers.pair.result import Words
from blendwise.answers.refusals import Deferred, NotAskable
from blendwise.answers.shelf.compute import AT_A_TIME, WORDS, Filters, read_filters, shelf
from blendwise.answers.shelf.result import ShelfResult, ShelfRow
from blendwise.api import Book
from blendwise.facts.assumed import assumed
from blendwise.records.as_of import AsOf
from blendwise.show.plain import plain
from blendwise.show.schemas import schema_of
from blendwise.show.shelf.blocks import shelf_blocks
from tests.answers.pair.conftest import DEMO, TODAY


def along(book: Book, oil: str = "lime", **said: object) -> ShelfResult:
    """The shelf beside an oil, by the catalogue as it is written."""
    return book.shelf(oil, on=AsOf(TODAY, as_written=True), **said)  # type: ignore[arg-type]


def row(result: ShelfResult, name: str) -> ShelfRow:
    """One oil of the answer."""
    return next(each for each in result.rows if each.name == name)


def test_every_other_oil_is_there_once(book: Book) -> None:
    """Nothing of the shelf is left out without a word, and the oil itself is not beside itself."""
    names = [each.name for each in along(book).rows]
    assert sorted(set(book.files.scents) - {"lime"}) == sorted(names)


def test_the_willing_come_first_and_noted_ones_before_them(book: Book) -> None:
    """Kinds stand in their order; within a kind, what the maker noted as good."""
    rows = along(book).rows
    order = [WORDS.index(each.word) for each in rows]
    assert sorted(order) == order
    assert "cedar" == rows[0].name
    assert "good" == rows[0].noted


def test_there_are_reasons_and_no_scores(book: Book) -> None:
    """Whatever does not simply go has a rule with its numbers."""
    for each in along(book).rows:
        assert each.reasons or each.word == "goes"
    litsea = row(along(book), "litsea")
    over = next(reason for reason in litsea.reasons if reason.rule == "over-the-certificates")
    assert "stop" == over.level
    assert isinstance(over.value, float)
    assert over.value > 1
    assert "litsea" in over.subject_text


def test_what_the_oil_breaks_by_itself_is_said_once(book: Book) -> None:
    """Lime fades unheld: that is no fault of the others; those that last beside it are said to help."""
    result = along(book)
    assert ["faded-and-unheld"] == [finding.rule for finding in result.own]
    assert all(reason.rule != "faded-and-unheld" for each in result.rows for reason in each.reasons)
    assert ("faded-and-unheld",) == row(result, "cedar").mends
    assert ("faded-and-unheld",) == row(result, "sea-glass").mends  # tagged as nothing, and fair at six weeks
    assert () == row(result, "pink-grapefruit").mends


def test_an_oil_that_browns_is_looked_at_in_a_bar_that_may(book: Book) -> None:
    """Beside tonka-milk the bar is planned at the colour that it brings; darker ones still show."""
    result = along(book, "tonka-milk")
    assert "tan" == result.planned
    assert assumed("turns alone", oil="tonka-milk", band="tan") in result.said
    assert "goes" == row(result, "sea-glass").word
    darker = row(result, "burnt-sugar")
    assert "where it may brown" == darker.word
    assert "browning-shows-in-light" in {reason.rule for reason in darker.reasons}


def test_clean_in_white_keeps_only_what_stays_ivory(book: Book) -> None:
    """The filter goes by the two together, and says how many it leaves out."""
    result = along(book, filters=Filters(clean_in_white=True))
    assert {Words("ivory", "ivory")} == {each.bands for each in result.rows}
    assert 39 - len(result.rows) == result.left_out["clean in white"]
    assert () == along(book, "tonka-milk", filters=Filters(clean_in_white=True)).rows


def test_filters_leave_out_and_count(book: Book) -> None:
    """Note, tag, stock and price; every oil left out is counted once."""
    for filters in (
        Filters(note="top"),
        Filters(tags=("citrus",)),
        Filters(in_stock=True),
        Filters(price=0.12),
        Filters(note="base", tags=("fixative",), price=0.2),
    ):
        result = along(book, filters=filters)
        assert 39 == len(result.rows) + sum(result.left_out.values())
    names = {each.name for each in along(book, filters=Filters(tags=("citrus",))).rows}
    assert {"pink-grapefruit", "orange-five-fold"} == names
    prices = [book.files.scents[each.name].price for each in along(book, filters=Filters(price=0.12)).rows]
    assert all(price is not None and price.per_gram <= 0.12 for price in prices)


@pytest.mark.parametrize(
    ("text", "per_gram"), [("15", 0.15), ("15 per 100 g", 0.15), ("4.20 per 10 g", 0.42)]
)
def test_prices_as_typed(text: str, per_gram: float) -> None:
    """A bare number is for a hundred grams, as the demo writes its prices."""
    assert pytest.approx(per_gram) == read_filters(price_up_to=text).price


def test_filters_that_cannot_be_read() -> None:
    """A note that is none, and a question of health in a tag."""
    with pytest.raises(NotAskable, match="no scent note"):
        read_filters(note="heart")
    with pytest.raises(Deferred):
        read_filters(tags=["safe for infants"])


def test_a_pour_brings_its_minutes(book: Book) -> None:
    """For a column pour each oil is told with the minutes it leaves; a quick one does not go."""
    result = along(book, pour="column")
    assert "does not go" == row(result, "hive-and-clover").word
    quick, calm = row(result, "hive-and-clover").minutes.low, row(result, "sea-glass").minutes.low
    assert quick is not None
    assert calm is not None
    assert quick < 10 < calm


def test_a_shelf_of_one_is_told(book: Book) -> None:
    """There is nothing to stand beside the only oil."""
    alone = Book(DEMO)
    alone.files = replace(book.files, scents={"lime": book.files.scents["lime"]})
    with pytest.raises(NotAskable, match="nothing but lime"):
        along(alone)


def test_progress_is_told_until_the_end(book: Book) -> None:
    """What waits is told how far it is, and that it is done."""
    told: list[tuple[int, int]] = []
    big = Book(DEMO)
    lime = book.files.scents["lime"]
    more = {f"lime-{k}": lime.model_copy(update={"name": f"lime-{k}"}) for k in range(AT_A_TIME + 10)}
    big.files = replace(book.files, scents={**book.files.scents, **more})
    result = along(big, progress=lambda done, total: told.append((done, total)))
    total = len(book.files.scents) + AT_A_TIME + 10 - 1
    assert [(AT_A_TIME, total), (total, total)] == told
    assert total == len(result.rows)


def test_the_document_keeps_to_its_schema(book: Book) -> None:
    """The published shape, which allows no key beyond its own."""
    document = along(book, pour="column").to_json()
    jsonschema.Draft202012Validator(schema_of("shelf")).validate(document)
    assert ["schema", "blendwise", "oil"] == list(document)[:3]


def test_the_frame_has_a_row_an_oil(book: Book) -> None:
    """The Python door: words, loads and reasons as columns."""
    frame = along(book).to_frame()
    assert 39 == len(frame)
    assert {"name", "word", "noted", "bands_low", "bands_high", "most", "reasons", "mends"} <= set(
        frame.columns
    )


def test_the_answer_is_said_in_words(book: Book) -> None:
    """Headings in plain words, the maker's own first, limits with their numbers."""
    text = " ".join(plain(shelf_blocks(along(book)), 80).split())
    assert "lime beside the shelf, 1:1, together 4 % of batch oils, in white." in text
    assert "Go well: nothing in the rulebook speaks against them:" in text
    assert "cedar (base note): you noted it as good with it;" in text
    assert (
        "limit used 114 % of what the certificates allow, at most 100 % (stop, over-the-certificates" in text
    )
    assert "helps with faded-and-unheld." in text
    assert "Lye and raw batter burn" in text


def test_one_oil_along_the_shelf_is_the_same_as_the_pair(book: Book) -> None:
    """What the shelf says of two is what the pair says of them."""
    for name in ("cedar", "vetiver", "spice-stall", "market-find"):
        heavy = {r.rule for r in row(along(book), name).reasons if r.level in ("stop", "conflict")}
        single = book.pair("lime", name, on=AsOf(TODAY, as_written=True)).check.findings
        assert heavy == {f.rule for f in single if f.level in ("stop", "conflict")}


def test_shelf_is_the_door_of_the_same_function(book: Book) -> None:
    """The default filters are none at all."""
    from blendwise.answers.pair.question import ask_along

    asked = ask_along(book.files, "lime", today=TODAY)
    words = {each.name: each.word for each in shelf(asked, book.rulebook).rows}
    assert {each.name: each.word for each in along(book).rows} == words  # the order also hangs on lots noted
