"""Every field that takes a figure, at the command line: a slip is refused and named, what is odd is told.

That it is odd, or ordinary, is asked at the command line in one row of eight, else of what `check` asks.
`figures.yaml` holds a row a field; the fields are read off the records, so that a new one must have its row.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any, get_args, get_origin

import pytest
import yaml

from blendwise import Book
from blendwise.answers.check.odd import odd_of_plan
from blendwise.quantity import Amount, Price
from blendwise.records.as_of import AsOf
from blendwise.records.kinds.additive import OwnAdditive
from blendwise.records.kinds.colourant import Colourant
from blendwise.records.kinds.oil import BaseOil
from blendwise.records.kinds.plan import Plan
from blendwise.records.kinds.scent import Scent
from blendwise.records.kinds.usual import Usual
from blendwise.records.notes.note import Note
from blendwise.records.reading import fields as f
from blendwise.records.reading.bands import Band
from blendwise.records.reading.record import Record
from blendwise.records.reading.walk import _bare
from tests.danger.harness import HERE, TODAY, build, in_process

ROWS: dict[str, list[Any]] = yaml.load((HERE / "figures.yaml").read_text("utf-8"), yaml.BaseLoader)
ONE_IN = 8
KINDS = (Plan, Usual, Scent, Colourant, BaseOil, OwnAdditive)
FIGURES = {Amount, f.Dose, f.GelPlan, Price, int, date}
FREE = {
    "Scents.blend": "parts, in proportion to one another; per cent are added up",
    "Plan.premixes": "at most six, by the plan's own check",
    "Scent.vanillin": "any share of an oil: an isolate is all of it; what adds up to more is refused",
    "Scent.ethyl vanillin": "as vanillin",
    "Scent.browns by": "as vanillin",
    "AllergenSheet.names": "as vanillin",
    "Scent.price": "in any currency",
    "BaseOil.price": "in any currency",
    "Colourant.price": "in any currency",
    "BaseOil.saponification": "by the fat's name, `kinds/published.py`",
    "BaseOil.lot saponification": "beside the published range, `kinds/oil.py`",
    **dict.fromkeys(
        (
            f"OwnAdditive.{each}"
            for each in ("water", "reducing sugar", "other sugar", "alcohol", "salt", "fat")
        ),
        "any share; what adds up to more is refused",
    ),
}


def fields_of(model: type[Record], seen: set[type[Record]]) -> Iterator[tuple[str, bool]]:
    """(MODEL.FIELD, whether it has a band) of every field below a model that takes a figure."""
    seen.add(model)
    for name, field in model.model_fields.items():
        said, kind, metadata = field.alias or name, field.annotation, tuple(field.metadata)
        kind, extra = _bare(kind)
        while get_origin(kind) in (dict, list):
            kind, more = _bare(get_args(kind)[-1])
            extra += more
        if isinstance(kind, type) and issubclass(kind, Record):
            if kind not in seen:
                yield from fields_of(kind, seen)
        elif (isinstance(kind, type) and kind in FIGURES) or (
            get_origin(kind) is tuple and float in get_args(kind)
        ):
            yield f"{model.__name__}.{said}", any(isinstance(each, Band) for each in (*metadata, *extra))


def every_field() -> dict[str, bool]:
    seen: set[type[Record]] = set()
    return dict(pair for kind in KINDS for pair in fields_of(kind, seen))


def test_every_field_has_its_band_or_a_reason_for_none() -> None:
    found = every_field()
    assert {name for name, banded in found.items() if not banded} == set(FREE)
    assert {name.partition(" (")[0] for name in ROWS} == {name for name, banded in found.items() if banded}


def test_a_note_s_figures_have_bands() -> None:
    """But those that the tool itself freezes."""
    bare = {name for name, banded in fields_of(Note, set()) if not banded}
    assert {name for name in bare if not name.startswith("Frozen")} == {"Note.votes"}


def built(row: list[Any], value: str, to: Path) -> Path:
    base, file, path = row[:3]
    figure = yaml.load(value, yaml.BaseLoader) if value[:1] in "[{" else value
    return build(base, [("set", file, path, figure)], to)


def asked(row: list[Any], value: str, to: Path) -> tuple[int, dict[str, Any], str]:
    plan = built(row, value, to)
    ran = in_process(["check", str(plan), "--json", "--today", TODAY])
    document = json.loads(ran.said)
    said = " ".join(f"{each['message']} {each['remedy']}" for each in document.get("faults", ()))
    return ran.code, document, said


def odd_in(row: list[Any], value: str, to: Path, whole: bool) -> list[str]:
    """The odd figures of a plan that is read: by the whole command, or by what it asks for them alone."""
    if whole:
        code, document, said = asked(row, value, to)
        assert code in (0, 1), said[:300]
        return [a["name"] for a in document.get("aside", ()) if a["why"] in ("odd figure", "day to come")]
    plan = built(row, value, to)
    situation = Book(plan.parents[1]).situation(plan, AsOf(date.fromisoformat(TODAY)))
    return [each.name for each in odd_of_plan(situation)]


@pytest.mark.parametrize("name", ROWS)
def test_a_slip_is_refused_what_is_odd_is_told_and_the_rest_passes(name: str, tmp_path: Path) -> None:
    row, whole = ROWS[name], list(ROWS).index(name) % ONE_IN == 0
    (slip, words), odd, ordinary = row[3:]
    code, _, said = asked(row, slip, tmp_path / "slip")
    assert code == 2, said[:300]
    assert any(each in said for each in words.split("|")), said
    if odd != "-":
        assert odd_in(row, odd, tmp_path / "odd", whole)
    assert not odd_in(row, ordinary, tmp_path / "ordinary", whole)


def test_an_odd_figure_is_told_in_the_words_of_its_field(tmp_path: Path) -> None:
    plan = build("pounds", [("set", "plan", "process/cure loss", "2 %")], tmp_path)
    said = " ".join(in_process(["check", str(plan), "--today", TODAY]).said.split())
    assert 'process, cure loss "2 %" is odd: a bar loses 8 to 16 % in the cure' in said
    told = in_process(["doctor", "--book", str(plan.parents[1]), "--today", TODAY])
    assert told.code == 0, told.said
