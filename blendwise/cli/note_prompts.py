"""The look by prompts: enter accepts or skips, words come from the scales, and a broken session resumes.

Every answer is kept at once beside the notes, in a hidden file of the plan's name, until the note itself
is written.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Final

import typer

from blendwise.answers.note.compute import Asked, prepare
from blendwise.answers.note.said import checked
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import QuantityError
from blendwise.records.as_of import AsOf
from blendwise.records.notes.note import LOOKS
from blendwise.records.writing.unfinished import Unfinished
from blendwise.show.numbers import counted
from blendwise.show.text import visible

if TYPE_CHECKING:
    from pathlib import Path

    from blendwise.api import Book

AT_THE_POT: Final = ("minutes to thick", "still fluid at", "ricing", "remarks")
AT_THE_CUT: Final = ("colour", "edge", "strength", "gel", "ash", "rivers", "remarks")
LATER: Final = ("colour", "edge", "strength", "spots", "remarks")
WORDS: Final = {
    "ricing": "none, slight, bad",
    "colour": "ivory, cream, beige, tan, brown, chocolate, or #rrggbb",
    "edge": "clean, soft, bled",
    "strength": "strong, fair, faint, gone",
    "gel": "none, partial, full",
    "ash": "none, slight, heavy",
    "rivers": "none, slight, bad",
    "spots": "none, slight, bad",
    "minutes to thick": "minutes from scenting, empty where it stayed fluid",
    "still fluid at": "minutes from scenting",
    "remarks": "anything else",
}


class Session:
    """The answers of one look, each kept on disk as soon as it is given."""

    def __init__(self, folder: Path, plan: str, anew: bool) -> None:
        digest = hashlib.sha256(plan.encode()).hexdigest()[:12]
        self.kept = Unfinished(folder / "notes" / f".unfinished-{digest}.json")
        self.answers: dict[str, str] = {} if anew else self.kept.read()
        self.resumed = bool(self.answers)

    def ask(self, key: str, question: str, default: str, check: Callable[[str], str]) -> str:
        """The answer kept, else one that passes ``check``; it is asked again until it does."""
        if self._still_holds(key, check):
            return self.answers[key]
        while True:
            said = typer.prompt(
                visible(question), default=default, show_default=bool(default), err=True
            ).strip()
            try:
                answer = check(said) if said else ""
            except QuantityError as error:
                typer.echo(visible(f"{error.message} {error.remedy}".rstrip()), err=True)
                continue
            self.answers[key] = answer
            self.kept.keep(self.answers)
            return answer

    def _still_holds(self, key: str, check: Callable[[str], str]) -> bool:
        """Whether an answer was kept that would be taken today: the file may be of another day or hand."""
        if key not in self.answers:
            return False
        try:
            return not self.answers[key] or check(self.answers[key]) == self.answers[key]
        except QuantityError:
            return False


def by_prompts(
    book: Book, file: Path | str, asked: Asked, today: date, anew: bool
) -> tuple[Asked, Callable[[], None]]:
    """Ask for the look portion by portion; the second value clears the unfinished session."""
    noting = book.noting(file, AsOf(today), asked.variation)
    session = Session(book.folder, noting.plan, anew)
    if session.resumed:
        told = counted(len(session.answers), "answer")
        typer.echo(f"An unfinished look is resumed ({told}); --anew begins again.", err=True)
    on = session.ask("on", "Day of the look", (asked.on or today).isoformat(), _day(today))
    asked = replace(asked, on=date.fromisoformat(on))
    fields, _, batch = prepare(noting, asked)
    look = session.ask("look", "Which look", asked.look or str(fields["look"]), _look)
    asked = replace(asked, look=look)
    prepare(noting, asked)
    saw = tuple(_portions(session, noting.portions(batch, asked.variation), look))
    if look == LOOKS[0]:
        asked = replace(asked, room=asked.room or session.ask("room", "Temperature of the room", "", str))
        took = "From the first scenting to the last movement (such as 22 min)"
        asked = replace(asked, took=asked.took or session.ask("took", took, "", str))
    else:
        asked = replace(
            asked, repeat=asked.repeat or session.ask("repeat", "Make it again (yes, no)", "", _yes)
        )
    remarks = session.ask("remarks", "Anything else", "", str)
    return replace(asked, saw=saw, remarks=asked.remarks or remarks), session.kept.finish


def _portions(session: Session, portions: tuple[str, ...], look: str) -> Iterator[str]:
    asked = AT_THE_POT if look == LOOKS[0] else AT_THE_CUT if look == LOOKS[1] else LATER
    for portion in portions:
        found: dict[str, str] = {}
        for field in asked:
            if field == "still fluid at" and found.get("minutes to thick"):
                continue
            question = f"{portion}: {field} ({WORDS[field]})"
            answer = session.ask(f"{portion}/{field}", question, "", _checked(field))
            if answer:
                found[field] = answer
        if found:
            yield f"{portion}: " + ", ".join(f"{field} {value}" for field, value in found.items())


def _checked(field: str) -> Callable[[str], str]:
    return lambda text: checked(field, text)


def _day(today: date) -> Callable[[str], str]:
    def check(text: str) -> str:
        try:
            found = date.fromisoformat(text)
        except ValueError:
            raise NotAskable(f'"{text}" is no date.', "Write year-month-day.") from None
        if found > today:
            raise NotAskable(f"{text} lies in the future.", "Note a look on its day.")
        return text

    return check


def _look(text: str) -> str:
    if text not in LOOKS:
        raise NotAskable(f'"{text}" is not one of the looks.', f"They are {', '.join(LOOKS)}.")
    return text


def _yes(text: str) -> str:
    if text not in ("yes", "no"):
        raise NotAskable(f'"{text}" is neither yes nor no.', 'Write "yes" or "no".')
    return text
