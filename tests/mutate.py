"""Mutation testing: ``python tests/mutate.py ROOM [HOW_MANY]``; without a room it lists them.

So many random small faults are put into a room's functions one by one, each in a fork of a process that has
imported all, and the tests that call the function are run there, the quickest first.  (What a test starts as
a process of its own runs without the fault.)  A fault that all of them let pass is a survivor: it is listed,
and answered by a test, or as an equivalent in ``tests/mutation/equivalent.txt``.
"""

from __future__ import annotations

import gc
import importlib
import json
import os
import pkgutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from pathlib import Path
from random import Random
from types import CodeType, FunctionType
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

import pytest  # noqa: E402

from tests.mutation.operators import Mutant, mutants  # noqa: E402

EQUIVALENT: Final = ROOT / "tests" / "mutation" / "equivalent.txt"
ROOMS: Final = {
    "quantity": ("quantity", ("tests/quantity", "tests/science/test_constituent_names.py")),
    "writing": ("records/writing", ("tests/records", "tests/answers/note")),
    "beliefs": ("beliefs", ("tests/beliefs",)),
    "science": ("science", ("tests/science",)),
    "judge": ("judge", ("tests/judge",)),
    "facts": ("facts", ("tests/facts",)),
    "assignment": ("assignment", ("tests/assignment", "tests/levers/test_reasons.py")),
}
"""Each room's folder, and the tests that are asked about it."""
MOST_SECONDS: Final = 20.0
"""Of tests a mutant, as they took while they were watched: the quickest that call its function."""
LEAST_TIME, SLOWER = 60.0, 10.0
"""A run is given so many seconds, or times what its tests took: beyond, the fault is seen as a hang."""
Calls = dict[str, list[tuple[float, str]]]


def watched(room: str) -> Calls:
    """The seconds and names of the tests that call each function, from one run with nothing wrong."""
    kept = Path(tempfile.gettempdir(), f"blendwise-reached-{room}.jsonl")
    if not kept.exists():
        words = [sys.executable, "-m", "pytest", "-n0", "-q", "-p", "tests.mutation.reached", *ROOMS[room][1]]
        given = {**os.environ, "PYTHONPATH": str(ROOT), "BLENDWISE_REACHED": str(kept)}
        done = subprocess.run(words, cwd=ROOT, env=given, check=False, stdout=subprocess.DEVNULL)
        if done.returncode not in (0, 1):  # a test that fails while it is watched is left out, no more
            kept.unlink(missing_ok=True)
            done.check_returncode()
    calls = defaultdict(list)
    for line in kept.read_text("utf-8").splitlines():
        test, seconds, called = json.loads(line)
        for function in called:
            calls[function].append((seconds, test))
    return calls


def chosen(calls: Calls, function: str) -> list[tuple[float, str]]:
    """The quickest tests that call a function, of so many seconds in all and one at least."""
    tests: list[tuple[float, str]] = []
    for each in sorted(calls.get(function, [])):
        if tests and sum(seconds for seconds, _ in tests) + each[0] > MOST_SECONDS:
            break
        tests.append(each)
    return tests


def all_mutants(room: str) -> list[tuple[Path, Mutant]]:
    """Every fault of a room with its file."""
    files = sorted((ROOT / "blendwise" / ROOMS[room][0]).rglob("*.py"))
    return [(file, each) for file in files for each in mutants(file.read_text("utf-8"))]


def fate(file: Path, mutant: Mutant, tests: list[tuple[float, str]]) -> str:
    """``seen`` where any of these tests fails, in a process of its own that is forked for it.

    ``hung`` where it never ended (by a clock that a busy machine outruns), else ``survives``.
    """
    limit = max(LEAST_TIME, SLOWER * sum(seconds for seconds, _ in tests))
    child = os.fork()
    if not child:
        os.setpgid(0, 0)
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        put(file, mutant)
        words = ["-n0", "-x", "-q", "-p", "no:cacheprovider", "--no-header", *(test for _, test in tests)]
        os._exit(int(pytest.main(words)) != 0)
    ends = time.monotonic() + limit
    while time.monotonic() < ends:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return "seen" if status else "survives"
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "hung"


def put(file: Path, mutant: Mutant) -> None:
    """Give every living function of this name the faulty code."""
    code = code_of(compile(mutant.text, str(file), "exec", dont_inherit=True), mutant.function)
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and is_it(each, file, mutant.function):
            each.__code__ = code


def is_it(function: FunctionType, file: Path, name: str) -> bool:
    """Whether a living function is the one of this file and name."""
    return function.__code__.co_qualname == name and function.__code__.co_filename == str(file)


def code_of(code: CodeType, name: str) -> CodeType:
    """The code of the function of a qualified name."""
    waiting = [code]
    while waiting:
        one = waiting.pop()
        if one.co_qualname == name and one is not code:
            return one
        waiting += [each for each in one.co_consts if isinstance(each, CodeType)]
    raise KeyError(name)


def import_all() -> None:
    """All that tests of any room import, once."""
    import blendwise

    for found in pkgutil.walk_packages(blendwise.__path__, "blendwise."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)
    for name in ("hypothesis", "pandas", "openpyxl", "highspy", "yaml"):
        importlib.import_module(name)


def main(words: list[str]) -> int:
    """Run a room; exit code 1 where fewer than nine of ten faults that matter are seen."""
    if not words or words[0] not in ROOMS:
        print(__doc__, *ROOMS, sep="\n")
        return 2
    room, many = words[0], int(words[1]) if len(words) > 1 else 100
    os.chdir(ROOT)
    calls = watched(room)
    import_all()
    argued = {line.partition("  #")[0].rstrip() for line in EQUIVALENT.read_text("utf-8").splitlines()}
    every = all_mutants(room)
    counts = Counter[str]()
    for number, (file, mutant) in enumerate(
        Random(f"mutants of {room}").sample(every, min(many, len(every))), 1
    ):
        name = f"{file.relative_to(ROOT / 'blendwise').as_posix()}:{mutant.name}"
        tests = chosen(calls, name.partition(": ")[0])
        found = "equivalent" if name in argued else fate(file, mutant, tests) if tests else "survives"
        counts[found] += 1
        if found in ("survives", "hung"):
            print(f"{found}, {len(tests)} tests, line {mutant.line}: {name}", flush=True)
        if number % 10 == 0:
            print(f"{number}: {dict(counts)}", flush=True)
    seen = counts["seen"] + counts["hung"]
    print(
        f"{room}: {seen} of {seen + counts['survives']} seen, {counts['hung']} of them as a hang; "
        f"{counts['equivalent']} equivalent; {len(every)} faults in all"
    )
    return 0 if seen >= 9 * counts["survives"] else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
