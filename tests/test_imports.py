"""The house's one-way streets: who may import whom, and what a plain check must not pull in."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1] / "blendwise"
ROOMS = (
    *("quantity", "records", "science", "beliefs", "facts"),
    *("judge", "assignment", "answers", "api", "show", "cli"),
)
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if "starter" not in path.parts)
SLOW = {"pandas", "rapidfuzz", "highspy", "jinja2", "openpyxl", "rich"}


def named(path: Path) -> str:
    """The dotted name of a module of the package."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def room(module: str) -> int | None:
    """The place of a module's room in the order of the house; None outside every room."""
    parts = module.split(".")
    return ROOMS.index(parts[1]) if len(parts) > 1 and parts[0] == "blendwise" and parts[1] in ROOMS else None


def imported(path: Path) -> Iterator[str]:
    """Every module that a file imports, wherever in the file and for whatever end."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} imports relatively"
            yield from [node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)]


def test_a_room_imports_only_from_rooms_above_it() -> None:
    """No module imports, even for its types, from a room that comes after its own."""
    homeless = {named(path) for path in MODULES if room(named(path)) is None}
    assert homeless == {"blendwise", "blendwise.version", "blendwise.__main__"}
    assert [] == [(named(path), name) for path in MODULES for name in sorted(later_rooms_of(path))]


def later_rooms_of(path: Path) -> set[str]:
    """What a module imports from rooms after its own."""
    own = room(named(path))
    return {name for name in imported(path) if own is not None and (room(name) or 0) > own}


def test_science_knows_no_records() -> None:
    """The science is sums on arrays: it imports nothing of the maker's files."""
    met = {name for path in (PACKAGE / "science").rglob("*.py") for name in imported(path)}
    assert {ROOMS[number] for name in met if (number := room(name)) is not None} <= {"quantity", "science"}


def test_one_file_alone_imports_the_solver() -> None:
    """highspy is imported in a single file, in the room of the assignment."""
    roots = {named(path): {name.split(".")[0] for name in imported(path)} for path in MODULES}
    holders = [module for module, names in roots.items() if "highspy" in names]
    assert 1 == len(holders)
    assert holders[0].startswith("blendwise.assignment.")


def loaded_after(statement: str) -> set[str]:
    """Top-level modules that a fresh Python has loaded after a statement."""
    code = f"{statement}\nimport sys\nprint(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=PACKAGE.parent
    )
    return {name.split(".")[0] for name in done.stdout.splitlines()[-1].split()}


def test_a_check_loads_nothing_slow() -> None:
    """A whole check, printed to a pipe, loads no pandas, solver, fuzzy matcher, pages, sheets or Rich."""
    plan = sorted((PACKAGE.parent / "demo_catalog" / "plans").glob("*.yaml"))[0]
    run = f"from blendwise.cli.main import main\nassert main(['check', {str(plan)!r}]) in (0, 1)"
    loaded = loaded_after(run)
    assert "yaml" in loaded
    assert set() == SLOW & loaded


def test_help_loads_no_more_than_typer() -> None:
    """The help of the whole program is printed without numpy, pydantic or YAML."""
    loaded = loaded_after("from blendwise.cli.main import main\nassert main(['--help']) == 0")
    assert "typer" in loaded
    assert set() == (SLOW | {"numpy", "pydantic", "yaml"}) & loaded
