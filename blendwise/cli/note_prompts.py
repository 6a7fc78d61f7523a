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

from blendwise.answers.note.compute import Asked, Noting, prepare
from blendwise.answers.note.plain_words import VALUES
from blendwise.answers.note.said import checked, of_pour
from blendwise.answers.note.typed import day_typed, look_typed
from blendwise.answers.refusals import NotAskable
from blendwise.cli.prompting import HOW, Back, prompted, tell
from blendwise.quantity import QuantityError
from blendwise.records.as_of import AsOf
from blendwise.records.notes.note import LOOKS
from blendwise.records.writing.unfinished import Unfinished
from blendwise.show.numbers import counted

if TYPE_CHECKING:
    from pathlib import Path

    from blendwise.api import Book
    from blendwise.quantity import Units

AT_THE_POT: Final = ("minutes to thick", "still fluid at", "ricing", "remarks")
AT_THE_CUT: Final = ("colour", "edge", "halo", "strength", "gel", "ash", "rivers", "remarks")
LATER: Final = ("colour", "edge", "halo", "strength", "spots", "remarks")
WORDS: Final = {
    "ricing": "none, slight, bad",
    "colour": "in your words, such as tan, orangey tan or pale pink; or #rrggbb",
    "edge": "clean, soft, bled",
    "halo": "how far brown crept into its neighbour, such as 3 mm",
    "strength": "strong, fair, faint, gone",
    "gel": "none, partial, full",
    "ash": "none, slight, heavy",
    "rivers": "none, slight, bad",
    "spots": "none, slight, bad",
    "minutes to thick": "minutes from scenting, empty where it stayed fluid",
    "still fluid at": "minutes from scenting",
    "remarks": "anything else",
}

ANY: Final = "Enter leaves it out, or takes what stands in brackets."
DAY: Final = "The day it was looked at, such as 2026-03-14, 14 March, yesterday or 3 days ago."
ROOM: Final = f"How warm it was, such as 20 °C or 68 °F. {ANY}"
TOOK: Final = f"Minutes, such as 22 min or 20 - 25 min. {ANY}"
LOOK: Final = f"One of {', '.join(LOOKS)}; cut and 6 weeks are understood."


class Session:
    """The answers of one look, each kept on disk as soon as it is given."""

    def __init__(self, folder: Path, plan: str, anew: bool) -> None:
        digest = hashlib.sha256(plan.encode()).hexdigest()[:12]
        self.kept = Unfinished(folder / "notes" / f".unfinished-{digest}.json")
        self.answers: dict[str, str] = {} if anew else self.kept.read()
        self.resumed = bool(self.answers)
        self.asked: list[str] = []

    def ask(
        self, key: str, question: str, default: str, check: Callable[[str], str], explained: str = ANY
    ) -> str:
        """The answer kept, else one that passes ``check``; it is asked again until it does.

        Back where the maker wants the question before: its answer is forgotten.
        """
        if self._still_holds(key, check):
            self.asked.append(key)
            return self.answers[key]
        while True:
            try:
                said = prompted(question, default, explained)
                answer = check(said) if said else ""
            except QuantityError as error:
                tell(f"{error.message} {error.remedy}".rstrip())
                continue
            except Back:
                self._forget()
                raise
            if said and answer.casefold() not in said.casefold():
                tell(f'"{said}" is noted as {answer}.')
            self._keep(key, answer)
            return answer

    def _keep(self, key: str, answer: str) -> None:
        self.answers[key] = answer
        self.asked.append(key)
        self.kept.keep(self.answers)

    def _forget(self) -> None:
        if self.asked:
            self.answers.pop(self.asked[-1], None)
            self.kept.keep(self.answers)
        self.asked = []

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
        tell(f"An unfinished look is resumed ({told}); --anew begins again.")
    tell(HOW)
    while True:
        try:
            return _whole(book, noting, session, asked, today), session.kept.finish
        except Back:
            continue


def _whole(book: Book, noting: Noting, session: Session, asked: Asked, today: date) -> Asked:
    """Every question in its order; Back where one before is to be asked once more."""
    on = session.ask("on", "Day of the look", (asked.on or today).isoformat(), _day(today), DAY)
    asked = replace(asked, on=date.fromisoformat(on))
    fields, _, batch = prepare(noting, asked)
    look = session.ask("look", "Which look", asked.look or str(fields["look"]), look_typed, LOOK)
    asked = replace(asked, look=look)
    prepare(noting, asked)
    saw = tuple(_portions(session, noting.portions(batch, asked.variation), look))
    if look == LOOKS[0]:
        units = noting.units
        room = asked.room or session.ask("room", "Temperature of the room", "", _of_pour("room", units), ROOM)
        took = "From the first scenting to the last movement (such as 22 min)"
        minutes = asked.took or session.ask("took", took, "", _of_pour("pour took", units), TOOK)
        asked = replace(asked, room=room, took=minutes)
    else:
        asked = replace(
            asked, repeat=asked.repeat or session.ask("repeat", "Make it again (yes, no)", "", _yes)
        )
    remarks = session.ask("remarks", "Anything else", "", str)
    return replace(asked, saw=saw, remarks=asked.remarks or remarks)


def _portions(session: Session, portions: tuple[str, ...], look: str) -> Iterator[str]:
    asked = AT_THE_POT if look == LOOKS[0] else AT_THE_CUT if look == LOOKS[1] else LATER
    for portion in portions:
        found: dict[str, str] = {}
        for field in asked:
            if field == "still fluid at" and found.get("minutes to thick"):
                continue
            if field == "halo" and look == LOOKS[1] and found.get("edge") != "bled":
                continue
            question = f"{portion}: {field} ({WORDS[field]})"
            answer = session.ask(f"{portion}/{field}", question, "", _checked(field), _explained(field))
            if answer:
                found[field] = answer
        if found:
            yield f"{portion}: " + ", ".join(f"{field} {value}" for field, value in found.items())


def _explained(field: str) -> str:
    held = VALUES.get(field, {})
    others = "; ".join(f"{word}: {', '.join(words)}" for word, words in held.items())
    return f"{field.capitalize()}: {WORDS[field]}.{f' Also understood: {others}.' if others else ''} {ANY}"


def _checked(field: str) -> Callable[[str], str]:
    return lambda text: checked(field, text)


def _of_pour(field: str, units: Units) -> Callable[[str], str]:
    return lambda text: of_pour(field, text, units)


def _day(today: date) -> Callable[[str], str]:
    def check(text: str) -> str:
        found = day_typed(text, today)
        if found > today:
            raise NotAskable(f"{text} lies in the future.", "Note a look on its day.")
        return found.isoformat()

    return check


def _yes(text: str) -> str:
    word = {"y": "yes", "n": "no"}.get(text.casefold(), text.casefold())
    if word not in ("yes", "no"):
        raise NotAskable(f'"{text}" is neither yes nor no.', 'Write "yes" or "no".')
    return word
