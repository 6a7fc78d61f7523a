"""Questions at the pot and after the cut, asked of the demo by command; the answer is read as printed.

The questions are those that makers put to one another (23 to 36 of the table in README.md beside this).
"""

from __future__ import annotations

import pytest

from blendwise.cli.exit_codes import CLEAN, FINDINGS, NOT_ASKED
from tests.questions.conftest import Answer, Ask, plan

HEALTH = "health, skin, pregnancy, children and animals"


def why(ask: Ask, symptom: str, name: str, *more: str, day: str = "2026-11-20") -> Answer:
    """What is said of a symptom of a demo plan; it must be an answer."""
    answer = ask("why", symptom, plan(name), *more, "--more", day=day)
    assert (CLEAN, "") == (answer.code, answer.errors)
    return answer


def likely(cause: str, clue: str) -> str:
    """How a cause is printed that the plan speaks for, with the first of its clues."""
    return f"Likely: {cause}. Your plan: {clue}"


def test_23_it_is_thickening_what_now(ask: Ask) -> None:
    """Safety first, then simpler pours for thicker batter in order, the thickest portion named first."""
    answer = why(ask, "it is thickening, what now?", "clove-hearth")
    assert "it thickens too fast, clove-hearth" in answer.text
    assert answer.text.index("Safety:") < answer.text.index("Now:") < answer.text.index("Likely causes")
    simpler = answer.between("Pours that bear thicker batter:", "Likely causes")
    assert simpler.index("in-pot swirl") < simpler.index("flat layers") < simpler.index("piped top")
    assert "rough layers" not in simpler  # what the plan pours already is no way out
    assert likely("a quick scent", "thickening (at least 1.5): ember") in answer.text


def test_23_the_cup_that_it_happened_in_can_be_named(ask: Ask) -> None:
    """With the portion named, only that portion's facts speak; a portion nobody poured is refused."""
    answer = why(ask, "one colour is thicker", "honey-crown", "--in", "crown")
    clue = "thickening (at least 1.3 × slowest thickening): crown"
    assert likely("its scent is the quickest", clue) in answer.text
    wrong = ask("why", "one colour is thicker", plan("honey-crown"), "--in", "crwon")
    assert NOT_ASKED == wrong.code
    assert 'no portion and no scent "crwon". The plan has "crown".' in wrong.errors


def test_24_it_riced_blend_or_cook(ask: Ask) -> None:
    """Blend where the portion covers the blender, else cook; the portions' sizes stand beside it."""
    answer = why(ask, "it riced: blend or cook?", "orchard-wall")
    steps = answer.between("Now:", "Likely causes")
    assert steps.index("Stick blend the portion") < steps.index("cook it as hot-process soap")
    assert likely("a scent that rices", "ricing (at least slight): peach-orchard in wall") in answer.text
    assert "portion mass: wall 339 g" in answer.text


def test_25_one_colour_is_far_thicker(ask: Ask) -> None:
    """Stop pouring in turn; the thick one is base, top or embed and the thin ones go over it."""
    answer = why(ask, "One colour is far thicker than the others", "harbour-morning")
    steps = answer.between("Now:", "Pours that bear")
    assert "Stop pouring the colours in turn" in steps
    assert "Use the thick one as base, as top, or shaped as an embed" in steps
    assert "Pour the fluid ones over it" in steps
    assert likely("its powder thickens or was dry", "foam") in answer.text
    assert "Unlikely: its scent is the quickest." in answer.text


def test_26_too_thin_and_colours_mix(ask: Ask) -> None:
    """Wait rather than blend; the minutes that the batter takes are shown."""
    answer = why(ask, "it is too thin and colours mix", "rain-jar")
    assert "Wait; do not blend." in answer.between("Now:", "Likely causes")
    assert "unscented minutes: rain-jar" in answer.text
    assert "Likely: a scent that thins." in answer.text


def test_27_oil_is_floating(ask: Ask) -> None:
    """Stick blend it again; false trace is asked of the temperature, the batter of its ricing scent."""
    answer = why(ask, "oil is floating, it separates", "orchard-wall")
    assert "Stick blend all of it again" in answer.between("Now:", "Likely causes")
    assert "Likely: a scent that the batter throws out." in answer.text
    assert "Possible: false trace. Your plan: above clear temperature (at most 2 °C)" in answer.text
    assert "not cooked out is not for use" in answer.between("Stop:", "common practice")


def test_28_heating_cracking_rising(ask: Ask) -> None:
    """Hot batter burns: that is said first; then cool it and do not stab it in the mould."""
    answer = why(ask, "It is heating, cracking and rising", "clove-hearth")
    assert "Hot batter burns and can climb out of the mould" in answer.between("Safety:", "Now:")
    assert "Uncover it" in answer.between("Now:", "Likely causes")
    assert "Likely: a scent that heats. Your plan:" in answer.text


def test_29_right_colour_at_the_cut_will_it_stay(ask: Ask) -> None:
    """No verdict before day 28; what is still to come is named, and so are the days to look."""
    answer = why(ask, "right colour at the cut: will it stay?", "honey-crown", day="2026-08-10")
    assert "Expect no verdict before day 28, and none that is final before day 42" in answer.text
    assert likely("browners that have not shown yet", "browning band (above ivory):") in answer.text
    looks = answer.between("When to look:", "Stop:")  # poured on the first of August 2026
    assert "week 4: 2026-08-29" in looks
    assert "week 6: 2026-09-12" in looks
    assert "week 1" not in looks


def test_30_why_is_there_a_dark_ring(ask: Ask) -> None:
    """Partial gel is there on day one; browning from outside comes over weeks: told apart by when it came."""
    answer = why(ask, "Why is there a dark ring and a pale core?", "honey-crown")
    assert likely("partial gel", "partial gel risk (at least some): honey-crown some") in answer.text
    assert "Tell it by: There at the cut, dark and translucent in the middle" in answer.text
    assert "Tell it by: Not there at the cut; it came over weeks" in answer.text
    assert "Likely: browning from the faces" in answer.text


def test_30_another_plan_answers_otherwise(ask: Ask) -> None:
    """Where the plan's facts speak against partial gel, it is called unlikely and stands last."""
    answer = why(ask, "dark ring", "rain-jar")
    assert "Your plan speaks for none of the causes; tell them apart by the soap" in answer.text
    assert "Unlikely: partial gel. Your plan: partial gel risk (low): rain-jar low." in answer.text


def test_31_will_the_brown_creep_into_the_white(ask: Ask) -> None:
    """The edge where it is likely is named, and what to measure on which dates."""
    answer = why(ask, "Will the brown creep into the white?", "greenhouse-morning")
    assert likely("a strong browner next to a light portion", "bands apart (at least 2): milk") in answer.text
    assert "Measure the margin in mm" in answer.text
    assert "Unlikely: a dye that bleeds." in answer.text
    bleeding = why(ask, "will the colour creep into the white", "orchard-wall")
    assert "Likely: a dye that bleeds." in bleeding.text


@pytest.mark.parametrize(
    ("said", "symptom", "likely"),
    [
        ("white veins", "white veins", "much water and heat with white pigment"),
        ("white powder", "white powder on the faces", "soda ash"),
        ("white dots", "white dots", "white that was not dispersed"),
    ],
)
def test_32_white_things(ask: Ask, said: str, symptom: str, likely: str) -> None:
    """Rivers, ash and undispersed white are three answers, each the likeliest where the plan asks for it."""
    answer = why(ask, said, "harbour-morning")
    assert f"{symptom}, harbour-morning" in answer.text
    assert f"Likely: {likely}." in answer.text


def test_32_orange_spots(ask: Ask) -> None:
    """Spots are rancid fat: not for sale; the portion with too much free fat is named."""
    answer = why(ask, "orange spots", "honey-crown")
    assert likely("old or soft oils with too much free fat", "portion superfat (above 8 %)") in answer.text
    assert "Do not sell spotted bars." in answer.between("Stop:", "common practice")


def test_33_scent_gone_dead_or_sleeping(ask: Ask) -> None:
    """The oil that does not last is named; the others may sleep: smell again, wet it, wait for week six."""
    answer = why(ask, "Scent gone: dead or sleeping?", "greenhouse-morning")
    assert "some scents sleep and wake at four to six weeks" in answer.text
    assert likely("a scent that does not last", "after six weeks (at most faint): lime") in answer.text
    assert "Do not raise a dose past a limit" in answer.between("Safety:", "Now:")


def test_33_scent_wrong(ask: Ask) -> None:
    """A scent that came out wrong may come back; what lye takes apart is asked of the oils' tags."""
    answer = why(ask, "the scent went wrong, it smells like plastic", "clove-hearth")
    assert "Give it until week 6; some come back." in answer.text
    assert "aldehydes or esters that lye took apart" in answer.text


def test_34_when_can_i_sell_it_and_at_what_weight(ask: Ask) -> None:
    """By weight: when a week changes it by less than one per cent; the cured bar is reckoned."""
    answer = why(ask, "When can I sell it, and at what weight?", "harbour-morning")
    assert "when a week changes it by less than one per cent" in answer.text
    assert "label the lightest of them, rounded down, less what it will still lose" in answer.text
    assert "bar mass: harbour-morning" in answer.text
    assert "Not for sale without certificates" in answer.between("Stop:", "common practice")


def test_35_what_do_i_change_next_time(ask: Ask) -> None:
    """One thing: the largest miss; what this plan risks most stands first, with what to change."""
    answer = why(ask, "What do I change next time?", "greenhouse-morning")
    assert "Change that one thing; leave the rest as it was." in answer.text
    browned = likely("it browned further than planned", "browning band (above planned band): sage")
    assert browned in answer.text
    assert "Next time: A darker home for that scent." in answer.text
    review = ask("review", "greenhouse-morning", "--book", "demo_catalog")
    assert review.code in (CLEAN, FINDINGS)


def test_36_same_recipe_new_bottle(ask: Ask) -> None:
    """Another lot than in the last note is found in the book, and named by its oil."""
    answer = why(ask, "same recipe, new bottle, different result", "greenhouse-morning")
    assert likely("another lot of scent", "tonka-milk: another lot than in your last note") in answer.text
    assert "Make two cups, old lot and new" in answer.text


def test_without_a_plan_causes_stand_by_repute(ask: Ask) -> None:
    """A symptom alone is answered too; the answer says what a plan would add."""
    answer = ask("why", "it riced", "--more")
    assert CLEAN == answer.code
    assert "Causes by repute" in answer.text
    assert "Name a plan" in answer.text


def test_a_symptom_that_nobody_knows(ask: Ask) -> None:
    """Nobody's symptom is refused with the nearest, and with where the list is."""
    answer = ask("why", "it hums loudly at night in the pot")
    assert (NOT_ASKED, "") == (answer.code, answer.text)
    assert "Nobody here knows the symptom" in answer.errors
    assert 'The nearest is "' in answer.errors
    assert "`blendwise why` alone lists" in answer.errors
    vessel = ask("why", "soap stuck in the mould")
    assert "it is soft or sticky" in vessel.text  # it will not come out: the vessel, not the fungus
    assert "it grows mould" not in vessel.text
    assert "it grows mould" in ask("why", "there is mould on my soap").text


@pytest.mark.parametrize(
    "asked",
    [
        "is this oil fine in pregnancy",
        "can my baby use it",
        "is lavender fine for children",
        "will it help my eczema",
        "is it safe for my dog",
        "it gave my friend a rash",
        "good for sensitive skin?",
        "pregnent and soaping",
    ],
)
def test_health_is_deferred_in_words(ask: Ask, asked: str) -> None:
    """Questions of health, pregnancy, children and animals are left to those who may answer them."""
    answer = ask("why", asked)
    assert CLEAN == answer.code
    assert answer.text.startswith(f"Not for Blendwise to answer ({HEALTH})")
    assert "A qualified safety assessor" in answer.text
    assert "Causes" not in answer.text


@pytest.mark.parametrize(
    "asked", ["lye in my eye", "batter on my skin", "I swallowed some", "it burned my hand"]
)
def test_an_accident_is_first_aid_and_help(ask: Ask, asked: str) -> None:
    """Lye on a person: rinse, no vinegar, call for help; nothing about soap."""
    answer = ask("why", asked)
    assert "Rinse at once under cool running water, for 20 minutes or more" in answer.text
    assert "No vinegar on skin" in answer.text
    assert "The emergency number where you are" in answer.text


@pytest.mark.parametrize("said", ["my baby blue turned grey", "the eye catching line ran together"])
def test_turns_of_phrase_are_no_health_questions(ask: Ask, said: str) -> None:
    """A baby blue is a colour."""
    answer = ask("why", said)
    assert CLEAN == answer.code
    assert "Not for Blendwise" not in answer.text
