"""Where an oil is spoken of, on one screen, and how to give it its new name."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.scents.result import RenamedIn, RenameResult
from blendwise.show.blocks import Block, Line, Title
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted, sentence

KINDS = {"shelf": "Your shelf", "rule": "Your rules", "plan": "Plans", "note": "Notes"}
KEEP = "Nothing is changed yet: add `--yes`, and only the name changes, no other sign."
KEPT = "The new name stands in all of them; no other sign was touched."
PROSE = "In sentences it is left as you wrote it: {}."
UNREAD = "These cannot be read, so nothing is renamed until they can: {}."
MOST = 5


def rename_blocks(result: RenameResult) -> list[Block]:
    """A line a kind of file, then what is left, and what to do."""
    places = sum(len(each.lines) for each in result.files)
    verdict = f"It is spoken of in {counted(places, 'line')} of {counted(len(result.files), 'file')}"
    blocks: list[Block] = [Title(f"{quoted(result.old)} becomes {quoted(result.new)}.", sentence(verdict))]
    blocks += _by_kind(result)
    prose = [each.file for each in result.files if each.in_sentences]
    if prose:
        blocks.append(Line("", PROSE.format(_few(prose))))
    if result.unread:
        blocks.append(Line("", UNREAD.format(_few(list(result.unread)))))
    else:
        blocks.append(Line("", KEPT if result.written else KEEP))
    return blocks


def _by_kind(result: RenameResult) -> Iterator[Block]:
    for kind, said in KINDS.items():
        files = [each for each in result.files if each.kind == kind and each.lines]
        if files:
            yield Line(said, sentence(_few([_file(each) for each in files])))


def _file(each: RenamedIn) -> str:
    lines = f"{', '.join(map(str, each.lines[:MOST]))}{', …' if len(each.lines) > MOST else ''}"
    return f"{each.file}:{lines}" if each.kind in ("rule", "shelf") else each.file


def _few(names: list[str]) -> str:
    more = len(names) - MOST
    return joined(names if more <= 0 else [*names[:MOST], f"{more} more"])
