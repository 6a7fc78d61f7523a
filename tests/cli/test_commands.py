"""The table of commands, and what each says of itself."""

from __future__ import annotations

import json
import shlex
from pathlib import Path

import jsonschema
import pytest

from blendwise import __version__
from blendwise.cli.commands import COMMANDS, Command
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.show.schemas import KINDS
from tests.cli.conftest import Run

ROOT = Path(__file__).resolve().parents[2]


def test_bare_and_help_list_every_command(run: Run) -> None:
    """Without a command the help is the answer, on standard output."""
    for args in ((), ("--help",)):
        ran = run(*args)
        assert (CLEAN, "") == (ran.code, ran.err)
        for command in COMMANDS:
            assert f"\n  {command.name} " in ran.out


def test_the_version_is_the_packages(run: Run) -> None:
    """``--version`` prints the one version there is."""
    assert f"blendwise {__version__}\n" == run("--version").out


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_every_command_helps_with_its_example(run: Run, command: Command) -> None:
    """Each help names the command, its purpose and its example, in plain text."""
    ran = run(command.name, "--help")
    assert CLEAN == ran.code
    assert f"Usage: blendwise {command.name}" in ran.out
    assert command.example in " ".join(ran.out.split())


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_every_example_runs(run: Run, command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the help shows can be typed as it stands, beside the demo."""
    monkeypatch.chdir(ROOT)
    program, *args = shlex.split(command.example)
    assert "blendwise" == program
    ran = run(*args)
    assert ran.code in (CLEAN, FINDINGS), ran.err
    assert ran.out


@pytest.mark.parametrize("kind", KINDS)
def test_every_schema_is_a_schema(run: Run, kind: str) -> None:
    """Each printed schema is valid JSON Schema of the dialect that it names."""
    jsonschema.Draft202012Validator.check_schema(json.loads(run("schema", kind).out))


def test_schema_without_a_kind_lists_them(run: Run) -> None:
    """The list of kinds, one a line."""
    assert list(KINDS) == run("schema").out.split()
