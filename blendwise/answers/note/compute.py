"""A look becomes a note: which batch, which look, what is frozen, under which name it is written."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any, Final

import numpy as np

from blendwise.answers.harm import poured_past
from blendwise.answers.note.due import next_due
from blendwise.answers.note.frozen import Day, freeze
from blendwise.answers.note.measured import measured
from blendwise.answers.note.result import NoteResult
from blendwise.answers.note.said import MINUTES, doses_said, looks_said, of_pour, pairs_said, read_as
from blendwise.answers.note.text import Field, write_note
from blendwise.answers.note.typed import look_typed
from blendwise.answers.refusals import NotAskable
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import METRIC, Dimension, Units, parse_amount
from blendwise.records.nearest import hint
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.codes import code_of, parted
from blendwise.records.notes.note import DAYS_OF_LOOKS, LOOKS
from blendwise.records.notes.notebook import NoteRow

AT_FIRST: Final = ("", LOOKS[0])


@dataclass(frozen=True, slots=True)
class Asked:
    """A look as typed: nothing in it has been checked."""

    look: str = ""
    on: date | None = None
    variation: str | None = None
    batch: str = ""
    poured: date | None = None
    saw: Sequence[str] = ()
    doses: Sequence[str] = ()
    lots: Sequence[str] = ()
    votes: Sequence[str] = ()
    favourites: Sequence[str] = ()
    photos: Sequence[str] = ()
    room: str = ""
    batter: str = ""
    took: str = ""
    bars: str = ""
    mass: str = ""
    repeat: str = ""
    remarks: str = ""
    corrects: str = ""
    grams: Mapping[str, Mapping[str, float]] = field(default_factory=dict)

    @property
    def says_anything(self) -> bool:
        """Whether there is anything to note."""
        return bool(
            self.saw or self.doses or self.votes or self.favourites or self.photos or self.bars or self.mass
            or self.repeat or self.remarks or self.room or self.batter or self.took or self.grams
        )  # fmt: skip


@dataclass(frozen=True)
class Noting:
    """Everything that a note of a plan hangs on.

    ``plan``: its name; ``work_out``: the plan worked out, asked for only where what was poured is frozen,
    so that a batch can be looked at when its plan has long been changed; ``files``: what lay under
    ``notes/`` when it was read.
    """

    plan: str
    work_out: Callable[[], Situation]
    rulebook: Rulebook
    batches: Sequence[Batch]
    names: frozenset[str]
    today: date
    files: frozenset[str] = frozenset()
    units: Units = METRIC

    @cached_property
    def situation(self) -> Situation:
        """The plan worked out."""
        return self.work_out()

    def portions(self, batch: Batch | None, variation: str | None) -> tuple[str, ...]:
        """The portions that were poured, else those of the plan."""
        frozen = batch.frozen(variation) if batch is not None else None
        return tuple(frozen.portions or frozen.doses) if frozen is not None else self.situation.portions


def prepare(noting: Noting, asked: Asked) -> tuple[dict[str, Field], Day | None, Batch | None]:
    """The fields of the note, what it freezes (None where that is done), and the batch it belongs to."""
    asked = _by_its_code(replace(asked, look=look_typed(asked.look)))
    on = _day(asked, noting.today)
    batch = _batch(noting, asked)
    asked = replace(asked, variation=_version(batch, asked))
    poured = _poured(batch, asked, on)
    saw = looks_said(asked.saw, noting.portions(batch, asked.variation))
    at_the_pot = batch is None and (on == poured or _of_the_pour(asked, saw))
    look = asked.look or (LOOKS[0] if at_the_pot else _look(poured, on))
    _not_twice(batch, look, asked, on, saw)
    day = freeze(_as_weighed(noting.situation, asked), noting.rulebook) if _is_first(batch, asked) else None
    fields: dict[str, Field] = {
        "plan": noting.plan,
        "test cup": "yes" if batch is not None and batch.is_cup else "",
        "variation": asked.variation or "",
        "look": look,
        "on": on.isoformat(),
        "batch": _code(noting, batch, asked, poured),
        "after": _previous(batch, look),
        "corrects": _corrected(noting, asked),
        "poured": poured.isoformat(),
        **_of_pour(asked, noting.units),
        "lots": _lots(noting, asked, first=day is not None),
        "bars": asked.bars,
        "mass": asked.mass,
        "portions": saw,
        "favourites": list(asked.favourites),
        "votes": pairs_said(asked.votes, "--vote"),
        "repeat": asked.repeat,
        "photos": list(asked.photos),
        "remarks": asked.remarks,
    }
    return fields, day, batch


def _of_pour(asked: Asked, units: Units) -> dict[str, Field]:
    """What was measured at the pour; an answer that is no such thing is refused as it was typed."""
    said = {"room": asked.room, "batter at split": asked.batter, "pour took": asked.took}
    return {field: of_pour(field, text, units) if text else "" for field, text in said.items()}


def _by_its_code(asked: Asked) -> Asked:
    """A code as the sheet prints it names the version too."""
    code, version = parted(asked.batch)
    if version and asked.variation not in (None, version):
        raise NotAskable(
            f'"{asked.batch}" is the version "{version}", not "{asked.variation}".', "Leave one of them out."
        )
    return replace(asked, batch=code, variation=version or asked.variation)


def _version(batch: Batch | None, asked: Asked) -> str | None:
    """The version looked at: the one named, else the only one that was poured."""
    if batch is None or asked.variation is not None or asked.corrects or not batch.poured_as:
        return asked.variation
    named = [each for each in batch.poured_as if each is not None]
    if len(named) > 1 and None not in batch.poured_as:
        raise NotAskable(
            f"{batch.key} was poured in {' and '.join(named)}.", "Say which with --variation NAME."
        )
    return next(iter(batch.poured_as)) if len(batch.poured_as) == 1 else None


def _is_first(batch: Batch | None, asked: Asked) -> bool:
    """Whether this note freezes what was poured: the first of its version, or a correction of the doses."""
    weighed = bool(asked.doses or asked.grams)
    if batch is None or asked.variation not in batch.poured_as:
        return weighed or not asked.corrects
    if weighed and not asked.corrects:
        raise NotAskable(
            f"What was poured in {batch.key} is noted already.",
            f"Correct it with --corrects {batch.looks[0].note}, or name another batch with --batch CODE.",
        )
    return weighed


def _code(noting: Noting, batch: Batch | None, asked: Asked, poured: date) -> str:
    """The batch's code: the one it has, the one typed, else its plan and day; one without stays so."""
    if batch is not None:
        return batch.key if any(look.batch for look in batch.looks) else ""
    return asked.batch or code_of(noting.plan, poured.isoformat())


def _previous(batch: Batch | None, look: str) -> str:
    """The note that this look comes after: the last one of an earlier stage, or of the same."""
    if batch is None:
        return ""
    earlier = [each.note for each in batch.looks if LOOKS.index(each.look) <= LOOKS.index(look)]
    return earlier[-1] if earlier else ""


def _day(asked: Asked, today: date) -> date:
    on = asked.on or today
    if on > today:
        raise NotAskable(
            f"{on} lies in the future (today is {today}).", "Note a look on its day, or give --on DATE."
        )
    return on


def _batch(noting: Noting, asked: Asked) -> Batch | None:
    """The batch that a look belongs to: the one named, else the plan's last; None where this is its first."""
    own = [batch for batch in noting.batches if batch.plan == noting.plan]
    if asked.corrects:
        return next((b for b in own if any(asked.corrects == n for n in _names_in(b))), None)
    if asked.batch:
        other = [b for b in noting.batches if b.key == asked.batch and b.plan != noting.plan]
        if other:
            raise NotAskable(
                f'"{asked.batch}" is a batch of "{other[0].plan}".', "Give this one a code of its own."
            )
        return next((batch for batch in own if batch.key == asked.batch), None)
    if own and own[-1].is_cup:
        return _cup(own, asked, (asked.on or noting.today).isoformat())
    if asked.poured is not None:
        return next((batch for batch in own if batch.poured == asked.poured.isoformat()), None)
    on = (asked.on or noting.today).isoformat()
    at_the_pot = asked.look == LOOKS[0] or (not asked.look and bool(asked.doses or asked.grams))
    if not own or (at_the_pot and on not in {batch.poured for batch in own}):
        return None
    return ([batch for batch in own if batch.poured <= on] or own)[-1]


def _cup(own: Sequence[Batch], asked: Asked, on: str) -> Batch:
    """The test cup of a name: the last that waits for its first look, else the last poured by that day."""
    waiting = [each for each in own if each.is_unlooked]
    if waiting and (asked.poured is not None or not asked.look or asked.look == LOOKS[0]):
        return waiting[-1]
    poured = [each for each in own if asked.poured is None or each.poured == asked.poured.isoformat()]
    if not poured:
        raise NotAskable(
            f"No test cup of this name was poured on {asked.poured}.",
            f"Poured were those of {', '.join(each.poured for each in own)}; `blendwise cup` keeps another.",
        )
    return ([each for each in poured if each.poured <= on] or poured)[-1]


def _names_in(batch: Batch) -> Iterator[str]:
    yield from (look.note for look in batch.looks)


def _poured(batch: Batch | None, asked: Asked, on: date) -> date:
    if batch is not None and batch.is_cup and batch.is_unlooked and (asked.poured or asked.look in AT_FIRST):
        poured = asked.poured or on  # it was set out some day, and poured now
        if poured > on:
            raise NotAskable(f"A look of {on} lies before the pour of {poured}.", "Correct --on or --poured.")
        return poured
    if batch is not None:
        poured = date.fromisoformat(batch.poured)
        if on < poured:
            raise NotAskable(
                f"{on} lies before the pour of {poured}.",
                "If the clock is wrong, give the day with --on DATE; for another batch give --poured DATE.",
            )
        return poured
    if asked.poured is not None:
        if asked.poured > on:
            raise NotAskable(
                f"A look of {on} lies before the pour of {asked.poured}.", "Correct --on or --poured."
            )
        return asked.poured
    if asked.look not in ("", LOOKS[0]):
        raise NotAskable("No batch of this plan is noted yet.", "Say when it was poured: --poured DATE.")
    return on


def _of_the_pour(asked: Asked, saw: Mapping[str, Mapping[str, str]]) -> bool:
    """Whether a batch's first note tells of the pour alone, so that it is no look of a later day."""
    fields = {field for said in saw.values() for field in said} - {"remarks"}
    return bool(asked.doses or asked.grams) or fields <= {*MINUTES, "ricing"}


def _look(poured: date, on: date) -> str:
    """The look whose day this is."""
    days = (on - poured).days
    if days == 0:
        return LOOKS[0]
    nearest = min(DAYS_OF_LOOKS, key=lambda each: abs(DAYS_OF_LOOKS[each] - days))
    return "later" if days > 60 else "at the cut" if days <= 4 else nearest


def _not_twice(batch: Batch | None, look: str, asked: Asked, on: date, saw: Mapping[str, Any]) -> None:
    """A first look is one; of any other, what was noted of a portion that day is not noted again."""
    if batch is None or asked.corrects:
        return
    there = [
        each.note
        for each in batch.looks
        if (each.look, each.variation) == (look, asked.variation)
        and not each.is_setting_out
        and (look == LOOKS[0] or (each.on == on.isoformat() and _again(saw, each)))
    ]
    if there:
        raise NotAskable(
            f'"{there[0]}" is a look of this batch {look} already.',
            f"Correct it with --corrects {there[0]}, or name another batch with --batch CODE.",
        )


def _again(saw: Mapping[str, Mapping[str, str]], look: NoteRow) -> bool:
    """Whether something is said of a portion that this look says already."""
    return any(
        getattr(look.portions[portion], _IN_A_ROW.get(field, field), None) is not None
        for portion, fields in saw.items()
        if portion in look.portions
        for field in fields
    )


_IN_A_ROW: Final = {"minutes to thick": "minutes", "still fluid at": "fluid_at"}


def _corrected(noting: Noting, asked: Asked) -> str:
    if asked.corrects and asked.corrects not in noting.names:
        raise NotAskable(
            f'There is no note "{asked.corrects}".', hint(asked.corrects, sorted(noting.names), "The book")
        )
    return asked.corrects


def _as_weighed(s: Situation, asked: Asked) -> Situation:
    """The situation at the doses that were weighed: the plan's, changed where the maker says so."""
    said = doses_said(asked.doses, s.portions)
    if not said and not asked.grams:
        return s
    x = np.array(s.x, dtype=float)
    for portion, held in asked.grams.items():
        x[:, s.portions.index(portion)] = [held.get(scent, 0.0) for scent in s.scents]
    for portion, doses in said.items():
        for scent, mass in doses.items():
            if scent not in s.scents:
                raise NotAskable(f'"{scent}" is not in the plan.', hint(scent, s.scents, "It"))
            amount = parse_amount(mass, Dimension.MASS, ranges=False)
            x[s.scents.index(scent), s.portions.index(portion)] = amount.value
    return s.with_doses(x)


def _lots(noting: Noting, asked: Asked, first: bool) -> dict[str, str]:
    """The lots said, and on the first note those on the shelf."""
    said = pairs_said(asked.lots, "--lot")
    if not said and not first:
        return {}
    s = noting.situation
    known = {*s.book.scents, *s.book.oils, *s.book.colourants, "sodium hydroxide"}
    for name in said:
        if name not in known:
            raise NotAskable(f'There is no material "{name}" in the book.', hint(name, sorted(known), "It"))
    if not first:
        return said
    used = np.flatnonzero(s.x.sum(axis=1) > 0).tolist()
    shelf = {r.name: r.lot for i, r in enumerate(s.scent_records) if r.lot and i in used}
    return {**shelf, **said}


def note(noting: Noting, asked: Asked, folder: Path, dry_run: bool = False) -> NoteResult:
    """Write a look; NotAskable where it cannot be true or cannot be read."""
    of_cup = any(batch.is_cup and batch.plan == noting.plan for batch in noting.batches)
    if not asked.says_anything and (of_cup or asked.look not in AT_FIRST):
        raise NotAskable(
            "Nothing was said of what was seen.", 'Say it with --saw "PORTION: colour cream, edge clean".'
        )
    fields, day, batch = prepare(noting, asked)
    name, file, text = write_note(folder, fields, day, dry_run, noting.files)
    poured = date.fromisoformat(str(fields["poured"]))
    past = None if day is None else poured_past(_as_weighed(noting.situation, asked), noting.rulebook)
    seen = {str(fields["look"])} | ({look.look for look in batch.looks} if batch else set())
    return NoteResult(
        note=name,
        file=file.relative_to(folder).as_posix(),
        plan=str(fields["plan"]),
        look=str(fields["look"]),
        on=date.fromisoformat(str(fields["on"])),
        batch=str(fields["batch"]) or (batch.key if batch else ""),
        after=str(fields["after"]),
        froze=day is not None,
        written=not dry_run,
        text="" if past else text,
        next=next_due(poured, seen, noting.today),
        understood=read_as(asked.saw, noting.portions(batch, asked.variation)),
        past=past,
        measured=measured(batch, text) if batch is not None and batch.is_cup else (),
        units=noting.units,
    )
