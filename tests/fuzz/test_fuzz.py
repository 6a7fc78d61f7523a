"""A sample of bent inputs, as `python tests/long.py fuzz` tries them by the ten thousand."""

from __future__ import annotations

import time
from contextlib import suppress
from random import Random

import pytest

from tests.fuzz import run
from tests.fuzz.bend import bent, misspelt, other_figure, scalars
from tests.fuzz.canonical import canonical
from tests.fuzz.run import Fuzz, Hung, within
from tests.fuzz.sheets import FORMS, bent_grid, grid, written
from tests.strangers.runs import Ran, here

SAMPLE = 60


@pytest.fixture(scope="module")
def fuzz(tmp_path_factory: pytest.TempPathFactory) -> Fuzz:
    """Two strangers' books, and hardly a command run: those are the long run's."""
    return Fuzz(tmp_path_factory.mktemp("fuzz"), few=True, share_run=0.02)


def test_a_bent_input_is_taken_refused_or_told(fuzz: Fuzz, monkeypatch: pytest.MonkeyPatch) -> None:
    """No traceback, no fault of ours, no hang, and no figure is passed over."""
    monkeypatch.setenv("BLENDWISE_NO_CACHE", "1")
    for number in range(SAMPLE):
        fuzz.one(number)
    assert [] == fuzz.finds
    assert SAMPLE == fuzz.counts["inputs"]
    assert SAMPLE / 4 < fuzz.counts["figures"]
    assert SAMPLE / 4 < fuzz.counts["refused"] < SAMPLE


def test_the_books_are_sound_before_they_are_bent(fuzz: Fuzz) -> None:
    """A file for which none could be read would end every run, and hide what is bent."""
    for shelf in fuzz.books:
        codes = [here(["check", str(plan), "--json"]).code for plan in shelf.plans]
        assert codes.count(2) <= len(codes) // 5, shelf.folder


def test_a_book_is_set_right_again(fuzz: Fuzz) -> None:
    """What was bent stands as it stood, even where reading it fails."""
    shelf = fuzz.books[0]
    file = shelf.files[0]
    before = file.read_bytes()
    with suppress(ZeroDivisionError), shelf.bent(file, b"x"):
        assert b"x" == file.read_bytes()
        raise ZeroDivisionError
    assert before == file.read_bytes()


def test_what_must_not_be_is_found(fuzz: Fuzz, monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader that fails, one that takes no notice, and one that never ends are each told."""
    trial = Fuzz(fuzz.folder / "trial", few=True, share_run=0)
    shelf = type(trial.books[0])

    def fails(*_: object) -> str:
        raise KeyError("x")

    monkeypatch.setattr(run, "here", lambda line: Ran(0, "", ""))
    for reading, kind in ((fails, "traceback"), (lambda *_: "the same", "silent")):
        monkeypatch.setattr(shelf, "reading", reading)
        for number in range(40):
            trial.one(number)
        assert trial.counts[kind] > 5
    with pytest.raises(Hung):
        _waits()


def _waits() -> None:
    with within(0.1):
        while time.process_time() < 1e6:
            pass


def test_another_figure_is_worth_something_else() -> None:
    """Whatever the figure, what stands there then is another number."""
    rng = Random(1)
    for text in ("5 %", "0 g", "1.50", "12 x 0.5 cm", "9 to 10 min", "000"):
        for _ in range(50):
            new = other_figure(rng, text)
            assert new is not None
            assert new != text
    assert other_figure(rng, "none") is None


def test_every_key_and_value_is_found_where_it_stands() -> None:
    """Their places in the text are theirs, and a text that is no YAML has none."""
    text = 'a: {b: "5 %", c: [x, y]}\n# d: 1\n'
    assert ["a", "b", '"5 %"', "c", "x", "y"] == [text[each.start : each.end] for each in scalars(text)]
    assert () == scalars("a: [")


@pytest.mark.parametrize("word", ["a", "ab", "share"])
def test_a_misspelt_word_is_no_longer_than_one_letter_more(word: str) -> None:
    """One letter less, more, or two exchanged."""
    assert {len(misspelt(Random(seed), word)) - len(word) for seed in range(40)} <= {-1, 0, 1}


@pytest.mark.parametrize("form", FORMS)
def test_a_bent_sheet_is_a_file_of_its_form(form: str) -> None:
    """Most bent grids can be written in each form, and one cell of them is another."""
    grids = [bent_grid(Random(seed), grid(Random(seed))) for seed in range(20)]
    assert sum(written(each.grid, form) is not None for each in grids) > 15
    assert sum(each.must_show for each in grids) > 5


def test_the_same_number_is_the_same_input() -> None:
    """What was found can be seen again."""
    assert bent(Random("fuzz 3"), "a: 5 %\nb: x\n") == bent(Random("fuzz 3"), "a: 5 %\nb: x\n")


def test_a_canonical_text_holds_every_figure() -> None:
    """Two things of which one figure is another have other texts."""
    assert canonical({"a": [1, 2.0]}) != canonical({"a": [1, 2.5]})
    assert canonical({"a": [1, 2.0]}) == canonical({"a": [1, 2.0]})
