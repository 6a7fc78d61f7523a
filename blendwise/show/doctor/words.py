"""The English of ``doctor``: what each kind of sign says, and what to do about it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from blendwise.answers.doctor.result import DoctorResult, Kind, PlanLine, Sign
from blendwise.quantity import format_number
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted
from blendwise.show.words import odd_figure

TAGS: Final = {"wrong": "wrong", "caution": "caution", "hint": "hint"}
TRY, WHERE, WHICH = "Try", "Where", "Which"
PLANS: Final = "How the plans stand"
HALF: Final = (
    "Not everything could be read: what hangs on it was left out. Mend the files, and ask the doctor again."
)
SHORT: Final = 8
"""Names that are listed in a headline; more stand below it."""


def verdict(result: DoctorResult) -> str:
    """The whole book in a sentence."""
    wrong = sum(sign.weight == "wrong" for sign in result.signs)
    cautions = sum(sign.weight == "caution" for sign in result.signs)
    if wrong:
        return f"{counted(wrong, 'thing').capitalize()} wrong, {counted(cautions, 'caution')}."
    if cautions:
        return f"Nothing is wrong; {counted(cautions, 'caution')}."
    return "Nothing is wrong."


def _named(sign: Sign) -> str:
    return joined([quoted(name) for name in sign.names])


def _broken(sign: Sign) -> str:
    return sign.message.removesuffix(".")


def _never(sign: Sign) -> str:
    return f"the rule {quoted(sign.names[0])} can never be asked: {sign.message.removesuffix('.')}"


def _locked(sign: Sign) -> str:
    return f"{quoted(sign.names[0])} may not be loosened: what your copy changed does not count"


def _not_counted(sign: Sign) -> str:
    name, what = sign.names
    return f"{NOT_COUNTED[sign.message].format(what=what, name=quoted(name))} and does not count"


NOT_COUNTED: Final[Mapping[str, str]] = {
    "own": "the {what} {name} stands outside `rules/mine/`",
    "known": "your copy of the {what} {name} differs in more than a number",
    "words": "your copy of the {what} {name} says the same in other words",
}


def _not_read(sign: Sign) -> str:
    why = f": {sign.message.removesuffix('.')}" if sign.message else ""
    return f"{sign.names[0]} is not read{why}"


def _odd(sign: Sign) -> str:
    figure, why = sign.names
    return odd_figure(sign.subject, figure, why, sign.message)


def _strange(sign: Sign) -> str:
    return f"{sign.subject} {_named(sign)}, which nothing in the book bears"


def _no_longer(sign: Sign) -> str:
    rules = "the rule" if len(sign.names) == 1 else "the rules"
    speak = "speaks" if len(sign.names) == 1 else "speak"
    return (
        f"{sign.subject}: since its pour of {sign.message} the rulebook has changed, "
        f"and {rules} {_named(sign)} now {speak} against it"
    )


def _oils(sign: Sign) -> str:
    return counted(len(sign.names), "oil")


def _whose(sign: Sign) -> str:
    return "that plans use" if sign.subject == "plans" else "on the shelf"


def _undescribed(sign: Sign) -> str:
    never = "was" if len(sign.names) == 1 else "were"
    return f"{_oils(sign)} {_whose(sign)} {never} never described"


def _uncertified(sign: Sign) -> str:
    have = "has" if len(sign.names) == 1 else "have"
    return f"{_oils(sign)} {_whose(sign)} {have} no certificate for soap on file"


def _undated(sign: Sign) -> str:
    say = "says" if len(sign.names) == 1 else "say"
    return f"the certificates of {_oils(sign)} {_whose(sign)} {say} no day"


def _old(sign: Sign) -> str:
    years = format_number(sign.number or 0, 2)
    return f"{sign.subject}: its certificate of {sign.names[0]} is {years} years old"


def _unknown_name(sign: Sign) -> str:
    spelling, *near = sign.names
    like = f"; the nearest is {quoted(near[0])}" if near else ""
    return f"{sign.subject}: nobody knows {quoted(spelling)} on its papers{like}"


def _additive(sign: Sign) -> str:
    like = f"; the nearest is {quoted(sign.names[0])}" if sign.names else ""
    return f"nobody knows what {quoted(sign.subject)} is, and it counts for nothing{like}"


def _doubtful(sign: Sign) -> str:
    own, known = sign.names
    return f"{quoted(sign.subject)} in additives.yaml: {own}; as it is known, {known}"


def _tables(sign: Sign) -> str:
    return f"The tables of the law are of {sign.names[0]}, more than twelve months ago"


def _law_changed(sign: Sign) -> str:
    day, concerns, standing = sign.names
    return f"{sign.subject}, from {day}, is not in the tables of the law: {concerns} ({standing})"


def _due(sign: Sign) -> str:
    plan, look, day = sign.names
    over = int(sign.number or 0)
    since = "today" if over == 0 else f"{counted(over, 'day')} ago"
    return f"{plan}: the look {look} was due on {day}, {since}"


def _idle(sign: Sign) -> str:
    return f"{counted(len(sign.names), 'rule')} asked nothing of any plan"


def _kept(sign: Sign) -> str:
    return f"{counted(len(sign.names), 'rule')} never broken or open in any plan"


HEADLINES: Final[Mapping[Kind, Callable[[Sign], str]]] = {
    "broken file": _broken,
    "rule written wrong": _broken,
    "rule can never be asked": _never,
    "locked rule changed": _locked,
    "rule not counted": _not_counted,
    "file not read": _not_read,
    "odd figure": _odd,
    "strange name": _strange,
    "no longer passes": _no_longer,
    "not described": _undescribed,
    "no certificate": _uncertified,
    "old certificate": _old,
    "certificate without a day": _undated,
    "name not known": _unknown_name,
    "additive not known": _additive,
    "additive doubtful": _doubtful,
    "law tables": _tables,
    "law changed": _law_changed,
    "look due": _due,
    "never asked": _idle,
    "never broken": _kept,
}
REMEDIES: Final[Mapping[Kind, str]] = {
    "locked rule changed": "Delete the copy; a stricter rule of your own goes into `rules/mine/`.",
    "rule not counted": "Put what you want of it into a file in `rules/mine/`, or delete the copy.",
    "file not read": "Rules stand in `rules/mine/`, in files that end in .yaml or .yml.",
    "strange name": "Correct the name, or describe the thing under it.",
    "no longer passes": "Look at it with `blendwise check`, before you pour it again.",
    "not described": "Write down how it behaves, from the supplier's note or from a cup of your "
    "own (`blendwise cup`).",
    "no certificate": "Ask the supplier for the certificate. Without one it is not for sale.",
    "old certificate": "Ask the supplier for the certificate under the amendment now in force.",
    "certificate without a day": "Write `dated:` under `limit in bar:`, so that an old one is noticed.",
    "name not known": "Look for a slip, or write its CAS number beside it.",
    "additive not known": "Write it into additives.yaml: `NAME: {same as: honey}`, or `NAME: neutral`.",
    "additive doubtful": "Look at its bottle or sheet, and write `source:` beside the figure, or mend it.",
    "law tables": "Ask your assessor for changes since, or take a newer release.",
    "law changed": "Ask your assessor what it says of these substances.",
    "look due": "Look, and write it down with `blendwise note`.",
    "never asked": "They wait for plans of another kind; there is nothing to do.",
    "never broken": "They guard you in silence. One that seems too mild is tightened in `rules/mine/`.",
}
LISTED: Final = frozenset(
    {"not described", "no certificate", "certificate without a day", "never asked", "never broken"}
)


def headline(sign: Sign) -> str:
    """What was found, standing alone."""
    return HEADLINES[sign.kind](sign)


def remedy(sign: Sign) -> str:
    """What to do: as the reader of the files said, else by the kind."""
    return " ".join(part for part in (sign.remedy, REMEDIES.get(sign.kind, "")) if part)


def listed(sign: Sign) -> str:
    """The names, where they are a list by themselves."""
    return ", ".join(sign.names) if sign.kind in LISTED else ""


def plan(line: PlanLine) -> str:
    """How one plan stands."""
    if not line.judged:
        return f"{line.plan}: not judged"
    counts = ((line.stops, "stop"), (line.conflicts, "conflict"), (line.cautions, "caution"))
    parts = [counted(number, what) for number, what in counts if number]
    if line.undecided:
        parts.append(f"{counted(line.undecided, 'grave question')} open")
    asked = f"; {counted(line.open, 'thing')} not known that would matter" if line.open else ""
    return f"{line.plan}: {joined(parts) if parts else 'nothing against it'}{asked}"


def footing(result: DoctorResult) -> str:
    """What was looked at."""
    looked = (
        counted(result.scents, "oil"),
        counted(len(result.plans), "plan"),
        counted(result.notes, "note"),
        counted(result.rules, "rule"),
    )
    day, tables = result.today.isoformat(), result.tables_of.isoformat()
    return f"Examined: {joined(looked)}, as of {day}; tables of the law of {tables}. Nothing was changed."
