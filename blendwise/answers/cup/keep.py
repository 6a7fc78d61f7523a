"""A cup's record: a note that only keeps what was set out, so that looks can be noted and counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from blendwise.answers.cup.compute import Poured
from blendwise.answers.note.frozen import Day, freeze
from blendwise.answers.note.text import Field, write_note
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.note import LOOKS


def keep(poured: Poured, rulebook: Rulebook, folder: Path, batches: list[Batch]) -> str:
    """Write the record and give its file; one that was kept that day and waits for its pour stands for it."""
    day = _day(poured, rulebook)
    for batch in batches:
        if batch.plan == poured.name and batch.is_unlooked and _same(batch, poured):
            return f"notes/{batch.looks[0].file}"
    fields: dict[str, Field] = {
        "plan": poured.name,
        "test cup": "yes",
        "variation": "",
        "look": LOOKS[0],
        "on": poured.s.today.isoformat(),
        "batch": _code(poured, batches),
        "lots": _lots(poured),
    }
    known = frozenset(each.name for each in (folder / "notes").glob("*"))
    _, file, _ = write_note(folder, fields, day, dry_run=False, known=known)
    return file.relative_to(folder).as_posix()


def _code(poured: Poured, batches: list[Batch]) -> str:
    """Its name and day; a number where that was taken by another cup of the day."""
    first = f"{poured.name} {poured.s.today}"
    taken = {batch.key for batch in batches}
    number = next(n for n in range(1, len(taken) + 2) if _numbered(first, n) not in taken)
    return _numbered(first, number)


def _numbered(code: str, number: int) -> str:
    return code if number == 1 else f"{code} {number}"


def _day(poured: Poured, rulebook: Rulebook) -> Day:
    """What was set out, without the rules that spoke of it: a cup is no trial of a rule."""
    day = freeze(poured.s, rulebook)
    portions: dict[str, Mapping[str, object]] = {name: dict(held) for name, held in day.portions.items()}
    for cup in poured.cups:
        if cup.lots:
            portions[cup.name] = {**portions[cup.name], "lots": dict(cup.lots)}
    return replace(day, flagged={}, plan_text="", portions=portions)  # type: ignore[arg-type]


def _lots(poured: Poured) -> dict[str, str]:
    """The lots of the shelf's bottles; of lots side by side the shelf's, if it is among them."""
    found = {}
    for oil in poured.wanted.oils:
        shelf = poured.s.book.scents[oil].lot
        tried = [cup.lots[oil] for cup in poured.cups if oil in cup.lots]
        lot = shelf if shelf and (not tried or shelf in tried) else next(iter(tried), None)
        if lot:
            found[oil] = lot
    return found


def _same(batch: Batch, poured: Poured) -> bool:
    """Whether the record of a batch holds the very cups of this day."""
    kept = batch.frozen(None)
    if kept is None or batch.poured != poured.s.today.isoformat():
        return False
    held = {cup.name: {oil: round(g, 3) for oil, g in cup.scents.items()} for cup in poured.cups}
    lots = {cup.name: dict(cup.lots) for cup in poured.cups}
    return held == {
        name: {oil: round(g, 3) for oil, g in kept.doses.get(name, {}).items()} for name in kept.portions
    } and lots == {name: dict(made.lots) for name, made in kept.portions.items()}
