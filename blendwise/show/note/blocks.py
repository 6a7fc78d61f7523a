"""A note that was written, and the looks that are due, in blocks."""

from __future__ import annotations

from datetime import date

from blendwise.answers.note.result import Due, DueResult, NoteResult
from blendwise.show.blocks import Block, Note, Raw, Rows, Section, Title
from blendwise.show.numbers import counted
from blendwise.show.poured import poured_blocks


def note_blocks(result: NoteResult) -> list[Block]:
    """What was noted, where, and when the next look is."""
    done = (
        f"Noted in {result.file}." if result.written else f"Nothing was written; it would be {result.file}."
    )
    blocks: list[Block] = [Title(f"{result.plan}, {result.look}, {result.on.isoformat()}", done)]
    if result.froze:
        blocks.append(
            Note(
                "As the first note of what was poured it keeps the plan's text, the doses as weighed, "
                "the lots and what was expected today."
            )
        )
    blocks += poured_blocks(result.past, result.units)
    if not result.written and result.text:
        blocks += [Section("The note"), Raw(tuple(result.text.splitlines()))]
    if result.next is not None:
        blocks.append(Note(f"The next look is {result.next.look}, on {result.next.day.isoformat()}."))
    return blocks


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
