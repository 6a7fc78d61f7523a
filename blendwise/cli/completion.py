"""Names for the shell's completion: read from the book's files by their lines, without loading the book."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

_ENTRY = re.compile(r"""(?:"([^"]+)"|'([^']+)'|([^\s#:'"-][^:#]*?))\s*:(?:\s|$)""")
_RULE = re.compile(r"- (?:rule|replace|adjust): *[\"']?([^\"'#]+?)[\"']? *(?:#.*)?$")
LARGEST = 2_000_000
UPWARDS = 30


def _book(ctx: Any) -> Path | None:
    """The book meant so far: ``--book``, else upwards from the plan typed, else from here."""
    named = ctx.params.get("book")
    if named:
        return Path(named)
    plan = ctx.params.get("plan")
    start = Path(plan).absolute() if plan else Path.cwd()
    return next(
        (each for each in [start, *start.parents][:UPWARDS] if (each / "scents.yaml").is_file()), None
    )


def _lines(file: Path) -> Iterator[str]:
    """The lines of a file of bearable size; none where it cannot be read: completion never complains."""
    try:
        if file.stat().st_size <= LARGEST:
            yield from file.read_text("utf-8-sig", errors="replace").splitlines()
    except (OSError, ValueError):
        return


def entries(file: Path) -> Iterator[str]:
    """The names that stand at the very left of a file of entries."""
    for line in _lines(file):
        if found := _ENTRY.match(line):
            yield next(name for name in found.groups() if name)


def _beginning(names: Iterator[str], incomplete: str) -> list[str]:
    start = incomplete.casefold()
    return sorted({name for name in names if name.casefold().startswith(start)})


def scent_names(ctx: Any, incomplete: str) -> list[str]:
    """Oils of the shelf."""
    book = _book(ctx)
    return _beginning(entries(book / "scents.yaml"), incomplete) if book else []


def colourant_names(ctx: Any, incomplete: str) -> list[str]:
    """Colourants of the book."""
    book = _book(ctx)
    return _beginning(entries(book / "colourants.yaml"), incomplete) if book else []


def plan_files(ctx: Any, incomplete: str) -> list[str]:
    """Plans by their path as typed so far, and by name where a book is around."""
    typed = Path(incomplete or ".")
    folder = typed if incomplete.endswith("/") or not incomplete else typed.parent
    near = [*_files(folder, incomplete)]
    book = _book(ctx)
    plans = (path.stem for path in sorted((book / "plans").glob("*.yaml"))) if book else iter(())
    return [*near, *_beginning(plans, incomplete)]


def _files(folder: Path, incomplete: str) -> Iterator[str]:
    try:
        found = sorted(folder.iterdir())
    except OSError:
        return
    for path in found:
        name = path.as_posix() + ("/" if path.is_dir() else "")
        wanted = path.is_dir() or path.suffix in (".yaml", ".yml")
        if wanted and name.startswith(incomplete) and not path.name.startswith("."):
            yield name


def _rule_files(ctx: Any, kind: str) -> Iterator[Path]:
    """The package's files of a kind, then the maker's own."""
    from blendwise.records.layer.own_files import KINDS, own_files
    from blendwise.records.shipped import starter_folder

    for file in sorted(starter_folder("rules").glob("*.yaml")):
        if KINDS.get(file.stem, "rules") == kind:
            yield file
    book = _book(ctx)
    yield from (f.path for f in (own_files(book) if book else ()) if f.layer == "mine" and f.kind == kind)


def rule_names(ctx: Any, incomplete: str) -> list[str]:
    """Rules of the package and of the book."""
    files = _rule_files(ctx, "rules")
    names = (found[1] for file in files for line in _lines(file) if (found := _RULE.match(line)))
    return _beginning(names, incomplete)


def pour_names(ctx: Any, incomplete: str) -> list[str]:
    """Pour styles of the rulebook."""
    return _beginning((name for file in _rule_files(ctx, "pours") for name in entries(file)), incomplete)
