"""A bench sheet as its published document and as a frame of what is weighed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from blendwise.answers.documents import CheckDoc, HeadDoc, Value
from blendwise.answers.shapes import check_doc, finite, head

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.sheet.compute import Sheet
    from blendwise.answers.sheet.result import Clock, Cup, Weighed

SHEET_SCHEMA = "blendwise/sheet/1"


class WeighedDoc(TypedDict):
    """One thing to weigh: ``into`` is the pot, the jug, a premix or a portion; grams in whole steps."""

    into: str
    kind: str
    what: str
    grams: float
    step: float
    lot: str | None


class CupDoc(TypedDict):
    """One portion: its share of the pot, its scent on its own oils, and its colour fresh and cured."""

    portion: str
    share: float
    dose: float
    fresh: str
    fresh_word: str
    cured: str | None
    cured_words: list[str]


class TurnDoc(TypedDict):
    """One portion against the clock, minutes from emulsion; null where it is not known."""

    portion: str
    scented_at: float
    needed_until: float
    fluid_from: Value
    fluid_to: Value
    not_known: list[str]


class ClockDoc(TypedDict):
    """The pour against the clock, portions in the order of scenting."""

    pour: str
    family: str
    minutes: float
    first_scenting: float
    end: float
    turns: list[TurnDoc]


class DateDoc(TypedDict):
    """Something to do on a day, or between two."""

    what: str
    first: str
    last: str


class SheetDoc(HeadDoc):
    """A bench sheet: whose doses, what is weighed, the clock, the dates, the names for the label."""

    plan: str
    file: str
    purpose: str
    day: str
    variation: str | None
    doses_from: str
    assignment: str | None
    weighed: list[WeighedDoc]
    portions: list[CupDoc]
    colour_order: list[str]
    clock: ClockDoc | None
    dates: list[DateDoc]
    label_names: list[str]
    label_names_not_known_of: list[str]
    check: CheckDoc


def sheet_doc(sheet: Sheet) -> SheetDoc:
    """The document, keys in their order."""
    return {
        **head(SHEET_SCHEMA),
        "plan": sheet.plan,
        "file": sheet.file,
        "purpose": sheet.purpose,
        "day": sheet.day.isoformat(),
        "variation": sheet.variation,
        "doses_from": sheet.source,
        "assignment": sheet.status,
        "weighed": list(_weighed(sheet)),
        "portions": [_cup(cup) for cup in sheet.cups],
        "colour_order": list(sheet.colour_order),
        "clock": None if sheet.clock is None else _clock(sheet.clock),
        "dates": list(_dates(sheet)),
        "label_names": list(sheet.label.names),
        "label_names_not_known_of": list(sheet.label.not_known),
        "check": check_doc(sheet.check),
    }


def _weighed(sheet: Sheet) -> Iterator[WeighedDoc]:
    pot = sheet.pot
    yield from (_row("pot", "oil", each) for each in pot.oils)
    yield _row("jug", "lye", pot.naoh)
    yield _row("jug", "water", pot.water)
    yield from (_row("pot", "additive", each) for each in pot.additives)
    for mix in sheet.mixes:
        yield from (_row(mix.name, "scent", each) for each in mix.scents)
    for cup in sheet.cups:
        yield from _rows_of(cup)


def _rows_of(cup: Cup) -> Iterator[WeighedDoc]:
    yield _row(cup.name, "batter", cup.batter)
    yield from (_row(cup.name, "held back", each) for each in cup.returned)
    yield from (_row(cup.name, "mixed in", each) for each in cup.mixed_in)
    yield from (_row(cup.name, "colourant", dye.weighed) for dye in cup.dyes)
    yield from (_row(cup.name, "scent", each) for each in cup.scents)


def _row(into: str, kind: str, each: Weighed) -> WeighedDoc:
    return {
        "into": into,
        "kind": kind,
        "what": each.what,
        "grams": each.grams,
        "step": each.step,
        "lot": each.lot,
    }


def _cup(cup: Cup) -> CupDoc:
    return {
        "portion": cup.name,
        "share": cup.share,
        "dose": cup.dose,
        "fresh": cup.look.fresh_hex,
        "fresh_word": cup.look.fresh_word,
        "cured": cup.look.cured_hex,
        "cured_words": list(cup.look.cured_words),
    }


def _clock(clock: Clock) -> ClockDoc:
    turns: list[TurnDoc] = [
        {
            "portion": turn.portion,
            "scented_at": turn.scented_at,
            "needed_until": turn.needed_until,
            "fluid_from": None if turn.unknown else finite(turn.fluid[0]),
            "fluid_to": finite(turn.fluid[1]),
            "not_known": list(turn.unknown),
        }
        for turn in clock.turns
    ]
    return {
        "pour": clock.pour,
        "family": clock.family,
        "minutes": clock.minutes,
        "first_scenting": clock.first,
        "end": clock.end,
        "turns": turns,
    }


def _dates(sheet: Sheet) -> Iterator[DateDoc]:
    then = sheet.after
    yield {"what": "cut", "first": then.cut[0].isoformat(), "last": then.cut[1].isoformat()}
    for what, day in then.looks:
        yield {"what": f"look, {what}", "first": day.isoformat(), "last": day.isoformat()}
    yield {"what": "judge", "first": then.judge[0].isoformat(), "last": then.judge[1].isoformat()}
    yield {"what": "cured", "first": then.ready[0].isoformat(), "last": then.ready[1].isoformat()}


def sheet_frame(sheet: Sheet) -> pd.DataFrame:
    """A row a thing to weigh."""
    import pandas as pd

    return pd.DataFrame(list(_weighed(sheet)), columns=list(WeighedDoc.__annotations__))
