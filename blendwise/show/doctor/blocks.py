"""A book examined, in blocks: what is wrong first, then cautions and hints, then how the plans stand."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.doctor.result import DoctorResult, Sign
from blendwise.show.blocks import Block, Entry, Note, Rows, Section, Title
from blendwise.show.doctor import words as say
from blendwise.show.text import sentence
from blendwise.show.words import place


def doctor_blocks(result: DoctorResult) -> list[Block]:
    """The whole answer, heaviest first."""
    return [
        Title(f"The book {result.book}", say.verdict(result)),
        *(() if result.whole else (Note(say.HALF),)),
        *(_sign(sign) for sign in result.signs),
        *_plans(result),
        Note(say.footing(result)),
    ]


def _sign(sign: Sign) -> Entry:
    details = {say.WHICH: say.listed(sign), say.TRY: say.remedy(sign), say.WHERE: place(sign.where)}
    told = tuple((name, sentence(text)) for name, text in details.items() if text)
    return Entry(say.TAGS[sign.weight], say.headline(sign), told)


def _plans(result: DoctorResult) -> Iterator[Block]:
    if result.plans:
        yield Section(say.PLANS)
        yield Rows((), (), tuple(say.plan(line) for line in result.plans))
