"""Editors are helped: every shipped and every new file names a schema that is there, and satisfies it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from blendwise.answers.start.compute import start_book
from blendwise.api import Book
from blendwise.records.place import RecordError
from blendwise.records.reading.schema import KINDS
from blendwise.records.writing.editors import MARK, for_editors, schema_line, schema_text, write_schemas
from tests.cli.conftest import Run

ROOT = Path(__file__).resolve().parents[3]
SHIPPED = [
    path
    for folder in ("rules", "demo_catalog", "demo_catalog/plans")
    for path in sorted((ROOT / folder).glob("*.yaml"))
    if not path.name.endswith(".answers.yaml")
]
CORE = {
    "tag:yaml.org,2002:bool": (r"true|True|TRUE|false|False|FALSE", "tTfF"),
    "tag:yaml.org,2002:int": (r"[-+]?[0-9]+", "-+0123456789"),
    "tag:yaml.org,2002:float": (r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+0123456789."),
    "tag:yaml.org,2002:null": (r"~|null|Null|NULL|", ["~", "n", "N", ""]),
}


class EditorsYaml(yaml.SafeLoader):
    """YAML as editors read it: the core schema (YAML 1.2.2, section 10.3.2); ``on`` and ``yes`` are text."""


EditorsYaml.yaml_implicit_resolvers = {}
for tag, (pattern, first) in CORE.items():
    EditorsYaml.add_implicit_resolver(tag, re.compile(f"(?:{pattern})$"), list(first))


def schema_of(file: Path) -> dict[str, Any]:
    """The schema that a file names in its head."""
    (line,) = (row for row in file.read_text("utf-8").splitlines() if row.startswith(MARK))
    found: dict[str, Any] = json.loads((file.parent / line.removeprefix(MARK)).read_text("utf-8"))
    return found


def errors(file: Path) -> list[str]:
    """What an editor would underline in a file (nothing where there are remarks alone: an empty shelf)."""
    content = yaml.load(file.read_text("utf-8"), Loader=EditorsYaml)
    schema = schema_of(file)
    content = content or ([] if schema.get("type") == "array" else {})
    validator = jsonschema.Draft202012Validator(schema)
    return [error.message for error in validator.iter_errors(content)]


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.relative_to(ROOT).as_posix())
def test_a_shipped_file_satisfies_the_schema_that_it_names(file: Path) -> None:
    """The line in its head leads to a schema that is there, and an editor underlines nothing."""
    assert errors(file) == []


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("folder", [".schemas", "demo_catalog/.schemas"])
def test_a_shipped_schema_is_what_the_models_say(folder: str, kind: str) -> None:
    """Not behind the models: ``blendwise schema --all .schemas`` renews them, and so beside the demo."""
    assert (ROOT / folder / f"{kind}.json").read_text("utf-8") == schema_text(kind)


def test_an_editor_underlines_a_slip(tmp_path: Path) -> None:
    """A misspelt key and a word that does not exist are errors by the schema."""
    plans = tmp_path / "plans"
    plans.mkdir()
    write_schemas(tmp_path / ".schemas")
    text = (ROOT / "demo_catalog" / "plans" / "harbour-morning.yaml").read_text("utf-8")
    for old, new in (("portions:", "potions:"), ("gel: avoid", "gell: avoid"), ("for: sale", "for: gift")):
        (plans / "slip.yaml").write_text(text.replace(old, new), "utf-8")
        assert errors(plans / "slip.yaml") != []


def test_every_file_of_a_new_book_names_its_schema(tmp_path: Path) -> None:
    """``start`` writes the schemas beside the files, with the demo's oils and without."""
    for name, demo in (("own", False), ("demo", True)):
        book = tmp_path / name
        start_book(book, {}, demo=demo)
        assert {f"{kind}.json" for kind in KINDS} == {file.name for file in (book / ".schemas").iterdir()}
        files = [*book.glob("*.yaml"), *book.glob("plans/*.yaml"), *book.glob("rules/mine/*.yaml")]
        assert len(files) == 6
        assert [] == [error for file in files for error in errors(file)]


def test_a_drafted_plan_names_its_schema_where_the_book_keeps_them(tmp_path: Path) -> None:
    """The line is there only if what it names is there."""
    start_book(tmp_path / "soap", {}, demo=True)
    file = tmp_path / "soap" / "plans" / "drafted.yaml"
    assert for_editors("plan: x\n", "plan", file) == f"{schema_line('plan', 1)}\nplan: x\n"
    assert for_editors("plan: x\n", "plan", tmp_path / "plans" / "x.yaml") == "plan: x\n"
    assert Book(tmp_path / "soap").situation("first").plan.plan == "first"


def test_schemas_are_renewed_and_nothing_else_is_written_over(run: Run, tmp_path: Path) -> None:
    """An older schema of ours is replaced; a file that is none stays, and the command says so (exit 2)."""
    older = tmp_path / "plan.json"
    older.write_text('{"title": "Blendwise plan"}', "utf-8")
    assert run("schema", "--all", str(tmp_path)).code == 0
    assert older.read_text("utf-8") == schema_text("plan")
    older.write_text("my own words", "utf-8")
    ran = run("schema", "--all", str(tmp_path))
    assert (ran.code, older.read_text("utf-8")) == (2, "my own words")
    assert "plan.json" in ran.err
    with pytest.raises(RecordError, match="no schema of ours"):
        write_schemas(tmp_path)
