"""The designs of this folder at the command line, held against a master's verdict.

A plan to be poured must come out with exit 0 and nothing at stop or conflict, broken or undecided.  A plan
that is not to be poured must be stopped for its own reason: a broken rule of its kind, at stop or conflict.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from tests.strangers.runs import ran

HERE = Path(__file__).resolve().parent
TODAY = "2026-11-28"
HEAVY = ("stop", "conflict")
KINDS = {
    "clock": r"pour-outruns-the-batter|portion-far-too-quick|layer-thick-before-its-pour",
    "seizing": r"seizing-",
    "ricing": r"ricing",
    "false trace": r"false-trace|fats-have-set",
    "browning": r"browning-",
    "bleeding": r"bleed",
    "heat": r"overheat|far-too-hot|sweet-in-the-oven|scorch",
    "embeds melt": r"embeds-melt",
    "local dose": r"far-too-much-scent|local-dose",
    "limit": r"over-the-certificates|over-a-published-maximum",
}
"""The reason not to pour → how the names of the rules that say it read."""


@dataclass(frozen=True, slots=True)
class Design:
    """One plan with its verdict; ``ask`` is check or assign."""

    plan: str
    ask: str
    pour: bool
    kind: str

    @property
    def name(self) -> str:
        """As it stands in ``not_yet.txt``: book, plan, command."""
        path = Path(self.plan)
        return f"{path.parts[0]}/{path.stem} {self.ask}"


@dataclass(frozen=True, slots=True)
class Ran:
    """What the command line gave: exit code, the document (empty where it is none), all that was said."""

    code: int
    document: dict[str, Any]
    said: str

    @property
    def heavy(self) -> list[dict[str, Any]]:
        """Findings at stop or conflict that nobody accepted."""
        check = self.document.get("check") or self.document
        found: list[dict[str, Any]] = check.get("findings") or []
        return [f for f in found if f["level"] in HEAVY and f["status"] != "accepted"]

    @property
    def why(self) -> str:
        """What it said instead of a finding: the faults of a refusal, else the state of an assignment."""
        faults = [fault["message"] for fault in self.document.get("faults", ())]
        return "; ".join(faults) or str(self.document.get("status", "" if self.document else self.said[:300]))


def verdicts() -> list[dict[str, Any]]:
    """The entries of ``verdicts.yaml``."""
    found: list[dict[str, Any]] = yaml.safe_load((HERE / "verdicts.yaml").read_text(encoding="utf-8"))
    return found


def designs() -> Iterator[Design]:
    """Every plan as often as it is asked."""
    for entry in verdicts():
        asks = ("check", "assign") if entry["ask"] == "both" else (entry["ask"],)
        for ask in asks:
            yield Design(entry["plan"], ask, entry["verdict"] == "pour", entry.get("kind", ""))


def not_yet() -> list[str]:
    """Names of the designs whose verdict is not met today."""
    lines = (HERE / "not_yet.txt").read_text(encoding="utf-8").splitlines()
    return [line for line in lines if line and not line.startswith("#")]


def run_design(design: Design) -> Ran:
    """Ask in process, by the argument parser."""
    told = ran(design.ask, HERE / design.plan, "--json", "--today", TODAY)
    try:
        document = told.document
    except json.JSONDecodeError:
        document = {}
    return Ran(told.code, document, told.out + told.err)


def fault(design: Design, ran: Ran) -> str:
    """Why the answer is not the master's; empty where it is."""
    told = "; ".join(f"{f['rule']} ({f['level']}, {f['status']}): {f['subject']}" for f in ran.heavy)
    if design.pour:
        return "" if ran.code == 0 and not ran.heavy else f"refused, exit {ran.code}: {told or ran.why}"
    if ran.code != 1:
        return f"passed, exit {ran.code}: {told or ran.why}"
    if design.ask == "assign":
        return ""  # no split exists: which rules stand against one is asked of check
    wanted = re.compile(KINDS[design.kind])
    if any(f["status"] == "broken" and wanted.search(f["rule"]) for f in ran.heavy):
        return ""
    return f"refused, but not for {design.kind}: {told}"
