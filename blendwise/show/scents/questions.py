"""What is asked back of a spreadsheet, in words: at a prompt, and as a list where nobody can be asked."""

from __future__ import annotations

from typing import Final

from blendwise.answers.spreadsheet.answers import AS_GUESSED, EVERY, LOTS, OILS, ONCE, REMARK_ANSWER, UNKNOWN
from blendwise.answers.spreadsheet.result import ImportResult, Question
from blendwise.answers.spreadsheet.skin import NO_COLUMN, YES
from blendwise.show.blocks import Block, Entry, Note, Title
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted, sentence, visible

_AGREED: Final = ("y", "yes", "ok")
_WHY: Final = {
    "nothing particular": "nothing in this sheet is of scent oils alone: is this the name of one?",
    "not understood": "no field of an oil is called so",
    "of another use": "this is not of a bar of soap (category 9)",
    "second of its kind": "another column holds the same already",
    "by nearness": "the heading is only near to this one",
    "twice": "the name stands twice: two lots of one oil, or two oils of one name?",
    NO_COLUMN: "no column says which oils are sold for soap, and some are for candles alone",
    "left over": "cells stand without what they belong to",
}
FEW: Final = 3
"""Oils named in a question; all of them stand behind `?`."""
WANTED: Final = "Enter alone is no answer here: nothing is guessed of what may harm. ? explains."
_NOT_ALL: Final = ("n", "no", "not all", "some")
_FOR_SKIN: Final = (
    "Yes only where the supplier sells every one of them for soap or skin; where it stays unknown, a stop "
    "waits for the supplier's word."
)
_NAMES: Final = {LOTS: "two lots of one oil", OILS: "two oils of one name", ONCE: "take the first row alone"}


def how(count: int, name: str) -> str:
    """What comes before the first question."""
    asked = "One thing is" if count == 1 else f"{count} things are"
    return f"{asked} not certain in {name}. Enter takes what stands in brackets; ? explains, < goes back."


def asks(question: Question) -> str:
    """The question in a line, without its guess."""
    if question.kind == "column":
        return f"Column {quoted(question.heading)}: how is it to be read"
    if question.kind == "name":
        return f"{quoted(question.cell)} stands twice: {LOTS}, {OILS} or {ONCE}"
    if question.why == NO_COLUMN:
        oils = question.oils if len(question.oils) <= FEW else (*question.oils[:FEW], "others")
        return f"Are {joined(oils)} {question.heading}: {YES} or {UNKNOWN}"
    if question.cell == EVERY:
        return f"{question.heading}: {_why(question)[:-1].lower()}; keep them as remarks"
    return f"{question.heading}: what is {quoted(question.cell)}"


def prompt(question: Question) -> str:
    """The question as it is asked on a terminal, without its guess."""
    return visible(f"{asks(question)}?")


def _why(question: Question) -> str:
    unlike = question.why.removeprefix("unlike ")
    told = f"its cells do not read as {unlike}" if unlike != question.why else question.why
    told = _WHY.get(question.why, told)
    return sentence(told[:1].upper() + told[1:])


def explained(question: Question) -> str:
    """Why it is asked, where it stands, and what may be answered."""
    lines = [_why(question)]
    if question.rows:
        oils = f" ({joined(question.oils)})" if question.oils else ""
        lines.append(f"It stands in row {joined([str(row) for row in question.rows])}{oils}.")
    lines.append(_may_be(question))
    return visible(" ".join(lines))


def _may_be(question: Question) -> str:
    if question.kind == "column":
        return (
            f"Write the heading that it stands for, with its unit, such as limit in bar %, flash point °F, "
            f"on hand oz; or {REMARK_ANSWER}."
        )
    if question.why == NO_COLUMN:
        return f"{_FOR_SKIN} Write {YES} or {UNKNOWN}."
    if question.kind == "name":
        return f"Write {joined([f'{word} ({_NAMES[word]})' for word in question.choices])}."
    words = joined([word for word in question.choices if word not in (REMARK_ANSWER, UNKNOWN)])
    what = words or "what is to be read instead"
    also = "" if question.cell == EVERY else f"; or {REMARK_ANSWER} (kept as a remark), {UNKNOWN}"
    return f"Write {what}{also}."


def answer_of(question: Question, text: str) -> str:
    """The answer that a typed text is, an empty text where it is none."""
    answer = " ".join(text.split())
    folded = answer.casefold()
    if question.why == NO_COLUMN:
        return {**dict.fromkeys(_AGREED, YES), **dict.fromkeys((UNKNOWN, *_NOT_ALL), UNKNOWN)}.get(folded, "")
    if folded in _AGREED and folded not in question.choices:
        return question.guess
    if question.kind == "column" and folded != REMARK_ANSWER:
        from blendwise.answers.spreadsheet.words.headings import column_of

        return answer if column_of(0, answer).understood else ""
    if question.kind == "name":
        return folded if folded in question.choices else ""
    if question.cell == EVERY:
        return folded if folded in (REMARK_ANSWER, AS_GUESSED) else ""
    if question.choices and folded not in (*question.choices, REMARK_ANSWER, UNKNOWN):
        begun = [word for word in question.choices if word.startswith(folded)] if folded else []
        return begun[0] if len(begun) == 1 else _meant(question.choices, answer)
    return answer


def _meant(choices: tuple[str, ...], answer: str) -> str:
    """The choice that an answer in other words is for certain ("weak": faint), else an empty text."""
    from blendwise.answers.spreadsheet.words.meant import in_english, worded
    from blendwise.answers.spreadsheet.words.numbers import Unread
    from blendwise.answers.spreadsheet.words.vocabulary import WORDS

    what = next((each for each, words in WORDS.items() if tuple(words) == choices), "")
    try:
        taken = worded(what, in_english(answer)) if what and answer else None
    except Unread:
        return ""
    return str(taken.value) if taken is not None and taken.sure else ""


def open_blocks(result: ImportResult) -> list[Block]:
    """The open questions as a list, and the file to answer them in."""
    count = counted(len(result.questions), "question")
    return [
        Title(f"{result.file}: {count} before anything is written", "Nothing is written yet."),
        *(Entry("open", sentence(asks(each)), _details(each)) for each in result.questions),
        Note(
            f"The guesses stand in {result.answers}: take the sign ? away behind what is right, write what "
            "is not, and run the same again. On a terminal you are asked instead."
        ),
    ]


def _details(question: Question) -> tuple[tuple[str, str], ...]:
    told = [("Why", _why(question))]
    if question.rows:
        told.append(("Row", sentence(joined([str(row) for row in question.rows]))))
    if question.guess:
        must = "; a guess is not enough here" if question.must else ""
        told.append(("Guess", sentence(f"{question.guess}{must}")))
    told.append(("May be", _may_be(question)))
    return tuple(told)
