"""The shape of the house: a room a question, small files, small functions, no circles, no dead science."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "blendwise"
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if "starter" not in path.parts)
FOLDERS = sorted({path.parent for path in MODULES})
LISTS = ("cli", "facts/measures", "science")  # plain lists of like things
NO_ANSWER = {"schema"}  # prints what stands in the records and the answers, computes nothing
VAGUE = {"shapes", "frames", "frame", "seen", "joining", "looks", "extras", "how", "whole", "local"}
Function = tuple[str, str]  # module, name
MOST_MODULES, MOST_LINES, LONGEST = 12, 400, 40


def named(path: Path) -> str:
    """The dotted name of a module."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def tree(path: Path) -> ast.Module:
    """A module, parsed once."""
    return ast.parse(path.read_text("utf-8"))


def commands() -> list[str]:
    """The commands as the command line lists them."""
    from blendwise.cli.commands import COMMANDS

    return [command.name for command in COMMANDS]


@pytest.mark.parametrize("command", [name for name in commands() if name not in NO_ANSWER])
def test_a_command_has_its_folder_in_answers_and_in_show(command: str) -> None:
    """Who looks for what a command computes, or for how it looks, finds a folder of its name."""
    rooms = [PACKAGE / room / command / "__init__.py" for room in ("answers", "show")]
    assert [True, True] == [room.is_file() for room in rooms]


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: named(folder / "__init__.py"))
def test_a_folder_is_read_at_a_glance(folder: Path) -> None:
    """At most a dozen modules, unless the folder is a plain list of like things."""
    if folder.relative_to(PACKAGE).as_posix() in LISTS:
        return
    assert len([path for path in folder.glob("*.py") if path.stem != "__init__"]) <= MOST_MODULES


def test_files_and_functions_are_short() -> None:
    """No file over 400 lines, no function over 40, no name that says nothing."""
    assert [] == [named(path) for path in MODULES if path.read_text("utf-8").count("\n") > MOST_LINES]
    assert [] == [named(path) for path in MODULES if path.stem in VAGUE]
    long = [
        f"{named(path)}.{node.name}"
        for path in MODULES
        for node in ast.walk(tree(path))
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
        and (node.end_lineno or 0) - node.lineno >= LONGEST
    ]
    assert [] == long


def imports(path: Path) -> Iterator[str]:
    """Every module of the package that a file imports when it is used, those for types alone included."""
    known = {named(each) for each in MODULES}
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name in known)
        elif isinstance(node, ast.ImportFrom) and node.module:
            inner = [f"{node.module}.{alias.name}" for alias in node.names]
            yield from [each for each in inner if each in known] or [node.module] * (node.module in known)


def circles(graph: Mapping[str, set[str]]) -> list[list[str]]:
    """The strongly connected parts of more than one module (Tarjan 1972)."""
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    found: list[list[str]] = []

    def visit(node: str) -> None:
        index[node] = low[node] = len(index)
        stack.append(node)
        for other in sorted(graph[node]):
            if other not in index:
                visit(other)
                low[node] = min(low[node], low[other])
            elif other in stack:
                low[node] = min(low[node], index[other])
        if low[node] == index[node]:
            part = stack[stack.index(node) :]
            del stack[stack.index(node) :]
            if len(part) > 1:
                found.append(sorted(part))

    for node in sorted(graph):
        if node not in index:
            visit(node)
    return found


def test_nothing_imports_in_a_circle() -> None:
    """Modules can be read in an order: none needs, even for its types, one that needs it."""
    graph = {named(path): {each for each in imports(path) if each != named(path)} for path in MODULES}
    assert [] == circles(graph)


def test_a_circle_would_be_found() -> None:
    """Three in a ring are told, a chain is not."""
    ring = {"a": {"b"}, "b": {"c"}, "c": {"a"}, "d": {"a"}}
    assert [["a", "b", "c"]] == circles(ring)
    assert [] == circles({"a": {"b"}, "b": {"c"}, "c": set()})


@cache
def science_functions(private: bool = False) -> list[Function]:
    """Module and name of every public function of the science (and of the private ones)."""
    return [
        (named(path), node.name)
        for path in MODULES
        if named(path).startswith("blendwise.science")
        for node in tree(path).body
        if isinstance(node, ast.FunctionDef) and (private or not node.name.startswith("_"))
    ]


def meant(path: Path) -> dict[str, Function]:
    """What each name of a module stands for, where it is a function of the science or a module of it."""
    here = named(path)
    own = {name: (here, name) for module, name in science_functions(private=True) if module == here}
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("blendwise.science"):
            own |= {alias.asname or alias.name: (str(node.module), alias.name) for alias in node.names}
    return own


def spoken_of(nodes: Iterable[ast.AST], names: Mapping[str, Function]) -> set[Function]:
    """The functions of the science that some nodes use: by name, or by name of their module."""
    found = set()
    for node in (part for outer in nodes for part in ast.walk(outer)):
        if isinstance(node, ast.Name) and node.id in names:
            found.add(names[node.id])
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in names:
            module, name = names[node.value.id]
            found.add((f"{module}.{name}", node.attr))
    return found


def test_the_science_that_is_checked_is_the_science_that_runs() -> None:
    """Every public function of the science is reached from a measure, a belief or an answer."""
    science = {named(path): path for path in MODULES if named(path).startswith("blendwise.science")}
    bodies = {
        (module, node.name): node
        for module, path in science.items()
        for node in tree(path).body
        if isinstance(node, ast.FunctionDef)
    }
    outside = [path for path in MODULES if named(path) not in science]
    waiting = set().union(*(spoken_of([tree(path)], meant(path)) for path in outside))
    reached: set[Function] = set()
    while waiting - reached:
        more = waiting - reached
        reached |= more
        for module in {module for module, _ in more if module in science}:
            tables = [node for node in tree(science[module]).body if not isinstance(node, ast.FunctionDef)]
            waiting |= spoken_of(tables, meant(science[module]))
        for module, name in more & set(bodies):
            waiting |= spoken_of([bodies[module, name]], meant(science[module]))
    unreached = set(science_functions()) - reached
    assert set() == {f"{module.rpartition('.')[2]}.{name}" for module, name in unreached}


SENTENCE = re.compile(r"^[A-Z][a-z]+ (?:[\w'’,;:%()-]+ ){2,}.*[.!?]$|^[a-z]+ (?:[\w'’,;:%()-]+ ){8,}")
REFUSALS = {"Fault", "NotAskable", "RecordError", "read_fault", "Unread", "Wrong", "CellView", "_strange"}
REFUSALS |= {"_named", "__init__"}
WRITES_FILES = {"blendwise.answers.draft.text"}  # remarks of a plan that is written for the maker


def refused(module: ast.Module) -> set[int]:
    """The nodes of a module that belong to what is raised: in a raise, a fault, or a name used there."""
    outer = [
        node
        for node in ast.walk(module)
        if isinstance(node, ast.Raise) or (isinstance(node, ast.Call) and _called(node) in REFUSALS)
    ]
    inside = [part for node in outer for part in ast.walk(node)]
    named = {part.id for part in inside if isinstance(part, ast.Name)}
    given = [
        node
        for node in ast.walk(module)
        if (isinstance(node, ast.FunctionDef) and node.name in named)
        or (isinstance(node, (ast.Assign, ast.AnnAssign)) and named & _targets(node))
    ]
    return {id(part) for node in (*outer, *given) for part in ast.walk(node)}


def _called(node: ast.Call) -> str:
    """The name by which something is called; ``__init__`` for ``super().__init__``."""
    return node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")


def _targets(node: ast.Assign | ast.AnnAssign) -> set[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    return {target.id for target in targets if isinstance(target, ast.Name)}


ANSWERS = [path for path in MODULES if named(path).startswith("blendwise.answers")]


def test_answers_hold_no_sentences() -> None:
    """English is made in ``show``; an answer is data (what is raised may say why)."""
    from blendwise.facts.tables import vocabulary

    measures = set(vocabulary())
    asked = [path for path in ANSWERS if named(path) not in WRITES_FILES]
    assert {} == {named(path): said for path in asked if (said := sentences_of(path, measures))}


def sentences_of(path: Path, measures: set[str]) -> list[str]:
    """The sentences that a module keeps, measures' names apart."""
    documented = {id(node.value) for node in ast.walk(tree(path)) if isinstance(node, ast.Expr)}
    beside = refused(tree(path)) | documented
    return [
        node.value
        for node in ast.walk(tree(path))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and id(node) not in beside
        and node.value not in measures
        and SENTENCE.match(node.value)
    ]


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ('TOLD = "The white will turn brown in a week."', True),
        ('raise NotAskable("The white will turn brown in a week.")', False),
        ('KIND = "no pour"', False),
    ],
)
def test_a_sentence_would_be_found(code: str, found: bool) -> None:
    """A sentence that is kept is told, one that is raised or a word of data is not."""
    module = ast.parse(code)
    words = [node for node in ast.walk(module) if isinstance(node, ast.Constant)]
    kept = [node for node in words if id(node) not in refused(module)]
    assert found == any(SENTENCE.match(str(node.value)) for node in kept)


def test_the_top_level_is_what_it_is_to_be() -> None:
    """Two guides, one project file and four folders; what tools leave and dot-files are not counted."""
    left = ("__pycache__", "build", "dist")
    there = {
        path.name
        for path in PACKAGE.parent.iterdir()
        if not path.name.startswith(".") and path.name not in left and path.suffix != ".egg-info"
    }
    assert {
        *("README.md", "DEVELOPERS.md", "pyproject.toml"),
        *("blendwise", "rules", "tests", "demo_catalog"),
    } == there
