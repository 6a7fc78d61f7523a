"""What nobody has written down is an open interval that names the fact; never none, never zero."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.facts.columns import Column
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.worked_out import Situation
from tests.facts.small import SCENTS, asked, bent, book, column, spoken, value, values, words, worked

HALF_FOUND = bent(("{tonka: 1, lime: 2, cedar: 1}", "{found: 1, cedar: 1}"))


@pytest.fixture(scope="module")
def s() -> Situation:
    """The morning plan, half of its scent an oil that nobody has described."""
    return worked(HALF_FOUND)


def missing(s: Situation, name: str) -> set[tuple[str, str]]:
    """What a measure waits for."""
    return {(m.subject, m.fact) for gap in column(s, name).missing.values() for m in gap}


@pytest.mark.parametrize(
    ("measure", "fact"),
    [
        ("browning load", "vanillin"),
        ("browning band", "vanillin"),
        ("cured lightness", "vanillin"),
        ("colour shift", "vanillin"),
        ("contrast", "vanillin"),
        ("lightness difference", "vanillin"),
        ("bands apart", "vanillin"),
        ("browning power", "vanillin"),
        ("vanillin", "vanillin"),
        ("thickening", "acceleration"),
        ("minutes fluid", "acceleration"),
        ("fluid until", "acceleration"),
        ("acceleration", "acceleration"),
        ("seizes", "acceleration"),
        ("quickening", "acceleration"),
        ("ricing", "ricing"),
        ("after six weeks", "after six weeks"),
        ("flash point", "flash point"),
        ("lowest flash point", "flash point"),
        ("flammable category", "flash point"),
        ("for skin", "for skin"),
        ("base notes", "scent note"),
        ("top notes", "scent note"),
        ("scent note", "scent note"),
        ("volatility", "constituents"),
        ("evidence", "evidence"),
        ("bottle age", "day bought"),
    ],
)
def test_an_undescribed_oil_opens_what_hangs_on_it(s: Situation, measure: str, fact: str) -> None:
    """Each measure that needs the fact is open somewhere and names the oil and the fact."""
    found = column(s, measure)
    assert not found.known.all()
    assert ("found", fact) in missing(s, measure)


def test_what_is_certain_is_kept(s: Situation) -> None:
    """A sum with one unknown term is at least the rest of it."""
    load, q = column(s, "browning load"), column(s, "thickening")
    assert [np.inf] * 4 == list(load.high)
    assert [0.0] * 4 == list(load.low)
    assert (q.low > 1).all()  # cedar's own part
    assert [np.inf] * 4 == list(q.high)
    assert column(s, "base notes").low[0] == pytest.approx(0.5)
    assert column(s, "base notes").high[0] == 1.0


def test_no_certificate_is_told_apart_from_no_limit(s: Situation) -> None:
    """The oil without a certificate is not in the sum of limits; that it has none is a fact of its own."""
    certificate = column(s, "certificate")
    assert dict(zip(s.scents, certificate.low, strict=True)) == {"found": 0.0, "cedar": 1.0}
    assert value(s, "limit used") == pytest.approx(column(s, "share in bar").low[1] / 0.25)


def test_where_it_is_not_dosed_nothing_is_open() -> None:
    """An unknown oil kept to one portion leaves the others known."""
    s = worked(HALF_FOUND + "only: [{scent: found, in: [soil]}]\n")
    assert [True, True, True, False] == list(column(s, "browning load").known)
    assert [True, True, True, False] == list(column(s, "thickening").known)
    assert 3 == len(column(s, "contrast").missing)  # the edges of that portion


def test_a_browner_of_unknown_amount_opens_the_band_upwards() -> None:
    """Known vanillin with another browner not known: at least the band of the vanillin."""
    text = SCENTS.replace(
        "  vanillin: 5 to 7 %", "  vanillin: 5 to 7 %\n  browns by: {heliotropin: not known}"
    )
    s = worked(files=book(scents=text))
    known = worked()
    band, before = column(s, "browning band"), column(known, "browning band")
    assert list(band.low) == list(before.low)
    assert [5.0] * 4 == list(band.high)
    assert missing(s, "browning band") == {("tonka", "heliotropin")}


def test_a_colourant_nobody_described_opens_what_it_does() -> None:
    """Stable, bleeding, fading: not known names the colourant; a known yes needs nothing more."""
    s = worked()
    assert ("clay", "bleeds") in missing(s, "colour bleeds")
    assert value(s, "colour stable in lye", 0) == 1
    assert not column(s, "colour stable in lye").known[1]
    assert spoken(s, "colour thickens", 1) == "yes"  # a clay
    assert words(s, "dispersed in", 0) == {"oil"}


def test_hard_fats_without_a_clear_point_leave_the_floor_open_upwards() -> None:
    """A hard fat of no known kind whose clear point nobody noted can only raise the floor."""
    oils = "olive: {saponification: 184 to 196, hardness: liquid}\n"
    oils += "coconut: {saponification: 248 to 265, hardness: hard, clear at: 25 °C}\n"
    oils += "shea: {saponification: 170 to 190, hardness: hard}\nsunflower: {saponification: 188 to 194}\n"
    assert np.isfinite(column(worked(files=book(oils=oils)), "clear temperature").high[0])
    seed = bent(("shea: 100 g", "seed-butter: 100 g"))
    files = book(oils=oils.replace("shea", "seed-butter"))
    floor = column(worked(seed, files), "clear temperature")
    assert floor.high[0] == np.inf
    assert 15 < floor.low[0] < 25
    gap = column(worked(seed, files), "above clear temperature")
    assert (gap.low[0], gap.high[0]) == (-np.inf, 33 - floor.low[0])
    assert [("seed-butter", "clear at")] == [(m.subject, m.fact) for m in gap.missing[0]]


def test_the_lowest_flash_point_is_at_most_the_lowest_known() -> None:
    """One unknown flash point leaves the mix no safer than its worst known part."""
    s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", "{found: 1, lime: 1}")))
    found = column(s, "lowest flash point")
    assert (found.low[0], found.high[0]) == (-np.inf, 46.0)


def test_an_embed_of_unknown_softening_point() -> None:
    """Known embeds that melt are enough for a yes; otherwise the unknown one leaves it open."""
    embeds = "embeds: [{what: cubes, mass: 50 g, softens: SOFT}, {what: curls, mass: 20 g}]\n"
    low, high = (worked(bent() + embeds.replace("SOFT", soft)) for soft in ("40 °C", "95 °C"))
    assert value(low, "heats and melts embeds") == 1
    assert not column(high, "heats and melts embeds").known[0]
    assert missing(high, "heats and melts embeds") == {("curls", "softens")}
    assert (column(high, "embeds soften").low[0], column(high, "embeds soften").high[0]) == (-np.inf, 95.0)


def test_things_that_are_not_there_are_not_asked() -> None:
    """0/0: an unscented portion's citrus, an unscented batch's notes, embeds without embeds."""
    s = worked(HALF_FOUND + "never: [{scent: found, in: [milk]}]\n")
    none = worked(bent(("scents:\n  blend: {tonka: 1, lime: 2, cedar: 1}\n  load: 4 % of batch oils\n", "")))
    assert [False] * 4 == asked(none, "citrus")
    assert [False] == asked(none, "base notes")
    assert [False] == asked(none, "lowest flash point")
    assert [False] == asked(s, "embeds soften")
    assert values(none, "limit used") == [0.0]


def test_every_gap_of_every_measure_is_named(s: Situation) -> None:
    """No open interval is without the fact that would close it, but one written so ("above 93 °C")."""
    for name in REGISTRY:
        found = s.home(name)
        if isinstance(found, Column):
            there = np.ones(len(found), dtype=bool) if found.asked is None else found.asked
            written_so = np.isfinite(found.low) & (name == "flash point")
            for row in np.flatnonzero(there & ~found.known & ~written_so):
                assert found.missing.get(int(row)), (name, row)
