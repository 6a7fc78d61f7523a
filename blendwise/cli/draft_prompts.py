"""A draft in conversation: given answers first, then those kept from before, then the maker's own."""

from __future__ import annotations

import sys
from collections.abc import Mapping

import typer

from blendwise.answers.draft.compute import Draft
from blendwise.answers.draft.questions import Question
from blendwise.answers.refusals import NotAskable
from blendwise.cli.prompting import BACK, EXPLAIN, HOW, Back, prompted, tell
from blendwise.quantity import QuantityError
from blendwise.records.writing.unfinished import Unfinished
from blendwise.show.draft import words as say


def converse(draft: Draft, given: Mapping[str, str], kept: Unfinished, defaults: bool) -> None:
    """Ask until the draft is complete.  ``defaults``: whatever is not given takes what is offered.

    A wrong answer is said and asked again at a terminal; elsewhere it ends the run, and so does the end of
    the input.  What was answered stays on disk until the plan is written.
    """
    before = kept.read()
    taken = 0
    if sys.stdin.isatty() and not defaults:
        tell(f"{HOW} {say.KEPT_AS_YOU_GO}")
    while (question := draft.question()) is not None:
        if question.key in given:
            _take(draft, question, given[question.key])
        elif question.key in before and _still_holds(draft, question, before.pop(question.key)):
            taken += 1
        elif defaults:
            _take(draft, question, "")
        else:
            if taken:
                tell(say.resumed(taken))
                taken = 0
            _ask(draft, question, given)
            kept.keep(draft.answers)


def _still_holds(draft: Draft, question: Question, text: str) -> bool:
    try:
        draft.answer(question, text)
    except QuantityError:
        return False
    return True


def _take(draft: Draft, question: Question, text: str) -> None:
    """Take an answer that nobody can be asked for again."""
    try:
        draft.answer(question, text)
    except QuantityError as error:
        raise NotAskable(f"{say.prompt(question)}: {error.message}", error.remedy) from None


def _ask(draft: Draft, question: Question, given: Mapping[str, str]) -> None:
    """Ask once, or at a terminal until the answer can be taken."""
    while True:
        try:
            text = _read(draft, question)
        except Back:
            draft.back(given)
            return
        if text == EXPLAIN:
            tell(_explained(draft, question))
            continue
        if not sys.stdin.isatty():
            _take(draft, question, text)
            return
        try:
            remarks = draft.answer(question, text)
            if text and (told := say.taken_as(text, draft.answers[question.key])):
                tell(told)
            for remark in remarks:
                for line in say.remark(remark, draft.book.usual.units):
                    tell(line)
            return
        except QuantityError as error:
            remedy = say.in_own_sizes(error.remedy, draft.book.usual.units)
            tell(f"{error.message} {remedy}".rstrip())


def _read(draft: Draft, question: Question) -> str:
    """One answer: by a prompt at a terminal, else the next line of the input."""
    asked = say.in_own_sizes(say.prompt(question), draft.book.usual.units)
    if sys.stdin.isatty():
        try:
            return prompted(asked, question.default, _explained(draft, question))
        except typer.Abort:
            tell(f"\n{say.KEPT}")
            raise
    line = _line()
    if not line:
        raise NotAskable(
            f"The input ended before this was answered: {asked}.", f"Give --yes for the defaults. {say.KEPT}"
        )
    if line.strip() == BACK:
        raise Back
    return line.strip()


def _explained(draft: Draft, question: Question) -> str:
    return say.in_own_sizes(say.explained(question), draft.book.usual.units)


def _line() -> str:
    try:
        return sys.stdin.readline()
    except OSError:  # no input at all
        return ""
