"""``blendwise draft``: by options, by lines of input, in conversation; broken off and taken up again."""

from __future__ import annotations

import io
import json
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pexpect
import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from blendwise.records.book import load_book, load_plan
from blendwise.show.schemas import schema_of
from tests.cli.conftest import Run

Lines = Callable[..., None]
ROOT = Path(__file__).resolve().parents[2]
OPTIONS = (
    "--yes",
    *("--for", "home", "--amount", "loaf 25 x 9 x 6.5 cm", "--bars", "10", "--pour", "column"),
    *("--portion", "milk: 40 %; titanium-dioxide 1 %; may become cream"),
    *("--portion", "soil: the rest; charcoal 0.6 %"),
    *("--scent", "tonka-milk: 1", "--scent", "cedar: 2", "--load", "3 %", "--never", "tonka-milk in milk"),
)


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo in a folder of one's own."""
    return Path(shutil.copytree(ROOT / "demo_catalog", tmp_path / "book"))


@pytest.fixture
def lines(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Lays answers on the input, a line each."""

    def lay(*answers: str) -> None:
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))

    return lay


def test_options_alone_write_a_plan(run: Run, demo: Path) -> None:
    """Everything said by options is asked no more; the file is a sound plan, with remarks, as it was said."""
    ran = run("draft", "evening", "--book", str(demo), "--today", "2026-11-25", *OPTIONS)
    assert (CLEAN, "") == (ran.code, ran.err)
    file = demo / "plans" / "evening.yaml"
    plan = load_plan(file, load_book(demo))
    assert ("evening", "home", "column") == (plan.plan, plan.for_, plan.pour)
    assert [("milk", "cream"), ("soil", "chocolate")] == [(p.name, p.may_become) for p in plan.portions]
    assert plan.scents is not None
    assert {"tonka-milk": 1.0, "cedar": 2.0} == {name: part.value for name, part in plan.scents.blend.items()}
    assert ["tonka-milk"] == [rule.scent for rule in plan.never]
    text = file.read_text("utf-8")
    assert "# parts by mass" in text
    assert "0.6 % of portion oils" in text
    assert f"blendwise assign {file.as_posix()}" in ran.out.replace("\n", " ")


def test_what_was_drafted_checks_alike(run: Run, demo: Path) -> None:
    """The advice at the end is what ``check`` says of the written file."""
    run("draft", "evening", "--book", str(demo), "--today", "2026-11-25", *OPTIONS)
    drafted = run(
        *("draft", "evening-too", "--book", str(demo), "--today", "2026-11-25", "--json", "--dry-run"),
        *OPTIONS,
    )
    checked = run("check", str(demo / "plans" / "evening.yaml"), "--json", "--today", "2026-11-25")
    one, other = json.loads(drafted.out)["check"], json.loads(checked.out)
    assert one["grams"] == other["grams"]
    assert one["counts"] == other["counts"]


def test_json_is_of_its_schema(run: Run, demo: Path) -> None:
    """One document, with the plan's text; nothing is written in a dry run."""
    ran = run("draft", "evening", "--book", str(demo), "--json", "--dry-run", *OPTIONS)
    read = json.loads(ran.out)
    jsonschema.validate(read, schema_of("draft"))
    assert "" == read["written"]
    assert read["text"].startswith("# Drafted on ")
    assert not (demo / "plans" / "evening.yaml").exists()


def test_defaults_need_only_portions(run: Run, demo: Path) -> None:
    """With --yes a name and two portions are enough: the rest is as usual."""
    ran = run(
        *("draft", "evening", "--book", str(demo), "--yes", "--portion", "one: 50 %", "--portion", "two"),
    )
    assert CLEAN == ran.code
    plan = load_plan(demo / "plans" / "evening.yaml", load_book(demo))
    assert plan.scents is None
    assert "the rest" == plan.portions[1].share
    assert plan.recipe is not None
    assert {"olive", "coconut", "rapeseed", "shea"} == set(plan.recipe.oils)


def test_a_conflict_is_advice_and_exit_code_one(run: Run, demo: Path) -> None:
    """A plan with a conflict is written all the same, and the code says so."""
    ran = run(
        *("draft", "evening", "--book", str(demo), "--yes", "--scent", "tonka-milk"),
        *("--portion", "milk: 50 %; titanium-dioxide 1 %; may become ivory", "--portion", "soil"),
    )
    assert FINDINGS == ran.code
    assert "browning-shows-in-light" in ran.out
    assert (demo / "plans" / "evening.yaml").exists()


def test_a_taken_name_is_said_before_anything_is_asked(run: Run, demo: Path) -> None:
    """No plan is ever written over."""
    before = (demo / "plans" / "rain-jar.yaml").read_bytes()
    ran = run("draft", "rain-jar", "--book", str(demo), *OPTIONS)
    assert NOT_ASKED == ran.code
    assert "There is a plan of this name already." in ran.err
    assert before == (demo / "plans" / "rain-jar.yaml").read_bytes()


@pytest.mark.parametrize(
    ("option", "value", "message"),
    [
        ("--for", "sail", 'There is no purpose "sail". A plan has "sale".'),
        ("--amount", "big", '"big" says neither a mould nor a mass of oils.'),
        ("--amount", "loaf 25 x 9", "25 x 9"),
        ("--amount", "loaf 25 x 0 x 6 cm", "25 x 0 x 6 cm"),
        ("--bars", "ten", '"ten" is no number of bars.'),
        ("--oils", "olive 45 %, cocnut 55 %", 'There is no base oil "cocnut". The book has "coconut".'),
        ("--oils", "olive 45 %", "45 %"),
        ("--oils", "olive", '"olive" lacks a figure.'),
        ("--lye", "31 %", '"31 %" is not two figures.'),
        ("--lye", "131 %, 5 %", "131 %"),
        ("--dosing", "some", 'There is no way of dosing "some".'),
        ("--pour", "colum", 'There is no pour "colum". The rulebook has "column".'),
        ("--load", "0 %", "A load of nothing scents nothing."),
        ("--load", "45,5 %", "45.5 %"),
        ("--never", "tonka-milk", "does not say a scent and a portion"),
        ("--never", "tonka-milk in mlk", 'There is no portion "mlk". The plan has "milk".'),
    ],
)
def test_a_wrong_option_says_what_to_write(
    run: Run, demo: Path, option: str, value: str, message: str
) -> None:
    """Each wrong answer names itself and its remedy; nothing is written."""
    said = list(OPTIONS)
    if option in said:
        said[said.index(option) + 1] = value
    else:
        said += [option, value]
    ran = run("draft", "evening", "--book", str(demo), "--yes", *said)
    assert NOT_ASKED == ran.code
    assert message in ran.err
    assert not (demo / "plans" / "evening.yaml").exists()


@pytest.mark.parametrize(
    ("portions", "message"),
    [
        (["milk: 40 %", "milk: 60 %"], '"milk" is there already.'),
        (["milk: the rest", "soil: the rest"], "A portion takes the rest already."),
        (["milk: 40 %", "soil: 40 %"], "The shares add up to 80 %"),
        (["milk: 40 %; moon-dust 1 %", "soil"], 'There is no colourant "moon-dust".'),
        (["milk: 40 %; may become pink", "soil"], 'There is no band "pink".'),
        (["milk: nothing", "soil"], "nothing"),
        ([": 40 %"], "is no portion."),
    ],
)
def test_wrong_portions_are_refused(run: Run, demo: Path, portions: list[str], message: str) -> None:
    """Portions that cannot stand together are refused as they are said."""
    given = [arg for portion in portions for arg in ("--portion", portion)]
    ran = run("draft", "evening", "--book", str(demo), "--yes", *given)
    assert NOT_ASKED == ran.code
    assert message in ran.err


@pytest.mark.parametrize("name", ["../evening", "a/b", "a:b", ".hidden", "what?"])
def test_a_name_that_is_no_file_name(run: Run, demo: Path, name: str) -> None:
    """A plan's name is its file's name: it can be one everywhere, and stays in the book."""
    ran = run("draft", name, "--book", str(demo), *OPTIONS)
    assert NOT_ASKED == ran.code
    assert "cannot be the name of a file" in ran.err


FIRST = ("home", "", "", "", "column", "milk", "40 %", "titanium-dioxide", "", "soil")
THEN = ("", "charcoal", "", "", "cedar", "1", "", "", "", "")


def test_answers_on_the_input(run: Run, demo: Path, lines: Lines) -> None:
    """Answers a line each do what a conversation does; an empty line takes the default."""
    lines(*FIRST, *THEN)
    ran = run("draft", "evening", "--book", str(demo))
    assert (CLEAN, "") == (ran.code, ran.err)
    plan = load_plan(demo / "plans" / "evening.yaml", load_book(demo))
    assert ["milk", "soil"] == [portion.name for portion in plan.portions]
    assert [] == list((demo / "plans").glob(".unfinished-*"))


def test_a_broken_off_draft_goes_on(run: Run, demo: Path, lines: Lines) -> None:
    """Where the input ends the answers are kept, and the same command asks only for the rest."""
    lines(*FIRST)
    broken = run("draft", "evening", "--book", str(demo))
    assert NOT_ASKED == broken.code
    assert 'The input ended before this was answered: Share of "soil"' in broken.err
    assert not (demo / "plans" / "evening.yaml").exists()
    lines(*THEN)
    ran = run("draft", "evening", "--book", str(demo))
    assert CLEAN == ran.code
    assert "An unfinished draft is taken up again, with ten answers" in ran.err
    plan = load_plan(demo / "plans" / "evening.yaml", load_book(demo))
    assert ("home", "column") == (plan.for_, plan.pour)


def test_anew_begins_again(run: Run, demo: Path, lines: Lines) -> None:
    """With --anew nothing of a broken-off draft is left."""
    lines(*FIRST)
    run("draft", "evening", "--book", str(demo))
    lines("sale")
    ran = run("draft", "evening", "--book", str(demo), "--anew")
    assert "taken up again" not in ran.err
    assert "ended before this was answered: Base oils" in ran.err


def test_damaged_answers_are_asked_again(run: Run, demo: Path, lines: Lines) -> None:
    """A draft's own file that somebody bent loses the answers, and nothing else."""
    kept = demo / "plans" / ".unfinished-evening.json"
    kept.write_text('{"for": "home", "oils": "no such oil 100 %", "pour"', "utf-8")
    lines(*FIRST, *THEN)
    assert CLEAN == run("draft", "evening", "--book", str(demo)).code


def test_a_wrong_line_ends_the_run(run: Run, demo: Path, lines: Lines) -> None:
    """Without a terminal a wrong answer is not asked again, or the lines after it would answer it."""
    lines("home", "", "", "", "no such pour", "milk")
    ran = run("draft", "evening", "--book", str(demo))
    assert NOT_ASKED == ran.code
    assert 'How it is poured (? lists them): There is no pour "no such pour".' in ran.err


def test_a_conversation_at_a_terminal(demo: Path) -> None:
    """At a terminal a wrong answer is asked again, lists can be seen, one can go back, and break off."""
    command = f"{Path(sys.executable).parent / 'blendwise'} draft evening --book {demo} --plain"
    said = ["home", "", "", "", "colum", "?", "column", "milk", "40 %", "<", "35 %", "titanium-dioxide"]
    talk = pexpect.spawn(command, encoding="utf-8", timeout=60, dimensions=(40, 200), cwd=str(demo))
    heard = ""
    for answer in said:
        talk.expect(r": $")
        heard += talk.before or ""
        talk.sendline(answer)
    talk.expect(r": $")
    heard += talk.before or ""
    talk.sendintr()
    talk.expect(pexpect.EOF)
    heard += talk.before or ""
    talk.close()
    assert 130 == talk.exitstatus
    assert "Enter takes what stands in brackets" in heard
    assert 'There is no pour "colum". The rulebook has "column".' in heard
    assert "in-pot swirl, " in heard
    assert "It wants thin batter, takes 8 to 20 minutes" in heard
    assert "the same command goes on from there" in heard
    kept = json.loads((demo / "plans" / ".unfinished-evening.json").read_text("utf-8"))
    assert ("milk", "35 %") == (kept["portion 1 name"], kept["portion 1 share"])


def test_lye_and_dosing_as_said(run: Run, demo: Path) -> None:
    """Lye, superfat and the way of dosing stand in the plan as they were said."""
    ran = run(
        *("draft", "evening", "--book", str(demo), "--lye", "lye 33 %, superfat 6 %"),
        *("--dosing", "same dose in each scented portion", *OPTIONS),
    )
    assert CLEAN == ran.code, ran.err
    plan = load_plan(demo / "plans" / "evening.yaml", load_book(demo))
    assert plan.recipe is not None
    assert plan.recipe.lye is not None
    assert plan.recipe.lye.concentration is not None
    assert (0.33, "same dose in each scented portion") == (
        plan.recipe.lye.concentration.value,
        plan.scents and plan.scents.dosing,
    )
