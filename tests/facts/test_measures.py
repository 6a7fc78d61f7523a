"""Measures that no other test works out by hand: the oil, its papers, warmth, colour, side by side."""

from __future__ import annotations

import numpy as np
import pytest

from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.appearance import appearance, cured_lab, own_casts
from blendwise.facts.situation.worked_out import Situation
from blendwise.science.browning import browned_lab, own_cast_absorption
from blendwise.science.colour import colour_difference, lab_from_hex
from tests.facts.small import (
    SCENTS,
    asked,
    bent,
    book,
    column,
    spoken,
    value,
    values,
    words,
    worked,
)

ALL_FIVE = bent(("{tonka: 1, lime: 2, cedar: 1}", "{tonka: 2, lime: 4, cedar: 2, carnation: 1, found: 1}"))
TONKA, LIME, CEDAR, CARNATION, FOUND = range(5)


@pytest.fixture(scope="module")
def s() -> Situation:
    """The morning plan with every oil of the shelf, for sale."""
    return worked(ALL_FIVE)


def test_papers_and_age(s: Situation) -> None:
    """Certificates, their age in years, sheets and who says so, as the catalogue has them."""
    assert [1, 1, 1, 1, 0] == list(column(s, "certificate").low)
    assert value(s, "certificate age", TONKA) == pytest.approx(2.0, abs=0.002)
    assert not column(s, "certificate age").known[LIME]
    sheets = [spoken(s, "allergen sheet", i) for i in range(5)]
    assert ["complete", "complete", "none", "partial", "none"] == sheets
    assert ["own cup", "supplier", "own batch", "own cup"] == [spoken(s, "evidence", i) for i in range(4)]
    described = column(s, "described")
    assert [1, 1, 1, 1] == list(described.low[:4])
    assert [True, True, True, True, False] == list(described.known)
    assert value(s, "label names known") == 0


def test_a_sheet_that_contradicts_is_told() -> None:
    """Vanillin by the sheet above what the oil's own line says: told, and the higher counts."""
    s = worked(files=book(scents=SCENTS.replace("vanillin: 5 to 7 %", "vanillin: 3 %")))
    assert [1, 0, 0] == list(column(s, "sheet contradicts vanillin").low)
    assert column(s, "browning power").low[TONKA] == pytest.approx(0.08)
    assert [0, 0, 0] == list(column(worked(), "sheet contradicts vanillin").low)


def test_the_guard_is_three_per_cent_and_half_a_per_cent_for_spice(s: Situation) -> None:
    """Our own guard: dose over 3 % of portion oils, over 0.5 % where tagged spice (judgement)."""
    dose, guard = column(s, "dose").low.reshape(s.shape), column(s, "guard used").low.reshape(s.shape)
    assert guard[FOUND] == pytest.approx(dose[FOUND] / 0.03)
    assert guard[CARNATION] == pytest.approx(dose[CARNATION] / 0.005)


def test_what_is_on_hand(s: Situation) -> None:
    """Short by: grams that the bottle lacks; not asked where nobody weighed it."""
    assert column(s, "short by").low[TONKA] == pytest.approx(float(s.x[TONKA].sum()) - 40)
    assert [True, False, False, False, False] == asked(s, "short by")


def test_the_blend_s_shares(s: Situation) -> None:
    """Shares by mass, as the plan writes them; poured as asked."""
    assert values(s, "blend share") == pytest.approx([0.2, 0.4, 0.2, 0.1, 0.1])
    assert values(s, "blend total met") == pytest.approx([1] * 5)
    assert (column(s, "base notes").low[0], column(s, "base notes").high[0]) == pytest.approx((0.4, 0.6))
    assert value(s, "spice") == pytest.approx(0.1)
    assert values(s, "citrus") == pytest.approx([0.4] * 4)
    assert values(s, "fixatives") == pytest.approx([0.2] * 4)


def test_flash_points_and_their_category(s: Situation) -> None:
    """46 °C is category 3, 94 °C none; above 93 °C is open upwards (GHS, published)."""
    assert [5.0, 3.0] == list(column(s, "flammable category").low[:2])
    assert (column(s, "flash point").low[CEDAR], column(s, "flash point").high[CEDAR]) == (93.0, np.inf)


def test_acceleration_in_words_and_as_a_gate(s: Situation) -> None:
    """The words of the catalogue; seizing is a gate; the factor is the middle of the word's range."""
    assert ["moderate", "none", "slight", "fast"] == [spoken(s, "acceleration", i) for i in range(4)]
    assert [0, 0, 0, 0] == list(column(s, "seizes").low[:4])
    assert column(s, "quickening").low[TONKA] == pytest.approx(2.25)
    assert column(s, "quickening seen at").low[CARNATION] == pytest.approx(0.03)
    seizing = book(scents=SCENTS.replace("is: fast", "is: seizes"))
    assert value(worked(ALL_FIVE, seizing), "seizes", CARNATION) == 1


@pytest.mark.parametrize(
    ("mould", "pour", "alone"),
    [
        ("loaf", "single colour", 1),
        ("loaf", "column", 0),
        ("cavities", "single colour", 1),
        ("cavities", "column", 0),
    ],
)
def test_a_cavity_filled_from_one_portion_is_a_bar_by_itself(mould: str, pour: str, alone: int) -> None:
    """Cavities and a pour in which no portions touch: each portion is its own bar."""
    text = bent(
        ("{olive: 450 g, coconut: 250 g, shea: 100 g, sunflower: 200 g}", "{olive: 100 %}\n  amount: AMOUNT"),
        ("pour: column", f"pour: {pour}"),
    ).replace("AMOUNT", f"{{mould: {mould}, volume: 100 mL, cavities: 8}}")
    s = worked(text)
    assert value(s, "portions are bars") == alone
    assert asked(s, "bar mass") == [mould == "cavities"]


def test_cavities_without_a_pour_leave_it_open() -> None:
    """Whether portions meet in a cavity is not known where the plan names no pour."""
    text = bent(
        ("{olive: 450 g, coconut: 250 g, shea: 100 g, sunflower: 200 g}", "{olive: 100 %}\n  amount: AMOUNT"),
        ("pour: column\n", ""),
    ).replace("AMOUNT", "{mould: cavities, volume: 100 mL, cavities: 8}")
    found = column(worked(text), "portions are bars")
    assert not found.known[0]
    assert [("plan", "pour")] == [(m.subject, m.fact) for m in found.missing[0]]


def test_fats_and_sugars() -> None:
    """Shares of the oils by what they are; honey is sugar for 82.1 % (USDA SR Legacy FDC 169640)."""
    s = worked(bent(("  lye:", "  additives: {sugar: 10 g, honey: 10 g}\n  lye:")))
    shares = {n: value(s, n) for n in ("hard fats", "liquid oils", "lauric oils", "quick oils", "sugars")}
    assert shares == pytest.approx(
        {"hard fats": 0.35, "liquid oils": 0.65, "lauric oils": 0.25, "quick oils": 0.25, "sugars": 0.0182}
    )
    assert {"sugar", "honey"} == words(s, "additives")
    assert {"olive", "coconut", "shea", "sunflower"} == words(s, "oils")


def test_more_warmth_never_lowers_the_peak() -> None:
    """Warmer batter, a warmer room, sugar: each raises the peak; avoiding gel lowers it."""
    base = value(worked(), "peak temperature")
    for change in (("33 °C", "43 °C"), ("21 °C", "30 °C"), ("  lye:", "  additives: {sugar: 30 g}\n  lye:")):
        assert value(worked(bent(change)), "peak temperature") > base
    assert value(worked(bent(("gel: avoid", "gel: leave"))), "peak temperature") > base


def test_the_oven_is_asked_where_gel_is_forced() -> None:
    """A forced gel has its temperature, 77 °C where the plan gives none (common practice)."""
    assert [False] == asked(worked(), "oven temperature")
    assert 70 == value(worked(bent(("gel: avoid", "gel: force at 70 °C"))), "oven temperature")
    assert 77 == value(worked(bent(("gel: avoid", "gel: force"))), "oven temperature")


def test_a_room_of_nought_degrees_is_a_room() -> None:
    """0 °C is a temperature, not an absence of one."""
    cold, usual = (worked(bent(("room: 21 °C", f"room: {t} °C"))) for t in (0, 21))
    assert value(cold, "peak temperature") < value(usual, "peak temperature")
    assert value(cold, "room temperature") == 0


def test_planned_colours_are_those_of_the_catalogue() -> None:
    """At the rate at which its colour was seen an opaque colourant gives about that colour."""
    s = worked()
    planned = appearance(s).planned[3]
    assert float(colour_difference(planned, lab_from_hex("#2b2b2b"))) < 1.0
    assert value(s, "planned lightness", 0) > 90 > value(s, "planned lightness", 2) > 30
    assert value(s, "chroma", 2) > 20 > value(s, "chroma", 0)
    assert [1, 1, 1, 1] == values(s, "coloured")
    assert ["white", "clay", "pigment", "charcoal"] == [
        next(iter(words(s, "colourant kinds", p))) for p in range(4)
    ]


def test_contrast_side_by_side_by_hand() -> None:
    """CIEDE2000 and lightness of two touching portions are those of their cured colours."""
    s = worked(bent(("pour: column", "pour: side by side")))
    light = values(s, "planned lightness")
    assert values(s, "planned lightness difference") == pytest.approx(np.abs(np.diff(light)))
    planned = appearance(s).planned
    assert values(s, "planned contrast") == pytest.approx(list(colour_difference(planned[:-1], planned[1:])))
    cured = cured_lab(s, column(s, "browning load").low)
    assert values(s, "contrast") == pytest.approx(list(colour_difference(cured[:-1], cured[1:])))
    assert values(s, "lightness difference") == pytest.approx(np.abs(np.diff(cured[:, 0])))
    none = worked(bent(("load: 4 %", "load: 0 %"), ("pour: column", "pour: side by side")))
    assert values(none, "contrast") == pytest.approx(values(none, "planned contrast"))
    assert values(none, "colour shift") == pytest.approx([0] * 4, abs=1e-6)


def test_opposite_hues_are_far_apart() -> None:
    """Red beside green: hues more than 90 degrees apart; a grey has no hue to compare."""
    colours = 'red: {hex: "#c03030", covers: opaque}\ngreen: {hex: "#2f8f3f", covers: opaque}\n'
    colours += 'grey: {hex: "#808080", covers: opaque}\n'
    plan = "plan: h\nrecipe: {oils: {olive: 1000 g}, lye: {concentration: 31 %, superfat: 5 %}}\n"
    plan += "pour: side by side\nportions:\n"
    for name in ("red", "green", "grey"):
        plan += f"  - {{name: {name}, share: 1 part, colourants: {{{name}: 1 % of portion oils}}}}\n"
    s = worked(plan, book(colourants=colours))
    assert [True, False] == asked(s, "hues apart")
    assert 90 < float(column(s, "hues apart").low[0]) <= 180


def test_noted_together_takes_the_worse_word() -> None:
    """Where two oils' notes disagree the bad one counts; nothing noted is unsaid."""
    scents = SCENTS.replace(
        "  kind: essential oil\n  vanillin: 0 %\n  acceleration: {is: none",
        "  goes with: {tonka: good}\n  acceleration: {is: none",
    )
    scents = scents.replace("tonka:\n", "tonka:\n  goes with: {lime: bad}\n", 1)
    found = column(worked(files=book(scents=scents)), "noted together")
    assert found.scale is not None
    assert ["bad"] * 4 + ["unsaid"] * 8 == [found.scale[int(v)] for v in found.low]


def test_bands_apart_counts_bands() -> None:
    """All of the browner in one portion: as many bands from its neighbours as it has darkened."""
    s = worked(bent() + "only: [{scent: tonka, in: [soil]}]\n")
    bands = column(s, "browning band").low
    assert list(bands[:3]) == [0, 0, 0]
    assert bands[3] >= 3
    apart = dict(zip([(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)], values(s, "bands apart"), strict=True))
    assert apart[(0, 1)] == 0
    assert apart[(0, 3)] == apart[(2, 3)] == bands[3]


def test_purpose_and_counts(s: Situation) -> None:
    """What the plan says of itself; not said counts as for sale."""
    assert spoken(s, "purpose") == "sale"
    assert spoken(worked(bent(("for: sale\n", ""))), "purpose") == "sale"
    assert spoken(worked(bent(("for: sale", "for: home"))), "purpose") == "home"
    assert value(s, "portions") == 4
    assert values(s, "scents in portion") == [5] * 4
    assert (spoken(s, "pour family"), spoken(s, "pour batter"), words(s, "pour")) == (
        "interleaved",
        "thin",
        {"column"},
    )
    assert spoken(s, "planned band", 3) == "chocolate"
    assert spoken(s, "planned band", 0) == "ivory"


def test_a_plan_against_itself_is_seen() -> None:
    """A dose where never or only keep the oil out is against the plan."""
    s = worked(bent() + "never: [{scent: tonka, in: milk}]\n")
    forced = s.with_doses(np.ones(s.shape))
    found = column(forced, "against the plan").low.reshape(s.shape)
    assert [1, 0, 0, 0] == list(found[TONKA])
    assert found.sum() == 1


def test_every_measure_answers_for_the_whole_shelf(s: Situation) -> None:
    """No measure fails on an oil that nobody has described."""
    home = [name for name, measure in REGISTRY.items() if measure.word.grain not in ("additive", "embed")]
    assert all(len(s.home(name)) >= 1 for name in home)


ONE = "plan: one\nrecipe: {{oils: {{olive: 1000 g}}, lye: {{concentration: 31 %, superfat: 5 %}}{0}}}\n"
ONE += "portions: [{{name: a, share: 100 %{1}}}]\n"


def test_what_is_assumed_of_a_colour_that_nobody_noted() -> None:
    """Without a rate its colour counts as seen at 1 % of oils, covering half; a usual rate at its middle."""
    colours = 'a: {hex: "#7a3b2a"}\nb: {hex: "#7a3b2a", at: 1 % of portion oils, covers: half}\n'
    colours += 'c: {hex: "#7a3b2a", usual rate: 0.5 to 1.5 % of portion oils}\n'
    plans = (ONE.format("", f", colourants: {{{name}: 0.3 % of portion oils}}") for name in "abc")
    found = [appearance(worked(plan, book(colourants=colours))).planned[0] for plan in plans]
    assert found[0] == pytest.approx(found[1], rel=1e-12)
    assert found[0] == pytest.approx(found[2], rel=1e-12)


def test_an_oil_s_own_tint_goes_by_its_dose() -> None:
    """At 4 % of oils (a usual dose) an orange oil tints plain soap as its cast says; half of it, half."""
    scents = "amber: {vanillin: 0 %, own cast: orange}\n"
    scent = "scents: {blend: {amber: 1}, load: LOAD % of batch oils}\n"
    full, half = (
        worked(ONE.format("", "") + scent.replace("LOAD", load), book(scents=scents)) for load in ("4", "2")
    )
    cast = own_cast_absorption("orange")
    assert own_casts(full)[0] == pytest.approx(cast)
    assert own_casts(half)[0] == pytest.approx(cast / 2)


def test_a_scale_nobody_stated_is_taken_as_one_gram() -> None:
    """Steps are grams then, and the fact that it is assumed is one of its own."""
    unstated, stated = worked(files=book(usual="hands: 1\n")), worked()
    assert column(unstated, "steps of the scale").low == pytest.approx(column(unstated, "dose in grams").low)
    assert column(stated, "steps of the scale").low == pytest.approx(10 * column(stated, "dose in grams").low)
    assert [0.0, 1.0] == [value(s, "scale step stated") for s in (unstated, stated)]
    assert value(unstated, "superfat error of the lye scale") == pytest.approx(
        0.5 / value(unstated, "lye needed")
    )


def test_a_room_nobody_stated_is_taken_as_21_degrees() -> None:
    """The estimate then is that of a room of 21 °C, and the room stays not known."""
    unstated = worked(bent(("room: 21 °C, ", "")))
    assert value(unstated, "peak temperature") == value(worked(), "peak temperature")
    assert not column(unstated, "room temperature").known[0]


# Contents by science/data/substances.csv, each with its source there; sorbitol is a solution of 70 %.
SUGAR_IN = [("sugar", 0.999), ("sorbitol", 0.7), ("honey", 0.821), ("milk", 0.048), ("beer", 0.0)]


@pytest.mark.parametrize(("additive", "share"), SUGAR_IN)
def test_the_sugar_in_an_additive(additive: str, share: float) -> None:
    """20 g of each on 1000 g of oils; salt has none."""
    s = worked(ONE.format(f", additives: {{{additive}: 20 g, salt: 20 g}}", ""))
    assert value(s, "sugars") == pytest.approx(0.02 * share)


@pytest.mark.parametrize(("code", "has_hue"), [("#808080", False), ("#8c807c", False), ("#9c8076", True)])
def test_a_hue_needs_some_colour(code: str, has_hue: bool) -> None:
    """Below a chroma of 10 a colour has no hue to speak of (judgement)."""
    colours = f'red: {{hex: "#c03030", covers: opaque}}\nx: {{hex: "{code}", covers: opaque}}\n'
    plan = "plan: h\nrecipe: {oils: {olive: 1000 g}, lye: {concentration: 31 %, superfat: 5 %}}\nportions:\n"
    for name in ("red", "x"):
        plan += f"  - {{name: {name}, share: 1 part, colourants: {{{name}: 2 % of portion oils}}}}\n"
    s = worked(plan, book(colourants=colours))
    assert has_hue == (value(s, "chroma", 1) >= 10)
    assert asked(s, "hues apart") == [has_hue]


@pytest.mark.parametrize(
    ("style", "carries"), [("flat layers", 0.6), ("piped top", 0.6), ("sculpted layers", 0.6)]
)
def test_what_carries_is_a_medium_batter(style: str, carries: float) -> None:
    """A pour that asks for medium batter below wants it 0.6 of the way to thick (judgement)."""
    assert value(worked(bent(("pour: column", f"pour: {style}"))), "thickness that carries") == carries


def test_an_unnoted_dose_is_a_usual_one() -> None:
    """A note without a dose speaks of 4 % of oils (common practice)."""
    scents = "amber: {vanillin: 0 %, acceleration: fast}\n"
    s = worked(
        ONE.format("", "") + "scents: {blend: {amber: 1}, load: 2 % of batch oils}\n", book(scents=scents)
    )
    assert value(s, "quickening seen at") == 0.04
    assert value(s, "thickening") == pytest.approx(1 + (5.5 - 1) / 2)


def test_a_usual_cure_takes_twelve_per_cent() -> None:
    """Where nobody says, a bar at the end of cure weighs 88 % of its batter (common practice)."""
    assert value(worked(), "cure loss") == 0.12


def test_a_load_that_may_be_anything_reaches_the_darkest_cast() -> None:
    """An unknown browner: from the planned colour down to one darker than any chocolate of the scale."""
    s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", "{found: 1}")))
    light = column(s, "cured lightness")
    assert list(light.high) == pytest.approx(values(s, "planned lightness"))
    darkest = browned_lab(appearance(s).plain, np.full(4, 0.05))[:, 0]
    assert list(light.low) == pytest.approx(list(darkest))


@pytest.mark.parametrize(
    ("point", "category"), [("73.4 °F", 3), ("140 °F", 3), ("199.4 °F", 4), ("199.6 °F", 5)]
)
def test_a_flash_point_on_a_boundary_in_fahrenheit(point: str, category: int) -> None:
    """23, 60 and 93 °C typed in °F fall into the category that the published boundary says (GHS)."""
    scents = f"amber: {{flash point: {point}}}\n"
    plan = ONE.format("", "") + "scents: {blend: {amber: 1}, load: 2 % of batch oils}\n"
    assert value(worked(plan, book(scents=scents)), "flammable category") == category
