"""Plain text, terminal and JSON of the same answer."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import jsonschema
import pytest

from blendwise.answers.check.result import CheckResult
from blendwise.show.assign.blocks import assign_blocks
from blendwise.show.check.blocks import check_blocks
from blendwise.show.json import document
from blendwise.show.plain import plain
from blendwise.show.schemas import ANSWERS, schema_of
from blendwise.show.terminal import terminal
from tests.show.examples import ASSIGN, BROWNS, CHECK, NOTHING

ESCAPE = "\x1b"
NASTY = replace(BROWNS, subject=("[red]\x1b[31m\u202emilk[/red]",))


@pytest.mark.parametrize("columns", [60, 80])
def test_plain_text_keeps_to_its_columns(columns: int) -> None:
    """No line is longer than asked, in either answer."""
    for blocks in (check_blocks(CHECK, True), assign_blocks(ASSIGN), assign_blocks(NOTHING)):
        assert max(map(len, plain(blocks, columns).splitlines())) <= columns


def test_plain_text_has_every_level_as_a_word_and_no_drawing() -> None:
    """What a screen reader gets says stop, conflict and open, and draws no boxes."""
    text = plain(check_blocks(CHECK), 80)
    for tag in ("Stop: batch", "Conflict: milk", "Open: vetiver", "Accepted: milk", "Hint: accepting"):
        assert tag in text
    assert not re.search("[\u2500-\u257f\u2580-\u259f]", text)


def test_the_heaviest_finding_comes_first() -> None:
    """A stop stands above a conflict, whatever the order of the rulebook."""
    text = plain(check_blocks(CHECK), 80)
    assert text.index("Stop:") < text.index("Conflict:") < text.index("Accepted:")


def test_control_characters_and_markup_are_shown_not_obeyed(capsys: pytest.CaptureFixture[str]) -> None:
    """A name with markup, an escape or a direction mark is written out in both looks."""
    result = replace(CHECK, findings=(NASTY,))
    text = plain(check_blocks(result), 80)
    terminal(check_blocks(result), 80)
    for shown in (text, capsys.readouterr().out):
        assert "[red]\\x1b[31m\\u202emilk[/red]" in shown
        assert "\u202e" not in shown


def test_no_color_means_no_colour(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With NO_COLOR set no hue is sent, even to a terminal."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    terminal(check_blocks(CHECK), 80)
    coloured = capsys.readouterr().out
    monkeypatch.setenv("NO_COLOR", "1")
    terminal(check_blocks(CHECK), 80)
    bare = capsys.readouterr().out
    hue = re.compile(r"\x1b\[(?:[\d;]*;)?(?:3[0-7]|9[0-7])m")
    assert hue.search(coloured)
    assert not hue.search(bare)


@pytest.mark.parametrize("columns", [30, 60, 100])
def test_the_terminal_keeps_to_its_columns(columns: int, capsys: pytest.CaptureFixture[str]) -> None:
    """Narrow windows get no line that runs over, and lose no finding."""
    terminal(check_blocks(CHECK, True), columns)
    shown = capsys.readouterr().out
    assert max(map(len, shown.splitlines())) <= columns
    for tag in ("stop", "conflict", "open", "accepted"):
        assert re.search(rf"^{tag}", shown, re.MULTILINE)


def test_working_is_shown_only_when_asked() -> None:
    """Facts with unit and source stand under --working alone."""
    assert "scent dose: 3.5 % of portion oils, told by your own test cup." in plain(
        check_blocks(CHECK, True), 80
    )
    assert "scent dose" not in plain(check_blocks(CHECK), 80)


def test_every_answer_carries_the_cautions() -> None:
    """Lye, limits, local rules, and what the advice is not."""
    for blocks in (check_blocks(CHECK), assign_blocks(ASSIGN), assign_blocks(NOTHING)):
        text = " ".join(plain(blocks, 80).split())
        for part in (
            "Lye and raw batter burn",
            "certificates",
            "Local rules differ",
            "not legal or safety advice",
        ):
            assert part in text


@pytest.mark.parametrize(("kind", "result"), [("check", CHECK), ("assign", ASSIGN), ("assign", NOTHING)])
def test_documents_keep_to_their_published_schema(kind: str, result: CheckResult) -> None:
    """Each document validates against the schema printed for it, which allows no key beyond its own."""
    written = json.loads(document(result.to_json()))
    jsonschema.Draft202012Validator(schema_of(kind)).validate(written)
    assert ["schema", "blendwise"] == list(written)[:2]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**written, "more": 1}, schema_of(kind))


@pytest.mark.parametrize("kind", ANSWERS)
def test_schemas_require_every_key(kind: str) -> None:
    """Keys never vanish: whatever a schema names it also requires, at every depth; ``says`` is words."""
    schema = schema_of(kind)
    schema["properties"].pop("says", None)
    shapes = [schema, *schema.get("$defs", {}).values()]
    for shape in shapes:
        assert set(shape["properties"]) == set(shape["required"])


def test_unbounded_numbers_become_null() -> None:
    """No NaN or infinity reaches a document."""
    working = CHECK.to_json()["working"]
    assert [18.0, None] == [working[2]["low"], working[2]["high"]]
    assert "Infinity" not in document(CHECK.to_json())


def test_a_document_is_refused_rather_than_written_with_nan() -> None:
    """A number that is none would be a fault of ours, not a word in the output."""
    with pytest.raises(ValueError, match="not JSON compliant"):
        document({"value": float("nan")})


def test_frames_have_a_row_each() -> None:
    """Findings and portions as pandas frames, with the grams of each scent in a column."""
    findings, split = CHECK.to_frame(), ASSIGN.to_frame()
    assert len(CHECK.findings) == len(findings)
    assert ["sage", "milk"] == list(split["portion"])
    assert [11.0, 0.0] == list(split["tonka"])
    assert CHECK.to_frame().iloc[0]["plan_line"] == "plans/column.yaml:12"
