"""Substances by the names of papers: what must be read, what must not, and what the law tables ask for.

The lists of spellings and of traps are our own, from the usage of the trade and from memory of chemistry; the
names of papers are those of an open dictionary (see ``tests/reference/eo_compounds.txt``).
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from blendwise.quantity.cas import cas_fault, cas_numbers, check_digit_fits
from blendwise.science.constituent_names import key_of, parts_of
from blendwise.science.constituents import candidates, constituents, known, nearest
from blendwise.science.labels import label_names, label_names_for
from blendwise.science.restrictions import restrictions, restrictions_for
from blendwise.science.tables import plain_key

REFERENCE = Path(__file__).parent.parent / "reference"

SPELLINGS = {
    "(E)-cinnamaldehyde": "Cinnamal",
    "cinnamaldehyde, (E)-": "Cinnamal",
    "trans-Cinnamaldehyde": "Cinnamal",
    "Zimtaldehyd": "Cinnamal",
    "(2E)-3-phenylprop-2-enal": "Cinnamal",
    "(Z)-anethole": "Anethole",
    "(E)-anethol": "Anethole",
    "(E)-isoeugenol": "Isoeugenol",
    "beta-citronellol": "Citronellol",
    "β-citronellol": "Citronellol",
    "(±)-β-Citronellol": "Citronellol",
    "(R)-(+)-β-citronellol": "Citronellol",
    "coumarine": "Coumarin",
    "benzylbenzoate": "Benzyl Benzoate",
    "Benzylalkohol": "Benzyl Alcohol",
    "d-limonene": "Limonene",
    "D-Limonen": "Limonene",
    "(R)-(+)-limonene": "Limonene",
    "limonene, d-": "Limonene",
    "α-pinene": "Pinene",
    "a-Pinene": "Pinene",
    "Pinene, alpha-": "Pinene",
    ".beta.-Pinene": "Pinene",
    "l-linalool": "Linalool",
    "linalol": "Linalool",
    "1-carvone": "Carvone",
    "geranial": "Citral",
    "Neral": "Citral",
    "E-citral": "Citral",
    "citral (geranial + neral)": "Citral",
    "(2E,6E)-farnesol": "Farnesol",
    "trans,trans-Farnesol": "Farnesol",
    "farnesol (sum of isomers)": "Farnesol",
    "trans-β-caryophyllene": "Beta-Caryophyllene",
    "β-(E)-caryophyllene": "Beta-Caryophyllene",
    "caryophyllene (beta)": "Beta-Caryophyllene",
    "methyleugenol": "Methyl eugenol",
    "Eugenol methyl ether": "Methyl eugenol",
    "Eugenol, methyl": "Methyl eugenol",
    "safrol": "Safrole",
    "Lilial": "Butylphenyl methylpropional",
    "CAS 80-54-6": "Butylphenyl methylpropional",
    "80-54-6": "Butylphenyl methylpropional",
    "CAS-Nr.: 80‑54‑6": "Butylphenyl methylpropional",
    "Lilial (CAS 80-54-6)": "Butylphenyl methylpropional",
    "p-BMHCA": "Butylphenyl methylpropional",
    "Lyral": "Hydroxyisohexyl 3-cyclohexene carboxaldehyde",
    "HICC": "Hydroxyisohexyl 3-cyclohexene carboxaldehyde",
    "musk xylol": "Musk xylene",
    "estragole (methyl chavicol)": "Estragole",
    "α-Isomethylionone": "Alpha-Isomethyl Ionone",
    "ionone, alpha-isomethyl": "Alpha-Isomethyl Ionone",
    "hexyl cinnamaldehyde": "Hexyl Cinnamal",
    "α-hexylcinnamaldehyde": "Hexyl Cinnamal",
    "(E)-β-damascenone": "Damascenone",
    "δ-damascone": "delta-Damascone",
    "trans-2-hexenal": "trans-2-Hexenal",
    "(2E)-hex-2-enal": "trans-2-Hexenal",
    "Phenol, 2-methoxy-4-(2-propenyl)-": "Eugenol",
    "ethylvanillin": "Ethyl vanillin",
    "1H-Indole": "Indole",
    "dimethyl anthranilate": "Methyl-N-methylanthranilate",
    "acétate de linalyle": "Linalyl Acetate",
    "l-Menthol*": "Menthol",
    "oakmoss absolute": "Evernia Prunastri Extract",
}

# Left must not be read as right: one letter, one group or one place apart, but another substance.
TRAPS = [
    ("citronellal", "Citronellol"),
    ("citronellol", "Citronellal"),
    ("citronellyl acetate", "Citronellol"),
    ("hydroxycitronellol", "Hydroxycitronellal"),
    ("citronellal", "Hydroxycitronellal"),
    ("alpha-citronellol", "Citronellol"),
    ("dihydrocitronellol", "Citronellol"),
    ("6,7-dihydrogeraniol", "Geraniol"),
    ("geraniol", "Citral"),
    ("geranial", "Geraniol"),
    ("nerol", "Geraniol"),
    ("cis-geraniol", "Geraniol"),
    ("(Z)-geraniol", "Geraniol"),
    ("nerolidol", "Nerol"),
    ("neral", "Nerol"),
    ("isogeraniol", "Geraniol"),
    ("geranylgeraniol", "Geraniol"),
    ("geranyl formate", "Geranyl Acetate"),
    ("neryl acetate", "Geranyl Acetate"),
    ("cis-geranyl acetate", "Geranyl Acetate"),
    ("geranyl acetone", "Geranyl Acetate"),
    ("eugenol", "Isoeugenol"),
    ("isoeugenol", "Eugenol"),
    ("iso-eugenol", "Eugenol"),
    ("methyl eugenol", "Eugenol"),
    ("methyl isoeugenol", "Methyl eugenol"),
    ("methyl isoeugenol", "Isoeugenol"),
    ("eugenyl acetate", "Eugenol"),
    ("isoeugenyl acetate", "Eugenyl Acetate"),
    ("dihydroeugenol", "Eugenol"),
    ("benzyl isoeugenol", "Isoeugenol"),
    ("chavibetol", "Eugenol"),
    ("cinnamyl alcohol", "Cinnamal"),
    ("hydrocinnamaldehyde", "Cinnamal"),
    ("3-phenylpropanal", "Cinnamal"),
    ("cinnamic acid", "Cinnamal"),
    ("alpha-methylcinnamaldehyde", "Cinnamal"),
    ("o-methoxycinnamaldehyde", "Cinnamal"),
    ("hydrocinnamyl alcohol", "Cinnamyl Alcohol"),
    ("cinnamyl acetate", "Cinnamyl Alcohol"),
    ("amyl cinnamate", "Amyl Cinnamal"),
    ("amyl cinnamal", "Hexyl Cinnamal"),
    ("amylcinnamyl alcohol", "Amyl Cinnamal"),
    ("linalool oxide", "Linalool"),
    ("linalool (oxide)", "Linalool"),
    ("linalyl acetate", "Linalool"),
    ("linalool", "Linalyl Acetate"),
    ("tetrahydrolinalool", "Linalool"),
    ("dehydrolinalool", "Linalool"),
    ("ethyl linalool", "Linalool"),
    ("linalyl formate", "Linalyl Acetate"),
    ("geranyl linalool", "Linalool"),
    ("benzyl alcohol", "Benzaldehyde"),
    ("benzaldehyde", "Benzyl Alcohol"),
    ("benzoic acid", "Benzaldehyde"),
    ("benzyl acetate", "Benzyl Benzoate"),
    ("methyl benzoate", "Benzyl Benzoate"),
    ("phenethyl benzoate", "Benzyl Benzoate"),
    ("phenethyl salicylate", "Benzyl Salicylate"),
    ("anisaldehyde", "Anise Alcohol"),
    ("salicylic acid", "Salicylaldehyde"),
    ("ethyl salicylate", "Methyl Salicylate"),
    ("isoamyl salicylate", "Amyl Salicylate"),
    ("hexyl salicylate", "Amyl Salicylate"),
    ("menthyl salicylate", "Methyl Salicylate"),
    ("safranal", "Safrole"),
    ("isosafrole", "Safrole"),
    ("dihydrosafrole", "Safrole"),
    ("4-methoxysafrole", "Safrole"),
    ("dihydrocoumarin", "Coumarin"),
    ("7-methoxycoumarin", "Coumarin"),
    ("6-methylcoumarin", "7-Methylcoumarin"),
    ("limonene oxide", "Limonene"),
    ("isolimonene", "Limonene"),
    ("terpinen-4-ol", "Terpineol"),
    ("delta-terpineol", "Terpineol"),
    ("1-terpineol", "Terpineol"),
    ("terpinyl acetate", "Terpineol"),
    ("terpinolene", "Alpha-Terpinene"),
    ("gamma-terpinene", "Alpha-Terpinene"),
    ("isoterpinolene", "Terpinolene"),
    ("alpha-caryophyllene", "Beta-Caryophyllene"),
    ("caryophyllene oxide", "Beta-Caryophyllene"),
    ("cis-caryophyllene", "Beta-Caryophyllene"),
    ("9-epi-(E)-caryophyllene", "Beta-Caryophyllene"),
    ("cis-pinene", "Pinene"),
    ("pinocarveol", "Pinene"),
    ("alpha-pinene epoxide", "Pinene"),
    ("beta-ionone", "Alpha-Isomethyl Ionone"),
    ("methyl ionone", "Alpha-Isomethyl Ionone"),
    ("neomenthol", "Menthol"),
    ("isomenthol", "Menthol"),
    ("menthone", "Menthol"),
    ("carveol", "Carvone"),
    ("dihydrocarvone", "Carvone"),
    ("isoborneol", "Camphor"),
    ("juniper camphor", "Camphor"),
    ("alpha-santalene", "Santalol"),
    ("sclareol oxide", "Sclareol"),
    ("farnesene", "Farnesol"),
    ("farnesyl acetate", "Farnesol"),
    ("ethyl vanillin", "Vanillin"),
    ("isovanillin", "Vanillin"),
    ("vanillin acetate", "Vanillin"),
    ("gamma-damascone", "alpha-Damascone"),
    ("beta-damascone", "Damascenone"),
    ("damascenine", "Damascenone"),
    ("(Z)-2-hexenal", "trans-2-Hexenal"),
    ("(E)-2-decenal", "trans-2-Hexenal"),
    ("1-octen-3-ol", "1-Octen-3-yl acetate"),
    ("cyclamen aldehyde", "Cyclamen alcohol"),
    ("diethyl malonate", "Diethyl maleate"),
    ("3-butylidenephthalide", "3-Propylidenephthalide"),
    ("15-hexadecanolide", "Hexadecanolactone"),
    ("gamma-palmitolactone", "Hexadecanolactone"),
    ("chavicol", "Estragole"),
    ("dihydroanethole", "Anethole"),
    ("methyl anthranilate", "Methyl-N-methylanthranilate"),
    ("musk ketone", "Musk xylene"),
    ("cedryl acetate", "Acetyl Cedrene"),
    ("perillyl alcohol", "Perillaldehyde"),
    ("phellandral", "Perillaldehyde"),
    ("atranol", "Chloroatranol"),
    ("dimethyl benzyl carbinyl butyrate", "Dimethyl Phenethyl Acetate"),
]


def listed(name: str) -> list[dict[str, str]]:
    """The rows of a reference table without its remarks."""
    text = (REFERENCE / name).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@pytest.mark.parametrize(("text", "name"), SPELLINGS.items())
def test_spellings(text: str, name: str) -> None:
    """Each spelling leads to its substance."""
    found = known(text)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize(("text", "other"), TRAPS)
def test_traps(text: str, other: str) -> None:
    """No substance is read as its neighbour, which must be in the table, else this proves nothing."""
    assert known(other) is not None
    found = known(text)
    assert found is None or found.name != other


def test_names_of_papers() -> None:
    """Of 2,114 names each that a rule speaks of is read as it, the misspelt two are shown, no other is."""
    text = (REFERENCE / "eo_compounds.txt").read_text(encoding="utf-8")
    names = [line for line in text.splitlines() if not line.startswith("#")]
    assert len(names) == len(set(names)) == 2114
    rows = listed("eo_compounds_expected.csv")
    must = {row["name"]: row["expected"] for row in rows if row["how"] == "known"}
    shown = {row["name"]: row["expected"] for row in rows if row["how"] == "nearest"}
    assert (len(must), len(shown)) == (105, 2)
    assert set(must) | set(shown) <= set(names)
    spoken_of = {*must.values(), *shown.values()}
    found = {name: row.name for name in names if (row := known(name)) and row.name in spoken_of}
    assert found == must
    for name, expected in shown.items():
        like = nearest(name)
        assert like is not None
        assert like[1].name == expected


def test_every_name_of_the_law_tables_is_known() -> None:
    """What the label and restriction tables call a substance leads back to the same entries by our name."""
    for entry in label_names():
        rows = candidates(entry.name or "Methyl 2-Octynoate")
        assert any(entry in label_names_for(row.name) for row in rows), entry
    grouped = {"Terpenes"}  # a rule for the raw material of several
    for restriction in restrictions():
        if restriction.substance not in grouped:
            rows = candidates(restriction.substance)
            assert any(restriction in restrictions_for(row.name) for row in rows), restriction.substance


def test_numbers_of_the_law_tables_lead_to_the_law_tables() -> None:
    """Every CAS number that a law table prints for one entry leads, through our name, to that entry."""
    for entry in label_names():
        for number in (key.replace(" ", "-") for key in entry.keys if key.replace(" ", "").isdigit()):
            rows = candidates(number)
            assert any(entry in label_names_for(row.name) for row in rows), (entry.name, number)


def test_what_is_read_stands_in_a_law_table() -> None:
    """A row that claims to have been read stands in the label or the restriction table under its name."""
    for row in constituents():
        if row.read:
            assert label_names_for(row.name) or restrictions_for(row.name), row.name


def test_check_digits() -> None:
    """All numbers of the table pass; a slip in any one digit is told."""
    numbers = [number for row in constituents() for number in row.cas]
    assert len(numbers) > 600
    assert all(cas_numbers(number) == (number,) and check_digit_fits(number) for number in numbers)
    assert cas_fault("Lilial, CAS 80-54-6") is None
    assert cas_fault("Lilial, CAS 80-54-5") == "80-54-5"
    assert cas_fault("linalool") is None
    for place, digit in enumerate("78706"):
        wrong = "78706"[:place] + str((int(digit) + 1) % 10) + "78706"[place + 1 :]
        assert cas_fault(f"{wrong[:2]}-{wrong[2:4]}-{wrong[4:]}") is not None


def test_a_wrong_number_beside_a_name() -> None:
    """A name stands without its faulty number; a name and a number that contradict are no answer."""
    assert (row := known("linalool (78-70-5)")) is not None
    assert row.name == "Linalool"
    assert known("linalool (470-82-6)") is None
    assert [row.name for row in candidates("linalool (470-82-6)")] == ["Linalool", "Eucalyptol"]


def test_numbers_that_stand_for_two() -> None:
    """Laurel leaf oil and the banned seed oil share a number: both come back, and no answer is given."""
    assert known("84603-73-6") is None
    assert {row.name for row in candidates("84603-73-6")} == {
        "Laurus Nobilis Leaf Oil",
        "Bay laurel seed oil",
    }
    assert (plain := known("peru balsam")) is not None  # the crude, banned one
    assert plain.name == "Crude Peru balsam"
    assert (oil := known("peru balsam oil")) is not None
    assert oil.name == "Myroxylon Pereirae Oil/Extract"


def test_unknown_is_unknown() -> None:
    """A name that the table does not hold is none; the nearest is shown, unless nothing is like it."""
    assert known("lnalool") is None
    assert (like := nearest("lnalool")) is not None
    assert like[1].name == "Linalool"
    assert known("") is None
    assert known("secret base 12") is None
    assert nearest("secret base 12") is None
    assert known("- " * 5000) is None  # a text of any length is taken apart in no time
    assert nearest("linalool, " * 5000) is None


def test_one_key_one_substance() -> None:
    """No spelling stands for two rows and no name is empty: the order of the table decides nothing."""
    seen: dict[str, str] = {}
    for row in constituents():
        assert row.name
        assert row.kind
        for name in row.names:
            assert key_of(name), name
            assert seen.setdefault(key_of(name), row.name) == row.name, name
    assert len({plain_key(row.name) for row in constituents()}) == len(constituents())


def test_browners_are_named() -> None:
    """The substances that darken soap are in the table and say so."""
    for name in ("vanillin", "ethyl vanillin", "heliotropin", "methyl anthranilate", "indole", "skatole"):
        row = known(name)
        assert row is not None
        assert "browns" in row.note


def test_parts() -> None:
    """A second name in brackets counts, a remark does not, and what is neither leaves the whole unknown."""
    assert parts_of("estragole (methyl chavicol)") == ("estragole", "methyl chavicol")
    assert parts_of("linalool oxide (furanoid)") == ("linalool oxide",)
    assert parts_of("linalool") == ()
    assert known("linalool / linalyl acetate") is None
    assert known("linalool (something else)") is None
