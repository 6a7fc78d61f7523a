"""How the portions look: planned, and cured with what browns in them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Bools, Floats
from blendwise.facts.situation.worked_out import Situation, once_for_all_doses
from blendwise.quantity import Amount, Basis
from blendwise.records.kinds.colourant import Colourant
from blendwise.science import browning, casts, mixing

ASSUMED_RATE = 0.01  # of portion oils, where nobody noted the rate at which the colour was seen
ASSUMED_COVER = "half"


@dataclass(frozen=True, slots=True)
class Appearance:
    """Per portion: ``plain`` absorption and scattering without any cast, ``planned`` CIELAB (portions, 3)."""

    plain: mixing.Paint
    planned: Floats
    colourless: Bools


@once_for_all_doses
def appearance(s: Situation) -> Appearance:
    """The colours of the portions as planned, cured, in the gel state that the plan means to have."""
    records = s.colourant_records
    rates = _relative_rates(s)
    plain = mixing.colours_without_cast(rates, _paints(records), base_scatter=mixing.STATE_SCATTER[state(s)])
    plain = mixing.Paint(
        np.broadcast_to(plain.absorb, (len(s.portions), 3)),
        np.broadcast_to(plain.scatter, (len(s.portions),)),
    )
    return Appearance(plain, browning.browned_lab(plain, np.zeros(len(s.portions))), rates.sum(axis=1) == 0)


def state(s: Situation) -> str:
    """The state that colours are told for: gelled where gel is forced, else not gelled."""
    return "cured after gel" if gel_word(s) == "force" else "cured without gel"


def gel_word(s: Situation) -> str | None:
    """avoid, leave or force, by the plan, else by the usual way; None where neither says."""
    process = s.plan.process
    plan = (process.gel_plan if process else None) or s.book.usual.gel_plan
    return plan.word if plan else None


def cured_lab(s: Situation, load: Floats) -> Floats:
    """CIELAB (..., portions, 3) once a load (..., portions) has settled, own casts of the oils on top."""
    plain = appearance(s).plain
    cast = mixing.Paint(plain.absorb + own_casts(s), plain.scatter)
    return browning.browned_lab(cast, load)


def own_casts(s: Situation) -> Floats:
    """Absorption (portions, 3) of the oils' own colours, in proportion to their dose over the usual one, and
    of what turns yellow or pink in lye."""
    total = _constituents(s)
    for i, record in enumerate(s.scent_records):
        if record.own_cast and (word := browning.own_cast_of(record.own_cast)):
            share = s.x[i] / (s.split.oils * USUAL_DOSE_FOR_CAST)
            total += browning.own_cast_absorption(word, share)
    return total


def _constituents(s: Situation) -> Floats:
    """Absorption (portions, 3) of the families of casts besides the browns."""
    total, whole = np.zeros((len(s.portions), 3)), s.split.batter + s.x.sum(axis=0)
    contents: dict[casts.Family, list[float]] = {
        "yellow": [t.yellow for t in s.traits],
        "pink": [t.pink for t in s.traits],
    }
    for family, content in contents.items():
        if any(content):
            total += casts.cast_absorption(np.array(content) @ s.x / whole, family)
    return total


USUAL_DOSE_FOR_CAST = 0.04  # of oils; common practice: an ordinary load


def _relative_rates(s: Situation) -> Floats:
    """(portions, colourants): each colourant's rate over the rate at which its colour was noted."""
    noted = np.array([_noted_rate(r, s.pot.batter_to_oils) for r in s.colourant_records], dtype=float)
    rates = (s.split.colour / s.split.oils).T
    return np.asarray(rates / noted) if len(noted) else rates


def _noted_rate(record: Colourant, batter_to_oils: float) -> float:
    """g per g of oils at which the hex was seen; the middle of the usual rate where it was not noted."""
    noted: Amount | None = record.at or record.usual_rate
    if noted is None:
        return ASSUMED_RATE
    on_batter = noted.basis in (Basis.BATTER, Basis.PORTION_BATTER, Basis.BATCH_BATTER)
    return noted.mid * (batter_to_oils if on_batter else 1.0)


def _paints(records: list[Colourant]) -> mixing.Paint:
    if not records:
        return mixing.Paint(np.zeros((0, 3)), np.zeros(0))
    colours = mixing.linear_from_hex([cured_hex(r) for r in records])
    cover = np.array([mixing.COVERS_SCATTER[r.covers or ASSUMED_COVER] for r in records])
    return mixing.paint_of(colours, cover)


def cured_hex(record: Colourant) -> str:
    """The colour that is left after lye: what it morphs to where that is given as a hex code."""
    morphed = record.morphs_to
    if record.stable_in_lye is False and morphed is not None and morphed.startswith("#"):
        return morphed
    return record.hex
