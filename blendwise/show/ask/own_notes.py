"""What the maker's own notes say of the matter that is asked, in one line a batch."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from blendwise.answers.ask.result import OwnLook, OwnWord
from blendwise.records.kinds.scent import BANDS
from blendwise.show.blocks import Line
from blendwise.show.numbers import minutes_left
from blendwise.show.pair.words import day
from blendwise.show.text import joined

LATEST: Final = 2
"""Batches of which is told, the last first."""
ASIDE: Final = ("edge", "halo", "gel", "rivers")
"""What is told beside a colour, but where it is none."""


def when(look: OwnLook) -> str:
    """At which look, or on which day."""
    if look.look.startswith("at "):
        return look.look
    return f"by {look.look}" if look.look != "later" else f"on {day(look.on)}"


def colours_seen(
    looks: Sequence[OwnLook], portions: Iterable[str] = (), of: Iterable[str] = ()
) -> Iterator[Line]:
    """How each cup of a batch turned, look by look: "PR-1: porch tan at the cut, chocolate by week 6".

    ``of``: the oils that are asked of; what a cup held besides is told.
    """
    oils = set(of)
    wanted = set(portions)
    held: dict[str, dict[str, list[OwnLook]]] = {}
    for look in looks:
        if "colour" in look.told and (not wanted or look.portion in wanted):
            held.setdefault(look.batch, {}).setdefault(look.portion, []).append(look)
    for batch, cups in list(reversed(held.items()))[:LATEST]:
        told = [f"{name}{_besides(own, oils)} {_turned(own)}" for name, own in cups.items()]
        yield Line("", f"Your own {batch}: {'; '.join(told)}")


def _besides(looks: Sequence[OwnLook], oils: set[str]) -> str:
    """The other oils of a cup: its colour may be theirs."""
    others = [oil for oil in looks[-1].doses if oil not in oils] if oils else []
    return f" (with {joined(others)})" if others else ""


def _turned(looks: Sequence[OwnLook]) -> str:
    return ", ".join(f"{look.told['colour']} {when(look)}{_aside(look)}" for look in looks)


def _aside(look: OwnLook) -> str:
    told = [f"{key} {look.told[key]}" for key in ASIDE if look.told.get(key, "none") not in ("none", "clean")]
    told += [f'"{look.told["remarks"]}"'] if "remarks" in look.told else []
    return f" ({', '.join(told)})" if told else ""


def words_seen(words: Sequence[OwnWord]) -> Iterator[Line]:
    """What the maker wrote of the oils on their own entries, the last first."""
    for each in words[:LATEST]:
        yield Line("", f'Seen of {each.oil}, by your own entry: "{each.what}" ({day(each.on)})')


def darker(looks: Sequence[OwnLook], than: str | None) -> list[OwnLook]:
    """The looks at which a cup was darker than a band, the darkest first."""
    if than not in BANDS:
        return []
    found = [each for each in looks if each.told.get("colour") in BANDS]
    found = [each for each in found if _depth(each) > BANDS.index(than)]
    return sorted(found, key=_depth, reverse=True)


def _depth(look: OwnLook) -> int:
    return BANDS.index(look.told["colour"])


def told_of(looks: Sequence[OwnLook], field: str, of: str = "") -> Iterator[Line]:
    """What was noted of one matter (strength, gel, edge, rivers), the last look of each cup.

    ``of``: what it was noted of, where that is not what is asked.
    """
    last = {(each.batch, each.portion): each for each in looks if field in each.told}
    held: dict[str, list[str]] = {}
    for look in last.values():
        said = look.told.get("remarks", "")
        remarks = f' ("{said}")' if said and (field != "strength" or OF_SMELL.search(said)) else ""
        held.setdefault(look.batch, []).append(f"{look.portion} {look.told[field]} {when(look)}{remarks}")
    for batch, told in list(reversed(held.items()))[:LATEST]:
        yield Line(
            "", f"Your own {batch}, {NAMES.get(field, field)}{f' of {of}' if of else ''}: {joined(told)}"
        )


OF_SMELL: Final = re.compile(r"scent|smell|perfum|fragran|nose|fade|faint|strong|weak", re.IGNORECASE)
"""Words of a remark that is of the smell: a remark on the colour is no evidence of it."""
NAMES: Final = {"strength": "scent", "gel": "gel", "edge": "edge"}


def minutes_seen(looks: Sequence[OwnLook]) -> Iterator[Line]:
    """After how many minutes each cup was thick."""
    held: dict[str, list[str]] = {}
    for look in looks:
        if look.minutes is not None:
            held.setdefault(look.batch, []).append(f"{look.portion} at {minutes_left(look.minutes[0])} min")
    for batch, told in list(reversed(held.items()))[:LATEST]:
        yield Line("", f"Your own {batch} was thick: {joined(told)} from its scenting")
