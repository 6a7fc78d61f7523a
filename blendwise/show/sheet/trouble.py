"""If it goes wrong: what to do with these portions, in the fewest words that still help."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Sheet, Simpler, Trouble
from blendwise.show.numbers import halves_left
from blendwise.show.pages.render import name, names, said, warmth
from blendwise.show.sheet.cups import cups_named

if TYPE_CHECKING:
    from markupsafe import Markup

HEATS = {
    "gel": "it is kept warm on purpose",
    "sugar": "there is sugar in it",
    "spice": "there is spice in it",
    "size": "it is a large batch",
}


def trouble(sheet: Sheet) -> Iterator[tuple[str, list[Markup]]]:
    """If it rices, seizes, separates or heats: what to do with these portions (thick: on the front)."""
    if sheet.trouble.simpler:
        yield "Thickens: the ways out", list(plan_b(sheet.trouble.simpler))
    yield "Rices (grains)", list(_rices(sheet))
    yield "Seizes (solid)", list(_seizes(sheet))
    yield "Separates", list(_separates(sheet))
    yield "Heats, cracks, rises", list(_heats(sheet.trouble))


def ways_out(simpler: Sequence[Simpler]) -> Iterator[Markup]:
    """The same in a few words."""
    for other in simpler:
        if other.begin_by is None:
            yield said("Thick already: {pour}.", pour=name(other.pour))
        else:
            by = halves_left(other.begin_by)
            yield said("Still runs, before minute {by}: {pour}.", by=by, pour=name(other.pour))


def plan_b(simpler: Sequence[Simpler]) -> Iterator[Markup]:
    """The pours that ask for less, and by when they must begin."""
    for other in simpler:
        if other.begin_by is None:
            yield said("<b>Thick already: {pour}.</b> {how}", pour=name(other.pour), how=other.how)
        else:
            yield said(
                "<b>Still runs, begun by minute {by}: {pour}.</b> {how}",
                by=halves_left(other.begin_by),
                pour=name(other.pour),
                how=other.how,
            )


def _of_unknown(words_: str, scents: Mapping[str, Sequence[str]]) -> Iterator[Markup]:
    if scents:
        yield said("{words} {scents}.", words=words_, scents=names(list(scents)))


def expected(sheet: Sheet, scents: Mapping[str, Sequence[str]]) -> Iterator[Markup]:
    """Of which scent it is to be expected, and in which cups."""
    for scent, cups in scents.items():
        yield said("Expect it of {scent} in {cups}.", scent=name(scent), cups=cups_named(sheet, cups))


def _rices(sheet: Sheet) -> Iterator[Markup]:
    t = sheet.trouble
    yield from expected(sheet, t.rices)
    yield from _of_unknown("Not known of", t.ricing_unknown)
    if t.fit_blender:
        yield said(
            "Stick blend it smooth where the blender fits: {cups}.", cups=cups_named(sheet, t.fit_blender)
        )
    else:
        yield said("No cup here takes a stick blender.")
    yield said("A small cup: into the pot, with another of like colour. Not smooth: cook it.")


def _seizes(sheet: Sheet) -> Iterator[Markup]:
    yield from expected(sheet, sheet.trouble.seizes)
    yield said(
        "Hands out, do not lean over. Unplug the blender, then free it. Pack it into the mould with a spoon, "
        "or warm it gently and cook it."
    )


def _separates(sheet: Sheet) -> Iterator[Markup]:
    yield said("The watery part is strong lye. Stick blend all of it again until it stays one.")
    if sheet.pot is not None and sheet.pot.clear_from is not None:
        at = warmth(sheet.pot.clear_from, sheet.units)
        yield said("Cool and grainy, below {at}: warm it first.", at=at)
    yield said(
        "Parts in the mould: back into the pot and cook it. Weighing in doubt: dispose of it as caustic."
    )


def _heats(t: Trouble) -> Iterator[Markup]:
    if t.heats:
        yield said("It may: {why}.", why=", ".join(HEATS[reason] for reason in t.heats))
    yield said("Stand back. Tray under it, uncover, fan or cool place. No stabbing, no alcohol spray.")
