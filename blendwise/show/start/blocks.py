"""A new book in blocks: what was made, what was taken for granted, what to do next."""

from __future__ import annotations

import shlex

from blendwise.answers.start.questions import QUESTIONS, Question
from blendwise.answers.start.result import FIRST_PLAN, StartResult
from blendwise.show import words
from blendwise.show.blocks import Block, Note, Rows, Section, Title
from blendwise.show.numbers import counted
from blendwise.show.text import command, joined, quoted, sentence

FEW = "A new book, by a few questions."
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
UNREAD = "Kept as remarks, so that no advice rests on them"
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
        *_unread(result),
        *([Section(NEXT), Rows((), (), tuple(_next(result)))] if result.kept else [Note(NOT_KEPT)]),
        Note(words.CAUTIONS),
    ]


def _taken(result: StartResult) -> list[Block]:
    told = [f"{q.asks.lower()}: {result.answers[q.key]}" for q in QUESTIONS if q.key in result.taken]
    lines = tuple(sentence(line) for line in told if not line.endswith(": "))
    return [Section(f"{TAKEN} (change it in usual.yaml)"), Rows((), (), lines)] if lines else []


def _unread(result: StartResult) -> list[Block]:
    """Columns that give no fact: said aloud, for a skin limit or a seizing oil may stand in one."""
    if not result.unread_columns:
        return []
    held = joined([quoted(heading) for heading in result.unread_columns])
    where = f"Where one of them says what an oil does, write its heading in {result.sheet_answers}"
    return [Section(UNREAD), Rows((), (), (sentence(held), f"{where}, and begin again in a new folder."))]


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


EXPLAINED = {
    "mass": "In what every mass is shown; both may be typed anywhere.",
    "temperature": "In what every temperature is shown; both may be typed anywhere.",
    "rates": "Scent as per cent of the oils, or ounces of it to a pound of oils: 3 % is 0.48 oz ppo.",
    "oils": "All base oils of the batch you usually make, such as 1000 g or 2 lb 4 oz; or the mould: 20x8x6.",
    "concentration": "Lye as a share of lye and water together: 31 % is 2.2 g of water to each g of lye.",
    "superfat": "Oils that stay free of lye, usually 5 %.",
    "load": "All scent of a batch together, such as 3 % of batch oils or 0.5 oz ppo.",
    "scale step": "The smallest difference that your scale for scent shows.",
    "lye scale step": "The smallest difference that your scale for lye shows.",
    "hands": "How many people split, colour, scent and pour at once.",
    "batter": "How warm the batter is when you divide it.",
    "room": "How warm the room is.",
    "purpose": "For sale every oil wants its certificate, and the label its names.",
    "currency": "Such as crowns or $; it stands behind prices.",
}


def explained(question: Question) -> str:
    """What a question means, and what may be answered."""
    words = f" Write {' or '.join(question.words)}." if question.words else ""
    return f"{EXPLAINED[question.key]}{words}"


def refused(text: str, remedy: str) -> str:
    """Why an answer was not taken, before the question is asked again."""
    return joined([part for part in (sentence(text), remedy) if part], "")
