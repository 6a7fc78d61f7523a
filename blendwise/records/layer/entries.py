"""The entries of a file of the rulebook by name, whatever its kind: rules, pours, scales, symptoms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

VERBS = ("rule", "replace", "adjust", "off")


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: its name, its tree as read, and its path in the file."""

    name: str
    tree: Mapping[str, Any]
    path: tuple[str | int, ...]


def entries_of(tree: Any, kind: str) -> Iterator[Entry]:
    """Rules and symptoms from a list, pours from a mapping, scales word by word ("bands/ivory")."""
    match kind:
        case "pours":
            yield from _of_mapping(tree, "")
        case "scales" if isinstance(tree, dict):
            for scale, held in tree.items():
                if isinstance(held, dict):
                    yield from _of_mapping(held, f"{scale}/", (scale,))
                elif isinstance(held, list):
                    yield from _of_bands(scale, held)
        case "rules" | "symptoms" if isinstance(tree, list):
            keys = VERBS if kind == "rules" else ("symptom", "defer")
            for index, each in enumerate(tree):
                if isinstance(each, dict):
                    name = next((str(each[key]) for key in keys if key in each), "")
                    yield Entry(name, each, (index,))


def _of_mapping(tree: Any, before: str, path: tuple[str | int, ...] = ()) -> Iterator[Entry]:
    if isinstance(tree, dict):
        for name, each in tree.items():
            if isinstance(each, dict):
                yield Entry(f"{before}{name}", each, (*path, str(name)))


def _of_bands(scale: str, held: list[Any]) -> Iterator[Entry]:
    for index, each in enumerate(held):
        if isinstance(each, dict):
            yield Entry(f"{scale}/{each.get('word', '')}", each, (scale, index))
