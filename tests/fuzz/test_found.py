"""What the long run found, each as a test of its own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml

from blendwise.facts.measures.members import listed, names_in
from blendwise.facts.tables import vocabulary
from tests.strangers.books import FOUND, a_book
from tests.strangers.runs import ran


def test_a_case_that_cannot_be_read_is_told_with_its_line(tmp_path: Path) -> None:
    """A mass where a temperature stands: `rules test` names the row, and asks the others."""
    book = a_book(tmp_path / "book", 6, 1, looks=False).folder
    own = (FOUND / "rule-writer" / "own.yaml").read_text("utf-8")
    file = book / "rules" / "mine" / "more.yaml"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(own.replace("95 °F", "95 lb"), "utf-8")
    run = ran("rules", "test", "--book", book, "--json")
    assert run.code == 1
    (wrong,) = run.document["wrong"]
    assert '"95 lb" is a mass' in wrong["message"]
    assert own.splitlines()[wrong["where"]["line"] - 1].startswith("  hits: [{tags: citrus")
    assert run.document["asked"] > 400


def test_nothing_is_no_dose_at_which_something_was_seen(tmp_path: Path) -> None:
    """A colour seen at a dose of 0 is refused where it stands, and nothing is divided by it."""
    book = a_book(tmp_path / "book", 0, 1, looks=False).folder
    scents = yaml.safe_load((book / "scents.yaml").read_text("utf-8"))
    name, oil = next((name, oil) for name, oil in scents.items() if "browns to" in oil)
    oil["browns to"] = {"band": "ivory", "at": "0 oz ppo"}
    (book / "scents.yaml").write_text(yaml.safe_dump(scents, allow_unicode=True), "utf-8")
    run = ran("cup", name, "--book", book)
    assert run.code == 2
    assert '"0 oz ppo": a dose cannot be nothing.' in " ".join(run.err.split())


def test_what_a_plan_was_scaled_to_is_told_though_nothing_fits(tmp_path: Path) -> None:
    """Another mould is another batch, whatever the answer is."""
    book = a_book(tmp_path / "book", 3, looks=False)
    plan = next(plan for plan in book.plans if plan.stem == "test cup")
    told = []
    for mould in ("25 x 9 x 6.5 cm", "25 x 9 x 6.6 cm"):
        answer = ran("assign", plan, "--seconds", "1", "--mould", mould, "--json").document
        (scaled,) = (each for each in answer["assumptions"] if each["kind"] == "scaled")
        told.append(scaled["details"]["oils"])
    assert told[0] < told[1] < 1.03 * told[0]


@pytest.mark.parametrize("name", ["Mint [old bottle]", "Mint (old, half full)", "Mint, old"])
def test_a_name_with_brackets_or_a_comma_is_one_name_in_a_rule(name: str, tmp_path: Path) -> None:
    """A bottle with brackets in its name has a limit by sentence, and the rule that is kept names it."""
    book = a_book(tmp_path / "book", 6, 1, looks=False).folder
    scents = yaml.safe_load((book / "scents.yaml").read_text("utf-8")) | {name: {"acceleration": "none"}}
    (book / "scents.yaml").write_text(yaml.safe_dump(scents, allow_unicode=True), "utf-8")
    run = ran("rules", "new", f"never more than 3 % {name} in white", "--book", book, "--json")
    assert run.code in (0, 1), run.err
    assert name in json.dumps(run.document)
    measure = f"dose of {listed((name, 'lime'))}"
    assert vocabulary()[measure].name == measure
    assert names_in(listed((name, "lime"))) == (name, "lime")
