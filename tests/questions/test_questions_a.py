"""Questions before a pair is chosen, asked of the demo by command; the answer is read as printed.

The questions are those that makers put to one another before there is a plan (numbers 1 to 12 of the table
in README.md beside this).
"""

from __future__ import annotations

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from tests.questions.conftest import Answer, Ask

BOOK = ("--book", "demo_catalog")


def pair(ask: Ask, *words: str, day: str = "2026-11-20") -> Answer:
    """The whole answer of ``blendwise pair``, which must not be an error."""
    return short(ask, *words, "--more", day=day)


def short(ask: Ask, *words: str, day: str = "2026-11-20") -> Answer:
    """What it says on the first screen."""
    answer = ask("pair", *words, *BOOK, day=day)
    assert "" == answer.errors
    assert answer.code in (CLEAN, FINDINGS)
    return answer


def section(answer: Answer, start: str, end: str) -> str:
    """What stands between two headings."""
    return answer.between(f"{start}:", f"{end}:")


def test_1_will_this_oil_turn_my_soap_brown_and_how_brown(ask: Ask) -> None:
    """The band at the dose, on whose word, by which contents, by which rule, and the days it is final."""
    answer = pair(ask, "tonka-milk")
    assert FINDINGS == answer.code
    side = section(answer, "Side by side", "In the bar")
    assert (
        "browns white soap to brown, with vanillin 7 %, ethyl vanillin 1 % and heliotropin 2 % in it "
        "(your own batch)" in side
    )
    assert "Uncoloured soap becomes brown; judge it from 18 December 2026 to 1 January 2027" in answer.text
    rule = section(answer, "Conflict: bar", "rulebook rules/browning.yaml")
    assert "browning band brown, at most ivory (planned band)" in rule
    assert "rule browning-shows-in-light, common practice; told by your own batch" in rule


def test_1_less_of_it_browns_less(ask: Ask) -> None:
    """The load in the portion drives it, not the bottle: at a tenth of the dose it is cream."""
    answer = pair(ask, "tonka-milk", "--load", "0.4%", "--as-written")
    assert "browning band cream, at most ivory" in answer.text


def test_2_it_says_no_vanillin_is_it_safe_for_white(ask: Ask) -> None:
    """Vanillin none, other causes unknown until somebody tests it; a look of one's own settles it."""
    hearsay = section(pair(ask, "linalool"), "Side by side", "In the bar")
    assert (
        "vanillin 0 %, no other browner named, so that other causes are unknown until you test it" in hearsay
    )
    assert "(the supplier)" in hearsay
    looked = section(pair(ask, "sea-glass"), "Side by side", "In the bar")
    assert "leaves white soap white or a touch ivory (your own batch)" in looked
    assert "unknown until" not in looked


def test_2_a_browner_of_unknown_amount_is_never_none(ask: Ask) -> None:
    """Where nothing is known of browning, white is not promised."""
    answer = pair(ask, "market-find", "--for", "home")
    assert "nothing is said of vanillin or other browners" in answer.text
    assert "may become anything from white to chocolate: its browning is not known" in answer.text
    assert "100 % market-find: no load is sure (not-for-skin waits on what is not known)" in answer.text
    assert "not known of market-find: does it brown or last?" in answer.text


def test_3_which_colours_can_i_still_use(ask: Ask) -> None:
    """Every colourant: dark ones stay, pale ones are lost, with the difference in figures."""
    answer = pair(ask, "burnt-sugar")
    colours = section(answer, "Which colours survive", "What would help")
    stay = colours.split("Stay as planned:")[1].split("Warm")[0].split("Turn")[0]
    lost = colours.split("Are lost:")[1]
    assert "brown-oxide (chocolate, ΔE " in stay
    assert "pearl-mica (ivory to " in lost
    assert "ultramarine-blue (blue to " in lost
    for colourant in ("titanium-dioxide", "green-clay", "charcoal", "indigo", "sweetshop-blue"):
        assert 1 == colours.count(f"{colourant} (")
    assert "sweetshop-blue" in lost
    assert "changes in lye" in lost


def test_4_can_i_keep_part_of_the_bar_white(ask: Ask) -> None:
    """Leave it unscented, or give it the clean oil; both with grams, and with the risk at the edge."""
    alone = section(pair(ask, "burnt-sugar"), "What would help", "Assumed")
    assert "Keep part of the bar white by leaving that part unscented" in alone
    assert "burnt-sugar in a dark portion (charcoal), 19.6 g of scent in 490 g of oils" in alone
    assert "a brown halo at the edge is possible, keep white lines wide" in alone
    two = section(pair(ask, "burnt-sugar", "sea-glass"), "What would help", "Assumed")
    assert (
        "Split them: burnt-sugar in a dark portion (charcoal, 50 % of the pot), sea-glass in the white one"
        in two
    )
    assert "nothing worse than a caution is left" in two


def test_5_do_these_two_get_on(ask: Ask) -> None:
    """An amine and an aldehyde noted as bad together: both rules, both names, and the sum of the limits."""
    answer = pair(ask, "orange-veil", "cut-stem", "--colour", "charcoal")
    assert "You noted as bad together: orange-veil with cut-stem." in answer.text
    assert "rule noted-as-bad-together, the maker's own notes" in answer.text
    white = pair(ask, "orange-veil", "cut-stem")
    assert "rule amine-with-aldehyde, common practice" in white.text
    assert "deep yellow to orange-red though each stays pale alone" in white.text
    assert "rule amine-with-aldehyde" not in answer.text  # in black nobody sees it


def test_5_two_that_do_get_on(ask: Ask) -> None:
    """Nothing against them but what the rules name, and the maker's own word first."""
    answer = pair(ask, "lavender", "cedar")
    assert CLEAN == answer.code
    assert "You noted as good together: lavender with cedar." in answer.text
    assert "They get on: no stop, no conflict, no caution." in answer.text


def test_6_how_strong_can_i_go(ask: Ask) -> None:
    """The certificates summed, in the bar and on oils; each ratio's greatest load and the rule behind it."""
    answer = pair(ask, "clove-leaf", "burnt-sugar", "--ratio", "1:9", "--colour", "charcoal")
    limits = 1 / (0.1 / 0.006 + 0.9 / 0.068)  # the sum rule by hand: 1 / Σ share ÷ limit
    assert f"the bar may hold at most {100 * limits:.2f} % of finished bar" in answer.text
    region = section(answer, "How much of which ratio, clove-leaf : burnt-sugar", "Time, pour by pour")
    assert "10 % clove-leaf and 90 % burnt-sugar: up to 4.22 % (over-the-certificates)" in region
    assert "100 % burnt-sugar: up to 8 % (far-too-much-scent)" in region
    turned = pair(ask, "burnt-sugar", "clove-leaf", "--ratio", "9:1", "--colour", "charcoal")
    assert "90 % burnt-sugar and 10 % clove-leaf: up to 4.22 % (over-the-certificates)" in turned.text
    assert "6.25 % of oils is the most that makers normally use" in answer.text


@pytest.mark.parametrize(
    ("oil", "certificate", "code"),
    [("cedar", "40 %", CLEAN), ("hive-and-clover", "5 %", CLEAN), ("clove-leaf", "0.6 %", FINDINGS)],
)
def test_7_my_certificate_says_so_much(ask: Ask, oil: str, certificate: str, code: int) -> None:
    """It is the most in the finished bar, turned into a load on oils; a dose above it is a stop."""
    answer = pair(ask, oil, "--colour", "charcoal")
    assert f"its certificate allows {certificate} of finished bar (51st amendment" in answer.text
    assert f"the bar may hold at most {certificate} of finished bar, which is" in answer.text
    assert ("rule over-the-certificates, suppliers' certificates" in answer.text) == (oil == "clove-leaf")
    assert code == answer.code


def test_7_four_per_cent_of_oils_is_three_of_the_bar(ask: Ask) -> None:
    """Common practice: 3.09 % of the cured bar at 33 % lye; with 31 % lye there is more water in it."""
    answer = pair(ask, "cedar")
    assert "4 % of batch oils is 3.19 % of finished bar and uses 7.97 % of it" in answer.text


def test_8_will_citrus_last(ask: Ask) -> None:
    """Gone by six weeks, unheld; what on the shelf would hold it; the folded oil lasts longer."""
    answer = pair(ask, "lime")
    assert "gone after six weeks, your own batch" in answer.text
    assert "rule faded-and-unheld, common practice" in answer.text
    assert "A little of another (15 % of the blend) mends faded-and-unheld: cedar" in answer.text
    folded = pair(ask, "orange-five-fold", "cedar")
    assert "fair after six weeks" in folded.text
    assert "faded-and-unheld" not in folded.text


def test_9_can_i_use_a_quick_oil_in_a_swirl(ask: Ask) -> None:
    """Grade, recipe and temperature become minutes, held against every style, with what is lacking."""
    answer = pair(ask, "lilac-lane", "--pour", "column", "--colour", "charcoal", "--as-written")
    assert FINDINGS == answer.code
    assert "quickens it fast (your own batch)" in answer.text
    assert (
        "it thickens 5.5 times as fast, and scented at minute 4.5 it has 2.8 to 6.4 minutes left"
        in answer.text
    )
    assert "rule pour-outruns-the-batter, common practice" in answer.text
    pours = section(answer, "Time, pour by pour", "Which colours survive")
    assert "piped top (takes 15 min, thick batter serves)" in pours.split("No time:")[0]
    assert "column (takes 10 min, 7.2 short)" in pours.split("No time:")[1]


def test_10_vanilla_stabiliser_how_much_and_will_it_hold(ask: Ask) -> None:
    """It delays, it does not cure: the browning is counted in full, and judged at six months."""
    plain = pair(ask, "tonka-milk")
    held = pair(ask, "tonka-milk", "--stabilised", "tonka-milk")
    assert "it delays browning and does not cure it, so the browning is counted in full" in held.text
    assert "here 19.6 g to 39.2 g; your own look is the only proof" not in plain.text
    assert "Half to the whole of the oil's mass is common, here 19.6 g to 39.2 g" in held.text
    assert "browning band brown, at most ivory" in plain.text
    assert "browning band brown, at most ivory" in held.text
    assert "judge it on 19 May 2027" in held.text


@pytest.mark.parametrize(
    "words",
    [
        ("lavender", "--for", "children"),
        ("lavender", "in pregnancy"),
        ("lavender", "--colour", "fit for eczema"),
        ("lavender", "--with-all", "--tag", "sensitive skin"),
    ],
)
def test_11_is_it_fine_for_children_pregnancy_or_sensitive_people(ask: Ask, words: tuple[str, ...]) -> None:
    """Deferred in words to those who may answer, wherever it is asked; limits and allergens are shown."""
    answer = ask("pair", *words, *BOOK)
    assert (NOT_ASKED, "") == (answer.code, answer.text)
    assert "is not for Blendwise to say" in answer.errors
    assert "Ask a qualified assessor, a midwife or a doctor." in answer.errors
    shown = pair(ask, "lavender")
    assert "its certificate allows" in shown.text
    assert "Names due on the label" in shown.text


def test_12_can_i_sell_a_two_scent_bar_and_do_scents_merge(ask: Ask) -> None:
    """They mingle: one product, whose label names what both bring, with the regulation."""
    answer = pair(ask, "lavender", "tonka-milk")
    assert "In the cure the scents mingle through the whole bar: it is one product" in answer.text
    label = answer.between("Names due on the label", "Uncoloured soap")
    assert "above 0.01 % of the bar (Regulation (EC) No 1223/2009, Annex III)" in label
    for name in ("Linalool", "Coumarin", "Vanillin"):
        assert name in label
    missing = pair(ask, "lavender", "benzoin")
    assert "Names may be lacking: no complete sheet of benzoin" in missing.text
    assert "rule label-names-not-known" in missing.text


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("tonka-milk", "bar would turn brown, you plan ivory: move the browning scent to a darker cup"),
        ("tonka-milk", "Or plan it as brown, the colour it will reach"),
        ("tonka-milk", "with vanillin 7 %"),
        ("linalool", "leaves white soap white or a touch ivory, which nobody here has seen"),
        ("burnt-sugar", "Colours that stay: brown-oxide."),
        ("burnt-sugar", "Try burnt-sugar in a dark cup (charcoal), and leave the white one unscented"),
        ("lavender cedar", "They get on: no stop, no conflict, no caution."),
        (
            "clove-leaf",
            "the bar would hold 532 % of what its certificates allow: use fig-shade instead of clove-leaf",
        ),
        ("cedar", "its certificate allows 40 % of the bar"),
        (
            "lime",
            "would be faint or gone by six weeks, with little beside it that lasts",
        ),
        ("orange-veil cut-stem", "these two join to a deep yellow or orange-red"),
    ],
)
def test_the_first_screen_answers(ask: Ask, words: str, says: str) -> None:
    """What was asked stands in the default answer, in a maker's words (questions 1 to 8)."""
    assert says in short(ask, *words.split()).text


def test_a_guard_that_waits_is_no_bound_in_figures(ask: Ask) -> None:
    """Where nobody knows whether it is for skin, the short answer says so, not "up to 0 %"."""
    answer = short(ask, "market-find", "--for", "home").text
    assert "How much: no load is sure until what stands open above is known" in answer
    assert "up to 0 %" not in answer
