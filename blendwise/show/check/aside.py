"""What is said first: rules of the book that cannot be read, do not count or are never asked; odd figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from blendwise.answers.check.result import Aside
from blendwise.show.blocks import Block, Entry
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted, sentence
from blendwise.show.words import SOURCE, TAGS, TRY, odd_figure, place

MOST: Final = 5
"""Names told in one line; the doctor tells all."""
RULES_TAG: Final = "Your rules"
ODD: Final = ("odd figure", "day to come")
ODD_TAG: Final = "Look again"
DOCTOR: Final = "`blendwise doctor` names every one."


def aside_blocks(asides: Sequence[Aside]) -> Iterator[Block]:
    """One entry for each rule that cannot be read (five at most), then one line a kind."""
    unread = [each for each in asides if each.why == "cannot be read"]
    yield from map(_unread, unread[:MOST])
    if unread[MOST:]:
        headline = f"{counted(len(unread) - MOST, 'more rule')} cannot be read"
        tag = TAGS["stop"] if any(each.stop for each in unread[MOST:]) else RULES_TAG
        yield Entry(tag, headline, ((TRY, "`blendwise rules lint` tells them all."),))
    for why, say in LINES.items():
        told = [each for each in asides if each.why == why]
        if told:
            yield Entry(RULES_TAG, say(told), ((SOURCE, _places(told)),))
    yield from _odd([each for each in asides if each.why in ODD])


def _odd(asides: Sequence[Aside]) -> Iterator[Entry]:
    """A line for each figure that is hardly ever meant, in the words of its field."""
    for each in asides[:MOST]:
        said = odd_figure(each.name, each.what, each.why, each.message)
        yield Entry(ODD_TAG, said, ((SOURCE, _places([each])),))
    if asides[MOST:]:
        yield Entry(ODD_TAG, f"and {counted(len(asides) - MOST, 'more figure')} like these", ((TRY, DOCTOR),))


def _unread(aside: Aside) -> Entry:
    then = "until it is mended this counts as a stop" if aside.stop else "the check goes on without it"
    whose = f"{aside.name}: " if aside.what == "file" else ""
    details = ((TRY, sentence(aside.remedy)), (SOURCE, sentence(place(aside.where))))
    return Entry(
        TAGS["stop"] if aside.stop else RULES_TAG,
        f"{whose}{aside.message.removesuffix('.')}; {then}",
        tuple((name, text) for name, text in details if text.strip(". ")),
    )


def _names(asides: Sequence[Aside]) -> str:
    names = list(dict.fromkeys(quoted(each.name) for each in asides))
    more = [f"{len(names) - MOST} more"] if len(names) > MOST else []
    return joined([*names[:MOST], *more])


def _places(asides: Sequence[Aside]) -> str:
    spots = [place(each.where) for each in asides]
    more = f"; {DOCTOR}" if len(spots) > MOST else ""
    return sentence("; ".join(spots[:MOST]) + more)


def _locked(asides: Sequence[Aside]) -> str:
    are = "is a rule" if len(asides) == 1 else "are rules"
    return (
        f"{_names(asides)} {are} that nobody may loosen; what your copy changed does not count, "
        "the rulebook's own text does"
    )


def _never(asides: Sequence[Aside]) -> str:
    why = f": {asides[0].message} {asides[0].remedy}".rstrip(". ") if len(asides) == 1 else ""
    return f"your {'stop' if len(asides) == 1 else 'stops'} {_names(asides)} can never be asked{why}"


def _not_counted(asides: Sequence[Aside]) -> str:
    do = "does" if len(asides) == 1 else "do"
    return f"{_names(asides)} {do} not count; put into `rules/mine/` what you want of it"


def _files(asides: Sequence[Aside]) -> str:
    verb = "is" if len(asides) == 1 else "are"
    hold = "holds" if len(asides) == 1 else "hold"
    return (
        f"{_names(asides)} {verb} not read, and {hold} what may be a stop; rules stand in `rules/mine/`, "
        "in files that end in .yaml or .yml"
    )


LINES: Final[Mapping[str, Callable[[Sequence[Aside]], str]]] = {
    "locked rule changed": _locked,
    "never asked": _never,
    "not counted": _not_counted,
    "file not read": _files,
}
