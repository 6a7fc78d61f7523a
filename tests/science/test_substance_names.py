"""Names of additives: spellings, families, and the nearest for a slip."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science.substance_names import as_alkali, family, known, nearest, words_of

SPELLINGS = {
    "Citric acid": "citric acid",
    "citric-acid": "citric acid",
    "citric_acid": "citric acid",
    "citric acid powder": "citric acid",
    "Citric Acid (E330)": "citric acid",
    "E 330": "citric acid",
    "INS 330": "citric acid",
    "CAS 77-92-9": "citric acid",
    "77–92–9": "citric acid",
    "acid, citric": "citric acid",
    "goat's milk": "goat milk",
    "goat’s milk": "goat milk",
    "Goats Milk": "goat milk",
    "fresh organic goat milk": "goat milk",
    "frozen goat milk": "goat milk",
    "powdered goat milk": "goat milk powder",
    "goat milk powder": "goat milk powder",
    "Goat's milk, powdered": "goat milk powder",
    "brown sugar": "brown sugar",
    "dark brown sugar": "brown sugar",
    "sugar, brown": "brown sugar",
    "maple syrup": "maple syrup",
    "agave-syrup": "agave syrup",
    "raw honey": "honey",
    "honey (raw, local)": "honey",
    "yoghurt": "yogurt",
    "plain yoghurt": "yogurt",
    "White Vinegar": "vinegar",
    "vinegar 5%": "vinegar 5 %",
    "5 % vinegar": "vinegar 5 %",
    "ACV": "apple cider vinegar",
    "colloidal oatmeal": "oats",
    "finely ground oats": "oats",
    "oatmeal": "oats",
    "ground oatmeal": "oats",
    "sodium lactate": "sodium lactate",
    "sodium lactate (60 %)": "sodium lactate",
    "sodium lactate (in lye)": "sodium lactate",
    "sugar, into the lye water": "sugar",
    "sodium lactate powder": "sodium lactate powder",
    "magnesium sulphate": "epsom salt",
    "Epsom salts": "epsom salt",
    "himalayan pink salt": "pink salt",
    "sea salt, fine": "sea salt",
    "baking soda (E500(ii))": "baking soda",
    "E500 (ii)": "baking soda",
    "bicarbonate of soda": "baking soda",
    "NaHCO₃": "baking soda",
    "aloe": "aloe vera gel",
    "fresh aloe vera juice": "aloe vera gel",
    "cucumber purée": "cucumber puree",
    "pumpkin purée": "pumpkin puree",
    "dried calendula petals": "calendula petals",
    "Lavender Buds": "lavender buds",
    "ground coffee": "coffee grounds",
    "used coffee grounds": "coffee grounds",
    "strong coffee": "coffee",
    "eggs": "egg",
    "yolks": "egg yolk",
    "tussah silk": "silk",
    "French Green Clay": "french green clay",
    "clay, kaolin": "kaolin clay",
    "stout": "beer",
    "Tetrasodium EDTA": "tetrasodium EDTA",
    "EDTA (disodium)": "disodium EDTA",
    "vitamin E": "vitamin E",
    "activated charcoal powder": "activated charcoal",
}


@pytest.mark.parametrize("text", SPELLINGS)
def test_spellings_are_found(text: str) -> None:
    """Case, hyphens, plurals, order and harmless words make no difference."""
    row = known(text)
    assert row is not None
    assert SPELLINGS[text] == row.name


@pytest.mark.parametrize(
    "text",
    [
        *(
            "strong brewed coffee",
            "maple syrup powder",
            "vinegar powder",
            "beer powder",
            "dried cucumber",
            "molasses granules",
        ),
        *("fresh rosemary", "fresh kaolin clay", "lactic acid powder", "vinegar 45 %", "lactic acid 30 %"),
        *("oats and honey", "citric acid (E500)", "", "  ", "powder", "organic", "1", "%"),
    ],
)
def test_words_that_change_the_chemistry_stay(text: str) -> None:
    """A wet thing is not its powder, a dry one not fresh, another strength is another thing."""
    assert known(text) is None


def test_dry_solids_may_be_powdered() -> None:
    """Powdered honey is not honey and has a row of its own; powdered salt is salt."""
    assert [row.name for text in ("powdered honey", "powdered salt") if (row := known(text))] == [
        "honey powder",
        "table salt",
    ]


@pytest.mark.parametrize(
    ("text", "head"),
    [
        *(("buckwheat flour", "flour"), ("Organic rye bran", "flour"), ("elder petals", "petals")),
        *(("dried mallow flowers", "petals"), ("heather buds", "buds"), ("passion fruit seeds", "seeds")),
        *(
            ("pomelo peel", "peel"),
            ("bergamot zest", "zest"),
            ("mixed herbs", "herb"),
            ("olive leaves", "leaf"),
        ),
        *(("eucalyptus leaf powder", "leaf"), ("australian pink clay", "clay"), ("eri silk", "silk")),
        *(
            ("pea starch", "starch"),
            ("lotus tea", "tea"),
            ("plantain leaf tea", "tea"),
            ("plum purée", "puree"),
        ),
        *(("key lime zest", "zest"), ("fig juice", "juice"), ("nettle root powder", "root")),
        *(
            ("dried nettle stalk powder", "powder"),
            ("yak milk", "milk"),
            ("manuka honey", "honey"),
            ("birch syrup", "syrup"),
        ),
    ],
)
def test_families_by_head_word(text: str, head: str) -> None:
    """The last word tells the family, which eats and brings no lye."""
    assert known(text) is None
    row = family(text)
    assert row is not None
    assert head == row.name
    assert "family" == row.standing
    assert row.acid == row.alkali == 0


@pytest.mark.parametrize(
    "text",
    [
        *(
            "sodium hydroxide flour",
            "lye petals",
            "lime powder",
            "washing powder",
            "bleach powder",
            "gold dust",
        ),
        *(
            "sulfamic acid powder",
            "soda ash clay",
            "magic powder",
            "black powder",
            "yak milk powder",
            "water",
        ),
        *(
            "aluminium leaf",
            "quicklime stone",
            "honey and oats",
            "oats & honey",
            "oil infusion",
            "petals in citric acid",
            "detergent powder",
            "",
            "sodum hydroxide powder",
            "potash herb",
        ),
    ],
)
def test_what_is_no_family(text: str) -> None:
    """Chemistry, alkalis and powders of nothing known are never taken for a harmless plant."""
    assert family(text) is None


@pytest.mark.parametrize(
    ("text", "name"),
    [
        *(("citric acud", "citric acid"), ("sodium lactat", "sodium lactate"), ("goat mlik", "goat milk")),
        *(
            ("calendla petals", "calendula petals"),
            ("kaolin caly", "kaolin clay"),
            ("bakin soda", "baking soda"),
        ),
    ],
)
def test_the_nearest_is_offered(text: str, name: str) -> None:
    """A slip of an ordinary name is not known, and the right one is offered."""
    assert known(text) is None
    row = nearest(text)
    assert row is not None
    assert name == row.name


def test_nothing_near_is_offered_for_nonsense() -> None:
    """A word like no other finds nothing."""
    assert nearest("xqzvk wwjpt") is None


@given(st.text(max_size=40))
def test_any_text_is_read(text: str) -> None:
    """No text breaks the reading, and the words of a name read again are the same words."""
    words = words_of(text)
    assert words == words_of(" ".join(words)) or not text.isascii()
    for find in (known, family, as_alkali):
        find(text)


def test_reading_names_loads_no_fuzzy_matcher() -> None:
    """A check that meets an unknown additive does not load rapidfuzz."""
    code = (
        "import sys\nfrom blendwise.science.substance_names import as_alkali, family, known\n"
        "[find('sodum hydroxide') or find('snail mucin') for find in (known, family, as_alkali)]\n"
        "print('rapidfuzz' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "False" == done.stdout.strip()
