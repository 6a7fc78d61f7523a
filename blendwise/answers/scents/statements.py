"""What a book says of one oil, statement by statement, each with whose word it is and its line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from blendwise.answers.answer import hidden, told
from blendwise.quantity import Amount
from blendwise.records.book import BookFiles
from blendwise.records.kinds.scent import Scent

BEHAVIOURS: Final = (
    *("vanillin", "browns to", "acceleration", "ricing", "after six weeks", "flash point", "for skin"),
    *("limit in bar", "allergen sheet"),
)
"""What a plan's advice rests on; where one is missing it is said to be not known."""
FACTS: Final = (
    *("kind", "scent note", "vanillin", "ethyl vanillin", "browns by", "browns to", "own cast"),
    *("acceleration", "ricing", "after six weeks", "flash point", "for skin", "limit in bar"),
    *("allergen sheet", "label name", "tags", "lot", "price", "on hand", "bought", "goes with", "evidence"),
)
"""Every fact in the order in which it is told."""


@dataclass(frozen=True, slots=True)
class Statement:
    """One fact: ``text`` as written, ``amount`` where it is one; at what ``dose``, by whom, and where."""

    fact: str
    text: str
    amount: Amount | None = hidden(None)
    dose: Amount | None = hidden(None)
    evidence: str = ""
    more: str = ""
    line: int | None = None

    @told
    def at(self) -> str:
        """The dose at which it was seen, as written; empty where none is said."""
        return self.dose.text if self.dose else ""


def statements(scent: Scent, book: BookFiles) -> tuple[Statement, ...]:
    """All that the catalogue says of an oil, in the order of ``FACTS``; what is not known is left out."""
    found = {statement.fact: statement for statement in _stated(scent)}
    doc = book.docs.get("scents.yaml")
    told = []
    for fact in FACTS:
        if fact not in found:
            continue
        line = doc.key_place(scent.name, fact).line if doc is not None else None
        told.append(_with_line(found[fact], line))
    return tuple(told)


def _with_line(one: Statement, line: int | None) -> Statement:
    return Statement(one.fact, one.text, one.amount, one.dose, one.evidence, one.more, line)


def not_known(scent: Scent) -> tuple[str, ...]:
    """The behaviours that nobody has written down."""
    known = {statement.fact for statement in _stated(scent)}
    return tuple(fact for fact in BEHAVIOURS if fact not in known)


def _stated(scent: Scent) -> Iterator[Statement]:
    yield from _plain(scent)
    yield from _seen_in_soap(scent)
    yield from _papers(scent)
    yield from _bottle(scent)


def _plain(scent: Scent) -> Iterator[Statement]:
    told = scent.evidence or ""
    words = {"kind": scent.kind, "scent note": scent.scent_note, "own cast": scent.own_cast}
    words |= {
        "ricing": scent.ricing,
        "after six weeks": scent.after_six_weeks,
        "label name": scent.label_name,
    }
    yield from (Statement(fact, word, evidence=told) for fact, word in words.items() if word)
    amounts = {"vanillin": scent.vanillin, "ethyl vanillin": scent.ethyl_vanillin}
    amounts |= {"flash point": scent.flash_point}
    yield from (Statement(fact, one.text, one, evidence=told) for fact, one in amounts.items() if one)
    if scent.for_skin is not None:
        yield Statement("for skin", "yes" if scent.for_skin else "no", evidence=told)
    if scent.evidence:
        yield Statement("evidence", scent.evidence)


def _seen_in_soap(scent: Scent) -> Iterator[Statement]:
    if (browns := scent.browns_to) is not None:
        day = f"on {browns.on.isoformat()}" if browns.on else ""
        yield Statement(
            "browns to",
            browns.band,
            dose=browns.at,
            evidence=browns.evidence or scent.evidence or "",
            more=day,
        )
    if (quick := scent.acceleration) is not None:
        against = f"against {quick.against}" if quick.against else ""
        told = quick.evidence or scent.evidence or ""
        yield Statement("acceleration", quick.told, dose=quick.at, evidence=told, more=against)


def _papers(scent: Scent) -> Iterator[Statement]:
    if scent.browns_by:
        yield Statement("browns by", contents(scent.browns_by), evidence=scent.evidence or "")
    if (limit := scent.limit_in_bar) is not None:
        dated = f"dated {limit.dated.isoformat()}" if limit.dated else ""
        paper = f"certificate {limit.certificate}" if limit.certificate else "no certificate named"
        yield Statement("limit in bar", limit.most.text, limit.most, evidence=paper, more=dated)
    if (sheet := scent.allergen_sheet) is not None:
        complete = "complete" if sheet.complete else "not said to be complete"
        names = contents(dict(sheet.names)) or "no names"
        yield Statement("allergen sheet", names, evidence="the supplier's sheet", more=complete)


def contents(shares: dict[str, Amount | None]) -> str:
    """Constituents and their shares in one text: ``heliotropin 1 to 2 %; amber accord not known``."""
    return "; ".join(f"{name} {share.text if share else 'not known'}" for name, share in shares.items())


def _bottle(scent: Scent) -> Iterator[Statement]:
    texts = {
        "tags": "; ".join(scent.tags),
        "lot": scent.lot or "",
        "price": scent.price.text if scent.price else "",
        "bought": scent.bought.isoformat() if scent.bought else "",
        "goes with": "; ".join(f"{name} {fit}" for name, fit in scent.goes_with.items()),
    }
    yield from (Statement(fact, text) for fact, text in texts.items() if text)
    if scent.on_hand is not None:
        yield Statement("on hand", scent.on_hand.text, scent.on_hand)
