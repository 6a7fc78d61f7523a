"""A note that was written, and the looks that are due, in blocks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from blendwise.answers.answer import Range
from blendwise.answers.note.measured import Measured
from blendwise.answers.note.result import Due, DueResult, NoteResult, Turn
from blendwise.answers.note.said import ReadAs
from blendwise.quantity import Units, format_number
from blendwise.show.blocks import Block, Line, Note, Raw, Rows, Section, Title
from blendwise.show.check.blocks import own_dose
from blendwise.show.numbers import counted
from blendwise.show.poured import poured_blocks
from blendwise.show.text import joined, quoted, sentence


def note_blocks(result: NoteResult) -> list[Block]:
    """What was noted, where, and when the next look is."""
    done = (
        f"Noted in {result.file}." if result.written else f"Nothing was written; it would be {result.file}."
    )
    blocks: list[Block] = [
        Title(f"{result.plan}, {result.look}, {result.on.isoformat()}", done),
        *(Line("", sentence(measured(each, result.units))) for each in result.measured),
        *understood_blocks(result),
    ]
    if result.froze:
        blocks.append(
            Note(
                "As the first note of what was poured it keeps the plan's text, the doses as weighed, "
                "the lots and what was expected today."
            )
        )
    blocks += poured_blocks(result.past, result.units)
    if result.changes:
        lines = tuple(
            _turned(oil, list(held)) for oil, held in groupby(result.changes, lambda each: each.oil)
        )
        blocks += [Section("What this look makes of your oils"), Rows((), (), lines)]
    if not result.written and result.text:
        blocks += [Section("The note"), Raw(tuple(result.text.splitlines()))]
    if result.next is not None:
        blocks.append(Note(f"The next look is {result.next.look}, on {result.next.day.isoformat()}."))
    return blocks


def measured(each: Measured, units: Units) -> str:
    """What a cup's minutes beside the control's come to."""
    doses = joined([f"{oil} at {own_dose(dose, units)} of its oils" for oil, dose in each.doses.items()])
    beside = f"{_minutes(each.scented)} beside {_minutes(each.control)}"
    times = format_number(each.times, 3)
    return (
        f"Measured: {each.cup} ({doses}) went thick {times} times as fast as the control ({beside}); "
        "it counts from now on as your own cup"
    )


def _minutes(span: Range) -> str:
    low, high = (format_number(end or 0.0, 4) for end in (span.low, span.high))
    return f"{low} min" if low == high else f"{low} to {high} min"


def understood_blocks(result: NoteResult) -> list[Block]:
    """What was said of each portion as it is noted, a line each; nothing where nothing was said."""
    lines = tuple(
        sentence(f"{quoted(portion)}: {'; '.join(_noted(each) for each in held)}")
        for portion, held in groupby(result.understood, lambda each: each.portion)
    )
    return [Section("As understood"), Rows((), (), lines)] if lines else []


def _noted(each: ReadAs) -> str:
    own = f" ({quoted(each.said)})" if each.in_own_words else ""
    return f"{each.field} {each.value}{own}"


def _turned(oil: str, turns: Sequence[Turn]) -> str:
    told = [
        f"{each.trait} stays {each.after}"
        if each.before == each.after
        else f"{each.trait} {each.before or 'not known'} before, {each.after} now"
        for each in turns
    ]
    return sentence(f"{quoted(oil)}: {'; '.join(told)}")


def due_blocks(result: DueResult) -> list[Block]:
    """The looks whose day has come, then those to come."""
    now = [each for each in result.due if each.days_over >= 0]
    later = [each for each in result.due if each.days_over < 0]
    told = f"{counted(len(now), 'look')} due, {counted(len(later), 'look')} to come."
    verdict = told[0].upper() + told[1:]
    blocks: list[Block] = [Title(f"Looks on {result.today.isoformat()}", verdict)]
    for heading, rows in (("Due", now), ("To come", later)):
        if rows:
            blocks += [Section(heading), Rows((), (), tuple(_line(each, result.today) for each in rows))]
    return blocks


def _line(due: Due, today: date) -> str:
    days = abs(due.days_over)
    when = (
        "today"
        if days == 0
        else f"{counted(days, 'day')} ago"
        if due.days_over > 0
        else f"in {counted(days, 'day')}"
    )
    return f"{due.batch}: {due.look}, {due.day.isoformat()} ({when})"
