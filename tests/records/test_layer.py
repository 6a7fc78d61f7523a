"""A book's own layer of rules: copies against released texts, what is read, what is told."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path

import pytest
import yaml

from blendwise.facts.tables import vocabulary
from blendwise.judge.conditions.ranges import implies
from blendwise.judge.findings.finding import LEVELS
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.judge.rulebook.standing import standing
from blendwise.records.book import load_book
from blendwise.records.layer import released
from blendwise.records.layer.entries import entries_of
from blendwise.records.layer.own_files import KINDS

ROOT = Path(__file__).resolve().parents[2]
COPIES = ROOT / "tests" / "danger" / "bases" / "rules_0_1_0"
"""The rules as 0.1.0 wrote them into each new book."""
STOP = "- {rule: mine, looks at: batch, must: {superfat: at least 20 %}, else: stop}\n"


def told(folder: Path) -> list[tuple[str, str, bool, bool]]:
    return [(a.why, a.name, a.told, a.stop) for a in rulebook(folder).asides]


def rulebook(folder: Path) -> Rulebook:
    return standing(load_book(folder), vocabulary())


def copied(folder: Path, name: str, *edits: tuple[str, str]) -> None:
    """A copy of one released file, edited."""
    text = (COPIES / name).read_text("utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / "rules").mkdir(exist_ok=True)
    (folder / "rules" / name).write_text(text, "utf-8")


@pytest.mark.parametrize("file", sorted(COPIES.glob("*.yaml")), ids=lambda file: str(file.name))
def test_every_released_entry_is_known_again_whatever_its_dress(file: Path, folder: Path) -> None:
    """Without remarks, with other white space, quotes and line ends a copy is still the release's."""
    tree = yaml.load(file.read_text("utf-8"), yaml.BaseLoader)
    kind = KINDS.get(file.stem, "rules")
    for entry in entries_of(tree, kind):
        print_ = released.text_of(entry.tree, kind).print
        assert [print_] == [text.print for text in released.released(kind, entry.name)]
    (folder / "rules").mkdir()
    dressed = yaml.safe_dump(tree, sort_keys=True, width=60).replace("\n", "\r\n")
    (folder / "rules" / file.name).write_bytes(dressed.encode())
    assert ([], ()) == (told(folder), rulebook(folder).changes)


def test_the_whole_copy_of_0_1_0_says_nothing(folder: Path) -> None:
    for file in COPIES.glob("*.yaml"):
        copied(folder, file.name)
    assert ([], ()) == (told(folder), rulebook(folder).changes)


def test_a_changed_number_and_level_count_as_adjustments(folder: Path) -> None:
    """Of a rule that nobody locked; the place is the copy's line."""
    copied(folder, "rates.yaml", ("else: conflict", "else: hint"), ("at most 6.25 %", "at most 5 %"))
    found = rulebook(folder)
    changes = [(c.verb, c.rule, c.now) for c in found.changes]
    assert [
        ("adjust", "far-too-much-scent", "hint"),
        ("adjust", "more-than-is-usual", "scent rate: at most 5 % of portion oils"),
    ] == changes
    assert [] == told(folder)
    assert "hint" == found.by_name["far-too-much-scent"].level


def test_a_locked_rule_is_tightened_by_a_copy_and_never_loosened(folder: Path) -> None:
    copied(folder, "limits.yaml", ("{limit used: at most 100 %}", "{limit used: at most 60 %}"))
    assert "limit used: at most 60 %" in str(rulebook(folder).by_name["over-the-certificates"].must.atoms[0])
    copied(folder, "limits.yaml", ("{limit used: at most 100 %}", "{limit used: at most 160 %}"))
    found = rulebook(folder)
    assert "at most 100 %" in str(found.by_name["over-the-certificates"].must.atoms[0])
    assert [("locked rule changed", "over-the-certificates", True, False)] == told(folder)


def test_no_edit_of_a_copy_loosens_a_locked_rule(folder: Path) -> None:
    """300 files with random edits (lines, numbers, levels, words): locked rules ask no less than they did."""
    chance = random.Random(13)
    shipped = {r.name: r for r in rulebook(folder).rules if r.is_locked}
    for _ in range(60):
        for name in ("lye.yaml", "limits.yaml", "storage.yaml", "heat.yaml", "evidence.yaml"):
            (folder / "rules").mkdir(exist_ok=True)
            (folder / "rules" / name).write_text(bent((COPIES / name).read_text("utf-8"), chance), "utf-8")
        found = rulebook(folder)
        for rule in shipped.values():
            now = found.by_name[rule.name]
            assert (now.looks_at, now.record.protects) == (rule.looks_at, rule.record.protects)
            assert LEVELS.index(now.level) >= LEVELS.index(rule.level)
            assert all(implies(new, old) for new, old in zip(now.must, rule.must, strict=True))
            assert all(implies(old, new) for new, old in zip(now.when, rule.when, strict=True))


def bent(text: str, chance: random.Random) -> str:
    """A copy with a few lines changed at random; it may no longer be YAML."""
    lines = text.splitlines()
    for _ in range(chance.randrange(1, 8)):
        at = chance.randrange(len(lines))
        line = lines[at]
        lines[at] = chance.choice(
            (
                "",
                re.sub(r"\d+", lambda found: str(int(found[0]) * 10), line),
                line.replace("stop", "hint").replace("at least", "at most"),
                line.replace("protects", "topic").replace("is yes", "is no"),
                line + " x",
            )
        )
    return "\n".join(lines)


def test_figures_of_pours_and_scales_count_from_a_copy(folder: Path) -> None:
    """Numbers do; words do not, and are told."""
    edits = (("minutes: 3 to 6 min", "minutes: 2 to 5 min"), ("touching: none", "touching: in order"))
    copied(folder, "pours.yaml", *edits)
    copied(folder, "scales.yaml", ("up to: 0.03 %", "up to: 0.04 %"))
    book = load_book(folder)
    assert (2.0, 5.0) == (book.pours["in-pot swirl"].minutes.low, book.pours["in-pot swirl"].minutes.high)
    assert "none" == book.pours["single colour"].touching
    assert book.scales.bands[1].up_to is not None
    assert 0.0004 == pytest.approx(book.scales.bands[1].up_to.value)
    assert [("not counted", "single colour", True, False)] == told(folder)


def test_own_pours_and_scales_lie_over_the_package_s(folder: Path) -> None:
    """One field of a pour, a pour of one's own, one band; what guards read of a pour is the package's."""
    mine = folder / "rules" / "mine"
    mine.mkdir(parents=True)
    own = "my way: {family: thick, minutes: 2 min, batter: thick, tolerates: fast, touching: none, basis: me}"
    (mine / "pours.yaml").write_text(f"single colour: {{touching: each other}}\n{own}\n", "utf-8")
    (mine / "scales.yml").write_text("bands: [{word: cream, up to: 0.05 %}]\n", "utf-8")
    book = load_book(folder)
    assert ("each other", "none") == (
        book.pours["single colour"].touching,
        book.guard_pour("single colour").touching,  # type: ignore[union-attr]
    )
    assert "thick" == book.pours["my way"].family
    assert 0.0005 == pytest.approx(book.scales.bands[1].up_to.value)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("name", "read"),
    [
        ("rules/mine/a.yml", True),
        ("rules/mine/A.YAML", True),
        ("rules/mine/deep/er/a.yaml", True),
        ("Rules/Mine/a.yaml", True),
        ("rules/mine/a.yaml.bak", False),
        ("rules/mine/a.json", False),
        ("rules/mine/.a.yaml", False),
        ("rules/mine/a", False),
        ("rules/old/a.yaml", False),
        ("rules/lye.yaml~", False),
    ],
)
def test_a_file_is_read_or_named(folder: Path, name: str, read: bool) -> None:
    file = folder / name
    file.parent.mkdir(parents=True)
    file.write_text(STOP, "utf-8")
    assert read is ("mine" in rulebook(folder).by_name)
    assert ([] if read else [("file not read", name, True, False)]) == told(folder)


def test_a_file_in_another_encoding_is_named(folder: Path) -> None:
    """UTF-16 under another ending is still seen to hold a stop; under .yaml it counts as one."""
    mine = folder / "rules" / "mine"
    mine.mkdir(parents=True)
    for name in ("a.txt", "a.yaml"):
        (mine / name).write_bytes(STOP.encode("utf-16"))
    assert {
        ("file not read", "rules/mine/a.txt", True, False),
        ("cannot be read", "rules/mine/a.yaml", True, True),
    } == set(told(folder))


def test_other_files_are_for_the_doctor_alone(folder: Path) -> None:
    (folder / "rules" / "mine").mkdir(parents=True)
    (folder / "rules" / "mine" / "thoughts.txt").write_text("Buy clay.", "utf-8")
    assert [("file not read", "rules/mine/thoughts.txt", False, False)] == told(folder)


def test_a_rule_of_ones_own_beside_the_folder_is_told(folder: Path) -> None:
    (folder / "rules").mkdir()
    (folder / "rules" / "own.yaml").write_text(STOP, "utf-8")
    assert [("not counted", "mine", True, False)] == told(folder)


def test_no_locked_rule_reads_pours_or_scales_of_the_book() -> None:
    """The measures of locked rules that ask a pour ask ``guard_pour``; none asks the scales."""
    measures = ROOT / "blendwise" / "facts" / "measures"
    for name in ("bar", "lye", "constituents", "dose", "evidence"):
        text = (measures / f"{name}.py").read_text("utf-8")
        assert not re.search(r"\bs\.(?:scales|pour\b)", text), name


def test_the_data_is_what_its_script_makes() -> None:
    """Texts of the copies as 0.1.0 wrote them, by the same functions, are those in the data file."""
    said = json.loads(released.DATA.read_text("utf-8"))["0.1.0"]
    for file in COPIES.glob("*.yaml"):
        assert said["files"][file.name] == released.of_bytes(file.read_bytes())
    assert {"rules", "pours", "scales", "symptoms"} == set(said["texts"])
