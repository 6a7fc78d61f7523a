"""Books that 0.1.0 left behind open with nothing lost, with its cache and without."""

from __future__ import annotations

import hashlib
import json
import shutil
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.records.book import entries
from blendwise.records.kinds.scent import Scent
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document
from blendwise.version import __version__
from tests.strangers.runs import ran

HERE = Path(__file__).parent
BOOKS = ("grams", "ounces")


@dataclass(frozen=True)
class Frozen:
    """A copy of a frozen book, and what its note files hold."""

    folder: Path
    notes: tuple[Mapping[str, Any], ...]

    @property
    def plans(self) -> list[Path]:
        """Its plans' files."""
        return sorted((self.folder / "plans").glob("*.yaml"))


@pytest.fixture(params=[(book, cache) for book in BOOKS for cache in (True, False)], ids=str)
def frozen(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Frozen:
    """Each book, with the cache that 0.1.0 left and with none."""
    name, with_cache = request.param
    folder = tmp_path / name
    shutil.copytree(HERE / "books" / name, folder)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    if with_cache:
        key = hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:24]
        (tmp_path / "cache" / "blendwise").mkdir(parents=True)
        for kind in ("notes", "lessons"):
            left = (HERE / "cache" / f"{name}-{kind}.json").read_bytes()
            (tmp_path / "cache" / "blendwise" / f"{key}-{kind}.json").write_bytes(left)
    notes = [yaml.safe_load(path.read_text("utf-8")) for path in sorted((folder / "notes").glob("*.yaml"))]
    return Frozen(folder, tuple(notes))


def test_every_note_is_read(frozen: Frozen) -> None:
    """Each note file counts as one look of its batch; none is set aside."""
    review = ran("review", "--book", frozen.folder, "--json")
    assert 0 == review.code
    assert [] == review.document["set_aside"]
    written = Counter(str(note["batch"]) for note in frozen.notes if "batch" in note)
    counted = {batch["batch"]: batch["looks"] for batch in review.document["batches"]}
    assert written == {name: looks for name, looks in counted.items() if name in written}
    assert len(frozen.notes) == sum(counted.values())


def test_what_was_expected_is_still_compared(frozen: Frozen) -> None:
    """Browning bands that looks are held against are those that the first notes froze, none lost."""
    compared = ran("review", "--book", frozen.folder, "--json").document["compared"]
    bands = {
        (row["plan"], row["portion"], row["expected"]) for row in compared if row["what"] == "browning band"
    }
    expected = {
        (str(note["plan"]), portion, str(each["browning band"]))
        for note in frozen.notes
        for portion, each in note.get("frozen", {}).get("predictions", {}).items()
        if "browning band" in each
    }
    assert bands
    assert bands <= expected


def test_every_plan_is_checked_and_the_doctor_finds_no_broken_file(frozen: Frozen) -> None:
    """Nothing in the book is refused, and nothing in it is changed by being read."""
    before = {path: path.read_bytes() for path in frozen.folder.rglob("*") if path.is_file()}
    assert {0, 1} >= {ran("check", plan, "--json").code for plan in frozen.plans}
    signs = json.loads(ran("doctor", "--book", frozen.folder, "--json").out)["signs"]
    wrong = {sign["kind"] for sign in signs if sign["weight"] == "wrong"}
    assert {"no longer passes"} >= wrong  # a rule may have become stricter, and that is told
    assert before == {path: path.read_bytes() for path in frozen.folder.rglob("*") if path.is_file()}


def test_a_batch_is_poured_again_as_it_was_weighed(frozen: Frozen) -> None:
    """``again`` gives the doses that the first note of 0.1.0 froze."""
    last = next(note for note in reversed(frozen.notes) if note.get("frozen") and "batch" in note)
    text = ran("again", last["batch"], "--book", frozen.folder, "--json").document["text"]
    doses = yaml.safe_load(text)["doses"]
    for portion, weighed in last["frozen"]["doses"].items():
        for scent, mass in weighed.items():
            assert _grams(doses[portion][scent]) == pytest.approx(_grams(mass), abs=0.0005)


def _grams(text: str) -> float:
    """A mass as a plan or a note has it; 0.1.0 froze grams, a written plan speaks its book's unit."""
    number, unit = text.split()
    return float(number) * {"g": 1.0, "oz": GRAMS_PER_OUNCE}[unit]


def test_own_rules_still_count(frozen: Frozen) -> None:
    """What 0.1.0's maker added, adjusted and switched off is so still."""
    changed = ran("rules", "changed", "--book", frozen.folder, "--json")
    assert 0 == changed.code
    mine = frozen.folder / "rules" / "mine" / "own.yaml"
    entries = yaml.safe_load(mine.read_text("utf-8")) if mine.exists() else []
    names = {next(iter(entry.values())) for entry in entries}
    assert names == {change["rule"] for change in changed.document["changes"]}


def test_copies_of_the_rules_say_nothing_until_they_are_changed(frozen: Frozen) -> None:
    """Untouched they are the package's business; a number changed counts, all else is named by the doctor."""

    def signs() -> set[tuple[str, str]]:
        found = ran("doctor", "--book", frozen.folder, "--json").document["signs"]
        kinds = ("rule not counted", "locked rule changed", "file not read", "broken file")
        return {(sign["kind"], sign["names"][0]) for sign in found if sign["kind"] in kinds}

    assert set() == signs()
    rates, lye = frozen.folder / "rules" / "rates.yaml", frozen.folder / "rules" / "lye.yaml"
    text = rates.read_text("utf-8").replace("at most 6.25 %", "at most 5 %")
    own = "- {rule: own, looks at: batch, must: {superfat: at least 3 %}, else: hint}\n"
    rates.write_text(text + own, "utf-8")
    loose = lye.read_text("utf-8").replace("at least 0 %}\n  else: stop", "at least -9 %}\n  else: hint")
    lye.write_text(loose, "utf-8")
    assert {("rule not counted", "own"), ("locked rule changed", "lye-heavy-portion")} == signs()
    changed = ran("rules", "changed", "--book", frozen.folder, "--json").document["changes"]
    assert "more-than-is-usual" in {change["rule"] for change in changed}


def test_what_has_changed_is_told_once(frozen: Frozen) -> None:
    """On standard error by the command that comes first, and never again; a book of today hears nothing."""
    before = {path: path.read_bytes() for path in frozen.folder.rglob("*") if path.is_file()}
    plan = frozen.plans[0]
    told = [ran("check", plan, "--json").err, ran("check", plan).err]
    told += [ran("doctor", "--book", frozen.folder).err]
    assert [True, False, False] == ["begun with 0.1.0" in each for each in told]
    assert before == {path: path.read_bytes() for path in frozen.folder.rglob("*") if path.is_file()}
    for copy in (frozen.folder / "rules").glob("*.yaml"):
        copy.unlink()
    shutil.rmtree(frozen.folder.parent / "cache")
    assert "" == ran("check", plan).err


@pytest.mark.parametrize("frozen", [("ounces", False)], indirect=True, ids=str)
def test_where_nothing_can_be_kept_it_is_told_and_nothing_fails(
    frozen: Frozen, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A cache that cannot be written, or is switched off: the same verdict, and the line each time."""
    plan = frozen.plans[0]
    as_usual = ran("check", plan)
    (frozen.folder.parent / "no folder").write_text("", "utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(frozen.folder.parent / "no folder"))
    full = [ran("check", plan), ran("check", plan)]
    monkeypatch.setenv("BLENDWISE_NO_CACHE", "1")
    for each in (*full, ran("check", plan)):
        assert (as_usual.code, as_usual.out) == (each.code, each.out)
        assert 1 == each.err.count("begun with 0.1.0")


@pytest.mark.parametrize("frozen", [("grams", True), ("grams", False)], indirect=True, ids=str)
def test_a_draft_left_unfinished_goes_on(frozen: Frozen) -> None:
    """Answers that 0.1.0 kept are not asked again."""
    rest = ("--portion", "white: 40 %", "--portion", "dark: the rest", "--unscented", "--yes", "--dry-run")
    draft = ran("draft", "half-said", *rest, "--book", frozen.folder, "--json")
    assert {"olive": "45 %", "coconut": "55 %"} == yaml.safe_load(draft.document["text"])["recipe"]["oils"]


@pytest.mark.parametrize(
    ("file", "line"),
    [("scents.yaml", "later oil: {kind: essential oil, drifts at: 3 %}"), ("usual.yaml", "tide: 3 h")],
)
def test_a_book_from_the_future_is_refused_kindly(tmp_path: Path, file: str, line: str) -> None:
    """Of a field that no version knows yet it is told which version this is; no file is changed."""
    folder = tmp_path / "book"
    shutil.copytree(HERE / "books" / "grams", folder)
    (folder / file).write_text((folder / file).read_text("utf-8") + line + "\n", "utf-8")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    told = ran("check", next((folder / "plans").glob("*.yaml")))
    assert 2 == told.code
    assert f"A later version may know it; this is {__version__}." in told.err
    assert before == {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_slip_is_not_taken_for_the_future() -> None:
    """Of a field that lies near one it is the near one that is said."""
    with pytest.raises(RecordError, match="acceleration") as refused:
        entries(Scent, text_document("lime: {kind: essential oil, aceleration: slight}\n"), "scents")
    assert "later version" not in str(refused.value)
