"""Dangerous plans as data: a sound book, a few edits of its text files, and what must happen.

A file of `cases/` is a list of kinds.  A kind has `kind`, `harm` (harm or paper), `reason`, and what its
cases share; a case has `base` (a name of `bases/index.yaml`), `change` (edits), and may overrule its kind:

must     refused: exit 2, and the message names every word of `says`
         stopped: exit 1, a finding at stop is broken or undecided, by a rule of `rules` or speaking of `says`
         either:  one of the two
         told:    whatever the exit, the answer names every word of `says`
says     words that the answer must contain, small letters; "a|b" is either of them
rules    rules that count as the right reason for a stop
run      the commands, one after another; `PLAN` stands for the plan, `OUT` for a plan that one of them wrote.
         The last one that could run is judged (what no longer exists because an earlier one refused, is not)
today    the day asked for, else 2026-11-28
never    patterns that the answer (and any page written) must not contain

Edits, `FILE` being a path in the book, or `plan`; PATH its keys from the outside in, with `/` between:
[set, FILE, PATH, VALUE]  [drop, FILE, PATH]  [append, FILE, TEXT]  [replace, FILE, OLD, NEW]
[write, FILE, TEXT]  [delete, FILE]  [rename, FILE, TO]
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from tests.strangers.runs import apart, here

HERE = Path(__file__).resolve().parent
TODAY = "2026-11-28"
CHECK = ("check PLAN",)
HOWS = ("refused", "stopped", "either", "told")
READER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
WRITER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)


@dataclass(frozen=True, slots=True)
class Case:
    """One dangerous plan: how it comes about, and what must happen."""

    name: str
    kind: str
    base: str
    change: tuple[tuple[Any, ...], ...]
    must: str
    reason: str
    harm: str
    says: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    run: tuple[str, ...] = CHECK
    today: str = TODAY
    never: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ran:
    """What one command gave: exit code and all that it said or wrote as a page."""

    command: str
    code: int
    said: str

    @property
    def findings(self) -> list[dict[str, Any]]:
        """The findings of a JSON answer; none where it is not one, or holds none."""
        try:
            read = json.loads(self.said)
        except json.JSONDecodeError:
            return []
        found = read.get("findings") or (read.get("check") or {}).get("findings") or []
        return list(found)

    @property
    def stops(self) -> list[dict[str, Any]]:
        """The findings at stop that are broken or undecided."""
        return [
            each
            for each in self.findings
            if each["level"] == "stop" and each["status"] in ("broken", "undecided")
        ]


def load_cases() -> list[Case]:
    """Every case of `cases/`, in the order written; ValueError where one is written wrongly."""
    return [case for file in sorted((HERE / "cases").glob("*.yaml")) for case in _of_file(file)]


def _of_file(file: Path) -> list[Case]:
    kinds: list[dict[str, Any]] = yaml.load(file.read_text("utf-8"), READER)
    return [
        _case(name, {**{k: v for k, v in kind.items() if k != "cases"}, **said})
        for kind in kinds
        for name, said in kind["cases"].items()
    ]


def _case(name: str, said: Mapping[str, Any]) -> Case:
    fields: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in said.items()
    }
    fields["change"] = tuple(tuple(edit) for edit in said["change"])
    case = Case(name=name, **fields)
    if case.must not in HOWS or case.harm not in ("harm", "paper"):
        raise ValueError(f"{name}: {case.must}, {case.harm}")
    return case


def bases() -> dict[str, dict[str, str]]:
    """The sound plans by name: book, plan and, where the book carries a copy of the rules, which."""
    found: dict[str, dict[str, str]] = read(HERE / "bases" / "index.yaml")
    return found


def build(base: str, change: Sequence[Sequence[Any]], to: Path) -> Path:
    """A book under ``to`` with the edits made; the path of its plan."""
    said = bases()[base]
    book = to / "book"
    shutil.copytree(HERE / "bases" / said["book"], book)
    if "rules" in said:
        shutil.copytree(HERE / "bases" / said["rules"], book / "rules")
    plan = book / "plans" / f"{said['plan']}.yaml"
    for other in set(plan.parent.glob("*.yaml")) - {plan}:
        other.unlink()
    for edit in change:
        apply(book, plan, edit)
    return plan


def apply(book: Path, plan: Path, edit: Sequence[Any]) -> None:
    """Make one edit; ValueError or KeyError where there is nothing to be edited."""
    verb, name, *rest = edit
    file = plan if name == "plan" else book / name
    match verb:
        case "set":
            data = read(file)
            _set(data, rest[0].split("/"), rest[1])
            write(file, data)
        case "drop":
            data = read(file)
            _drop(data, rest[0].split("/"))
            write(file, data)
        case "append":
            file.write_text(file.read_text("utf-8") + rest[0] + "\n", "utf-8")
        case "replace":
            text = file.read_text("utf-8")
            if rest[0] not in text:
                raise ValueError(f"{file.name} does not say {rest[0]!r}")
            file.write_text(text.replace(rest[0], rest[1]), "utf-8")
        case "write":
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(rest[0] + "\n", "utf-8")
        case "delete":
            file.unlink()
        case "rename":
            file.rename(file.parent / rest[0])
        case _:
            raise ValueError(f"no such edit: {verb}")


def read(file: Path) -> Any:
    """A text file of the book as mappings, lists and texts; an absent one is empty."""
    if not file.exists():
        return {}
    return yaml.load(file.read_text("utf-8"), READER) or {}


def write(file: Path, data: Any) -> None:
    """Write it back; every scalar stays the text that it was."""
    file.parent.mkdir(parents=True, exist_ok=True)
    said = yaml.dump(data, Dumper=WRITER, sort_keys=False, allow_unicode=True, width=1000)
    file.write_text(said, "utf-8")


def _key(data: Any, key: str) -> Any:
    return int(key) if isinstance(data, list) else key


def _set(data: Any, keys: Sequence[str], value: Any) -> None:
    *outer, last = keys
    for key in outer:
        data = data.setdefault(key, {}) if isinstance(data, dict) else data[int(key)]
    data[_key(data, last)] = value


def _drop(data: Any, keys: Sequence[str]) -> None:
    *outer, last = keys
    for key in outer:
        data = data[_key(data, key)]
    del data[_key(data, last)]


def in_process(args: Sequence[str]) -> Ran:
    """Run the command line here, by its own parser."""
    told = here(args)
    return Ran(" ".join(args), told.code, told.out or told.err)


def as_subprocess(args: Sequence[str]) -> Ran:
    """Run it as a maker does, in a process of its own."""
    told = apart(args)
    return Ran(" ".join(args), told.code, told.out or told.err)


def run_case(case: Case, to: Path, runner: Any = in_process) -> list[Ran]:
    """Build the case under ``to`` and run its commands; those whose plan was never written are left out."""
    plan = build(case.base, case.change, to)
    ran = []
    for command in case.run:
        out, page = to / "book" / "plans" / "out.yaml", to / "page.html"
        words = {"PLAN": str(plan), "OUT": str(out), "PAGE": str(page), "BOOK": str(plan.parent.parent)}
        args = [words.get(word, word) for word in _words(command)]
        if args[1] == str(out) and not out.exists():
            break
        told = runner([*args, "--today", case.today, *_as_json(args)])
        ran.append(Ran(told.command, told.code, told.said + _words_of(page)))
    return ran


def _words_of(page: Path) -> str:
    """What a page says to the eye; nothing where none was written."""
    if not page.exists():
        return ""
    html = re.sub(r"<(style|script).*?</\1>", "", page.read_text("utf-8"), flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]*>", " ", html).split())


def _words(command: str) -> list[str]:
    return [word.replace("_", " ") for word in command.split()]


def _as_json(args: Sequence[str]) -> list[str]:
    return [] if "--out" in args or "--plain" in args else ["--json"]


def fault(case: Case, ran: Sequence[Ran]) -> str:
    """What is wrong with the answer, in words; empty where the danger was met for the right reason."""
    last = ran[-1]
    if last.code not in (0, 1, 2, 3):
        return f"{last.command}: exit {last.code}: {last.said[:300]}"
    for each in ran:
        shown = [pattern for pattern in case.never if re.search(pattern, each.said, re.IGNORECASE)]
        if shown:
            return f"{each.command}: it says {shown}"
    refusal = [] if case.must in ("stopped", "told") else _unsaid(case.says, last.said)
    if case.must in ("refused", "either") and last.code == 2:
        return f"refused, but not for {refusal}: {last.said[:600]}" if refusal else ""
    if case.must in ("stopped", "either"):
        return _not_stopped(case, last)
    if case.must == "told":
        return f"not told: {_unsaid(case.says, last.said)}" if _unsaid(case.says, last.said) else ""
    return f"exit {last.code}, not refused: {_said_at(last)}"


def _not_stopped(case: Case, last: Ran) -> str:
    if last.code != 1:
        return f"exit {last.code}: {last.said[:300]}"
    for stop in last.stops:
        if stop["rule"] in case.rules or (case.says and not _unsaid(case.says, json.dumps(stop))):
            return ""
    if not last.findings and case.says and not _unsaid(case.says, last.said):
        return ""  # a page, a split: its words are all there is
    return f"exit 1, but not stopped for it: {_said_at(last)}"


def _said_at(last: Ran) -> list[str]:
    return [f"{f['rule']} {f['level']} {f['status']}" for f in last.findings if f["level"] != "hint"]


def _unsaid(words: Sequence[str], said: str) -> list[str]:
    found = said.lower()
    return [word for word in words if not any(part in found for part in word.lower().split("|"))]


def not_yet() -> list[str]:
    """The cases that are known to pass in silence, or for a wrong reason, today."""
    lines = (HERE / "not_yet.txt").read_text("utf-8").splitlines()
    return [line.strip() for line in lines if line.strip() and not line.startswith("#")]
