"""A new book in blocks: what was made, what was taken for granted, what to do next."""

from __future__ import annotations

import shlex

from blendwise.answers.start.questions import QUESTIONS, Question
from blendwise.answers.start.result import FIRST_PLAN, StartResult
from blendwise.show import words
from blendwise.show.blocks import Block, Note, Rows, Section, Title
from blendwise.show.numbers import counted
from blendwise.show.text import command, joined, sentence

HOW = "A new book, by a few questions. Enter takes what stands in brackets."
MADE, TAKEN, NEXT = "What was made", "Taken for granted", "What to do next"
PARTS = {
    "scents.yaml": "your oils",
    "colourants.yaml": "common colourants, to be made yours",
    "oils.yaml": "common base oils with published ranges",
    "usual.yaml": "what you do unless a plan says otherwise",
    FIRST_PLAN: "a first plan of three colours",
    "rules/mine/": "for rules of your own; `blendwise rules list` tells the others",
    "notes/": "one file a look, written by `blendwise note`",
    ".schemas/": "what each file may hold, for editors that read schemas",
}
NOT_KEPT = "This was a dry run: nothing is written."
SOUND = "Its first plan was checked: nothing in the rulebook is broken."
UNSOUND = "Its first plan was checked, and something speaks against it: ask `blendwise check` what."


def prompt(question: Question) -> str:
    """The question as it is asked."""
    return question.asks


def start_blocks(result: StartResult) -> list[Block]:
    """What was made, and the next steps."""
    return [
        Title(f"A new book: {result.folder}", SOUND if result.sound else UNSOUND),
        Section(MADE),
        Rows((), (), tuple(f"{name}: {what}" for name, what in PARTS.items())),
        *_taken(result),
        *([Section(NEXT), Rows((), (), tuple(_next(result)))] if result.kept else [Note(NOT_KEPT)]),
        Note(words.CAUTIONS),
    ]


def _taken(result: StartResult) -> list[Block]:
    told = [f"{q.asks.lower()}: {result.answers[q.key]}" for q in QUESTIONS if q.key in result.taken]
    lines = tuple(sentence(line) for line in told if not line.endswith(": "))
    return [Section(f"{TAKEN} (change it in usual.yaml)"), Rows((), (), lines)] if lines else []


def _next(result: StartResult) -> list[str]:
    folder = shlex.quote(result.folder)
    described = (
        f"{counted(result.oils_on_the_shelf, 'oil')} on the shelf"
        if result.oils_on_the_shelf
        else "the shelf is empty"
    )
    check = command("check", f"{result.folder}/{FIRST_PLAN}")
    pair = "blendwise pair ONE OTHER"
    shelf, sheet = f"{result.folder}/scents.yaml", f"`blendwise scents import FILE --book {folder}`"
    return [
        f"look your oils over in {shelf} ({described}); more come by {sheet}"
        if result.oils_on_the_shelf
        else f"describe your oils in {shelf} ({described}), or have a spreadsheet read: {sheet}",
        f"ask whether two get on: `{pair} --book {folder}`",
        f"change the first plan and ask again: `{check}`",
        f"write your certificates' saponification values into {result.folder}/oils.yaml: a stop for the "
        "lye goes by them",
    ]


def refused(text: str, remedy: str) -> str:
    """Why an answer was not taken, before the question is asked again."""
    return joined([part for part in (sentence(text), remedy) if part], "")
