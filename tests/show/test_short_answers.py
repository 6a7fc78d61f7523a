"""The short answers of all commands on generated books: their length, and the maker's own words."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.show.test_brief import DEMO, JARGON, heavy, sentences
from tests.strangers.books import a_book
from tests.strangers.runs import ran

SEEDS = (0, 3, 5)
"""Books in grams and in ounces."""
TWO_SCREENS = 48
WAYS = 4
"""Lines of what cannot all be and the ways out, where no split fits."""


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Some books, each with a plan."""
    folder = tmp_path_factory.mktemp("books")
    return [a_book(folder / str(seed), seed, plans=1, looks=False).folder for seed in SEEDS]


@pytest.fixture(autouse=True)
def _eighty(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")


def plans(books: list[Path]) -> list[Path]:
    """Every plan of the books."""
    return [plan for book in books for plan in sorted((book / "plans").glob("*.yaml"))]


def of_a_maker(text: str, document: object = None) -> None:
    """Neither our own terms nor the name of a rule stand in it."""
    flat = " ".join(text.split())
    assert not JARGON.search(flat), flat


def test_a_split_is_short(books: list[Path]) -> None:
    """Twelve sentences, one more for each rule at stop or conflict, four more where nothing fits."""
    read = 0
    for plan in plans(books):
        short, data = (ran("assign", plan, "--seconds", 3, *more) for more in ((), ("--json",)))
        if short.code not in (0, 1, 3):
            continue
        check = data.document["check"]
        of_a_maker(short.out)
        allowed = 12 + (len(heavy(check)) if check else 0) + WAYS
        assert len(sentences(short.out)) <= allowed, short.out
        read += 1
    assert read > 0


def test_a_symptom_fits_a_screen(books: list[Path]) -> None:
    """Whatever the symptom and the plan, safety stands in the first lines and 40 lines hold it all."""
    for asked in ("it riced", "dark ring", "too thick to pour", "orange spots", "when can I sell it"):
        for plan in plans(books)[:2]:
            answer = ran("why", asked, plan)
            if answer.code:
                continue
            of_a_maker(answer.out)
            assert len(answer.out.splitlines()) <= 40, answer.out
            assert "\nSafety: " in "\n".join(answer.out.splitlines()[:5]), answer.out


def test_a_review_fits_a_screen() -> None:
    """Twenty lines of eighty columns, of a whole notebook or of one plan."""
    for words in ((), ("honey-crown",), ("greenhouse-morning",)):
        answer = ran("review", *words, "--book", DEMO, "--today", "2026-11-28")
        of_a_maker(answer.out)
        assert len(answer.out.splitlines()) <= 20, answer.out


def test_a_shelf_takes_two_screens() -> None:
    """The demo's 39 others, and every oil of it in its place."""
    answer = ran("pair", "tonka-milk", "--with-all", "--book", DEMO, "--today", "2026-11-28")
    of_a_maker(answer.out)
    assert len(answer.out.splitlines()) <= TWO_SCREENS, answer.out
    data = ran("pair", "tonka-milk", "--with-all", "--book", DEMO, "--today", "2026-11-28", "--json").document
    assert " ".join(answer.out.split()).startswith(" ".join(data["says"][:2]))
    lost = [row["name"] for row in data["rows"] if row["name"] not in " ".join(answer.out.split())]
    assert lost == []


def test_an_oil_fits_half_a_screen(books: list[Path]) -> None:
    """Every oil of a book in at most twenty lines, with what is not known of it."""
    for book in books:
        shelf = ran("scents", "list", "--book", book, "--json").document["scents"]
        for oil in shelf[:6]:
            answer = ran("scents", "show", oil["name"], "--book", book)
            of_a_maker(answer.out)
            assert len(answer.out.splitlines()) <= 20, answer.out


@pytest.mark.parametrize(
    "asked",
    [
        ("check", "demo_catalog/plans/harbour-morning.yaml"),
        ("assign", "demo_catalog/plans/greenhouse-morning.yaml"),
        ("pair", "lime", "cedar", "--book", "demo_catalog"),
        ("why", "it thickens too fast"),
        ("ask", "will tonka-milk turn my soap brown", "--book", "demo_catalog"),
    ],
)
def test_no_short_answer_leaves_the_caution_out(
    asked: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Lye, and to whom it defers, below every short answer; ``.ci/run`` looks for it too."""
    monkeypatch.chdir(DEMO.parent)
    told = " ".join(ran(*asked).out.split())
    assert "Lye and raw batter burn" in told
    assert "this is not legal or safety advice" in told
