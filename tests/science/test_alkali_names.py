"""Alkalis among the names of additives: every name and number, slips of the pen, and what is none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.science.substance_names import as_alkali, known, letters_apart
from blendwise.science.substances import substances

ALKALIS = {
    "sodium hydroxide": (
        *(
            "NaOH",
            "lye",
            "Lye",
            "caustic soda",
            "Caustic-Soda",
            "1310-73-2",
            "CAS 1310-73-2",
            "E524",
            "e 524",
        ),
        *(
            "INS 524",
            "sodium hydroxid",
            "sodum hydroxide",
            "caustic  soda",
            "sodiumhydroxide",
            "soduim hydroxide",
        ),
        *("sodium hydroxyde", "caustik soda", "costic soda", "Na0H", "NaOH 98 %", "lye flakes", "lye beads"),
        *("lye (sodium hydroxide)", "food grade lye", "50 % lye solution", "pure NaOH beads for soap making"),
        *(
            "free flowing caustic soda",
            "extra lye",
            "masterbatch lye",
            "sodium  hydroxide, micro pearls",
            "naoh",
        ),
        *(
            "SODIUM HYDROXIDE",
            "Sodium_Hydroxide",
            "hydroxide, sodium",
            "causticsoda",
            "sodium hydroxide and salt",
        ),
    ),
    "potassium hydroxide": (
        *("KOH", "caustic potash", "potash", "E525", "1310-58-3", "potasium hydroxide", "potassium hydroxid"),
        *(
            "KOH flakes 90 %",
            "liquid potash lye",
            "potassium hydroxide solution",
            "kalium hydroxid",
            "potach",
        ),
    ),
    "calcium hydroxide": (
        "slaked lime",
        "hydrated lime",
        "E526",
        "1305-62-0",
        "calcium hydroxid",
        "lime water",
    ),
    "calcium oxide": ("quicklime", "quick lime", "CaO", "E529"),
    "sodium carbonate": (
        *(
            "washing soda",
            "soda ash",
            "Soda-ash",
            "sodaash",
            "washin soda",
            "cleaning soda",
            "sodium carbonat",
            "497-19-8",
        ),
        *("E500", "E500(i)", "Na2CO3", "soda ash powder", "anhydrous sodium carbonate"),
    ),
    "washing soda crystals": ("soda crystals", "sodium carbonate decahydrate"),
    "potassium carbonate": ("pearl ash", "pearlash", "E501", "potasium carbonate"),
    "borax": ("borax", "Borax powder", "sodium tetraborate", "1303-96-4", "boraxx"),
    "lithium hydroxide": ("lithium hydroxide", "LiOH"),
    "ammonia": ("ammonia", "ammonium hydroxide", "household ammonia"),
    "trisodium phosphate": ("trisodium phosphate", "trisodium phosphat"),
    "sodium metasilicate": ("sodium metasilicate", "sodium metasilicat"),
    "sodium silicate": ("water glass", "waterglass", "sodium silicate"),
    "wood ash": ("wood ash", "ash lye"),
    "magnesium hydroxide": ("milk of magnesia", "E528"),
}


@pytest.mark.parametrize(
    ("text", "name"), [(text, name) for name, texts in ALKALIS.items() for text in texts], ids=str
)
def test_alkalis_and_their_slips(text: str, name: str) -> None:
    """Every name, formula, CAS and E number of an alkali, and slips of the pen, lead to it."""
    row = as_alkali(text)
    assert row is not None
    assert name == row.name
    assert "lye" == row.belongs


def one_letter_off(text: str) -> list[str]:
    """The text with each letter left out, doubled or changed over with the next."""
    cuts = range(len(text))
    return [
        *(text[:at] + text[at + 1 :] for at in cuts),
        *(text[:at] + text[at] + text[at:] for at in cuts),
        *(text[:at] + text[at + 1] + text[at] + text[at + 2 :] for at in cuts[:-1]),
    ]


@pytest.mark.parametrize(
    "text", ["sodium hydroxide", "potassium hydroxide", "caustic soda", "caustic potash"]
)
def test_every_slip_of_one_letter_is_an_alkali(text: str) -> None:
    """A letter left out, doubled or changed over anywhere in the four commonest names, space included."""
    missed = [slip for slip in one_letter_off(text) if as_alkali(slip) is None]
    assert [] == missed


# Forty that the table knows and twenty-three that it lacks.
ORDINARY = [
    *(
        "table salt",
        "sea salt",
        "sugar",
        "honey",
        "goat milk",
        "coconut milk",
        "oats",
        "kaolin clay",
        "rose clay",
    ),
    *(
        "baking soda",
        "bicarbonate of soda",
        "citric acid",
        "sodium lactate",
        "sodium citrate",
        "sodium gluconate",
    ),
    *(
        "tetrasodium EDTA",
        "vinegar",
        "beer",
        "wine",
        "coffee",
        "green tea",
        "silk",
        "calendula petals",
        "pumice",
    ),
    *(
        "lavender buds",
        "poppy seeds",
        "activated charcoal",
        "aloe vera gel",
        "cucumber",
        "avocado",
        "egg yolk",
    ),
    *("cornstarch", "arrowroot powder", "beeswax", "stearic acid", "lime juice", "lime zest", "soda water"),
    *(
        "rosemary extract",
        "vitamin E",
        "squalane",
        "epsom salt",
        "cream of tartar",
        "calcium carbonate",
        "potash alum",
    ),
]
LACKING = [
    *("ginseng", "hemp hearts", "tamarind paste", "mustard powder", "edible glitter", "sodium hyaluronate"),
    *("hyaluronic acid", "lime", "dehydrated lime", "ceramides", "goji berries", "ghee", "soda"),
    *("sodium polyacrylate", "biotin", "caviar extract", "snail mucin", "wheat germ", "bakin soda", "rye"),
    *(
        "sodium stearate",
        "soda ash remover",
        "lye-free shampoo base",
        "aluminium hydroxide",
        "caffeine",
        "dye",
    ),
    *(
        "cassava",
        "sodium bicarbonat",
        "sodium chlorid",
        "calcium carbonat",
        "magnesium stearate",
        "potato chips",
    ),
]


@pytest.mark.parametrize("text", ORDINARY)
def test_ordinary_additions_are_no_alkali(text: str) -> None:
    """What makers add every week is known, and no alkali."""
    assert known(text) is not None
    assert as_alkali(text) is None


@pytest.mark.parametrize("text", LACKING)
def test_ordinary_additions_that_are_not_known_are_no_alkali(text: str) -> None:
    """What the table lacks is unknown, not taken for an alkali by its looks."""
    assert known(text) is None
    assert as_alkali(text) is None


def test_every_spelling_is_taken_for_what_it_is() -> None:
    """As an alkali exactly where its row is one."""
    for row in substances():
        for text in row.spellings:
            assert (row if row.is_alkali else None) is as_alkali(text), text


@pytest.mark.parametrize(
    ("one", "other", "far"),
    [
        ("", "", 0),
        ("lye", "", 3),
        ("soda", "soda", 0),
        ("soda", "sdoa", 1),
        ("caustic", "costic", 2),
        ("ca", "abc", 3),
    ],
)
def test_letters_apart(one: str, other: str, far: int) -> None:
    """Optimal string alignment: insertions, deletions, changes and swapped neighbours count one each."""
    assert far == letters_apart(one, other) == letters_apart(other, one)


@given(st.text("abcde", max_size=8), st.text("abcde", max_size=8))
def test_letters_apart_as_the_library_has_it(one: str, other: str) -> None:
    """The same figures as rapidfuzz's optimal string alignment."""
    from rapidfuzz.distance import OSA

    far = OSA.distance(one, other)
    assert far == letters_apart(one, other)
    assert [min(far, most + 1) for most in range(4)] == [letters_apart(one, other, most) for most in range(4)]
