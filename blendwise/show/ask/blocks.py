"""A question's answer in five lines, then the command that says more."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from importlib import import_module
from typing import TYPE_CHECKING, Final, cast

from blendwise.answers.ask.result import AskResult
from blendwise.show.ask import words as say
from blendwise.show.ask.oils.dose import not_taken
from blendwise.show.blocks import Block, Line, Rows, Title
from blendwise.show.check.brief import SAFETY
from blendwise.show.text import joined, quoted, sentence

if TYPE_CHECKING:
    from blendwise.answers.pair.result import PairResult

MOST: Final = 6
"""Lines of an answer, beside what was understood, where more is told, and safety."""


def ask_blocks(result: AskResult) -> list[Block]:
    """What was understood, at most six lines, and the command that says more."""
    match result.status:
        case "deferred":
            return _deferred(result)
        case "declined":
            return [Title(say.DECLINED, say.ABOUT)]
        case "unsure":
            return [Title(say.UNSURE, say.PICK), *_near(result)]
        case "not named":
            return [Title(say.question(result.question), f"{say.LACKS[result.lacks]}: {_how(result)}")]
    first, *rest = list(dict.fromkeys(_answer(result)))[:MOST] or [Line("", "")]
    return [
        Title(
            say.question(result.question),
            sentence(f"{first.tag.capitalize()}: {first.text}" if first.tag else first.text),
        ),
        *rest,
        *not_taken(result),
        *_read_as(result),
        _more(result),
        *_else(result),
        Line("", SAFETY),
    ]


def _deferred(result: AskResult) -> list[Block]:
    """Whom to ask instead."""
    from blendwise.answers.why.result import WhyResult
    from blendwise.show.why.blocks import deferred_blocks

    found = result.found
    assert isinstance(found, WhyResult)
    assert found.deferred is not None
    return deferred_blocks(found.deferred, result.asked)


def _else(result: AskResult) -> Iterator[Line]:
    """The other questions that may have been meant."""
    others = [say.question(each.question) for each in result.near if each.question != result.question]
    if others and not result.sure:
        yield Line("", f"{say.ELSE} {' '.join(others)} {say.PICK}")


def _near(result: AskResult) -> Iterator[Block]:
    rows = tuple(f"{number}. {say.question(each.question)}" for number, each in enumerate(result.near, 1))
    yield Rows((), (), rows)


def _how(result: AskResult) -> str:
    """The same question with a place for what is missing."""
    asked = " ".join(result.asked.split())
    return f'blendwise ask "{asked}" PLAN' if "plan" in result.lacks else 'blendwise ask "… OIL …"'


def _answer(result: AskResult) -> Iterator[Line]:
    """The lines of an answer; what lays out another kind is not loaded."""
    kind = "" if result.found is None else type(result.found).__name__
    if result.call == "said":
        yield from _said(result)
    elif result.sold is not None:
        from blendwise.show.ask import selling

        yield from selling.of_sold(result.sold, result.units)
    elif result.half is not None and not kind:
        from blendwise.show.ask import cups

        yield from cups.half(result.half, result.units)
    elif kind:
        room, name = TOLD_BY[kind]
        yield from getattr(import_module(f"blendwise.show.ask.{room}"), name)(result, result.found)


def _said(result: AskResult) -> Iterator[Line]:
    """What is true of every oil; of a certificate's figure what it comes to."""
    if result.found is None:
        yield Line("", say.SAID[result.question])
        return
    from blendwise.show.ask.oils.strength import without_oil

    yield from without_oil(result, cast("PairResult", result.found))


TOLD_BY: Final[Mapping[str, tuple[str, str]]] = {
    "PairResult": ("oils.answers", "of_pair"),
    "CheckResult": ("plans", "of_check"),
    "AssignResult": ("parts", "of_assign"),
    "LabelDraft": ("selling", "of_label"),
    "ReviewResult": ("parts", "of_review"),
    "ScentResult": ("parts", "of_scent"),
    "WhyResult": ("symptoms", "of_why"),
}
"""Kind of what was found → the module that lays it out, and its function."""


def _read_as(result: AskResult) -> Iterator[Line]:
    """What was read as which name, and what could have been either."""
    told = [f"{quoted(typed)} is read as {name}" for typed, name in result.named.read_as.items()]
    told += [f"{name} is an oil and a cup of yours" for name in result.named.both]
    if told:
        yield Line("", joined(told))


def _more(result: AskResult) -> Line:
    return Line("More", f"`blendwise {shlex.join(result.command)}`")
