"""Small faults of a module, one at a time: what a hurried hand gets wrong in a function's body."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

COMPARED: Final[dict[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
REVERSED: Final[dict[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.GtE, ast.GtE: ast.LtE,
}  # fmt: skip
WORKED: Final[dict[type[ast.operator], type[ast.operator]]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip
CALLED: Final = {
    "min": "max",
    "max": "min",
    "any": "all",
    "all": "any",
    "minimum": "maximum",
    "maximum": "minimum",
}
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Mutant:
    """One fault: the function it stands in, its line, what stood there and what does now."""

    function: str
    line: int
    before: str
    now: str
    tree: ast.Module
    node: ast.AST
    other: ast.AST | None

    @property
    def name(self) -> str:
        """A name that outlives moved lines."""
        return f"{self.function}: {self.before} -> {self.now}"

    @property
    def text(self) -> str:
        """The whole module with it."""
        return _with(self.tree, self.node, self.other)


def mutants(source: str) -> list[Mutant]:
    """Every fault of a module's functions, in order of place."""
    tree = ast.parse(source)
    found = []
    for qualname, function in _functions(tree, ""):
        for node in _nodes(function):
            for other in _others(node):
                before, now = ast.unparse(node), ast.unparse(other) if other else "(nothing)"
                if before != now:
                    at = getattr(node, "lineno", function.lineno)
                    short = " ".join(before.split())[:70], " ".join(now.split())[:70]
                    found.append(Mutant(qualname, at, *short, tree, node, other))
    return found


def _functions(node: ast.AST, within: str) -> Iterator[tuple[str, Function]]:
    """Every outermost function and method with its qualified name."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, Function):
            yield within + child.name, child
        elif isinstance(child, ast.ClassDef):
            yield from _functions(child, f"{within}{child.name}.")


def _nodes(function: Function) -> Iterator[ast.AST]:
    """The nodes of a body that can be wrong: no help text, no types, nothing that only words a refusal."""
    waiting: list[ast.AST] = list(reversed(function.body))
    while waiting:
        node = waiting.pop()
        if isinstance(node, (ast.Raise, ast.Assert, ast.Import, ast.ImportFrom)) or _is_text(node):
            continue
        yield node
        children = [child for name, child in _children(node) if name not in ("annotation", "returns")]
        waiting += reversed(children)


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _children(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    for name, value in ast.iter_fields(node):
        for each in value if isinstance(value, list) else [value]:
            if isinstance(each, ast.AST):
                yield name, each


def _others(node: ast.AST) -> Iterator[Any]:
    """What could stand in place of a node by mistake; None for nothing at all."""
    match node:
        case ast.Compare(ops=[op, *_]):
            for table in (COMPARED, REVERSED):
                if type(op) in table:
                    yield _changed(node, ops=[table[type(op)](), *node.ops[1:]])
        case ast.BinOp(op=op) if type(op) in WORKED and not _words(node):
            yield _changed(node, op=WORKED[type(op)]())
        case ast.BoolOp(op=op):
            yield _changed(node, op=ast.Or() if isinstance(op, ast.And) else ast.And())
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield node.operand
        case ast.Constant(value=bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(value=int() | float() as value):
            yield ast.Constant(value + 1)
        case ast.Call(func=ast.Name(id=name)) if name in CALLED:
            yield _changed(node, func=ast.Name(CALLED[name], ast.Load()))
        case ast.Call(func=ast.Attribute(attr=name)) if name in CALLED:
            yield _changed(node, func=_changed(node.func, attr=CALLED[name]))
        case ast.If() | ast.IfExp():
            yield _changed(node, test=ast.UnaryOp(ast.Not(), node.test))
        case ast.Expr(value=ast.Call()) | ast.AugAssign() | ast.Continue() | ast.Break():
            yield None
        case ast.Return(value=value) if value is not None and not isinstance(value, ast.Constant):
            yield ast.Return(ast.Constant(None))


def _words(node: ast.BinOp) -> bool:
    """Whether texts are put together, which is not arithmetic."""
    return any(
        isinstance(each, ast.JoinedStr) or isinstance(getattr(each, "value", 0), str)
        for each in (node.left, node.right)
    )


def _changed(node: Any, **fields: Any) -> Any:
    new = copy.copy(node)
    for name, value in fields.items():
        setattr(new, name, value)
    return new


def _with(tree: ast.Module, node: ast.AST, other: ast.AST | None) -> str:
    """The module's text with one node in another's place."""

    class Put(ast.NodeTransformer):
        def visit(self, each: ast.AST) -> Any:
            if each is node:
                return ast.Pass() if other is None else other
            return super().visit(each)

        def generic_visit(self, each: ast.AST) -> ast.AST:
            return super().generic_visit(copy.copy(_lists(each)))

    return ast.unparse(ast.fix_missing_locations(Put().visit(tree)))


def _lists(node: ast.AST) -> ast.AST:
    """A node with lists of its own, so that the tree it stands in is never changed."""
    new = copy.copy(node)
    for name, value in ast.iter_fields(node):
        if isinstance(value, list):
            setattr(new, name, list(value))
    return new
