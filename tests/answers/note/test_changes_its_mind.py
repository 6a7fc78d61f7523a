"""Three noted batches of an oil that browns more than its entry says change what is said of a fourth plan."""

from __future__ import annotations

import difflib
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.answers.note.conftest import Blendwise

OIL = """
fudge-cloud:
  kind: fragrance oil
  scent note: base
  browns to: {band: cream, at: 4 % of oils, evidence: EVIDENCE}   # what the paper says
  acceleration: {is: none, at: 4 % of oils, evidence: own cup}
  ricing: none
  own cast: none
  after six weeks: strong
  flash point: above 93 °C
  for skin: yes
  limit in bar: {most: 20 %, certificate: 51st amendment, dated: 2025-06-30}
  allergen sheet: {complete: yes}
  lot: FC-1
  on hand: 900 g
  evidence: supplier
"""
PLAN = """plan: NAME
for: home
recipe:
  oils: {olive: 50 %, coconut: 25 %, rapeseed: 25 %}
  amount: {oils: 600 g}
  lye: {concentration: 30 %, superfat: 5 %, purity: 99 %}
process: {batter at split: 30 °C, room: 20 °C, gel: avoid, stays fluid: 40 min}
pour: rough layers
portions:
  - {name: pale, share: 60 %, may become: cream}
  - {name: dark, share: the rest, colourants: {charcoal: 0.6 % of portion oils}, may become: chocolate}
scents: {blend: {fudge-cloud: 1}, load: 3.5 % of batch oils, dosing: same total}
"""
POURED = {"first": "2026-03-01", "second": "2026-04-05", "third": "2026-05-10"}


@pytest.fixture(params=["supplier", "own cup"])
def book(request: pytest.FixtureRequest, empty: Path) -> Path:
    """A book with the oil and four plans of it."""
    scents = empty / "scents.yaml"
    scents.write_text(scents.read_text("utf-8") + OIL.replace("EVIDENCE", request.param), "utf-8")
    for name in (*POURED, "fourth"):
        (empty / "plans" / f"{name}.yaml").write_text(PLAN.replace("NAME", name), "utf-8")
    return empty


def note_all(blendwise: Blendwise, book: Path) -> None:
    """Note all three batches at the pot and six weeks later, by options."""
    for name, day in POURED.items():
        pot = blendwise(
            "note",
            name,
            "--book",
            str(book),
            "--look",
            "at the pot",
            "--saw",
            "all: fluid at 12 min",
            today=day,
        )
        assert (0, "") == (pot.code, pot.err)
        six = (date.fromisoformat(day) + timedelta(days=42)).isoformat()
        saw = ("--saw", "pale: colour tan", "--saw", "dark: colour tan, strength strong")
        late = blendwise("note", name, "--book", str(book), "--look", "week 6", "--on", six, *saw)
        assert (0, "") == (late.code, late.err)


def test_the_fourth_plan_is_seen_with_other_eyes(blendwise: Blendwise, book: Path) -> None:
    """Check changes its mind, says why, is told not to, and the edit is adopted by one command."""
    before = blendwise("check", "fourth", "--book", str(book))
    assert 0 == before.code, before.out
    assert "browning-shows-in-light" not in before.out

    note_all(blendwise, book)
    after = blendwise("check", "fourth", "--book", str(book), "--more")
    assert 1 == after.code
    assert "rule browning-shows-in-light" in after.flat
    assert "told by your own batch" in after.flat
    assert "The notes of 3 batches of fudge-cloud say" in after.flat
    assert 0 == blendwise("check", "fourth", "--book", str(book), "--as-written").code
    assign_counts_the_looks_too(blendwise, book)

    told = blendwise("review", "--book", str(book))
    assert "fudge-cloud browns to: cream →" in told.flat
    assert "blendwise review --adopt fudge-cloud" in told.flat
    assert "Change one thing" in told.out

    scents = book / "scents.yaml"
    old = scents.read_bytes()
    dry = blendwise("review", "--adopt", "fudge-cloud", "--book", str(book), "--dry-run")
    assert (0, old) == (dry.code, scents.read_bytes())
    assert 0 == blendwise("review", "--adopt", "fudge-cloud", "--book", str(book)).code
    changed = list(difflib.ndiff(old.decode().splitlines(), scents.read_text("utf-8").splitlines()))
    gone = [line for line in changed if line.startswith("- ")]
    came = [line for line in changed if line.startswith("+ ")]
    assert ["-   browns to: {band: cream,"] == [line.split(" at:")[0] for line in gone]
    assert 3 == len(came)
    assert "# what the paper says" in came[0]
    assert 'what: "Browns to cream →' in came[2]
    assert 1 == blendwise("check", "fourth", "--book", str(book), "--as-written").code


def assign_counts_the_looks_too(blendwise: Blendwise, book: Path) -> None:
    """And with --careful the wider end of what is believed is told."""
    counted = blendwise("assign", "fourth", "--book", str(book), "--more")
    written = blendwise("assign", "fourth", "--book", str(book), "--as-written", "--more")
    assert "The notes of 3 batches of fudge-cloud" in counted.flat
    assert "The notes of 3 batches of fudge-cloud" not in written.flat
    assert "fudge-cloud" in written.out
    careful = blendwise("check", "fourth", "--book", str(book), "--careful", "--more")
    assert 1 == careful.code
    assert "the worse end" in careful.flat
