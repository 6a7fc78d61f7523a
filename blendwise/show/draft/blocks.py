"""A finished draft in blocks: where it was written, the advice, and what to do next."""

from __future__ import annotations

from blendwise.answers.draft.result import DraftResult
from blendwise.show.blocks import Block, Note, Raw, Section, Title
from blendwise.show.check.blocks import check_blocks
from blendwise.show.draft import words as say
from blendwise.show.text import command


def draft_blocks(result: DraftResult) -> list[Block]:
    """The whole answer; the plan's text is shown where it was not written."""
    file = result.written
    text: list[Block] = [] if file else [Section(say.TEXT), Raw(tuple(result.text.splitlines()))]
    after: list[Block] = []
    for told, verb in ((say.ASSIGN, "assign"), (say.LOOK, "check")) if file else ():
        after += [Note(told), Raw((command(verb, file),))]
    return [
        Title(result.plan, say.written(file)),
        *text,
        *check_blocks(result.check),
        *after,
    ]
