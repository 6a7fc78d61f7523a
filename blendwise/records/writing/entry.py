"""A new rule as a block of YAML, and a file of rules with one entry more, byte-true."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.reading.document import Document, read_document
from blendwise.records.reading.nodes import BOM, parse_nodes, read_bytes
from blendwise.records.writing.edit import flow
from blendwise.records.writing.editors import for_editors
from blendwise.records.writing.write import replace_whole, write_new

_LONG: Final = re.compile(r"\s+")


def entry_text(remark: str, fields: Mapping[str, Any]) -> str:
    """An entry of a rule file, each field on a line of its own; ``remark`` stands above it."""
    lines = [f"# {_LONG.sub(' ', remark)}"] if remark else []
    lines += [f"{'- ' if at == 0 else '  '}{line}" for at, line in enumerate(_fields(fields))]
    return "\n".join(lines) + "\n"


def _fields(fields: Mapping[str, Any]) -> Iterator[str]:
    for name, value in fields.items():
        if isinstance(value, Mapping):
            yield f"{name}:"
            yield from (f"  {flow(key)}: {flow(said)}" for key, said in value.items())
        elif value:
            yield f"{name}: {flow(value)}"


def add_entry(file: Path, entry: str) -> None:
    """Append an entry to a file of rules, or begin the file with it; nothing that stands there is touched.

    RecordError where the file has changed meanwhile, or cannot take an entry at its end.
    """
    if not file.exists():
        file.parent.mkdir(parents=True, exist_ok=True)
        write_new(file, for_editors(entry, "rules", file))
        return
    data = read_bytes(file)
    doc = read_document(file, bare=True)
    newline = "\r\n" if "\r\n" in doc.text else "\n"
    end = "" if not doc.text or doc.text.endswith("\n") else newline
    text = doc.text + end + newline + entry.replace("\n", newline)
    _same_but_for_one(doc, text, entry)
    mark = BOM if data.startswith(BOM) else b""
    replace_whole(file, mark + text.encode("utf-8"), doc.fingerprint)


def _same_but_for_one(doc: Document, text: str, entry: str) -> None:
    """RecordError unless the text holds what stood there and the entry, in this order."""
    before = doc.root.plain or []
    try:
        after = parse_nodes(text, doc.file).plain
        added = parse_nodes(entry, doc.file).plain
    except RecordError:
        after, added = None, []
    if not isinstance(before, list) or after != [*before, *added]:
        message = "An entry cannot be written at the end of this file without touching what stands in it."
        raise RecordError([Fault(Place(doc.file), message, "Name another file, or write it by hand.")])
