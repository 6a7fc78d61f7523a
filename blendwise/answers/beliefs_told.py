"""What own looks change in the belief of an oil, in the maker's words and counts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.beliefs.believe import Believing
from blendwise.beliefs.changes import Change, changes_of
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import format_number
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent


def said(s: Situation) -> Iterator[str]:
    """For the assumptions: whose looks count, and where they say another word than the catalogue."""
    return said_of(s.believing, s.scent_records, s.scales)


def said_of(believing: Believing, scents: Sequence[Scent], scales: Scales) -> Iterator[str]:
    """The same for oils of no plan."""
    lessons = believing.lessons
    if lessons is not None and any(scent.name in lessons.oils for scent in scents):
        yield (
            f"Your own looks count ({lessons.looks} looks of {lessons.batches} batches); "
            "`--as-written` leaves them out."
        )
        for scent in scents:
            for change in changes_of(scent, lessons.oils.get(scent.name), scales):
                if change.differs:
                    yield sentence(change)
    if lessons is not None and lessons.set_aside:
        many = "One note is" if lessons.set_aside == 1 else f"{lessons.set_aside} notes are"
        yield f"{many} damaged and set aside: see `blendwise review`."
    if believing.careful:
        yield "Acceleration, browning and strength count by the worse end of what is believed (`--careful`)."


VERB = {"browning": "went", "acceleration": "were", "after six weeks": "smelled"}
TAKEN = {
    "browning": "it is taken as browning to {now}{at}",
    "acceleration": "its acceleration is taken as {now}{at}",
    "after six weeks": "after six weeks it is taken as {now}",
}


def sentence(change: Change) -> str:
    """ "2 of 3 batches of tonka-milk went tan; the catalogue says beige." and what it is taken as."""
    entry = "the catalogue does not say" if change.was is None else f"the catalogue says {change.was}"
    at = f" at {format_number(100 * change.dose)} % of oils" if change.dose else ""
    taken = TAKEN[change.trait].format(now=change.now, at=at)
    whole, number = len(change.told), change.supporting
    if number:
        of = f"{number} of {whole} batches" if whole > 1 else "The one batch"
        went = change.now if change.agreeing else most_said(change.beyond)
        between = "" if change.agreeing else "between the two "
        return f"{of} of {change.oil} {_verb(change)} {went}; {entry}: {between}{taken}."
    held = "one batch" if change.batches == 1 else f"{change.batches} batches"
    return f"By {held} with {change.oil} in them, {taken}; {entry}."


def most_said(words: Sequence[str]) -> str:
    """The word said most often, the first of equals."""
    return max(words, key=words.count)


def _verb(change: Change) -> str:
    if change.trait == "acceleration":
        return "was" if len(change.told) == 1 else "were"
    return VERB[change.trait]
