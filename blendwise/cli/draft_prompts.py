"""A draft in conversation: given answers first, then those kept from before, then the maker's own."""

from __future__ import annotations

import sys
from collections.abc import Mapping

import typer

from blendwise.answers.draft.compute import Draft
from blendwise.answers.draft.questions import Question
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import QuantityError
from blendwise.records.writing.unfinished import Unfinished
from blendwise.show.draft import words as say
from blendwise.show.text import visible


def converse(draft: Draft, given: Mapping[str, str], kept: Unfinished, defaults: bool) -> None:
    """Ask until the draft is complete.  ``defaults``: whatever is not given takes what is offered.

    A wrong answer is said and asked again at a terminal; elsewhere it ends the run, and so does the end of
    the input.  What was answered stays on disk until the plan is written.
    """
    before = kept.read()
    taken = 0
    if sys.stdin.isatty() and not defaults:
        _tell(say.HOW)
    while (question := draft.question()) is not None:
        if question.key in given:
            _take(draft, question, given[question.key])
        elif question.key in before and _still_holds(draft, question, before.pop(question.key)):
            taken += 1
        elif defaults:
            _take(draft, question, "")
        else:
            if taken:
                _tell(say.resumed(taken))
                taken = 0
            _ask(draft, question)
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


def _ask(draft: Draft, question: Question) -> None:
    """Ask once, or at a terminal until the answer can be taken."""
    while True:
        text = _read(question)
        if text == say.LIST and question.words:
            _tell(say.words(question))
            continue
        if text == say.BACK:
            draft.back()
            return
        if not sys.stdin.isatty():
            _take(draft, question, text)
            return
        try:
            for remark in draft.answer(question, text):
                for line in say.remark(remark, draft.book.usual.units):
                    _tell(line)
            return
        except QuantityError as error:
            _tell(f"{error.message} {error.remedy}".rstrip())


def _read(question: Question) -> str:
    """One answer: by a prompt at a terminal, else the next line of the input."""
    asked = visible(say.prompt(question))
    if sys.stdin.isatty():
        try:
            answer: str = typer.prompt(
                asked, default=question.default, show_default=bool(question.default), err=True
            )
        except typer.Abort:
            _tell(f"\n{say.KEPT}")
            raise
        return answer
    line = _line()
    if not line:
        raise NotAskable(
            f"The input ended before this was answered: {asked}.", f"Give --yes for the defaults. {say.KEPT}"
        )
    return line.strip()


def _line() -> str:
    try:
        return sys.stdin.readline()
    except OSError:  # no input at all
        return ""


def _tell(text: str) -> None:
    typer.echo(visible(text) if "\n" not in text else text, err=True)
