"""All notes of a book as plain rows, batch by batch, in the order that the notes themselves give.

Reading is quick the second time: a note's row is kept in the user's cache folder under the fingerprint of
the note's bytes, so that only what is new is parsed.  Every file is read every time; a row is used only
where the bytes are the very same.  Amounts in rows are canonical (g, °C, min, fractions).
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from blendwise.records.notes.note_files import FORMAT, note_files
from blendwise.records.place import Fault, RecordError
from blendwise.records.writing.cache import cached, keep

if TYPE_CHECKING:
    from blendwise.records.notes.note import Frozen, Note

FROZEN: Final = "\nfrozen:\n"
"""The line in a note after which stands what was poured."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen of one portion; ``minutes`` is (low, high) to thick, ``fluid_at`` still fluid then."""

    minutes: tuple[float, float] | None = None
    fluid_at: float | None = None
    ricing: str | None = None
    colour: str | None = None
    edge: str | None = None
    halo: str | None = None
    strength: str | None = None
    gel: str | None = None
    ash: str | None = None
    rivers: str | None = None
    spots: str | None = None
    remarks: str | None = None


@dataclass(frozen=True, slots=True)
class PouredPortion:
    """What a portion was on the day: grams of oils and of batter without scent, colour, minutes."""

    oils: float
    batter: float
    planned_colour: str | None = None
    covering: float | None = None
    may_become: str | None = None
    stays_fluid: float | None = None
    needed: float | None = None
    lots: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Poured:
    """What the first note froze, with a digest of the ``plan``'s text.  ``doses``: portion, scent, grams."""

    rules: str | None = None
    doses: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    portions: Mapping[str, PouredPortion] = field(default_factory=dict)
    predictions: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    flagged: Mapping[str, list[str]] = field(default_factory=dict)
    pour: str | None = None
    pour_minutes: float | None = None
    plan: str | None = None


@dataclass(frozen=True, slots=True)
class NoteRow:
    """One note.  ``on`` and ``poured`` are days as written (year-month-day)."""

    note: str
    file: str
    plan: str
    look: str
    on: str
    batch: str | None = None
    after: str | None = None
    variation: str | None = None
    poured: str | None = None
    portions: Mapping[str, Seen] = field(default_factory=dict)
    lots: Mapping[str, str] = field(default_factory=dict)
    room: float | None = None
    batter_at_split: float | None = None
    pour_took: float | None = None
    favourites: list[str] = field(default_factory=list)
    votes: Mapping[str, int] = field(default_factory=dict)
    repeat: bool | None = None
    corrects: str | None = None
    bars: int | None = None
    mass: float | None = None
    photos: list[str] = field(default_factory=list)
    remarks: str | None = None
    frozen: Poured | None = None
    test_cup: bool | None = None
    teaches: bool | None = None

    @property
    def is_setting_out(self) -> bool:
        """Whether it keeps a test cup that was only set out: its pour may come on a later day."""
        return bool(self.test_cup) and self.frozen is not None and not self.portions

    @property
    def batch_key(self) -> str:
        """What tells batches apart: the code, else the plan with the day of its pour."""
        return self.batch or f"{self.plan} {self.poured or self.on}"


@dataclass(frozen=True, slots=True)
class Notebook:
    """The rows of all sound notes in order of file name, what is wrong with the others, and a fingerprint
    of all bytes that were read."""

    rows: tuple[NoteRow, ...] = ()
    faults: tuple[Fault, ...] = ()
    fingerprint: str = ""


def row_of(note: Note, file: str) -> NoteRow:
    """A note as a row."""
    return NoteRow(
        note=note.note,
        file=file,
        plan=note.plan,
        look=note.look,
        on=note.on.isoformat(),
        batch=note.batch,
        after=note.after,
        variation=note.variation,
        poured=note.poured.isoformat() if note.poured else None,
        portions={name: _seen(look) for name, look in note.portions.items()},
        lots=dict(note.lots),
        room=_mid(note.room),
        batter_at_split=_mid(note.batter_at_split),
        pour_took=_mid(note.pour_took),
        favourites=list(note.favourites),
        votes=dict(note.votes),
        repeat=note.repeat,
        corrects=note.corrects,
        teaches=note.teaches,
        bars=note.bars,
        mass=None if note.mass is None else note.mass.value,
        photos=list(note.photos),
        remarks=note.remarks,
        frozen=None if note.frozen is None else _poured(note.frozen),
        test_cup=note.test_cup,
    )


def _mid(amount: Any) -> float | None:
    return None if amount is None else amount.mid


def _seen(look: Any) -> Seen:
    words = ("ricing", "colour", "edge", "strength", "gel", "ash", "rivers", "spots", "remarks")
    taken, fluid = look.minutes_to_thick, look.still_fluid_at
    return Seen(
        minutes=None if taken is None else (taken.low, taken.high),
        fluid_at=None if fluid is None else fluid.low,
        halo=None if look.halo is None else look.halo.text,
        **{word: getattr(look, word) for word in words},
    )


def _poured(frozen: Frozen) -> Poured:
    return Poured(
        rules=frozen.rules,
        doses={p: {s: amount.value for s, amount in held.items()} for p, held in frozen.doses.items()},
        portions={
            name: PouredPortion(
                each.oils.value,
                each.batter.value,
                each.planned_colour,
                _mid(each.covering),
                each.may_become,
                _mid(each.stays_fluid),
                _mid(each.needed),
                dict(each.lots),
            )
            for name, each in frozen.portions.items()
        },
        predictions={name: dict(said) for name, said in frozen.predictions.items()},
        flagged={rule: list(subjects) for rule, subjects in frozen.flagged.items()},
        pour=frozen.pour,
        pour_minutes=_mid(frozen.pour_minutes),
        plan=hashlib.sha256(frozen.plan_text.encode()).hexdigest() if frozen.plan_text else None,
    )


def plain_row(row: NoteRow) -> dict[str, Any]:
    """A row as plain values for JSON, without what is empty."""
    found = _said(row)
    if row.portions:
        found["portions"] = {name: _said(seen) for name, seen in row.portions.items()}
    if row.frozen is not None:
        portions = {name: _said(made) for name, made in row.frozen.portions.items()}
        found["frozen"] = {**_said(row.frozen), "portions": portions}
    return found


def _said(part: NoteRow | Seen | Poured | PouredPortion) -> dict[str, Any]:
    """The fields of a part that are not empty."""
    held = ((name, getattr(part, name)) for name in part.__dataclass_fields__)
    return {name: value for name, value in held if value not in (None, [], {})}


def row_from(plain: dict[str, Any]) -> NoteRow:
    """A row from what ``plain_row`` gave; TypeError or KeyError where it is something else."""
    portions = {name: _seen_from(seen) for name, seen in plain.get("portions", {}).items()}
    frozen = plain.get("frozen")
    return NoteRow(
        **{**plain, "portions": portions, "frozen": None if frozen is None else _poured_from(frozen)}
    )


def _seen_from(plain: dict[str, Any]) -> Seen:
    span = plain.get("minutes")
    return Seen(**{**plain, "minutes": None if span is None else (span[0], span[1])})


def _poured_from(plain: dict[str, Any]) -> Poured:
    portions = {name: PouredPortion(**each) for name, each in plain["portions"].items()}
    return Poured(**{**plain, "portions": portions})


def read_notebook(folder: Path) -> Notebook:
    """All notes of a book.  A damaged note is set aside with its faults; it never hides the others."""
    known = _Rows(folder)
    rows: list[NoteRow] = []
    faults: list[Fault] = []
    whole = hashlib.sha256(FORMAT.encode())
    for name, data in note_files(folder / "notes", faults):
        digest = hashlib.sha256(data).hexdigest()
        whole.update(f"{name} {digest}\n".encode())
        try:
            rows.append(known.row(folder / "notes" / name, data, digest))
        except RecordError as error:
            faults.extend(error.faults)
    known.keep()
    return Notebook(tuple(rows), tuple(faults), whole.hexdigest())


class _Rows:
    """The cached rows of one book, by fingerprint; what is new is parsed and kept."""

    def __init__(self, folder: Path) -> None:
        self.name = f"{hashlib.sha256(str(folder.resolve()).encode()).hexdigest()[:24]}-notes.json"
        found = cached(self.name)
        is_ours = (
            isinstance(found, dict) and found.get("format") == FORMAT and isinstance(found.get("rows"), dict)
        )
        self.rows: dict[str, Any] = found["rows"] if is_ours else {}
        self.used: dict[str, Any] = {}
        self.new = 0

    def row(self, path: Path, data: bytes, digest: str) -> NoteRow:
        plain = self.rows.get(f"{path.name} {digest}")
        found = _quietly(plain) if isinstance(plain, dict) else None
        if found is None:
            found = _row(path, data)
            plain = plain_row(found)
            self.new += 1
        self.used[f"{path.name} {digest}"] = plain
        return found

    def keep(self) -> None:
        if self.new or len(self.used) < len(self.rows):
            keep(self.name, {"format": FORMAT, "rows": self.used})


def _quietly(plain: dict[str, Any]) -> NoteRow | None:
    try:
        return row_from(plain)
    except (TypeError, KeyError, AttributeError, IndexError):
        return None


def _row(path: Path, data: bytes) -> NoteRow:
    """A note as a row; RecordError with its faults."""
    from blendwise.records.notes.note import Note
    from blendwise.records.reading.document import Document, validated
    from blendwise.records.reading.nodes import decode, parse_nodes

    text = decode(data, path)
    found = _plainly(text, path.name)
    if found is not None:
        return found
    whole = Document(path, text, parse_nodes(text, path), hashlib.sha256(data).hexdigest())
    return row_of(validated(Note, whole), path.name)


def _plainly(text: str, file: str) -> NoteRow | None:
    """A sound note of the plainest form as a row, without the places that only faults would name.

    Its looks and what it froze are read apart: makers see the same of many portions, and pour a plan again.
    """
    from pydantic import ValidationError

    from blendwise.records.notes.note import Note
    from blendwise.records.reading.fields import FieldError, parse_name
    from blendwise.records.reading.plain_form import in_plain_form

    said, froze, frozen = text.partition(FROZEN)
    plain = in_plain_form(said + "\n" if froze else said)
    looks = {} if plain is None else plain.get("portions", {})
    if plain is None or not isinstance(looks, dict) or "frozen" in plain:
        return None
    with suppress(ValidationError, FieldError, TypeError, AttributeError):  # no look: told the long way
        poured = _poured_in(frozen) if froze else None
        seen = {parse_name(name): _seen_in(tuple(look.items())) for name, look in looks.items()}
        row = row_of(Note.model_validate({**plain, "portions": {}}), file)
        return replace(row, portions=seen, frozen=poured) if len(seen) == len(looks) else None
    return None


@lru_cache(maxsize=256)
def _poured_in(text: str) -> Poured:
    """What the last lines of a note froze; TypeError where they are not of the plainest form."""
    from blendwise.records.notes.note import Frozen
    from blendwise.records.reading.plain_form import in_plain_form

    plain = in_plain_form(FROZEN.lstrip() + text)
    if plain is None or len(plain) > 1:
        raise TypeError
    return _poured(Frozen.model_validate(plain["frozen"]))


@lru_cache(maxsize=4096)
def _seen_in(said: tuple[tuple[str, str], ...]) -> Seen:
    from blendwise.records.notes.note import Look

    return _seen(Look.model_validate(dict(said)))
