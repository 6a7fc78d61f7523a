"""What checks have in common: percentages that should make a whole, names that should be there."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Final

from blendwise.quantity import Amount
from blendwise.records.nearest import hint
from blendwise.records.place import Fault
from blendwise.records.reading.document import Document

SLACK: Final = 0.0005
"""How far percentages may miss 100 % by rounding (0.05 %)."""
Path_ = tuple[str | int, ...]
Named = tuple[str, Path_, bool]
"""A name, where it is written, and whether it is written as a key there."""


def percent(fraction: float) -> str:
    """A fraction as per cent with all the digits that matter."""
    return f"{fraction * 100:.6g} %"


def sum_fault(amounts: Mapping[str, Amount], doc: Document, path: Path_, what: str) -> Iterator[Fault]:
    """Percentages that should make up a whole and do not."""
    total = sum(amount.value for amount in amounts.values())
    if abs(total - 1.0) > SLACK:
        short, change = ("short", "add") if total < 1.0 else ("too much", "take away")
        off = percent(abs(1 - total))
        yield Fault(
            doc.place(*path),
            f"{what} add up to {percent(total)}.",
            f"That is {off} {short}: {change} {off} so that they make 100 %.",
        )


def strangers(
    named: Iterable[Named], known: Collection[str], what: str, whose: str, doc: Document
) -> Iterator[Fault]:
    """Names that are not among ``known``, each with the nearest one."""
    for name, path, is_key in named:
        if name not in known:
            place = doc.key_place(*path) if is_key else doc.place(*path)
            yield Fault(place, f'There is no {what} "{name}".', hint(name, known, whose))
