"""Notes put together: batches, each with its looks in the order of their own references.

What cannot be true is named and set aside, and hides nothing else: a look before its pour, a portion that
was not poured, a second first note, a note that corrects or follows one that is not there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Final

from blendwise.records.notes.notebook import Notebook, NoteRow, Poured, Seen
from blendwise.records.place import Fault, Place

STAGES: Final = ("at the pot", "at the cut", "week 1", "week 2", "week 4", "week 6", "later")


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch: its looks in order, the corrected ones left out, and what was poured by version.

    ``poured_as``: the frozen day of each version (None is the plan itself).
    """

    key: str
    plan: str
    poured: str
    looks: tuple[NoteRow, ...]
    poured_as: dict[str | None, Poured] = field(default_factory=dict)

    def frozen(self, variation: str | None) -> Poured | None:
        """What was poured for a version, else for the batch as a whole."""
        if variation in self.poured_as:
            return self.poured_as[variation]
        return self.poured_as.get(None)

    @property
    def is_cup(self) -> bool:
        """Whether it was a test cup with its control, and no batch."""
        return any(look.test_cup for look in self.looks)

    @property
    def is_unlooked(self) -> bool:
        """Whether nothing was seen of any of its portions yet."""
        return not any(look.portions for look in self.looks)

    @property
    def lots(self) -> dict[str, str]:
        """The lot of every material that any of its notes names; the last word counts."""
        return {name: lot for look in self.looks for name, lot in look.lots.items()}

    @property
    def variations(self) -> tuple[str | None, ...]:
        """The versions that looks name."""
        return tuple(dict.fromkeys(look.variation for look in self.looks))

    def days(self, look: NoteRow) -> int:
        """Days from the pour to a look."""
        return (date.fromisoformat(look.on) - date.fromisoformat(self.poured)).days


def batches_of(
    notebook: Notebook, folder: Path, today: date | None = None
) -> tuple[list[Batch], list[Fault]]:
    """The batches by day of pour, and all that cannot be true.  ``today``: later looks are faults."""
    reading = _Reading(folder, today)
    rows = [row for row in notebook.rows if reading.is_possible(row)]
    standing = list(reading.standing(rows))
    groups: dict[str, list[NoteRow]] = {}
    for row in standing:
        groups.setdefault(row.batch_key, []).append(row)
    found = [reading.batch(key, group) for key, group in groups.items()]
    found.sort(key=lambda batch: (batch.poured, batch.key))
    return found, reading.faults


class _Reading:
    def __init__(self, folder: Path, today: date | None) -> None:
        self.folder = folder
        self.today = today
        self.faults: list[Fault] = []

    def fault(self, row: NoteRow, message: str, remedy: str = "") -> None:
        self.faults.append(Fault(Place(self.folder / "notes" / row.file), message, remedy))

    def is_possible(self, row: NoteRow) -> bool:
        if row.poured is not None and row.on < row.poured:
            self.fault(
                row,
                f"This look of {row.on} lies before the pour of {row.poured}; it is set aside.",
                "Correct one of the days by a new note that names this one under `corrects:`.",
            )
            return False
        if self.today is not None and row.on > self.today.isoformat():
            self.fault(
                row,
                f"This look lies in the future ({row.on}); it is set aside until then.",
                "If the day is a slip, write a note that names this one under `corrects:`.",
            )
            return False
        return True

    def standing(self, rows: Sequence[NoteRow]) -> Iterator[NoteRow]:
        """The rows that no correction replaces; a name that two files bear is told."""
        names: dict[str, NoteRow] = {}
        for row in rows:
            if row.note in names:
                self.fault(
                    row,
                    f'The note "{row.note}" is also in {names[row.note].file}; the first counts.',
                    "Keep one of the two files, or give one of them another name under `note:`.",
                )
            names.setdefault(row.note, row)
        corrected = {row.corrects for row in names.values() if row.corrects}
        for missing in sorted(corrected - names.keys()):
            row = next(each for each in names.values() if each.corrects == missing)
            message = f'This note corrects "{missing}", which is not there; it counts by itself.'
            self.fault(row, message, "Look for a slip in the name under `corrects:`.")
        for row in names.values():
            if row.note not in corrected:
                yield self._inherited(row, names)

    @staticmethod
    def _inherited(row: NoteRow, names: dict[str, NoteRow]) -> NoteRow:
        """A correction stands where the corrected stood, and keeps what that froze."""
        seen: set[str] = set()
        old = names.get(row.corrects or "")
        while old is not None and old.note not in seen:
            seen.add(old.note)
            row = corrected(old, row)
            old = names.get(old.corrects or "")
        return row

    def batch(self, key: str, rows: list[NoteRow]) -> Batch:
        looks = in_order(rows)
        poured_as: dict[str | None, Poured] = {}
        for look in looks:
            if look.frozen is None:
                continue
            if look.variation in poured_as:
                self.fault(
                    look,
                    "A second note says what was poured; the first of them counts.",
                    "If this one is right, name the first under its `corrects:`.",
                )
            poured_as.setdefault(look.variation, look.frozen)
        poured = next((look.poured for look in looks if look.poured), looks[0].on)
        batch = Batch(key, looks[0].plan, poured, tuple(looks), poured_as)
        return replace(
            batch, looks=tuple(self._poured_only(batch, look) for look in looks if self._fits(batch, look))
        )

    def _fits(self, batch: Batch, look: NoteRow) -> bool:
        if look.plan != batch.plan:
            self.fault(
                look,
                f'Batch "{batch.key}" was poured from "{batch.plan}", not from "{look.plan}".',
                "Give it a code of its own under `batch:`, by a note that corrects this one.",
            )
            return False
        if look.on < batch.poured and not look.is_setting_out:
            message = f"This look of {look.on} lies before the pour of {batch.poured}; it is set aside."
            remedy = "Correct one of the days by a new note that names this one under `corrects:`."
            self.fault(look, message, remedy)
            return False
        return True

    def _poured_only(self, batch: Batch, look: NoteRow) -> NoteRow:
        frozen = batch.frozen(look.variation)
        poured = (frozen.portions or frozen.doses) if frozen else {}
        strange = [name for name in look.portions if poured and name not in poured]
        for name in strange:
            self.fault(
                look, f'No portion "{name}" was poured in this batch; what is said of it is set aside.',
                f"It had {', '.join(poured)}.",
            )  # fmt: skip
        kept = {name: seen for name, seen in look.portions.items() if name not in strange}
        return replace(look, portions=kept) if strange else look


def corrected(old: NoteRow, new: NoteRow) -> NoteRow:
    """A correction laid over the note that it corrects: what it does not speak of stays as it was."""
    kept = ("batch", "poured", "after", "variation", "frozen", "room", "batter_at_split", "pour_took", "bars",
            "mass", "repeat", "remarks", "test_cup", "favourites", "votes", "photos")  # fmt: skip
    held = {name: getattr(new, name) for name in kept}
    said = {name: getattr(old, name) if value in (None, [], {}) else value for name, value in held.items()}
    portions = dict(old.portions)
    for name, seen in new.portions.items():
        portions[name] = _laid_over(old.portions.get(name, Seen()), seen)
    return replace(new, **said, portions=portions, lots={**old.lots, **new.lots})


def _laid_over(old: Seen, new: Seen) -> Seen:
    fields = {name: getattr(new, name) for name in Seen.__dataclass_fields__}
    if new.minutes is not None or new.fluid_at is not None:
        old = replace(old, minutes=None, fluid_at=None)  # thick and still fluid exclude one another
    return replace(old, **{name: value for name, value in fields.items() if value is not None})


def in_order(rows: Iterable[NoteRow]) -> list[NoteRow]:
    """Looks in the order of their references (``after``), else by stage, day and name.

    A reference outranks any date; a circle of references is broken where it began.
    """
    todo = sorted(rows, key=lambda row: (row.frozen is None, _stage(row), row.on, row.note))
    present = {row.note for row in todo} | {row.corrects for row in todo if row.corrects}
    waiting: dict[str, list[NoteRow]] = {}
    ready: list[NoteRow] = []
    for row in todo:
        if row.after in present and row.after not in (row.note, row.corrects):
            waiting.setdefault(str(row.after), []).append(row)
        else:
            ready.append(row)
    done: list[NoteRow] = []
    names: set[str] = set()
    while ready or waiting:
        if not ready:
            ready.append(waiting.pop(next(iter(waiting)))[0])
        row = ready.pop(0)
        if row.note in names:
            continue
        done.append(row)
        names.add(row.note)
        followers = [*waiting.pop(row.note, []), *(waiting.pop(row.corrects, []) if row.corrects else [])]
        ready = sorted([*followers, *ready], key=_by_stage)
    return [*done, *(row for row in todo if row.note not in names)]


def _by_stage(row: NoteRow) -> tuple[int, str, str]:
    return _stage(row), row.on, row.note


def _stage(row: NoteRow) -> int:
    return STAGES.index(row.look) if row.look in STAGES else len(STAGES)


def contradictions(batch: Batch) -> Iterator[tuple[NoteRow, NoteRow, str, str]]:
    """Two looks of one stage and version which differ on a portion: (earlier, later, portion, field)."""
    last: dict[tuple[str, str | None, str, str], NoteRow] = {}
    for look in batch.looks:
        for portion, seen in look.portions.items():
            for name in Seen.__dataclass_fields__:
                value = getattr(seen, name)
                key = (look.look, look.variation, portion, name)
                if value is None or name == "remarks":
                    continue
                before = last.get(key)
                if (
                    before is not None
                    and look.look != "later"
                    and getattr(before.portions[portion], name) != value
                ):
                    yield before, look, portion, name
                last[key] = look
