"""Is every constant of the sciences held by a test?

Scales each named constant in ``blendwise/science`` by 2 %, one at a time, and runs ``tests/science`` on it in
a process of its own, two at once at most.  A constant whose change fails no test could be wrong unseen: it is
named, and the exit code is 1.

    python tests/bench/scale_constants.py            all modules
    python tests/bench/scale_constants.py lye mass   constants of these modules only
"""

from __future__ import annotations

import argparse
import ast
import dataclasses
import importlib
import os
import pkgutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from types import MappingProxyType, ModuleType
from typing import Any

import numpy as np

ROOT = Path(__file__).parents[2]
TESTS = ROOT / "tests" / "science"
sys.path.insert(0, str(ROOT))

SCALE = 1.02
WORKERS = 2
PASSED, FAILED = 0, 1  # pytest's own exit codes

# Not facts of the science: tolerances of arithmetic.
EXEMPT = frozenset({"guards.ROUNDING"})

Path_ = tuple[Any, ...]


def modules() -> list[ModuleType]:
    """All modules of the sciences, imported."""
    package = importlib.import_module("blendwise.science")
    names = sorted(info.name for info in pkgutil.iter_modules(package.__path__))
    return [importlib.import_module(f"blendwise.science.{name}") for name in names]


def own_names(module: ModuleType) -> list[str]:
    """Upper-case names that the module itself assigns, in their order."""
    tree = ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))
    targets: list[ast.expr] = []
    for node in tree.body:
        targets += node.targets if isinstance(node, ast.Assign) else []
        targets += [node.target] if isinstance(node, ast.AnnAssign) else []
    return [t.id for t in targets if isinstance(t, ast.Name) and t.id.lstrip("_").isupper()]


def leaves(value: object, path: Path_ = ()) -> Iterator[Path_]:
    """Paths to every number inside a constant that a scaling would change."""
    if isinstance(value, bool | str) or value is None:
        return
    if isinstance(value, int | float | np.number):
        if np.isfinite(value) and value != 0:
            yield path
        return
    for key, inner in _inside(value):
        yield from leaves(inner, (*path, key))


def _inside(value: object) -> list[tuple[Any, object]]:
    if isinstance(value, Mapping):
        return list(value.items())
    if isinstance(value, tuple | list):
        return list(enumerate(value))
    if isinstance(value, np.ndarray):
        return [(index, value[index]) for index in np.ndindex(value.shape)]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return [(f.name, getattr(value, f.name)) for f in dataclasses.fields(value)]
    return []


def scaled(value: Any, path: Path_) -> Any:
    """A copy of a constant with the number at ``path`` scaled, a whole number by one at least."""
    if not path:
        whole = isinstance(value, int)
        return max(value + 1, round(value * SCALE)) if whole else value * SCALE
    key, *rest = path
    if isinstance(value, np.ndarray):
        copy = np.array(value, dtype=np.float64)
        copy[key] *= SCALE
        return copy
    if isinstance(value, Mapping):
        changed = {**value, key: scaled(value[key], tuple(rest))}
        return MappingProxyType(changed) if isinstance(value, MappingProxyType) else changed
    if isinstance(value, tuple | list):
        parts = [scaled(v, tuple(rest)) if i == key else v for i, v in enumerate(value)]
        if isinstance(value, list):
            return parts
        return type(value)(*parts) if hasattr(value, "_fields") else tuple(parts)
    return dataclasses.replace(value, **{key: scaled(getattr(value, key), tuple(rest))})


@dataclasses.dataclass(frozen=True)
class Constant:
    """One number: the module and name that hold it, and the way to it."""

    module: str
    name: str
    path: Path_

    def __str__(self) -> str:
        return f"{self.module}.{self.name}" + "".join(f"[{key!r}]" for key in self.path)


def constants(only: list[str]) -> list[Constant]:
    """Every constant of the chosen modules (all where none is named)."""
    found = []
    for module in modules():
        short = module.__name__.rpartition(".")[2]
        if only and short not in only:
            continue
        for name in own_names(module):
            if f"{short}.{name}" not in EXEMPT:
                found += [Constant(short, name, path) for path in leaves(getattr(module, name))]
    return found


def patch(constant: Constant) -> None:
    """Put the scaled constant wherever a module of the sciences holds it under its name."""
    everywhere = modules()
    owner = importlib.import_module(f"blendwise.science.{constant.module}")
    value = getattr(owner, constant.name)
    changed = scaled(value, constant.path)
    for module in everywhere:
        if getattr(module, constant.name, None) is value:
            setattr(module, constant.name, changed)


def run_here(index: int, only: list[str], tests: list[str]) -> int:
    """In the child: patch constant ``index`` (below zero: none) and run the tests, own module's first."""
    import pytest

    first: list[str] = []
    if index >= 0:
        constant = constants(only)[index]
        patch(constant)
        first = sorted(str(p) for p in TESTS.glob(f"test_*{constant.module}*.py"))
    options = ["-x", "-q", "--no-header", "-p", "no:cacheprovider", "--hypothesis-seed=0"]
    return int(pytest.main([*options, f"--rootdir={ROOT}", *first, *(tests or [str(TESTS)])]))


def run(index: int, only: list[str], tests: list[str]) -> int:
    """In the parent: pytest's exit code for one constant scaled, from a process of its own."""
    with tempfile.TemporaryDirectory() as scratch:
        chosen = [word for test in tests for word in ("--test", test)]
        command = [sys.executable, __file__, "--child", str(index), *chosen, *only]
        environment = {**os.environ, "HYPOTHESIS_STORAGE_DIRECTORY": scratch}
        done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, check=False)
    return done.returncode


def report(only: list[str], tests: list[str]) -> int:
    """Scale them all, print those that no test holds; 0 none, 1 some, 2 the tests do not pass unscaled."""
    if run(-1, only, tests) != PASSED:
        print("the tests do not pass as they stand", file=sys.stderr)
        return 2
    found = constants(only)
    with ThreadPoolExecutor(WORKERS) as pool:
        codes = list(pool.map(lambda index: run(index, only, tests), range(len(found))))
    gaps = [c for c, code in zip(found, codes, strict=True) if code == PASSED]
    odd = [(c, code) for c, code in zip(found, codes, strict=True) if code not in (PASSED, FAILED)]
    print(f"{len(found)} constants scaled by {SCALE - 1:.0%}, {len(gaps)} held by no test")
    for constant in gaps:
        print(f"  no test fails: {constant}")
    for constant, code in odd:
        print(f"  pytest ended with {code}: {constant}")
    return 1 if gaps or odd else 0


def main() -> int:
    """Words in, one report out."""
    parser = argparse.ArgumentParser(description="Is every constant of the sciences held by a test?")
    parser.add_argument("modules", nargs="*", help="names of modules in blendwise/science; all by default")
    parser.add_argument("--test", action="append", default=[], help="a test file in place of tests/science")
    parser.add_argument("--child", type=int, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.child is None:
        return report(asked.modules, asked.test)
    return run_here(asked.child, asked.modules, asked.test)


if __name__ == "__main__":
    raise SystemExit(main())
