"""What a maker may get wrong in a plan: each is met with file, line and remedy, and never a traceback."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from blendwise.cli.exit_codes import NOT_ASKED
from tests.cli.conftest import Run

BOOK = Path(__file__).resolve().parents[2] / "demo_catalog"
SOUND = (BOOK / "plans" / "harbour-morning.yaml").read_text("utf-8")


def put(old: str, new: str) -> bytes:
    """The sound plan with one slip in it."""
    assert old in SOUND
    return SOUND.replace(old, new, 1).encode()


SLIPS = {
    "empty": (b"", "empty"),
    "not UTF-8": (SOUND.encode("utf-16"), "UTF-8"),
    "a tab": (put("  load:", "\tload:"), "tab"),
    "a key twice": (put("pour: column", "pour: column\npour: column"), "pour"),
    "no key": (put("pour: column", ": column"), "indentation"),
    "a null key": (put("pour: column", "~: column"), "not a field"),
    "an unknown field": (put("portions:", "porsions:"), "portions"),
    "a wrong unit": (put("room: 20 °C", "room: 20 g"), "°C"),
    "a decimal comma": (put("superfat: 5 %", "superfat: 4,5 %"), "4.5 %"),
    "a # that took a value": (put("pour: column", "pour: #column"), "#"),
    "a percentage without basis": (put("load: 4 % of batch oils", "load: 4 %"), "of batch oils"),
    "shares that miss 100 %": (put("share: the rest", "share: 10 %"), "add up to 95 %"),
    "an unknown oil": (put("lavender: 1", "lavendar: 1"), "lavender"),
    "a portion named twice": (put("name: tide", "name: foam"), "foam"),
    "a dose for no portion": (put("prefer:", "doses: {tid: {cedar: 2 g}}\nprefer:"), "tide"),
    "a negative amount": (put("superfat: 5 %", "superfat: -5 %"), "-5"),
    "an absurd amount": (put("25 x 9 x 6.5 cm", "25000 x 9 x 6.5 cm"), "25000"),
    "an alias": (put("prefer:", "never: &a []\nonly: *a\nprefer:"), "anchors"),
    "deep nesting": (b"plan: " + b"[" * 5000 + b"]" * 5000, "deep"),
    "an escape in a name": (put("name: foam", 'name: "fo\\e[31mam"'), "control character"),
    "no mapping": (b"- just\n- a list\n", "plan"),
    "far too large": (b"# " + b"x" * 50_000_000, "at most 2 MB"),
}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Where a plan stands beside the demo's files, without copying them."""
    for name in ("scents.yaml", "colourants.yaml", "oils.yaml", "usual.yaml"):
        (tmp_path / name).symlink_to(BOOK / name)
    (tmp_path / "plans").mkdir()
    return tmp_path / "plans" / "slip.yaml"


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_told_with_file_line_and_remedy(run: Run, plan: Path, slip: str) -> None:
    """Exit code 2 and, on standard error, a line a fault with its file, its line and a word that helps."""
    content, word = SLIPS[slip]
    plan.write_bytes(content)
    ran = run("check", str(plan))
    assert (NOT_ASKED, "") == (ran.code, ran.out), ran.err
    assert re.search(r"slip\.yaml:\d+\)\n", ran.err)
    assert word.casefold() in ran.err.casefold()
    assert "\x1b" not in ran.err
    assert len(ran.err) < 4000


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_one_document_under_json(run: Run, plan: Path, slip: str) -> None:
    """The same under --json: one valid error document and nothing else."""
    plan.write_bytes(SLIPS[slip][0])
    ran = run("assign", str(plan), "--json")
    assert (NOT_ASKED, "", "records") == (ran.code, ran.err, ran.error["kind"])
    assert all(fault["message"] and fault["remedy"] for fault in ran.error["faults"])


def test_several_slips_are_told_together(run: Run, plan: Path) -> None:
    """Two slips in one plan are two faults, each with its own line."""
    text = SOUND.replace("superfat: 5 %", "superfat: 5").replace("lavender: 1", "lavendar: 1")
    plan.write_text(text.replace("room: 20 °C", "room: 20 g"), "utf-8")
    ran = run("check", str(plan), "--json")
    assert len({fault["line"] for fault in ran.error["faults"]}) >= 2


def test_a_folder_for_a_plan_is_refused(run: Run, plan: Path) -> None:
    """A folder is no plan, and the message says so without a traceback."""
    ran = run("check", str(plan.parent))
    assert NOT_ASKED == ran.code
    assert ran.err


def test_a_folder_that_is_no_book_is_told(run: Run, tmp_path: Path) -> None:
    """Where there is no book, the remedy says what one is."""
    (tmp_path / "lonely.yaml").write_bytes(SOUND.encode())
    ran = run("check", str(tmp_path / "lonely.yaml"))
    assert NOT_ASKED == ran.code
    assert "--book" in ran.err


def test_markup_in_a_name_is_shown_as_typed(run: Run, plan: Path) -> None:
    """A portion called [red] is called [red] in the advice."""
    plan.write_bytes(put("name: tide", "name: '[red]'"))
    ran = run("check", str(plan))
    assert ran.code in (0, 1), ran.err
    assert "[red] " in ran.out
