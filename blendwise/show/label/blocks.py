"""The draft of a label in blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.label.result import AtMarket, Ingredient, LabelDraft
from blendwise.show.blocks import Block, Note, Rows, Section
from blendwise.show.check.label import names_none
from blendwise.show.label.words import (
    HELP,
    PAPERS,
    PUT_IN,
    SAPONIFIED,
    SAPONIFIED_NOTE,
    TITLE,
    UK_NOTE,
    US_NOTE,
    still_open,
)
from blendwise.show.numbers import amount
from blendwise.show.text import joined

TO_BE_ASKED = " (name to be asked)"


def label_draft_blocks(draft: LabelDraft) -> Iterator[Block]:
    """What is open first, then lists, names, weight and code, then each market."""
    day = draft.sold_on.isoformat()
    yield Section(f"{TITLE}: {draft.plan}, sold on {day}")
    yield Rows((), (), tuple(still_open(each, draft.units) for each in draft.open_))
    for title, entries in ((PUT_IN, draft.as_put_in), (SAPONIFIED, draft.as_saponified)):
        if entries:
            yield Section(title)
            lists = (f"EU and UK: {_list(entries)}", f"US: {_list(entries, us=True)}")
            yield Rows((), (), lists[::-1] if _american(draft) else lists)
    if draft.as_saponified:
        yield Note(SAPONIFIED_NOTE)
    yield Section("Weight and batch")
    yield Rows((), (), (*_weight(draft), f"Batch code: {draft.batch_code}"))
    yield Section("Where it is sold")
    markets = sorted(draft.markets, key=lambda each: _american(draft) and each.market != "US")
    yield Rows((), (), tuple(_market(each) for each in markets))
    if draft.names.not_known:
        yield Rows((), (), (f"Allergens not known of {joined(draft.names.not_known)}.",))
    if draft.names.names_none:
        yield Rows((), (), (f"By their papers {names_none(draft.names.names_none)}.",))
    yield Note(f"{HELP} Table of allergens of {draft.names.tables_of.isoformat()}.")


def _american(draft: LabelDraft) -> bool:
    """Whether the book weighs in ounces: its own market stands first then."""
    return draft.units.mass == "oz"


def _list(entries: Sequence[Ingredient], us: bool = False) -> str:
    return ", ".join(
        (each.name_us if us else each.name) + ("" if each.known else TO_BE_ASKED) for each in entries
    )


def _weight(draft: LabelDraft) -> Iterator[str]:
    weight, units = draft.weight, draft.units
    still = amount(weight.still_to_lose, "%", units)
    if weight.net is None or weight.net_ounces is None:
        yield f"A bar that has lost its cure loss may still lose {still} until it is dry."
        return
    lightest = amount(min(weight.weighed), "g", units)
    yield (
        f"Net weight: {weight.net:g} g, {weight.net_ounces:g} oz; the lightest of {len(weight.weighed)} is "
        f"{lightest}, and may still lose {still}."
    )


def _market(each: AtMarket) -> str:
    papers = "; ".join(PAPERS[paper] for paper in each.papers)
    if each.market == "US":
        return f"US: {US_NOTE}. Before sale: {papers}."
    names = joined(each.allergens) if each.allergens else "none that is known"
    since = f", in force for new soap since {each.since.isoformat()}" if each.since else ""
    more = f" ({UK_NOTE})" if each.market == "UK" else ""
    named = f"{each.market}: allergens to name in the list: {names}{more}; {each.law}{since}."
    return f"{named} Before sale: {papers}."
