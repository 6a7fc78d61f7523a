"""The doubts about a spreadsheet, asked on a terminal; elsewhere they go into a file beside it, to answer."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from blendwise.cli.exit_codes import FINDINGS

if TYPE_CHECKING:
    from blendwise.answers.spreadsheet.answers import Answers
    from blendwise.answers.spreadsheet.result import ImportResult, Question


def settled_sheet(
    file: Path, read: Callable[[Answers], ImportResult], guesses: bool
) -> tuple[ImportResult, Answers]:
    """What a sheet says once all is answered that can be here: asked, else by guesses, else left open.

    Every answer is kept at once beside the sheet, and so are questions that stay open, with their guesses.
    """
    from blendwise.answers.spreadsheet.answers import keep_answers, read_answers
    from blendwise.answers.spreadsheet.skin import skin_unsaid

    answers = read_answers(file)
    asks = sys.stdin.isatty() and not guesses
    begun = answers
    while open_ := (*(result := read(answers)).questions, *(skin_unsaid(result, answers) if asks else ())):
        told = _asked(file, open_, answers) if asks else answers
        told = told.with_guesses(result.questions) if guesses else told
        if told == answers:
            break
        answers = told
    if result.questions or answers != begun:
        keep_answers(file, answers, result.questions)
    return result, answers


def told_open(result: ImportResult, json: bool, plain: bool) -> int:
    """The open questions, and where to answer them."""
    from blendwise.cli.output import show
    from blendwise.show.scents.questions import open_blocks

    show(result, lambda: open_blocks(result), json, plain)
    return FINDINGS


def _asked(file: Path, questions: Sequence[Question], answers: Answers) -> Answers:
    """Ask one after another; ``<`` goes back to the one before, ``?`` explains."""
    from blendwise.answers.spreadsheet.answers import keep_answers
    from blendwise.cli.prompting import Back, prompted, tell
    from blendwise.show.scents import questions as say

    tell(say.how(len(questions), file.name))
    place, explained = 0, -1
    while place < len(questions):
        question = questions[place]
        try:
            text = prompted(say.prompt(question), question.guess, say.explained(question))
        except Back:
            place = max(0, place - 1)
            continue
        answer = say.answer_of(question, text)
        if not answer:
            tell(say.explained(question) if text or explained != place else say.WANTED)
            explained = place
            continue
        answers = answers.with_answer(question, answer)
        keep_answers(file, answers, questions[place + 1 :])
        place += 1
    return answers
