"""Every way a run can end: its exit code, its streams, and never a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from blendwise.answers.assign.result import AssignResult
from blendwise.cli.exit_codes import CLEAN, FINDINGS, INTERRUPTED, NOT_ASKED, OUR_FAULT, STOPPED_EARLY
from blendwise.quantity.amount import QuantityError
from blendwise.records.place import Fault, Place, RecordError
from tests.cli.conftest import Run, StandIn
from tests.show.examples import ASSIGN, CHECK, NOTHING
from tests.show.examples import CLEAN as SOUND

ROOT = Path(__file__).resolve().parents[2]


def faults() -> RecordError:
    """Two faults in two files of a book."""
    return RecordError(
        [
            Fault(Place(Path("scents.yaml"), 7, 3), 'the load "45,5 %" has a comma', "Write 45.5 %."),
            Fault(Place(Path("plans/column.yaml"), 2, 1), "a tab\x1b[31m", "Use spaces."),
        ]
    )


@pytest.mark.parametrize(("answer", "code"), [(CHECK, FINDINGS), (SOUND, CLEAN)])
def test_check_leaves_with_what_it_found(run: Run, book: StandIn, answer: object, code: int) -> None:
    """Nothing worse than a caution is 0, a conflict or stop is 1; results go to standard output alone."""
    book.answer = answer  # type: ignore[assignment]
    ran = run("check", "plan.yaml", "--working", "--today", "2026-03-14")
    assert (code, "") == (ran.code, ran.err)
    assert "column, for sale" in ran.out
    asked = {"plan": Path("plan.yaml"), "today": date(2026, 3, 14), "working": True}
    assert asked.items() <= book.asked.items()


@pytest.mark.parametrize(
    ("answer", "code"),
    [
        (ASSIGN, CLEAN),
        (NOTHING, FINDINGS),
        (replace(ASSIGN, check=CHECK), FINDINGS),
        (replace(NOTHING, status="not decided"), STOPPED_EARLY),
        (replace(ASSIGN, status="best found"), STOPPED_EARLY),
    ],
)
def test_assign_leaves_with_what_it_found(run: Run, book: StandIn, answer: AssignResult, code: int) -> None:
    """A sound split is 0, none or an unsound one 1, an open end 3."""
    book.answer = answer
    assert code == run("assign", "plan.yaml").code


def test_faults_in_files_are_all_told_with_line_and_remedy(run: Run, book: StandIn) -> None:
    """Several faults, one line each, on standard error, control characters written out; exit code 2."""
    book.answer = faults()
    ran = run("check", "plan.yaml")
    assert (NOT_ASKED, "") == (ran.code, ran.out)
    assert [
        "a tab\\x1b[31m. Use spaces. (plans/column.yaml:2)",
        'the load "45,5 %" has a comma. Write 45.5 %. (scents.yaml:7)',
    ] == ran.err.splitlines()


def test_faults_in_files_are_one_document_under_json(run: Run, book: StandIn) -> None:
    """The same faults as one JSON document and nothing else."""
    book.answer = faults()
    ran = run("check", "plan.yaml", "--json")
    assert (NOT_ASKED, "", "records") == (ran.code, ran.err, ran.error["kind"])
    assert [2, 7] == [fault["line"] for fault in ran.error["faults"]]


@pytest.mark.parametrize(
    ("args", "part"),
    [
        (("chek",), 'The nearest is "check"'),
        (("check",), "PLAN"),
        (("check", "plan.yaml", "--jsn"), "--json"),
        (("check", "plan.yaml", "--today", "4/3/2026"), "may be 2026-03-04 or 2026-04-03"),
        (("check", "plan.yaml", "--today", "soon"), "Write it like 2026-03-14, 14 March"),
        (("note", "plan.yaml", "--on", "soon"), "--on"),
        (("schema", "plans"), "plan, usual"),
    ],
)
def test_words_that_cannot_be_understood_are_code_2(run: Run, args: tuple[str, ...], part: str) -> None:
    """What is wrong and where the help is, on standard error; under --json a document."""
    ran = run(*args)
    assert (NOT_ASKED, "") == (ran.code, ran.out)
    assert part in ran.err
    assert "--help" in ran.err
    as_json = run(*args, "--json")
    assert (NOT_ASKED, "", "usage") == (as_json.code, as_json.err, as_json.error["kind"])


def test_a_value_that_cannot_be_read_is_code_2(run: Run, book: StandIn) -> None:
    """An amount refused outside a file is still told with its remedy."""
    book.answer = QuantityError("45,5 % has a comma.", "Write 45.5 %.")
    ran = run("check", "plan.yaml")
    assert (NOT_ASKED, "45,5 % has a comma. Write 45.5 %.\n") == (ran.code, ran.err)


def test_a_fault_of_ours_is_code_70_in_one_line(
    run: Run, book: StandIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line that says whose fault it is and how to report it; the traceback only on request."""
    book.answer = ZeroDivisionError("division\nby zero")
    ran = run("check", "plan.yaml")
    assert OUR_FAULT == ran.code
    assert 1 == len(ran.err.splitlines())
    assert "our fault" in ran.err
    assert "BLENDWISE_DEBUG" in ran.err
    monkeypatch.setenv("BLENDWISE_DEBUG", "1")
    assert "Traceback" in run("check", "plan.yaml").err
    assert OUR_FAULT == run("check", "plan.yaml", "--json").error["exit_code"]


def test_an_interrupt_is_code_130(run: Run, book: StandIn) -> None:
    """Ctrl-C is no fault: one line, or a document."""
    book.answer = KeyboardInterrupt()
    ran = run("check", "plan.yaml")
    assert (INTERRUPTED, "Interrupted.\n") == (ran.code, ran.err)
    assert "interrupted" == run("check", "plan.yaml", "--json").error["kind"]


def test_a_file_that_may_not_be_read_is_code_2(run: Run, book: StandIn) -> None:
    """What the system refuses is told by name, without a traceback."""
    book.answer = PermissionError(13, "Permission denied", "scents.yaml")
    ran = run("check", "plan.yaml")
    assert NOT_ASKED == ran.code
    assert ran.err.startswith("scents.yaml: Permission denied.")


def test_a_plan_that_is_not_there_names_the_nearest(run: Run, tmp_path: Path) -> None:
    """A slip in a plan's name is met with the name that lies nearest."""
    (tmp_path / "column.yaml").write_text("plan: column\n")
    for args in ((str(tmp_path / "colum.yaml"),), ("harbor-morning", "--book", str(ROOT / "demo_catalog"))):
        ran = run("check", *args)
        assert NOT_ASKED == ran.code
        assert 'The nearest is "' in ran.err


def test_a_reader_who_leaves_early_is_no_failure() -> None:
    """``blendwise schema check | head -1`` ends in silence."""
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-m", "blendwise.cli.main", "schema", "check"],
        stdout=write,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        check=False,
    )
    os.close(write)
    assert (CLEAN, b"") == (done.returncode, done.stderr)


def test_an_old_code_page_gets_an_answer_all_the_same() -> None:
    """Where the terminal cannot show a sign, it is written out instead of failing."""
    code = "from blendwise.cli.main import _steady_streams as s\ns()\nprint('≥ 5 %')"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        cwd=ROOT,
        check=True,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )
    assert b"\\u2265 5 %" == done.stdout.strip()
