"""The shelf as frames for pandas: a row an oil, numbers in canonical units, NaN where nobody knows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from blendwise.quantity import Amount
from blendwise.records.book import BookFiles

if TYPE_CHECKING:
    import pandas as pd


def scents_frame(book: BookFiles) -> pd.DataFrame:
    """A row an oil of the catalogue, indexed by name.

    Contents and limits are fractions (0.05 for 5 %), ``low`` and ``high`` the ends of a range; flash points
    in °C (``flash_high`` is inf where "above" was written); ``on_hand`` in grams, ``price`` per gram.
    """
    rows = []
    for scent in book.scents.values():
        browns, quick = scent.browns_to, scent.acceleration
        rows.append(
            {
                "name": scent.name,
                "kind": scent.kind,
                "scent_note": scent.scent_note,
                **_ends("vanillin", scent.vanillin),
                **_ends("ethyl_vanillin", scent.ethyl_vanillin),
                "browns_to": browns.band if browns else None,
                "browns_to_evidence": (browns.evidence or scent.evidence) if browns else None,
                "acceleration": quick.told if quick else None,
                "acceleration_evidence": (quick.evidence or scent.evidence) if quick else None,
                "ricing": scent.ricing,
                "after_six_weeks": scent.after_six_weeks,
                **_ends("flash", scent.flash_point),
                "for_skin": scent.for_skin,
                "limit_in_bar": _top(scent.limit_in_bar.most if scent.limit_in_bar else None),
                "certificate": scent.limit_in_bar.certificate if scent.limit_in_bar else None,
                "sheet_complete": scent.allergen_sheet.complete if scent.allergen_sheet else None,
                "tags": ", ".join(scent.tags),
                "lot": scent.lot,
                "price": scent.price.per_gram if scent.price else float("nan"),
                "on_hand": _top(scent.on_hand),
                "bought": scent.bought,
                "evidence": scent.evidence,
            }
        )
    return _frame(rows, SCENT_COLUMNS)


SCENT_COLUMNS = (
    *("name", "kind", "scent_note", "vanillin_low", "vanillin_high", "ethyl_vanillin_low"),
    *("ethyl_vanillin_high", "browns_to", "browns_to_evidence", "acceleration", "acceleration_evidence"),
    *("ricing", "after_six_weeks", "flash_low", "flash_high", "for_skin", "limit_in_bar", "certificate"),
    *("sheet_complete", "tags", "lot", "price", "on_hand", "bought", "evidence"),
)


def colourants_frame(book: BookFiles) -> pd.DataFrame:
    """A row a colourant, indexed by name; ``at`` and usual rates as fractions, ``on_hand`` in grams."""
    rows = [
        {
            "name": each.name,
            "kind": each.kind,
            "hex": each.hex,
            "at": _top(each.at),
            "covers": each.covers,
            "stable_in_lye": each.stable_in_lye,
            "morphs_to": each.morphs_to,
            "bleeds": each.bleeds,
            "dispersed_in": each.dispersed_in,
            "grams_per_teaspoon": _top(each.grams_per_teaspoon),
            **_ends("usual_rate", each.usual_rate),
            "fades_in_light": each.fades_in_light,
            "on_hand": _top(each.on_hand),
            "price": each.price.per_gram if each.price else float("nan"),
            "evidence": each.evidence,
        }
        for each in book.colourants.values()
    ]
    return _frame(rows, COLOURANT_COLUMNS)


COLOURANT_COLUMNS = (
    *("name", "kind", "hex", "at", "covers", "stable_in_lye", "morphs_to", "bleeds", "dispersed_in"),
    *("grams_per_teaspoon", "usual_rate_low", "usual_rate_high", "fades_in_light", "on_hand", "price"),
    "evidence",
)


def oils_frame(book: BookFiles) -> pd.DataFrame:
    """A row a base oil, indexed by name; saponification in mg KOH per g, ``clear_at`` in °C."""
    rows = [
        {
            "name": each.name,
            **_ends("saponification", each.saponification),
            "lot_saponification": _top(each.lot_saponification),
            "hardness": each.hardness,
            "speed": each.speed,
            "clear_at": _top(each.clear_at),
            "lauric": each.lauric,
            "price": each.price.per_gram if each.price else float("nan"),
            "on_hand": _top(each.on_hand),
            "evidence": each.evidence,
        }
        for each in book.oils.values()
    ]
    return _frame(rows, OIL_COLUMNS)


OIL_COLUMNS = (
    *("name", "saponification_low", "saponification_high", "lot_saponification", "hardness", "speed"),
    *("clear_at", "lauric", "price", "on_hand", "evidence"),
)


def _ends(name: str, amount: Amount | None) -> dict[str, float]:
    low, high = (amount.low, amount.high) if amount else (float("nan"), float("nan"))
    return {f"{name}_low": low, f"{name}_high": high}


def _top(amount: Amount | None) -> float:
    return amount.value if amount else float("nan")


def _frame(rows: list[dict[str, Any]], columns: tuple[str, ...]) -> pd.DataFrame:
    import pandas as pd

    return pd.DataFrame(rows, columns=list(columns)).set_index("name")
