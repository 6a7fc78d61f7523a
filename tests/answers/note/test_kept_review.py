"""A review that is kept is the one that would be worked out; nothing that it hangs on is forgotten."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.review import compute
from blendwise.answers.review.kept import plain_review, review_from
from blendwise.answers.review.result import ReviewResult
from blendwise.records.as_of import AsOf

Asked = Callable[..., tuple[bool, ReviewResult]]
DAY = AsOf(date(2026, 11, 25))
RULE = "rule: mine\nlooks at: portion\nmust: load <= 1 %\nelse: stop\nsays: x\nbecause: y\nbasis: judgement\n"


@pytest.fixture
def asked(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Callable[..., tuple[bool, ReviewResult]]:
    """Ask the review of a copy of the demo: whether it was worked out, and what it says."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    worked: list[int] = []
    real = compute.review

    def counting(*words: object) -> ReviewResult:
        worked.append(1)
        return real(*words)  # type: ignore[arg-type]

    monkeypatch.setattr(compute, "review", counting)

    def ask(plan: str | None = None, on: AsOf = DAY) -> tuple[bool, ReviewResult]:
        worked.clear()
        found = Book(demo).review(plan, on=on)
        return bool(worked), found

    return ask


def test_the_second_is_the_first(asked: Asked) -> None:
    """Value by value, of a whole book and of one plan, each by its own name."""
    for plan in (None, "harbour-morning"):
        first, second = asked(plan), asked(plan)
        assert (first[0], second[0]) == (True, False)
        assert first[1] == second[1]
        assert first[1].to_json() == second[1].to_json()
        assert type(first[1].batches[0].favourites) is type(second[1].batches[0].favourites)
    assert asked(on=AsOf(date(2026, 11, 26)))[0]


@pytest.mark.parametrize(
    "name", ["scents.yaml", "usual.yaml", "colourants.yaml", "oils.yaml", "notes", "rules"]
)
def test_what_changes_is_asked_anew(asked: Asked, demo: Path, name: str) -> None:
    """A remark in any file of the book, a note less, a rule more: worked out anew."""
    asked()
    if name == "notes":
        sorted((demo / "notes").glob("*week-6.yaml"))[0].unlink()
    elif name == "rules":
        (demo / "rules" / "mine").mkdir(parents=True)
        (demo / "rules" / "mine" / "x.yaml").write_text(RULE, "utf-8")
    else:
        with (demo / name).open("a", encoding="utf-8") as stream:
            stream.write("# a remark\n")
    worked, found = asked()
    assert worked
    assert asked() == (False, found)


def test_what_is_kept_is_not_believed_when_it_is_something_else(asked: Asked, tmp_path: Path) -> None:
    """A file that another hand wrote, and values of another form: worked out anew."""
    _, found = asked()
    (kept,) = (tmp_path / "cache" / "blendwise").glob("*-review.json")
    kept.write_bytes(kept.read_bytes().replace(b'"as_expected":', b'"as_expected":1'))
    assert asked() == (True, found)
    plain = plain_review(found)
    assert review_from(plain) == found.__class__(**{**{n: getattr(found, n) for n in plain}})
    wrong: tuple[dict[str, object], ...] = ({"more": 1}, {"batches": [{}]}, {"today": "soon"})
    others: tuple[object, ...] = (None, [], {}, *({**plain, **each} for each in wrong))
    for other in others:
        assert review_from(other) is None


def test_a_damaged_note_is_told_every_time(asked: Asked, demo: Path) -> None:
    """Nothing is kept while a note cannot be read."""
    sorted((demo / "notes").glob("*.yaml"))[0].write_text("look: [", "utf-8")
    assert asked()[1].set_aside
    assert asked()[0]
