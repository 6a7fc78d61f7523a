"""``blendwise why`` beside its questions: documents, broken plans, symptoms of one's own."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from blendwise.api import Book
from blendwise.cli.exit_codes import CLEAN, NOT_ASKED
from blendwise.show.schemas import schema_of
from tests.cli.conftest import Run

ROOT = Path(__file__).resolve().parents[2]
HONEY = ROOT / "demo_catalog" / "plans" / "honey-crown.yaml"


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo in a folder of one's own."""
    return Path(shutil.copytree(ROOT / "demo_catalog", tmp_path / "book"))


@pytest.mark.parametrize("asked", ["dark ring", "lye in my eye", "is it safe in pregnancy"])
def test_an_answer_is_of_its_schema(run: Run, asked: str) -> None:
    """Answers and deferrals alike are one document of the published schema."""
    ran = run("why", asked, str(HONEY), "--json")
    read = json.loads(ran.out)
    jsonschema.validate(read, schema_of("why"))
    assert (read["symptom"] is None) is (read["deferred"] is not None)
    assert bool(read["causes"]) is (read["symptom"] is not None)


def test_the_list_is_of_its_schema(run: Run) -> None:
    """Without a symptom all of them are listed, by moment, in words and as a document."""
    read = json.loads(run("why", "--json").out)
    jsonschema.validate(read, schema_of("symptom-list"))
    words = run("why").out
    assert [] == [
        each["symptom"] for each in read["symptoms"] if each["symptom"] not in " ".join(words.split())
    ]
    assert words.index("at the pot:") < words.index("at the cut:") < words.index("in the cure:")


def test_causes_are_in_the_order_of_their_standing(run: Run) -> None:
    """What the plan speaks for comes before what it leaves open, and that before what it speaks against."""
    order = ("for", "open", "silent", "against", "absent")
    for symptom in json.loads(run("why", "--json").out)["symptoms"]:
        read = json.loads(run("why", symptom["symptom"], str(HONEY), "--json").out)
        places = [order.index(cause["standing"]) for cause in read["causes"]]
        assert places == sorted(places)
        assert symptom["causes"] == len(places)


def test_a_clue_is_what_check_works_with(run: Run) -> None:
    """The fact that speaks for a cause is the very fact that ``check --working`` shows."""
    read = json.loads(run("why", "dark ring", str(HONEY), "--json", "--today", "2026-11-25").out)
    clue = read["causes"][0]["clues"][0]
    working = json.loads(run("check", str(HONEY), "--working", "--json", "--today", "2026-11-25").out)
    facts = {(f["measure"], f["subject"]): (f["low"], f["high"]) for f in working["working"]}
    assert facts[clue["measure"], clue["subject"]] == (clue["low"], clue["high"])


def test_the_python_door_says_the_same(run: Run) -> None:
    """``Book.why`` gives the document that the command prints, and a frame with a row a cause."""
    book = Book(ROOT / "demo_catalog")
    result = book.why("dark ring", "honey-crown")
    printed = json.loads(run("why", "dark ring", str(HONEY), "--json").out)
    assert printed.pop("says")[0].startswith("a dark ring or a pale core, honey-crown")
    assert printed == result.to_json()
    assert list(result.to_frame()["cause"]) == [each.cause for each in result.causes]
    assert len(book.symptoms().to_frame()) == len(book.symptoms().symptoms)


def test_a_broken_plan_leaves_the_answer(run: Run, demo: Path) -> None:
    """At the pot nobody mends files: what can be said without the plan is said, and its faults as well."""
    plan = demo / "plans" / "honey-crown.yaml"
    plan.write_text("plan: [", "utf-8")
    ran = run("why", "it riced", str(plan), "--more")
    assert NOT_ASKED == ran.code
    assert "Causes by repute" in ran.out
    assert "honey-crown.yaml" in ran.err


def test_a_broken_shelf_does_not_silence_a_symptom(run: Run, demo: Path) -> None:
    """Without a plan nothing of the book is read but its symptoms."""
    (demo / "scents.yaml").write_text("}{", "utf-8")
    ran = run("why", "it riced", "--book", str(demo))
    assert (CLEAN, "") == (ran.code, ran.err)


def own_symptoms(book: Path) -> Path:
    """The package's symptoms as a maker's own layer."""
    file = book / "rules" / "mine" / "symptoms.yaml"
    file.parent.mkdir(parents=True, exist_ok=True)
    shutil.copy(ROOT / "rules" / "symptoms.yaml", file)
    return file


def test_symptoms_of_ones_own(run: Run, demo: Path) -> None:
    """A book with rules of its own asks its own symptoms; a fault in them is told with its line."""
    file = own_symptoms(demo)
    text = file.read_text("utf-8")
    file.write_text(text.replace("phrases: [it seized,", "phrases: [it went bonk, it seized,"), "utf-8")
    assert "it seized" in run("why", "bonk", "--book", str(demo)).out
    file.write_text(text.replace("for: {seizes: yes}", "for: {seizez: yes}"), "utf-8")
    ran = run("why", "it seized", "--book", str(demo))
    assert NOT_ASKED == ran.code
    assert 'Cause "an oil that seizes": "seizez" is not a measure. The nearest is "seizes".' in ran.err
    line = next(i for i, each in enumerate(text.splitlines(), 1) if "for: {seizes: yes}" in each)
    assert f"symptoms.yaml:{line})" in ran.err


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("when: at the pot", "when: at the pott", '"at the pott" is not one of the words'),
        ("  stop: None.\n", "", "stop"),
        ("looks at: batch", "looks at: pot", '"pot" is not one of the words'),
        ("- symptom: it seized", "- symptm: it seized", "symptm"),
        (
            "phrases: [it seized,",
            "phrases: [it riced, it seized,",
            '"it riced" already leads to "it seized".',
        ),
    ],
)
def test_a_bent_file_of_symptoms(run: Run, demo: Path, old: str, new: str, message: str) -> None:
    """Each fault of the file is told with what is allowed."""
    file = own_symptoms(demo)
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    ran = run("why", "it seized", "--book", str(demo))
    assert NOT_ASKED == ran.code
    assert message in ran.err


def test_a_portion_without_a_plan(run: Run) -> None:
    """A portion can be named only where there is a plan to have it."""
    ran = run("why", "it riced", "--in", "milk")
    assert NOT_ASKED == ran.code
    assert "only with a plan" in ran.err
