"""The generated pages of DEVELOPERS.md are those of the code."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.facts import manual
from blendwise.facts.registry import REGISTRY

ROOT = Path(__file__).parents[2]


def test_the_file_is_what_would_be_written() -> None:
    """DEVELOPERS.md holds both pages as they are; `python -m blendwise.facts.manual` renews them."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert manual.written(text) == text


def test_every_measure_is_on_the_page() -> None:
    """Each measure has one row, and its form is one of those explained above."""
    page = manual.measures_page()
    assert all(page.count(f"| `{name}` |") == 1 for name in REGISTRY)
    assert {measure.word.form for measure in REGISTRY.values()} <= set(manual.FORMS)


@pytest.mark.parametrize("model", tuple(manual.models()), ids=lambda model: model.name)
def test_every_model_says_what_it_must(model: manual.Model) -> None:
    """Formula, source, check and known limits, each in a sentence, and its check is there."""
    assert list(manual.LABELS) == list(model.said)
    assert all(said.endswith(".") and len(said) > 15 for said in model.said.values())
    assert (ROOT / "tests" / "science" / f"test_{model.name}.py").is_file()


def test_a_page_without_its_marks_is_refused() -> None:
    """A file in which the marks are gone is not written to at random."""
    with pytest.raises(ValueError, match="the page of measures"):
        manual.written("# Developing")


def test_writing_twice_changes_nothing(tmp_path: Path) -> None:
    """The command renews a file in place, and once is enough."""
    file = tmp_path / "page.md"
    marks = [mark.format(name) for name in manual.PAGES for mark in (manual.BEGIN, manual.END)]
    file.write_text("before\n" + "\n".join(marks) + "\nafter\n", encoding="utf-8")
    assert manual.main([str(file)]) == 0
    once = file.read_text(encoding="utf-8")
    assert once.startswith("before\n")
    assert once.endswith("\nafter\n")
    assert manual.main([str(file)]) == 0
    assert file.read_text(encoding="utf-8") == once
