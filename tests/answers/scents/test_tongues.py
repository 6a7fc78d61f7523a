"""Sheets in German, French and Spanish: understood or asked back."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.answers.spreadsheet.words.headings import column_of, plainly
from blendwise.answers.spreadsheet.words.tongues import CELLS_ABROAD, HEADINGS_ABROAD, HOMONYMS
from blendwise.answers.spreadsheet.words.vocabulary import HEADINGS, REMARK
from tests.answers.scents.conftest import as_csv, asked, oils

GERMAN = (
    ("Name", "Lieferant", "Vanillin (%)", "Flammpunkt (°C)", "beschleunigt", "verblasst", "Verfärbung",
     "Grenzwert (%)", "IFRA Kat. 4 (%)", "Bestand (g)", "Preis (€/100 g)", "gekauft am", "Bemerkungen"),
    ("Lavendel", "Duftladen", "0", "71", "nein", "nein", "weiß", "5,5", "12", "120", "12,50",
     "13.04.2026", "schön"),
    ("Traum", "Duftladen", "8,5", "> 93", "leicht", "", "dunkelbraun", "3,2", "8", "80", "9,90",
     "14.04.2026", ""),
    ("Nelke", "Kräuterhof", "keine", "98", "wird sofort fest", "unbekannt", "k.A.", "0,9", "2", "50",
     "7", "", "x"),
)  # fmt: skip
FRENCH = (
    ("Nom", "Fournisseur", "Vanilline (%)", "Point d'éclair (°C)", "Accélère", "Brunit", "Limite IFRA (%)"),
    ("Lavande", "Atelier", "0", "71", "non", "reste blanc", "5,5"),
    ("Rêve", "Atelier", "8,5", "> 93", "légère", "brun foncé", "3,2"),
)
SPANISH = (
    (
        "Producto",
        "Proveedor",
        "Vainillina (%)",
        "Punto de inflamación (°C)",
        "Acelera",
        "Oscurece",
        "Dosis máxima (%)",
    ),
    ("Lavanda", "Taller", "0", "71", "no", "blanco", "5,5"),
    ("Sueño", "Taller", "8,5", "> 93", "ligera", "marrón oscuro", "3,2"),
)


@pytest.mark.parametrize("table", [GERMAN, FRENCH, SPANISH])
def test_columns_and_words_are_understood(tmp_path: Path, table: tuple[tuple[str, ...], ...]) -> None:
    """The same oils in three tongues: their speed, colour, flash point, vanillin and limit are facts."""
    result = asked(as_csv(tmp_path / "s.csv", table, ";"))
    plain, dark = list(oils(result).values())[:2]
    assert ("none", "slight") == tuple(each.acceleration and each.acceleration.word for each in (plain, dark))
    assert ("ivory", "chocolate") == tuple(each.browns_to and each.browns_to.band for each in (plain, dark))
    assert plain.vanillin is not None
    assert 0.0 == plain.vanillin.high
    assert [71.0, 93.0] == [each.flash_point.low for each in (plain, dark) if each.flash_point]
    assert [0.055, 0.032] == [
        pytest.approx(each.limit_in_bar.most.value) for each in (plain, dark) if each.limit_in_bar
    ]
    assert not {"acceleration", "limit in bar", "vanillin"} & {q.heading for q in result.questions}


def test_what_asks_the_other_way_round_is_asked_back(tmp_path: Path) -> None:
    """ "verblasst: nein" is good and is asked about; another use's limit is no limit of the bar."""
    result = asked(as_csv(tmp_path / "s.csv", GERMAN, ";"))
    told = {(q.heading, q.cell): (q.guess, q.must) for q in result.questions}
    assert ("strong", True) == told["verblasst", "nein"]
    assert ("remark", False) == told["IFRA Kat. 4 (%)", ""]
    clove = oils(result)["Nelke"]
    assert clove.acceleration is not None
    assert "seizes" == clove.acceleration.word
    assert clove.browns_to is None
    assert clove.after_six_weeks is None


def test_no_heading_of_another_tongue_takes_an_english_one() -> None:
    """No phrase stands in two fields, and what English means otherwise is asked back."""
    english = {plainly(each): field for field, headings in HEADINGS.items() for each in headings}
    for field, headings in HEADINGS_ABROAD.items():
        for each in headings:
            assert english.get(plainly(each), field) == field, each
            assert column_of(0, each).field == field, each
    for heading, field in HOMONYMS.items():
        assert plainly(heading) not in english
        assert (field, "by nearness") == (column_of(0, heading).field, column_of(0, heading).how)
    words = [plainly(word) for given in CELLS_ABROAD.values() for word in given]
    assert len(words) == len(set(words))
    assert REMARK == column_of(0, "Gewicht").field
