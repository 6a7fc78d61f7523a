"""The schemas that editors use on a book's files."""

from __future__ import annotations

from pathlib import Path

import jsonschema
import pytest
import yaml

from blendwise.show.schemas import schema_of

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "demo_catalog"
FILES = [
    *(("plan", path) for path in sorted((DEMO / "plans").glob("*.yaml"))),
    *(("note", path) for path in sorted((DEMO / "notes").glob("*.yaml"))),
    *((kind, DEMO / f"{kind}.yaml") for kind in ("scents", "colourants", "oils", "usual")),
    *((kind, ROOT / "rules" / f"{kind}.yaml") for kind in ("pours", "scales", "symptoms")),
]


def as_written(path: Path) -> object:
    """A file's tree with every scalar as the text that stands there."""
    return yaml.load(path.read_text("utf-8"), yaml.BaseLoader)


@pytest.mark.parametrize(("kind", "path"), FILES, ids=lambda part: getattr(part, "stem", part))
def test_the_demo_is_written_as_its_schemas_say(kind: str, path: Path) -> None:
    """What the program reads, an editor with the printed schema accepts."""
    jsonschema.Draft202012Validator(schema_of(kind)).validate(as_written(path))


def test_a_misspelt_key_is_refused_by_the_schema() -> None:
    """An editor underlines what the program would refuse."""
    tree = as_written(DEMO / "plans" / "harbour-morning.yaml")
    assert isinstance(tree, dict)
    with pytest.raises(jsonschema.ValidationError, match="porsions"):
        jsonschema.validate({**tree, "porsions": []}, schema_of("plan"))


def test_an_entry_is_named_by_its_key() -> None:
    """In a catalogue the name is the key; no entry repeats it."""
    assert "name" not in schema_of("scents")["$defs"]["entry"]["properties"]
