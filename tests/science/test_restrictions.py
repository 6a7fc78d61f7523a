"""Published maxima and bans against the rows that were read."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from blendwise.science.restrictions import bans_among, maxima_for, restrictions, restrictions_for

Rows = list[dict[str, str]]


def test_every_row_that_was_read_is_there(published: Callable[..., Rows]) -> None:
    """Each CosIng row (Annexes II and III, update of 08/12/2025) is there with its figure for soap."""
    rows = published("restricted_fragrance_eu", "seen")
    ours = {row.entry: row for row in restrictions() if row.authority == "EU" and not row.reported}
    assert set(ours) == {f"{r['annex']}/{r['ref']}" for r in rows}
    assert len(rows) == len(ours)
    for r in rows:
        figure = ours[f"{r['annex']}/{r['ref']}"].most
        expected = float(r["max_rinse_off_pct"]) / 100 if r["max_rinse_off_pct"] else None
        assert figure == (None if expected is None else pytest.approx(expected)), r["substance"]
        assert ("banned" in r["rule"]) == (ours[f"{r['annex']}/{r['ref']}"].entry.startswith("II/"))


def test_amendment_49_figures(published: Callable[..., Rows]) -> None:
    """The four category 9 figures of IFRA's 49th Amendment that were read stand under their own authority."""
    rows = [r for r in published("ifra_category9", "seen") if r["cat9_max_pct"]]
    found, _, figures = maxima_for([r["cas"] for r in rows], "IFRA 49th Amendment")
    assert [row.substance for row in found] == [
        "Methyl eugenol",
        "Estragole",
        "Citronellal",
        "Cinnamyl alcohol",
    ]
    assert 100 * figures == pytest.approx([0.00087, 0.05, 1.4, 0.76])
    assert [float(r["cat9_max_pct"]) for r in rows] == pytest.approx(100 * figures)


@pytest.mark.parametrize(
    "name",
    [
        "BMHCA",
        "butylphenyl methylpropional",
        "80-54-6",
        "HICC",
        "atranol",
        "chloroatranol",
        "costus root oil",
        "Fig leaf absolute",
        "verbena oil",
        "crude peru balsam",
        "Peru balsam",
        "musk xylene",
        "6-methyl coumarin",
        "tagetes erecta oil",
    ],
)
def test_banned_materials(name: str) -> None:
    """What Annex II bans, or Annex III keeps to the mouth, is found under any of its names."""
    ((found, row),) = bans_among(["linalool", name])
    assert (found, row.rule) == (name, "banned")


@pytest.mark.parametrize(
    "name", ["vanillin", "verbena absolute", "peru balsam oil", "safrole", "cumin oil", "limonene"]
)
def test_what_is_not_banned(name: str) -> None:
    """A material that is allowed, with or without a maximum, is not called banned."""
    assert bans_among([name]) == ()


def test_one_number_for_two_preparations() -> None:
    """The CAS number of Peru balsam stands for a banned and an allowed preparation: both rows come back."""
    assert sorted(row.rule for row in restrictions_for("8007-00-9")) == ["banned", "maximum"]


def test_traces_and_oral_use_are_told() -> None:
    """Safrole's natural traces and the condition of methyl salicylate are in the row's own words."""
    (safrole,) = restrictions_for("Safrole")
    assert safrole.most == pytest.approx(0.0001)
    assert "natural essences" in safrole.condition
    (salicylate,) = restrictions_for("methyl salicylate")
    assert "hand wash" in salicylate.condition


def test_no_figure_is_not_zero() -> None:
    """Cumin oil has an EU figure for leave-on products only, so for soap there is no maximum."""
    (cumin,) = restrictions_for("cumin oil")
    assert (cumin.rule, cumin.most) == ("no figure", None)
    assert maxima_for(["cumin oil"])[0] == ()


def test_purity_rules_are_no_limits_on_soap() -> None:
    """Limonene's peroxide rule concerns the raw material and gives no maximum."""
    assert [row.rule for row in restrictions_for("d-limonene")] == ["purity"]


def test_names_are_found_however_they_are_written() -> None:
    """Capitals, hyphens and spaces do not matter."""
    assert (
        restrictions_for("Methyl-Eugenol")
        == restrictions_for("methyl eugenol")
        == restrictions_for("93-15-2")
    )


def test_every_row_names_its_source() -> None:
    """No row without a source, and only the published kinds of rule."""
    assert all(row.source and row.authority for row in restrictions())
    assert {row.rule for row in restrictions()} == {"maximum", "banned", "purity", "no figure"}
    assert all((row.most is not None) == (row.rule == "maximum") for row in restrictions())
