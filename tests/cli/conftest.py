"""What the tests of the command line share."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from blendwise.answers.assign.result import AssignResult
from blendwise.answers.check.result import CheckResult
from blendwise.cli.main import main
from blendwise.records.as_of import AsOf
from blendwise.show.schemas import schema_of
from tests.show.examples import ASSIGN, CHECK


@dataclass
class Ran:
    """What one run gave."""

    code: int
    out: str
    err: str

    @property
    def error(self) -> dict[str, Any]:
        """The error document, checked against its published schema."""
        read: dict[str, Any] = json.loads(self.out)
        jsonschema.validate(read, schema_of("error"))
        return read


Run = Callable[..., Ran]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Run ``blendwise`` in this process and give its code and both streams."""

    def once(*args: str) -> Ran:
        code = main(list(args))
        caught = capsys.readouterr()
        return Ran(code, caught.out, caught.err)

    return once


@dataclass
class StandIn:
    """A book for the tests of the shell around it: it answers what it was given, or raises it."""

    answer: CheckResult | AssignResult | BaseException = CHECK
    asked: dict[str, object] = field(default_factory=dict)

    def check(self, plan: Path, on: AsOf, working: bool = False, **more: object) -> CheckResult:
        self.asked.update(plan=plan, today=on.today, working=working, **more)
        given = self._given()
        assert isinstance(given, CheckResult)
        return given

    def assign(self, plan: Path, on: AsOf, **more: object) -> AssignResult:
        self.asked.update(plan=plan, today=on.today, **more)
        given = self._given()
        assert isinstance(given, AssignResult)
        return given

    def _given(self) -> CheckResult | AssignResult:
        if isinstance(self.answer, BaseException):
            raise self.answer
        return self.answer


@pytest.fixture
def book(monkeypatch: pytest.MonkeyPatch) -> StandIn:
    """A stand-in opened in place of any book."""
    stand_in = StandIn(ASSIGN)
    monkeypatch.setattr("blendwise.cli.books.open_plan", lambda plan, folder: (stand_in, plan))
    return stand_in
