"""One oil on one screen: what it does in soap, what its papers allow, the bottle."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from blendwise.answers.scents.result import ScentResult
from blendwise.answers.scents.statements import Statement
from blendwise.beliefs.changes import FIELD, Change
from blendwise.quantity import Units, format_number
from blendwise.show.blocks import Block, Line, Title
from blendwise.show.check.brief import MORE, SAFETY
from blendwise.show.numbers import counted
from blendwise.show.pair.words import ACCELERATION
from blendwise.show.review.words import looked_at
from blendwise.show.scents import blocks as whole
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE

FEW: Final = 4
"""Plans that are named; the others are counted."""
LINES: Final[Mapping[str, tuple[str, ...]]] = {
    "in soap": ("browns to", "acceleration", "ricing", "after six weeks"),
    "in it": ("vanillin", "ethyl vanillin", "browns by", "own cast"),
    "papers": ("for skin", "limit in bar", "allergen sheet", "label name"),
    "bottle": ("lot", "on hand", "price", "bought", "flash point"),
    "noted": ("goes with",),
}
"""What is told together → the facts, in order."""


def scent_brief(result: ScentResult) -> list[Block]:
    """The oil in a line for each side of it."""
    stated = {one.fact: one for one in result.statements}
    missing = (
        f"Not known: {joined(result.not_known)}." if result.not_known else "Every behaviour is written down."
    )
    return [
        Title(f"{', '.join([result.name, *_what(stated)])}; {MORE}", missing),
        *own_looks(result.learned),
        *(line for tag, facts in LINES.items() for line in _line(tag, facts, stated, result.units)),
        *_seen(result),
        *_used(result),
        *(Line("set aside", each) for each in result.unread[:1]),
        Line("", SAFETY),
    ]


def _what(stated: Mapping[str, Statement]) -> list[str]:
    kind, note = stated.get("kind"), stated.get("scent note")
    return [*([kind.text] if kind else []), *([f"{note.text} note"] if note else [])]


def _line(tag: str, facts: Sequence[str], stated: Mapping[str, Statement], units: Units) -> Iterator[Line]:
    said = [_said(stated[fact], units) for fact in facts if fact in stated]
    if said:
        yield Line(tag, "; ".join(said))


def _said(one: Statement, units: Units) -> str:
    """A fact as one says it, with the dose that it was seen at and whose own word it is."""
    text = whole.value(one, units).replace("; ", ", ")
    own = f" ({EVIDENCE[one.evidence]})" if one.evidence in ("own batch", "own cup") else ""
    return f"{WORDS.get(one.fact, _plain)(one, text)}{own}"


def _plain(one: Statement, text: str) -> str:
    return f"{one.fact} {text}"


def _speed(one: Statement, text: str) -> str:
    return text.replace(one.text, ACCELERATION.get(one.text, one.text), 1)


WORDS: Final[Mapping[str, Callable[[Statement, str], str]]] = {
    "browns to": lambda one, text: f"white soap browns to {text}",
    "acceleration": _speed,
    "ricing": lambda one, text: f"ricing: {text}",
    "after six weeks": lambda one, text: f"{text} after six weeks",
    "browns by": lambda one, text: text,
    "for skin": lambda one, text: "for use on skin" if one.text == "yes" else "not for use on skin",
    "limit in bar": lambda one, text: f"the certificate allows {text.replace(',', ' of the bar,', 1)}",
    "goes with": lambda one, text: text,
}


def own_looks(learned: Sequence[Change]) -> Iterator[Line]:
    """What own looks say otherwise than the catalogue, and what they say as it does."""
    otherwise = [_otherwise(each) for each in learned if each.differs]
    alike = [FIELD[each.trait] for each in learned if not each.differs]
    if alike:
        otherwise.append(f"{joined(alike)} as the catalogue says")
    if otherwise:
        yield Line("by your looks", "; ".join(otherwise))


def _otherwise(each: Change) -> str:
    at = f" at {format_number(100 * each.dose)} % of oils" if each.dose is not None else ""
    return (
        f"{LEARNED[each.trait](each.now)}{at}, where the catalogue says {each.was or 'nothing'} "
        f"({looked_at(each.batches, each)})"
    )


LEARNED: Final[Mapping[str, Callable[[str], str]]] = {
    "acceleration": lambda word: ACCELERATION.get(word, word),
    "browning": lambda word: f"white soap browns to {word}",
    "after six weeks": lambda word: f"{word} after six weeks",
}


def _seen(result: ScentResult) -> Iterator[Line]:
    if result.seen:
        last = max(result.seen, key=lambda seen: seen.on)
        yield Line("seen", f"{last.what.rstrip('.')} ({last.on})")


def _used(result: ScentResult) -> Iterator[Line]:
    names = list(dict.fromkeys(use.plan for use in result.plans))
    if names:
        more = [counted(len(names) - FEW, "more", "more")] if len(names) > FEW else []
        yield Line("used in", f"{joined([*names[:FEW], *more])}; {counted(len(result.notes), 'look')} noted")
