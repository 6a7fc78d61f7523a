"""An oil given another name: everywhere in the book that it is spoken of by name, byte for byte else.

Only places where an oil's name stands are changed: the shelf's entry and what goes with it, a plan's blend,
doses and rules of placing, a note's lots and what was poured, the maker's own rules.  Words in sentences
(remarks, reasons) are told and left as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final, Literal

from blendwise.answers.scents.result import RenamedIn, RenameResult
from blendwise.facts.measures.named import strangers
from blendwise.records.book import BookFiles
from blendwise.records.layer.own_files import own_files
from blendwise.records.nearest import hint
from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.document import Document, read_document, text_document
from blendwise.records.reading.nodes import BOM, Node, read_bytes
from blendwise.records.writing.write import replace_whole

Steps = tuple[str | int, ...]
Kind = Literal["shelf", "plan", "note", "rule"]
_PLAIN_NAME: Final = re.compile(r"[^\W_][\w -]*\w|[^\W_]")
LONGEST: Final = 80
NAMED_IN_RULES: Final = frozenset({"scent", "holds", "with", "embed holds"})
SIDES: Final = ("one ", "other ", "lighter ", "darker ")
PARTS: Final = frozenset({"when", "must", "hits", "misses", "to"})
PLAN_TEXT: Final = "plan text"


@dataclass(frozen=True, slots=True)
class Edit:
    """A piece of a text to be put in the place of another: from ``start`` up to ``end``."""

    start: int
    end: int
    line: int


def renamed(book: BookFiles, old: str, new: str) -> RenameResult:
    """Where an oil is spoken of; nothing is written.  RecordError where it cannot be renamed so."""
    _may_be(book, old, new)
    found, unread = [], []
    for kind, path in _files(book):
        try:
            doc = read_document(path, bare=True)
        except RecordError:
            unread.append(_told(path, book))
            continue
        edits = _edits(doc, kind, old)
        prose = len(_whole(old).findall(doc.text)) - len(edits)
        if edits or prose > 0:
            lines = tuple(dict.fromkeys(edit.line for edit in edits))
            found.append(RenamedIn(_told(path, book), kind, lines, max(prose, 0)))
    return RenameResult(old, new, tuple(found), tuple(unread))


def write_renamed(book: BookFiles, result: RenameResult) -> RenameResult:
    """Write the new name into every file, all or none; RecordError where a file cannot be read or written.

    The shelf comes last: where a run was killed midway, the same command goes on.
    """
    if result.unread:
        fault = Fault(
            Place(book.folder / result.unread[0]), "This file cannot be read, so nothing was renamed."
        )
        raise RecordError([fault])
    done: list[tuple[Document, bytes]] = []
    try:
        for kind, path in sorted(_files(book), key=lambda each: each[0] == "shelf"):
            before = read_bytes(path)
            doc = read_document(path, bare=True)
            edits = _edits(doc, kind, result.old)
            if edits:
                _write(doc, before, _applied(doc.text, edits, result.new), kind, result)
                done.append((read_document(path, bare=True), before))
    except BaseException:
        for doc, before in done:
            replace_whole(doc.file, before, doc.fingerprint)
        raise
    return replace(result, written=True)


def _write(doc: Document, before: bytes, text: str, kind: Kind, result: RenameResult) -> None:
    """Write a renamed text, if renaming it back gives every byte again."""
    again = text_document(text, doc.file)
    if _applied(text, _edits(again, kind, result.new), result.old) != doc.text:
        raise RecordError(
            [Fault(Place(doc.file), "The name cannot be changed here alone.", "Change it by hand.")]
        )
    mark = BOM if before.startswith(BOM) else b""
    replace_whole(doc.file, mark + text.encode("utf-8"), doc.fingerprint)


def _may_be(book: BookFiles, old: str, new: str) -> None:
    place = Place(book.folder / "scents.yaml")
    if old not in book.scents:
        raise RecordError([Fault(place, f'There is no "{old}".', hint(old, book.scents, "The shelf"))])
    if new in book.scents:
        raise RecordError([Fault(place, f'There is a "{new}" already.', "Choose another name.")])
    if not _PLAIN_NAME.fullmatch(new) or len(new) > LONGEST or new.casefold() in ("yes", "no", "not known"):
        remedy = "Use letters, digits, blanks and hyphens."
        raise RecordError([Fault(place, f'"{new}" cannot be the name of an oil here.', remedy)])


def _files(book: BookFiles) -> Iterator[tuple[Kind, Path]]:
    """Every file in which an oil's name may stand, with its kind."""
    yield "shelf", book.folder / "scents.yaml"
    yield from (("plan", path) for path in book.plan_paths())
    yield from (("note", path) for path in sorted((book.folder / "notes").glob("*.yaml")))
    for own in own_files(book.folder):
        if own.layer == "mine" and own.kind == "rules":
            yield "rule", own.path


def _told(path: Path, book: BookFiles) -> str:
    return path.relative_to(book.folder).as_posix()


def _whole(name: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-]){re.escape(name)}(?![\w-])")


def _applied(text: str, edits: Sequence[Edit], new: str) -> str:
    for edit in sorted(edits, key=lambda each: -each.start):
        text = text[: edit.start] + new + text[edit.end :]
    return text


def _edits(doc: Document, kind: Kind, name: str) -> list[Edit]:
    """Every place of a document at which the oil's name stands as such."""
    return [
        edit
        for node, steps, is_key in _nodes(doc.root, ())
        for edit in _at(doc, node, steps, is_key, kind, name)
    ]


def _nodes(node: Node, steps: Steps) -> Iterator[tuple[Node, Steps, bool]]:
    """Every scalar and every key, with the steps that lead to it."""
    if node.children is None:
        yield node, steps, False
        return
    for step, child in node.children.items():
        if node.keys is not None:
            yield node.keys[str(step)], (*steps, step), True
        yield from _nodes(child, (*steps, step))


def _at(doc: Document, node: Node, steps: Steps, is_key: bool, kind: Kind, name: str) -> Iterator[Edit]:
    steps = tuple(step.replace("_", " ") if isinstance(step, str) else step for step in steps)
    if kind == "note" and not is_key and steps[-1:] == (PLAN_TEXT,):
        yield from _inside(doc, node, name)
    elif _names_an_oil(kind, steps, is_key):
        raw = doc.text[node.start : node.end]
        whole = kind != "rule" and not _is_phrase(kind, steps)
        if whole and node.plain != name:
            return
        for match in _whole(name).finditer(raw):
            yield Edit(node.start + match.start(), node.start + match.end(), node.line)


def _is_phrase(kind: Kind, steps: Steps) -> bool:
    """Whether an oil's name stands there among other words ("lime in milk")."""
    return kind == "plan" and steps[:1] == ("accept",)


def _names_an_oil(kind: Kind, steps: Steps, is_key: bool) -> bool:
    match kind:
        case "shelf":
            return is_key and (len(steps) == 1 or (len(steps) == 3 and steps[1] == "goes with"))
        case "plan":
            return _in_plan(steps, is_key)
        case "note":
            in_lots = len(steps) == 2 and steps[0] == "lots"
            return is_key and (in_lots or (len(steps) >= 4 and steps[-3] == "doses"))
    return _in_rule(steps, is_key)


def _in_plan(steps: Steps, is_key: bool) -> bool:
    if is_key:
        of_blend = steps[:2] == ("scents", "blend") and len(steps) == 3
        of_embed = steps[:1] == ("embeds",) and len(steps) == 4 and steps[2] == "scents"
        return of_blend or of_embed or (len(steps) >= 3 and steps[-3] == "doses")
    head = steps[0] if steps else ""
    listed = head == "weigh together" or steps[:2] == ("scents", "stabilised")
    placed = head in ("never", "only") and steps[-1] == "scent"
    return listed or placed or (head == "accept" and steps[-1] == "for")


def _in_rule(steps: Steps, is_key: bool) -> bool:
    """A measure of named oils, or what is said of one that holds oils' names."""
    if len(steps) < 3 or steps[1] not in PARTS:
        return False
    if is_key:
        return strangers(_plain(str(steps[-1]))) is not None
    return any(isinstance(step, str) and _plain(step) in NAMED_IN_RULES for step in steps[2:])


def _plain(measure: str) -> str:
    side = next((each for each in SIDES if measure.startswith(each)), "")
    return measure.removeprefix(side)


def _inside(doc: Document, node: Node, name: str) -> Iterator[Edit]:
    """The places of a plan that stands whole inside a note, line by line under its indent."""
    lines = doc.text.splitlines(keepends=True)
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line))
    first = node.line  # the text begins on the line after its name
    if node.style != "|" or first >= len(lines):
        return
    indent = len(lines[first]) - len(lines[first].lstrip(" "))
    try:
        plan = text_document(str(node.plain), doc.file)
    except RecordError:
        return
    inner = [0]
    for line in plan.text.splitlines(keepends=True):
        inner.append(inner[-1] + len(line))
    for edit in _edits(plan, "plan", name):
        row = max(k for k, start in enumerate(inner) if start <= edit.start)
        shift = starts[first + row] + indent - inner[row]
        yield Edit(edit.start + shift, edit.end + shift, first + row + 1)
