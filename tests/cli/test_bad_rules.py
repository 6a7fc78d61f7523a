"""Bad rules of one's own, by the real command: told first with the entry's own words; the check goes on."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS
from tests.cli.conftest import Run

DEMO = Path(__file__).resolve().parents[2] / "demo_catalog"
PLAN = str(DEMO / "plans" / "harbour-morning.yaml")
LONG = "x" * 30_000


def one(body: str, name: str = "mine") -> str:
    """A rule of one's own with everything but its conditions filled in."""
    return f"- {{rule: {name}, {body}, else: hint, because: a., try: b., basis: common practice}}\n"


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """The demo's shelf with an empty layer of rules of one's own."""
    for name in ("scents.yaml", "colourants.yaml", "oils.yaml", "usual.yaml"):
        shutil.copy(DEMO / name, tmp_path / name)
    (tmp_path / "rules" / "mine").mkdir(parents=True)
    return tmp_path


BAD = [
    (
        "looks at: portion, must: {planned lightness: at leest 70}",
        ["must: {planned lightness: at leest 70}", "Say one of: at least, at most,"],
    ),
    (
        "looks at: portion, must: {browning band: at most tann}",
        ["must: {browning band: at most tann}", 'The nearest is "tan".', "ivory, cream, beige, tan"],
    ),
    (
        "looks at: portion, must: {contents: known beans}",
        ['"contents" is not a measure'],
    ),
    (
        "looks at: portion, must: {minutes fluid: known well}",
        ['"known" stands alone, but "well" follows it'],
    ),
    (
        "looks at: portion, must: {portion mass: at least 70 °C}",
        ['"70 °C" is a temperature', '"portion mass" is a mass', 'Write it like "30 g"'],
    ),
    (
        "looks at: portion, must: {scent rate: at most 3 % of finished bar}",
        ["must: {scent rate: at most 3 % of finished bar}", "of portion oils"],
    ),
    (
        "looks at: batch, must: {planned lightness: at least 70}",
        ["belongs to a portion and cannot be asked of a batch", "Let the rule look at: portion"],
    ),
    (
        "looks at: portion, must: {minutes needed: at most batter temperature}",
        ['"minutes needed"', '"batter temperature"', "cannot be held against"],
    ),
    (
        "looks at: portion, must: {minutes needed: at least minutes needed}",
        ['"minutes needed" is held against itself'],
    ),
    (
        "looks at: portion, must: {minutes needed: at least scented at, scented at: at least fluid until, "
        "fluid until: at least minutes needed}",
        ['"minutes needed", "scented at", "fluid until" are held against one another in a circle'],
    ),
    (
        f"looks at: portion, must: {{planned lightness: at least {LONG}}}",
        ["is 30009 characters long", "At most 200 may stand here"],
    ),
    (f'looks at: portion, must: {{"{LONG}": at least 3}}', ["has 30000 characters", "Shorten it."]),
    (f"looks at: portion, must: {{{LONG}: at least 3}}", ["xxx…", "Shorten it."]),
    (
        f"looks at: portion, must: {{planned lightness: at least 3}}, topic: {LONG}",
        ["own.yaml:1"],
    ),
]


@pytest.mark.parametrize(("body", "says"), BAD, ids=[body[:70] for body, _ in BAD])
def test_a_bad_rule_is_told_with_its_own_words(run: Run, own: Path, body: str, says: list[str]) -> None:
    """File and line, the entry's own words, what may stand there; never more than a screen of it."""
    (own / "rules" / "mine" / "own.yaml").write_text(one(body), "utf-8")
    ran = run("check", PLAN, "--book", str(own))
    told, said = ran.out.split("\n\n")[1], " ".join(ran.out.split())
    whole_file = "Shorten it." in says  # a key that no file may hold: nothing of the file can be read
    assert (FINDINGS if whole_file else CLEAN, "") == (ran.code, ran.err)
    then = "this counts as a stop" if whole_file else "the check goes on without it"
    assert then in " ".join(told.split())
    assert "rules/mine/own.yaml:1" in told
    assert [part for part in says if part not in said] == []
    assert len(told) < 2000


@pytest.mark.parametrize(
    "entry",
    [
        "- {rule: r, looks at: batch, must: {superfatt: at least 2 %}, else: stop}",
        "- {rule: r, looks at: batch, must: {superfat: at least 2 %}, else: stopp}",
        "- {rule: r, looks at: batch, must: {superfat: at least 2 %}}",
        "- {rule: lye-heavy-portion, looks at: batch, must: {superfat: at least 2 %}, else: stop}",
        "- {adjust: no-such-rule, to: stop}",
        "- [unclosed",
        "rule: r",
    ],
)
def test_a_rule_that_may_be_a_stop_and_cannot_be_read_counts_as_one(run: Run, own: Path, entry: str) -> None:
    """Exit 1, said first; `pair` says no less, and the sheet says not to pour."""
    (own / "rules" / "mine" / "own.yaml").write_text(entry + "\n", "utf-8")
    ran = run("check", PLAN, "--book", str(own))
    assert FINDINGS == ran.code
    assert ran.out.split("\n\n")[1].startswith("Stop: ")
    assert "this counts as a stop" in " ".join(ran.out.split())
    assert FINDINGS == run("pair", "lavender", "cedar", "--book", str(own)).code


def test_the_other_rules_of_the_file_still_count(run: Run, own: Path) -> None:
    """A sound stop beside a bad hint is asked."""
    bad = one("looks at: portion, must: {planned lightness: at leest 70}", "bad")
    stop = "- {rule: fat, looks at: batch, must: {superfat: at least 20 %}, else: stop, because: Mine.}\n"
    (own / "rules" / "mine" / "own.yaml").write_text(bad + stop, "utf-8")
    ran = run("check", PLAN, "--book", str(own), "--json")
    assert FINDINGS == ran.code
    assert ["fat"] == [f["rule"] for f in json.loads(ran.out)["findings"] if f["level"] == "stop"]


def test_lint_shows_the_entry_itself(run: Run, own: Path) -> None:
    """What is wrong stands beside the lines of the very entry, not of its neighbours."""
    first = one("looks at: portion, must: {planned lightness: at least 3}", "first")
    second = one("looks at: portion, must: {portion mass: at least 70 °C}", "second")
    (own / "rules" / "mine" / "own.yaml").write_text(first + second, "utf-8")
    ran = run("rules", "lint", "--book", str(own))
    parts = (" ".join(part.split()) for part in ran.out.split("\n\n"))
    told = next(part for part in parts if "is a temperature" in part)
    assert FINDINGS == ran.code
    assert "As written: {rule: second," in told
    assert "rule: first" not in told


def test_a_thousand_rules_of_ones_own(run: Run, own: Path) -> None:
    """A thousand sound rules are judged and looked over."""
    masses = [f"looks at: portion, must: {{portion mass: at least {1 + i % 9} g}}" for i in range(1000)]
    rules = "".join(one(mass, f"r{i}") for i, mass in enumerate(masses))
    (own / "rules" / "mine" / "own.yaml").write_text(rules, "utf-8")
    assert CLEAN == run("check", PLAN, "--book", str(own)).code
    looked = run("rules", "lint", "--book", str(own))
    assert CLEAN == looked.code
    assert "No cases prove r0, r1, r2, r3, r4 and 995 more" in " ".join(looked.out.split())


def test_a_thousand_bad_rules_are_counted(run: Run, own: Path) -> None:
    """The first five are told, each at its line, and how many more there are."""
    rules = (one("looks at: portion, must: {portion mass: at leest 9 g}", f"r{i}") for i in range(1000))
    (own / "rules" / "mine" / "own.yaml").write_text("".join(rules), "utf-8")
    ran = run("check", PLAN, "--book", str(own))
    assert CLEAN == ran.code
    assert "own.yaml:5." in ran.out
    assert "own.yaml:6." not in ran.out
    assert "995 more rules cannot be read" in ran.out


def test_more_rules_than_a_file_may_hold(run: Run, own: Path) -> None:
    """Beyond five thousand entries the file is not read, with what to do, and counts as a stop."""
    (own / "rules" / "mine" / "own.yaml").write_text("- {rule: r}\n" * 5001, "utf-8")
    ran = run("check", PLAN, "--book", str(own))
    assert FINDINGS == ran.code
    assert "more than 5,000 entries" in " ".join(ran.out.split())
    assert "Divide the file." in ran.out
