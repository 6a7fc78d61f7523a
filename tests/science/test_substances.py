"""Additives: stoichiometry, compositions as read, and plausibility of every row."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import chain

import pytest
from chemicals.elements import molecular_weight, nested_formula_parser

from blendwise.science import lye
from blendwise.science.substance_names import known, words_of
from blendwise.science.substances import (
    KINDS,
    STANDINGS,
    Substance,
    dry_of,
    families,
    lye_brought,
    lye_eaten,
    substances,
    sugar_of,
    water_of,
    worst_lye,
)

Rows = list[dict[str, str]]

# Formula, equivalents and strength of every row that is reckoned from a formula; hydrates in full.
REACTS = {
    "citric acid": ("C6H8O7", 3, 1),
    "citric acid monohydrate": ("C6H10O8", 3, 1),
    "citric acid solution 50 %": ("C6H8O7", 3, 0.5),
    "citric acid solution 20 %": ("C6H8O7", 3, 0.2),
    "lactic acid": ("C3H6O3", 1, 0.8),
    "lactic acid 88 %": ("C3H6O3", 1, 0.88),
    "lactic acid 90 %": ("C3H6O3", 1, 0.9),
    "pure lactic acid": ("C3H6O3", 1, 1),
    "acetic acid": ("C2H4O2", 1, 1),
    "acetic acid 80 %": ("C2H4O2", 1, 0.8),
    "vinegar essence": ("C2H4O2", 1, 0.25),
    "vinegar": ("C2H4O2", 1, 0.04),
    "vinegar 5 %": ("C2H4O2", 1, 0.05),
    "vinegar 6 %": ("C2H4O2", 1, 0.06),
    "vinegar 8 %": ("C2H4O2", 1, 0.08),
    "vinegar 10 %": ("C2H4O2", 1, 0.1),
    "cleaning vinegar": ("C2H4O2", 1, 0.06),
    "apple cider vinegar": ("C2H4O2", 1, 0.04),
    "wine vinegar": ("C2H4O2", 1, 0.04),
    "stearic acid": ("C18H36O2", 1, 1),
    "palmitic acid": ("C16H32O2", 1, 1),
    "lauric acid": ("C12H24O2", 1, 1),
    "myristic acid": ("C14H28O2", 1, 1),
    "oleic acid": ("C18H34O2", 1, 1),
    "sorbic acid": ("C6H8O2", 1, 1),
    "benzoic acid": ("C7H6O2", 1, 1),
    "ascorbic acid": ("C6H8O6", 1, 1),
    "tartaric acid": ("C4H6O6", 2, 1),
    "cream of tartar": ("KC4H5O6", 1, 1),
    "malic acid": ("C4H6O5", 2, 1),
    "oxalic acid": ("C2H6O6", 2, 1),
    "salicylic acid": ("C7H6O3", 1, 1),
    "glycolic acid": ("C2H4O3", 1, 0.7),
    "succinic acid": ("C4H6O4", 2, 1),
    "fumaric acid": ("C4H4O4", 2, 1),
    "gluconic acid": ("C6H12O7", 1, 0.5),
    "gluconolactone": ("C6H10O6", 1, 1),
    "boric acid": ("H3BO3", 1, 1),
    "hydrochloric acid": ("HCl", 1, 0.2),
    "sulfuric acid": ("H2SO4", 2, 0.3),
    "nitric acid": ("HNO3", 1, 0.5),
    "sulfamic acid": ("H3NSO3", 1, 1),
    "ammonium chloride": ("NH4Cl", 1, 1),
    "magnesium oxide": ("MgO", 2, 1),
    "phosphoric acid": ("H3PO4", 2, 0.75),
    "baking soda": ("NaHCO3", 1, 1),
    "potassium bicarbonate": ("KHCO3", 1, 1),
    "ammonium bicarbonate": ("NH5CO3", 2, 1),
    "monosodium citrate": ("NaC6H7O7", 2, 1),
    "disodium citrate": ("Na2C6H6O7", 1, 1),
    "sodium metabisulfite": ("Na2S2O5", 2, 1),
    "sodium bisulfite": ("NaHSO3", 1, 1),
    "disodium EDTA": ("C10H18N2Na2O10", 2, 1),
    "trisodium EDTA": ("C10H13N2Na3O8", 1, 1),
    "phytic acid": ("C6H18O24P6", 8, 0.5),
    "etidronic acid": ("C2H8O7P2", 3, 0.6),
    "sodium hydroxide": ("NaOH", 1, 1),
    "potassium hydroxide": ("KOH", 1, 1),
    "calcium hydroxide": ("CaO2H2", 2, 1),
    "calcium oxide": ("CaO", 2, 1),
    "lithium hydroxide": ("LiOH", 1, 1),
    "magnesium hydroxide": ("MgO2H2", 2, 1),
    "sodium carbonate": ("Na2CO3", 2, 1),
    "washing soda crystals": ("Na2CO13H20", 2, 1),
    "sodium sesquicarbonate": ("Na3C2H5O8", 1, 1),
    "potassium carbonate": ("K2CO3", 2, 1),
    "kansui": ("Na2CO3", 2, 1),
    "borax": ("Na2B4O17H20", 2, 1),
    "ammonia": ("NH3", 1, 0.25),
    "triethanolamine": ("C6H15NO3", 1, 1),
    "monoethanolamine": ("C2H7NO", 1, 1),
    "trisodium phosphate": ("Na3PO4", 2, 1),
    "sodium metasilicate": ("Na2SiO3", 2, 1),
    "sodium percarbonate": ("Na4C2H6O12", 4, 1),
}
# Hydrates: formula and waters of crystal in it.
HYDRATES = {
    "citric acid monohydrate": ("C6H10O8", 1),
    "oxalic acid": ("C2H6O6", 2),
    "washing soda crystals": ("Na2CO13H20", 10),
    "sodium sesquicarbonate": ("Na3C2H5O8", 2),
    "borax": ("Na2B4O17H20", 10),
    "epsom salt": ("MgSO11H14", 7),
    "magnesium chloride": ("MgCl2H12O6", 6),
    "alum": ("KAlS2O20H24", 12),
    "sodium citrate": ("Na3C6H9O9", 2),
    "sodium thiosulfate": ("Na2S2O8H10", 5),
    "tetrasodium EDTA": ("C10H20N2Na4O12", 4),
    "disodium EDTA": ("C10H18N2Na2O10", 2),
    "trehalose": ("C12H26O13", 2),
}


def named(name: str) -> Substance:
    """The row of that very name."""
    return next(row for row in substances() if row.name == name)


def molar_mass(formula: str) -> float:
    """g/mol from the standard atomic weights (IUPAC, as the chemicals library holds them)."""
    return float(molecular_weight(nested_formula_parser(formula)))


@pytest.mark.parametrize("name", REACTS)
def test_acid_and_alkali_by_molar_mass(name: str) -> None:
    """Equivalents × 1000 × strength ÷ molar mass, to the four figures of the table."""
    formula, equivalents, strength = REACTS[name]
    row = named(name)
    expected = equivalents * 1000 * strength / molar_mass(formula)
    assert expected == pytest.approx(row.alkali if row.is_alkali else row.acid, rel=2e-3)
    assert 0 == (row.acid if row.is_alkali else row.alkali)


def test_every_reckoned_figure_is_checked() -> None:
    """No row says that its acid or alkali comes from a formula without being checked above."""
    reckoned = {row.name for row in substances() if row.standing == "formula" and row.acid + row.alkali > 0}
    assert reckoned == REACTS.keys()


@pytest.mark.parametrize("name", HYDRATES)
def test_crystal_water(name: str) -> None:
    """Waters of crystal × 18.015 ÷ molar mass is the water of the row."""
    formula, waters = HYDRATES[name]
    assert waters * molar_mass("H2O") / molar_mass(formula) == pytest.approx(named(name).water, rel=2e-3)


def test_grams_of_lye() -> None:
    """Baking soda eats 39.997/84.007 = 0.476 g NaOH a gram, citric acid 3 × 39.997/192.124 = 0.6245."""
    assert lye_eaten(100, named("baking soda")) == pytest.approx(47.61, abs=0.02)
    assert lye_eaten(1, named("citric acid")) == pytest.approx(3 * 39.997 / 192.124, rel=1e-3)
    assert lye_eaten(1, named("citric acid monohydrate")) == pytest.approx(3 * 39.997 / 210.14, rel=1e-3)
    assert lye_eaten([0, 100], named("vinegar 5 %")) == pytest.approx(
        [0, 100 * 0.05 * 39.997 / 60.052], rel=1e-3
    )
    assert lye_eaten(50, named("sodium hydroxide")) == 0


@pytest.mark.parametrize(
    "name",
    [
        *(
            "sodium lactate",
            "sodium lactate powder",
            "potassium lactate",
            "sodium citrate",
            "sodium gluconate",
        ),
        *("potassium citrate", "tetrasodium EDTA", "table salt", "epsom salt", "potassium sorbate", "honey"),
        *("sodium benzoate", "EDTA", "goat milk", "kaolin clay", "sodium phytate"),
    ],
)
def test_neutral_ones_eat_nothing(name: str) -> None:
    """Lactates, citrates, gluconates and the EDTA of four sodiums neither eat nor bring lye."""
    assert lye_eaten(1000, named(name)) == lye_brought(1000, named(name)) == 0


def test_alkalis_in_sodium_hydroxide() -> None:
    """A gram of KOH does the work of 0.71289 g of NaOH; something unknown is taken as all NaOH."""
    assert lye_brought(60, named("sodium hydroxide")) == pytest.approx(60, rel=1e-3)
    assert lye_brought(1, named("potassium hydroxide")) == pytest.approx(lye.naoh_per_koh(), rel=1e-3)
    assert worst_lye(60) == 60
    stronger = {row.name for row in substances() if lye_brought(1, row) > 1.001}
    assert {
        "lithium hydroxide",
        "calcium hydroxide",
        "calcium oxide",
        "magnesium hydroxide",
        "magnesium oxide",
    } == stronger


@pytest.mark.parametrize("grams", [-1.0, float("nan"), float("inf")])
def test_senseless_masses_are_refused(grams: float) -> None:
    """No sum is made of a mass that is none."""
    for reckon in (lye_eaten, lye_brought, water_of, sugar_of, dry_of):
        with pytest.raises(ValueError, match="the mass of an additive"):
            reckon(grams, named("honey"))
    with pytest.raises(ValueError, match="the mass of an additive"):
        worst_lye(grams)


def test_compositions_as_read(published: Callable[..., Rows]) -> None:
    """Water, fat, sugars and alcohol are those that were read, to half a per cent of the food."""
    rows = published("food_composition", "seen")
    assert len(rows) >= 30
    for r in rows:
        row = named(r["ours"])
        assert "read" == row.standing, row.name
        for ours, theirs in (
            (row.water, "water"),
            (row.fat, "fat"),
            (row.alcohol, "alcohol"),
            (row.sugar, "sugars"),
        ):
            if r[theirs]:
                assert float(r[theirs]) == pytest.approx(100 * ours, abs=0.5), (row.name, theirs)
        assert 100 * row.sugar <= float(r["carbohydrate"]) + 0.5, row.name


def test_grams_of_water_and_sugar() -> None:
    """170 g of honey: 17.1 % water and 82.1 % sugars (USDA SR Legacy 169640); vodka dries to nothing."""
    assert water_of(170, named("honey")) == pytest.approx(170 * 0.171)
    assert sugar_of(170, named("honey")) == pytest.approx(170 * 0.821, rel=1e-3)
    assert dry_of(100, named("vodka")) == pytest.approx(0, abs=0.1)
    assert dry_of(100, named("kaolin clay")) == pytest.approx(99)


@pytest.mark.parametrize("row", [*substances(), *families()], ids=lambda row: row.name)
def test_a_row_is_plausible(row: Substance) -> None:
    """Fractions between 0 and 1 and together at most 1, kind and standing known, a source named."""
    parts = (row.water, row.sugar_reducing, row.sugar_other, row.alcohol, row.salt, row.fat)
    assert all(0 <= part <= 1 for part in parts)
    assert sum(parts) <= 1.0005
    assert row.kind in KINDS
    assert row.standing in STANDINGS
    assert row.source
    assert 0 <= row.acid <= 30
    assert 0 <= row.alkali <= 50
    assert row.belongs in {"", "lye", "oils.yaml"}
    assert row.is_alkali == (row.alkali > 0) == (row.belongs == "lye")
    assert (row.is_alkali or row.kind == "poison") == (row.plausible == 0)
    assert not row.is_alkali or row.acid == 0
    assert row.plausible <= 1


@pytest.mark.parametrize("name", REACTS)
def test_acid_and_its_water_fit_into_the_row(name: str) -> None:
    """The named strength and the water of a solution are together at most the whole."""
    row = named(name)
    if name not in HYDRATES:
        assert row.water + REACTS[name][2] <= 1.0005


def test_source_tells_how_it_came_about() -> None:
    """What is from memory says so, and what is common practice says so; what was read names what."""
    for row in chain(substances(), families()):
        if row.standing == "memory":
            assert row.source.startswith("from memory"), row.name
        if row.standing == "practice":
            assert row.source.startswith("common practice"), row.name
        if row.standing == "read":
            assert re.search(r"USDA|PMC|Journal|suppliers' sheets|others", row.source), row.name
        if row.standing == "formula":
            assert row.source.startswith("formula"), row.name


def test_the_table_is_large_enough() -> None:
    """At least ninety rows, of every kind."""
    assert len(substances()) >= 90
    assert {row.kind for row in substances()} == set(KINDS)


def test_no_spelling_leads_to_two_rows() -> None:
    """Each spelling, read as words without order, belongs to one row and leads back to it."""
    owners: dict[tuple[str, ...], str] = {}
    for row in substances():
        assert len(set(row.spellings)) == len(row.spellings), row.name
        for text in row.spellings:
            key = tuple(sorted(words_of(text)))
            assert key, text
            assert row.name == owners.setdefault(key, row.name), text
            assert known(text) is row, text


def test_check_digits_of_cas_numbers() -> None:
    """Every CAS number's last digit is the weighted sum of the others, modulo 10; none stands twice."""
    found = [text for row in substances() for text in row.also if re.fullmatch(r"\d{2,7}-\d\d-\d", text)]
    assert len(found) > 80
    assert len(set(found)) == len(found)
    for cas in found:
        digits = [int(digit) for digit in reversed(cas.replace("-", ""))]
        assert digits[0] == sum(place * digit for place, digit in enumerate(digits)) % 10, cas
