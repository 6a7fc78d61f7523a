"""Questions that ask for a figure get one, on a stranger's book in ounces and on the demo in grams."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.strangers.books import FOUND
from tests.strangers.runs import ran


@pytest.fixture(scope="module")
def years(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of a maker of ten years, in ounces."""
    to = tmp_path_factory.mktemp("years") / "book"
    shutil.copytree(FOUND / "ten-years" / "book", to)
    return to


def told(book: Path, question: str, plan: str = "") -> str:
    """The answer, its lines joined."""
    words = [question, *([book / "plans" / f"{plan}.yaml"] if plan else [])]
    run = ran("ask", *words, "--book", book)
    assert run.code in (0, 1), run.err
    return " ".join(run.out.split())


def test_the_sale_has_a_day_and_a_weight(years: Path) -> None:
    """Four to six weeks from the batch's own pour; the bar that was weighed, less what it will still lose."""
    said = told(years, "when can I sell it and at what weight", "porch-rough")
    assert "Cured: ready since 17 October 2026" in said
    assert "Your bar weighed 4.5 oz" in said
    draft = ran("label", years / "plans" / "porch-rough.yaml", "--weights", "4.5 oz", "--json").document
    assert f"Label it {draft['weight']['net_ounces']:g} oz" in said


def test_the_label_is_drafted(years: Path) -> None:
    """What the label must say begins with the ingredients in their order, not with another command."""
    said = told(years, "what must the label say", "porch-rough")
    names = [each["name_us"] for each in _draft(years)["as_put_in"]]
    assert [name for name in names if name in said] == names
    assert "Vanillin, Eugenol and Cinnamal" in said


def _draft(years: Path) -> dict[str, list[dict[str, str]]]:
    run = ran("label", years / "plans" / "porch-rough.yaml", "--json")
    document: dict[str, list[dict[str, str]]] = json.loads(run.out)
    return document


def test_a_size_that_is_named_is_worked_out(years: Path) -> None:
    """The split at 64 oz of oils is the one that ``assign --oils`` gives."""
    said = told(years, "can I scale it to 64 oz of oils", "wet-swirl")
    split = ran("assign", years / "plans" / "wet-swirl.yaml", "--oils", "64 oz")
    assert "--oils '64 oz'" in said
    assert " ".join(split.out.split()).split(". ")[1] in said


@pytest.mark.parametrize(
    ("question", "plan", "told_of"),
    [
        ("my certificate says 100 %, what do I do with that", "", "no dose"),
        ("will Blood Orange 5x last", "", "Blood Orange 5x fades: faint"),
        (
            "Cotton Line says 0 % vanillin, is it safe for white soap?",
            "four-swirl",
            "Not yet: nobody here has seen Cotton Line",
        ),
        ("which colours can I still use with Sugar Cookie Dough", "", "Turn to another colour: brick-clay"),
        ("how much mica per cup", "four-swirl", "(0.5 tsp)"),
        ("what temperature should I soap at", "wet-swirl", "80 °F to 90 °F: the fats are clear"),
        ("how much water for this", "wet-swirl", "take 33 % lye"),
        ("my soap is cracking and rising, oven was at 160", "cookie-cups", "gel that was forced"),
        ("have I time for this pour", "four-swirl", "No, not as planned: Lilac Lane seizes within a minute"),
        (
            "gel or no",
            "cookie-cups",
            "No, keep it cool: the melt-and-pour stars soften from 125 °F, and gel reaches",
        ),
        ("plum thick rest thin", "four-swirl", "Nothing in your plan makes plum the thickest"),
        ("should I take more water for this pour", "four-swirl", "No water saves Lilac Lane"),
        ("how much vanilla stabiliser for Sugar Cookie Dough", "cookie-cups", "0.317 oz to 0.634 oz of it"),
        ("double batch", "wet-swirl", "--oils '64 oz'"),
        ("what must the label say", "porch-rough", "batch code PR-1,"),
        ("have I time for this pour", "four-swirl", "use Lavender Hill instead of Lilac Lane"),
    ],
)
def test_what_is_asked_stands_first(years: Path, question: str, plan: str, told_of: str) -> None:
    """The first lines say what was asked, with the oil, the cup and the change that mends it."""
    assert told_of in told(years, question, plan)


def test_a_pour_with_time_to_spare_says_how_much(tmp_path: Path) -> None:
    """Yes, with the minutes of the tightest cup, rounded down."""
    shutil.copytree(Path(__file__).parents[3] / "demo_catalog", tmp_path / "demo")
    assert "min to spare in the tightest cup" in told(
        tmp_path / "demo", "have I time for this pour", "harbour-morning"
    )
