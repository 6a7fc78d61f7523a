"""Somebody who is hurt is told first aid before anything else, however it is put."""

from __future__ import annotations

import pytest

from tests.strangers.books import DEMO
from tests.strangers.runs import ran

HURT = [
    "my skin burns",
    "burned myself with lye",
    "I have a lye burn",
    "my hands are burning",
    "blisters on my fingers from batter",
    "the batter stings and my arm hurts",
    "lye splashed on my face",
    "lye on my leg",
    "batter in my mouth",
    "my toddler ate soap batter",
    "my cat licked the lye",
    "I tasted the lye",
    "I breathed in lye fumes",
    "raw soap on my foot",
    "got lye on my lips",
    "my throat burns from the lye",
    "lye ran into my glove",
    "my gloves leaked lye",
    "lye dust in my lungs",
    "batter splashed in my wife's eye",
]
ABOUT_SOAP = [
    "my soap has blisters on top",
    "will the scent burn off in gel",
    "the citric acid ate my lye",
    "the lye is brown and foams",
    "it smells of ammonia, what did I do",
    "the colour rubs off on my hands",
    "how does it smell on my skin",
    "my batter is thick and the lye was at hand",
    "there is soda ash on the face of my soap",
    "the batter gets a skin on top",
]


@pytest.mark.parametrize("question", HURT)
def test_who_is_hurt_is_told_to_rinse(question: str) -> None:
    said = " ".join(ran("ask", question, "--book", DEMO).out.split())
    assert "Rinse at once under cool running water" in said


@pytest.mark.parametrize("question", HURT)
def test_a_symptom_asked_for_by_who_is_hurt_is_first_aid_too(question: str) -> None:
    said = " ".join(ran("why", question).out.split())
    assert "Rinse at once under cool running water" in said


@pytest.mark.parametrize("question", ABOUT_SOAP)
def test_what_is_said_of_soap_is_no_accident(question: str) -> None:
    said = ran("ask", question, "--book", DEMO)
    assert "swallowed" not in said.out + said.err
