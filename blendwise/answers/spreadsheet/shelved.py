"""Names that stand twice: in a sheet, or on the shelf already.  Nothing that is there is ever changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blendwise.answers.spreadsheet.answers import LOTS, OILS, ONCE, Answers, key
from blendwise.answers.spreadsheet.result import Question
from blendwise.records.kinds.scent import Scent
from blendwise.records.reading.record import Record

Difference = tuple[str, str, str]
ON_THE_SHELF: Final = "on the shelf"


@dataclass(frozen=True, slots=True)
class _Held:
    scent: Scent
    supplier: str | None
    row: int
    cells: tuple[str, ...]


class Shelved:
    """The oils of a sheet by name as they come, beside those of the shelf."""

    def __init__(self, answers: Answers, shelf: Mapping[str, Scent]) -> None:
        self.answers = answers
        self.taken = {key(name): _Held(scent, None, 0, ()) for name, scent in shelf.items()}
        self.known: list[str] = []
        self._asked: dict[str, Question] = {}

    def placed(
        self, name: str, scent: Scent, supplier: str, row: int, cells: Sequence[str]
    ) -> tuple[str, str, tuple[Difference, ...]]:
        """(the oil's own name, why it is left out or an empty text, what differs from the shelf's)."""
        new = _Held(scent, supplier, row, tuple(cells))
        held = self.taken.get(key(name))
        if held is None:
            self.taken[key(name)] = new
            return name, "", ()
        if held.row == 0 and not _other_lot(held, new):
            self.known.append(name)
            return name, ON_THE_SHELF, tuple(_differences(held.scent, scent))
        if held.cells == new.cells:
            return name, f"it is the same as row {held.row}", ()
        return self._second(name, held, new)

    def _second(self, name: str, held: _Held, new: _Held) -> tuple[str, str, tuple[Difference, ...]]:
        """A second row of a name: another lot, another oil, or left out until a maker says which."""
        said = self._said(name, held, new)
        own = "" if said == ONCE else _own_name(name, said, new, self.taken)
        if own and key(own) in self.taken and self.taken[key(own)].row == 0:
            self.known.append(own)
            return own, ON_THE_SHELF, tuple(_differences(self.taken[key(own)].scent, new.scent))
        if own:
            self.taken[key(own)] = new
            return own, "", ()
        where = "on your shelf" if held.row == 0 else "in an earlier row"
        return name, f'"{name}" stands {where}', tuple(_differences(held.scent, new.scent))

    def _said(self, name: str, held: _Held, new: _Held) -> str:
        if held.supplier and new.supplier:
            return LOTS if key(held.supplier) == key(new.supplier) else OILS
        answer = self.answers.names.get(key(name), "").casefold()
        if answer in (LOTS, OILS, ONCE):
            return answer
        found = self._asked.get(key(name))
        rows = (*(found.rows if found else (held.row,) if held.row else ()), new.row)
        self._asked[key(name)] = Question(
            "name", "", name, "twice", LOTS, False, (LOTS, OILS, ONCE), rows, (name,)
        )
        return ONCE

    def questions(self) -> Iterator[Question]:
        """What is asked of names that stand twice."""
        yield from self._asked.values()


def _other_lot(held: _Held, new: _Held) -> bool:
    """Whether both say their lot, and another one."""
    one, other = held.scent.lot, new.scent.lot
    return bool(one and other and key(one) != key(other))


def _own_name(name: str, said: str, new: _Held, taken: Mapping[str, _Held]) -> str:
    """A name for the second: by its lot, by its supplier, else by a number that is free."""
    told = new.supplier if said == OILS else new.scent.lot and f"lot {new.scent.lot}"
    if told and (key(f"{name} ({told})") not in taken or taken[key(f"{name} ({told})")].row == 0):
        return f"{name} ({told})"
    number = 2
    while key(f"{name} ({number})") in taken and taken[key(f"{name} ({number})")].row != 0:
        number += 1
    return f"{name} ({number})"


def _differences(there: Scent, new: Scent) -> Iterator[Difference]:
    """(field, the sheet's, the shelf's) of all that the sheet says otherwise; what it leaves out is none."""
    for field in [each for each in Scent.model_fields if each != "name"]:
        one, other = getattr(there, field), getattr(new, field)
        if other is not None and _short(one) != _short(other):
            shown = Scent.model_fields[field].alias or field.replace("_", " ")
            yield shown, _short(other), _short(one)


def _parts(record: Record) -> Iterator[str]:
    """The fields of a record that are said; the one that a plain text stands for without its name."""
    for field, info in type(record).model_fields.items():
        if (item := getattr(record, field)) is not None:
            name = info.alias or field.replace("_", " ")
            yield _short(item) if name == record.shorthand else f"{name} {_short(item)}"


def _short(value: object) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, Record):
        return ", ".join(_parts(value))
    if isinstance(value, Mapping):
        return ", ".join(f"{name} {_short(item)}" for name, item in value.items())
    if isinstance(value, (list, tuple)):
        return ", ".join(map(_short, value))
    return {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)
