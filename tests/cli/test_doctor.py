"""``blendwise doctor``: a sound book, broken ones, half ones; nothing is ever changed."""

from __future__ import annotations

import hashlib
import json
import shutil
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from blendwise.show.schemas import schema_of
from tests.cli.conftest import Run
from tests.strangers.runs import here

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo in a folder of one's own."""
    return Path(shutil.copytree(ROOT / "demo_catalog", tmp_path / "book"))


def examined(run: Run, book: Path, day: str = "2026-11-25") -> tuple[int, dict[str, Any]]:
    """The document of a book's examination, checked against its published schema."""
    ran = run("doctor", "--book", str(book), "--json", "--today", day)
    read: dict[str, Any] = json.loads(ran.out)
    jsonschema.validate(read, schema_of("doctor"))
    return ran.code, read


def signs(document: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    """The signs of a kind."""
    return [sign for sign in document["signs"] if sign["kind"] == kind]


@cache
def of_the_demo_as_it_is() -> tuple[int, dict[str, Any]]:
    """The examination of the demo, nothing changed in it."""
    ran = here(["doctor", "--book", str(ROOT / "demo_catalog"), "--json", "--today", "2026-11-25"])
    read: dict[str, Any] = json.loads(ran.out)
    jsonschema.validate(read, schema_of("doctor"))
    return ran.code, read


@cache
def checked(plan: str) -> dict[str, Any]:
    """The check of one of the demo's plans."""
    file = ROOT / "demo_catalog" / "plans" / f"{plan}.yaml"
    document: dict[str, Any] = json.loads(here(["check", str(file), "--json", "--today", "2026-11-25"]).out)
    return document


def bend(file: Path, old: str, new: str) -> None:
    """Change a text in a file (it must be there)."""
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")


def fingerprint(folder: Path) -> str:
    """Every file of a folder with its bytes."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    parts = [f"{path.relative_to(folder)} {hashlib.sha256(path.read_bytes()).hexdigest()}" for path in files]
    return "\n".join(parts)


def test_the_demo_is_sound(run: Run, demo: Path) -> None:
    """Nothing in the demo is wrong; its oil that nobody described and its old certificates are told."""
    before = fingerprint(demo)
    code, read = examined(run, demo)
    assert (CLEAN, True, True) == (code, read["sound"], read["whole"])
    assert (40, 12, 41) == (read["scents"], len(read["plans"]), read["notes"])
    assert ["market-find"] == signs(read, "not described")[0]["names"]
    assert "market-find" in signs(read, "no certificate")[0]["names"]
    assert {"lilac-lane", "starched-collar", "tonka-absolute"} == {
        sign["subject"] for sign in signs(read, "old certificate")
    }
    assert before == fingerprint(demo)


def test_what_a_plan_breaks_is_counted_as_check_counts_it() -> None:
    """The line of a plan has the very counts of its check."""
    _, read = of_the_demo_as_it_is()
    lines = {line["plan"]: line for line in read["plans"]}
    for name in ("greenhouse-morning", "market-day", "harbour-morning"):
        broken = checked(name)["counts"]["broken"]
        line = lines[name]
        assert (broken["stop"], broken["conflict"]) == (line["stops"], line["conflicts"])
        assert broken["caution"] == line["cautions"]


def test_rules_are_sorted_by_what_they_ever_said() -> None:
    """A rule is idle, or never broken, or spoke against some plan: never two of these."""
    _, read = of_the_demo_as_it_is()
    (idle,), (kept,) = signs(read, "never asked"), signs(read, "never broken")
    assert set() == set(idle["names"]) & set(kept["names"])
    spoken = {
        finding["rule"]
        for plan in (ROOT / "demo_catalog" / "plans").glob("*.yaml")
        for finding in checked(plan.stem)["findings"]
        if finding["status"] not in ("accepted", "tight")
    }
    assert set() == spoken & ({*idle["names"]} | {*kept["names"]})


def test_faults_of_many_files_are_told_together(run: Run, demo: Path) -> None:
    """Broken plans and a broken note are all told with their lines, and the sound plans are judged."""
    bend(demo / "plans" / "rain-jar.yaml", "rain-barrel: 1", "rain-barel: 1")
    bend(demo / "plans" / "lake-house.yaml", "pour:", "pour: [")
    note = demo / "notes" / "2026-10-05-rain-jar-cut.yaml"
    bend(note, "look: at the cut", "look: at the cutt")
    code, read = examined(run, demo)
    assert FINDINGS == code
    assert not read["whole"]
    broken = {(sign["subject"], sign["where"]["line"] > 1) for sign in signs(read, "broken file")}
    assert {
        ("plans/rain-jar.yaml", True),
        ("plans/lake-house.yaml", True),
        (f"notes/{note.name}", True),
    } <= broken
    assert {False, True} == {line["judged"] for line in read["plans"]}


def test_a_broken_shelf_hides_nothing_else(run: Run, demo: Path) -> None:
    """With a shelf that cannot be read its faults are told, and those of plans and notes all the same."""
    bend(demo / "scents.yaml", "acceleration: ", "acceleration: verymuch ")
    bend(demo / "oils.yaml", "saponification: ", "saponification: about ")
    bend(demo / "plans" / "harbour-morning.yaml", "share: 35 %", "share: 95 %")
    code, read = examined(run, demo)
    assert (FINDINGS, False) == (code, read["whole"])
    assert {"scents.yaml", "oils.yaml", "plans/harbour-morning.yaml"} <= {
        sign["subject"] for sign in signs(read, "broken file")
    }
    words = run("doctor", "--book", str(demo), "--today", "2026-11-25")
    assert "Not everything could be read" in " ".join(words.out.split())


def test_names_that_nothing_bears(run: Run, demo: Path) -> None:
    """A strange oil in ``goes with`` and a note of a plan that is not there are told with the nearest."""
    bend(demo / "scents.yaml", "goes with: {lavender: good", "goes with: {lavendr: good")
    (demo / "plans" / "rain-jar.yaml").unlink()
    code, read = examined(run, demo)
    strange = {(sign["subject"], sign["names"][0]): sign for sign in signs(read, "strange name")}
    assert FINDINGS == code
    goes_with = next(sign for (subject, name), sign in strange.items() if name == "lavendr")
    assert 'The shelf has "lavender".' == goes_with["remedy"]
    assert ("2026-10-05-rain-jar-cut: plan", "rain-jar") in strange


def test_a_stricter_rule_finds_the_plan_that_passed_before(run: Run, demo: Path) -> None:
    """A plan that passed when it was poured is named with the rule that has changed since, and only then."""
    _, before = of_the_demo_as_it_is()
    assert [] == signs(before, "no longer passes")
    mine = demo / "rules" / "mine"
    mine.mkdir(parents=True)
    rule = "- rule: no-pour-below-two-kilos\n  looks at: batch\n  must: {batter mass: at least 2000 g}\n"
    (mine / "big.yaml").write_text(f"{rule}  else: conflict\n  because: I pour large.\n", "utf-8")
    code, read = examined(run, demo)
    assert FINDINGS == code
    found = {sign["subject"]: sign["names"] for sign in signs(read, "no longer passes")}
    assert ["no-pour-below-two-kilos"] == found["harbour-morning"]
    assert "market-day" not in found  # it was never poured, so that it never passed


def test_looks_that_are_due(run: Run, demo: Path) -> None:
    """On the day after a look was due it is told, and not before."""
    bench = sorted((demo / "notes").glob("*rain-jar-week-6.yaml"))[0]
    bench.unlink()
    _, early = examined(run, demo, "2026-10-06")
    assert ["rain-jar", "week 6"] not in [sign["names"][:2] for sign in signs(early, "look due")]
    _, late = examined(run, demo, "2026-11-15")
    due = [sign for sign in signs(late, "look due") if sign["names"][0] == "rain-jar"]
    assert [["rain-jar", "week 6", "2026-11-14"]] == [sign["names"] for sign in due]
    assert [1.0] == [sign["number"] for sign in due]


def test_own_rules_are_looked_over(run: Run, demo: Path) -> None:
    """A stop of the maker's own without reason or rows is a caution, not an error."""
    mine = demo / "rules" / "mine"
    mine.mkdir(parents=True)
    text = "- rule: mine\n  looks at: batch\n  must: {portions: at most 5}\n  else: stop\n"
    (mine / "mine.yaml").write_text(text, "utf-8")
    code, read = examined(run, demo)
    assert CLEAN == code
    assert 'Rule "mine": It has no reason.' in [sign["message"] for sign in signs(read, "rule written wrong")]


def test_an_empty_book_is_examined(run: Run, tmp_path: Path) -> None:
    """A shelf with one oil and nothing else is a book, and a sound one."""
    (tmp_path / "scents.yaml").write_text("lime: {kind: essential oil}\n", "utf-8")
    code, read = examined(run, tmp_path)
    assert (CLEAN, 1, []) == (code, read["scents"], read["plans"])
    assert ["lime"] == signs(read, "not described")[0]["names"]


def test_a_folder_that_is_no_book(run: Run, tmp_path: Path) -> None:
    """Where there is no shelf there is nothing to examine; the remedy says how to begin."""
    ran = run("doctor", "--book", str(tmp_path))
    assert (NOT_ASKED, "") == (ran.code, ran.out)
    assert "blendwise start" in ran.err


def test_additives_that_nobody_knows_or_that_differ_from_the_table_are_told(run: Run, demo: Path) -> None:
    """A slip with its nearest, in a plan or additives.yaml; a word without a source against the table."""
    bend(
        demo / "plans" / "harbour-morning.yaml",
        "superfat: 5 %}\n",
        "superfat: 5 %}\n  additives: {hony: 4 g}\n",
    )
    own = "quux: {water: 50 %}\nlemon juice: eats 0.06 g a gram\ncitric acid: eats 0.62 g a gram\n"
    (demo / "additives.yaml").write_text(own, "utf-8")
    _, read = examined(run, demo)
    unknown = {sign["subject"]: sign["names"] for sign in signs(read, "additive not known")}
    assert {"hony": ["honey"], "quux": []} == unknown
    assert ["lemon juice"] == [sign["subject"] for sign in signs(read, "additive doubtful")]
