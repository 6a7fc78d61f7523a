"""The next plan in blocks: where it comes from, what to mind, its text, the verdict on it."""

from __future__ import annotations

from blendwise.answers.again.result import AgainResult
from blendwise.show import words
from blendwise.show.blocks import Block, Note, Raw, Rows, Section, Title
from blendwise.show.check.blocks import advice_blocks
from blendwise.show.poured import POURED, POURED_ALREADY
from blendwise.show.review import words as review_words
from blendwise.show.text import command

NOT_WRITTEN = "Nothing was written; add --write NEW.yaml."
ANEW = "Its doses are left open, for something is to be changed; what was weighed stands above it."
DIVIDE = "To divide the oils anew:"
LYE_FIRST = "The lye comes first: no plan is given until it is mended."


def again_blocks(result: AgainResult) -> list[Block]:
    """The whole answer."""
    version = f", version {result.variation}" if result.variation else ""
    withheld = f"{words.verdict(result.check)} {LYE_FIRST}" if result.check.lye_stop else ""
    done = f"Written to {result.written}." if result.written else withheld or NOT_WRITTEN
    blocks: list[Block] = [Title(f"{result.plan}, from batch {result.batch}{version}", done)]
    if result.otherwise:
        lines = tuple(review_words.shown(row) for row in result.otherwise)
        blocks += [Section("What came out otherwise"), Rows((), (), lines)]
    if result.change is not None:
        blocks += [Section("Change one thing"), Rows((), (), (review_words.change(result.change),))]
    if result.anew and not withheld:
        blocks += [Note(ANEW)]
        blocks += [Note(DIVIDE), Raw((command("assign", result.written),))] if result.written else []
    if withheld:
        blocks += [Section(POURED_ALREADY), Rows((), (), POURED)]
    elif not result.written:
        blocks += [Section("The plan"), Raw(tuple(result.text.splitlines()))]
    return [
        *blocks,
        Section("What the rulebook says of it now"),
        Note(words.verdict(result.check)),
        *advice_blocks(result.check),
        Note(words.CAUTIONS),
    ]
