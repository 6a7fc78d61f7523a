"""Measures of browning: the load of all browners in a portion, and the band it reaches."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from blendwise.beliefs.believe import OWN
from blendwise.beliefs.browners import BROWNER_TAGS, browning_content, is_tagged
from blendwise.beliefs.contents import contents_of
from blendwise.beliefs.traits import FAR_APART, RANK, USUAL_DOSE, typical_load
from blendwise.facts.columns import Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, inverted, number, word
from blendwise.facts.plain_columns import flags, widened, words
from blendwise.facts.registry import Bound, Use
from blendwise.facts.scales import BANDS, PINKS, YELLOWS
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science import browning as science
from blendwise.science import casts

COUNTS = 0.1  # of a portion's load: an oil with less of it decides nothing (judgement)
SOURCE = "contents and colours in scents.yaml; bands of the rulebook (common practice)"


def band_edges(s: Situation) -> Floats:
    """Upper edges of the bands (fractions of portion batter), one fewer than there are bands."""
    tops = [step.up_to for step in s.scales.bands]
    return np.array([top.high for top in tops if top is not None], dtype=float)


def _missing_browners(s: Situation) -> list[tuple[Missing, ...]]:
    return [tuple(Missing(t.name, fact) for fact in t.missing_browner) for t in s.traits]


def _narrowed_by(s: Situation) -> dict[int, tuple[Missing, ...]]:
    """A look of one's own at what an oil browns to brings the ends of its reading nearer."""
    read = np.array([t.browner.high > 0 and t.browner.evidence not in OWN for t in s.traits], dtype=bool)
    return {
        p: tuple(Missing(s.scents[i], "browns to") for i in np.flatnonzero(read & s.presence[:, p]))
        for p in range(len(s.portions))
    }


@affine(
    "browning load",
    "portion",
    unit="% of portion batter",
    basis="of portion batter",
    missing=_missing_browners,
    narrowed_by=_narrowed_by,
)
def browning_load(s: Situation) -> AffineFraction:
    """All browners in the portion (vanillin, ethyl vanillin, the others, or what was seen), summed.

    Within its doubt a stated content is read as a colour to about half a band, a band that was seen as any
    load of that band.

    Formula: Σ grams × browner content ÷ (batter + scent)
    """
    unit = s.unit_of_portion()
    low = np.array([t.browner.low for t in s.traits], dtype=float)
    high = np.array([t.browner.high for t in s.traits], dtype=float)
    least, most = np.array([t.browner.ends for t in s.traits], dtype=float).reshape(-1, 2).T
    at_most, at_worst = (np.where(unit > 0, end[None, :, None], 0.0) for end in (high, most))
    doubt = (least[None, :, None] * unit, at_worst) if (most > least).any() else None
    return fraction(low[None, :, None] * unit, unit, s.split.batter, a_high=at_most, doubt=doubt)


def _cap_band(s: Situation, relation: str, limit: Floats) -> Bound:
    """A bound on the band is one on the load: at most a band, up to its upper edge."""
    edges = band_edges(s)
    index = np.clip(limit.astype(int), -1, len(BANDS) - 1)
    if relation in ("at most", "below"):
        index = index - (relation == "below")
        most = science.load_limit(np.maximum(index, 0), edges)
        return Bound("at most", np.where(index < 0, -1.0, most))
    index = index + (relation == "above")
    lower = np.where(index > 0, science.load_limit(np.clip(index - 1, 0, None), edges), -np.inf)
    return Bound("above", lower)


@inverted(
    "browning band", "portion", "browning load", _cap_band, scale=BANDS, use=Use(warns_of="browned too far")
)
def browning_band(s: Situation) -> Column:
    """The band that the portion browns to by the end of cure, on an uncoloured base: ivory … chocolate.

    Formula: the first band whose upper edge the browning load does not pass
    """
    load = s.home("browning load")
    assert isinstance(load, Column)
    edges = band_edges(s)
    low, high, least, most = (
        science.band_of(np.where(np.isfinite(end), np.maximum(end, 0.0), 1e9), edges).astype(float)
        for end in (load.low, load.high, *load.outer)
    )
    band = Column(low, high, BANDS, load.asked, load.missing, _who(s))
    return widened(band, least, most, load) if load.widened else band


def _who(s: Situation) -> dict[int, str]:
    """Whose word the browning of each portion stands on: the weakest of those that count in it.

    Those count that are a tenth of the portion's load or more, by the top of what is believed of them.
    """
    said = [t.browner.evidence for t in s.traits]
    tops = np.array([t.browner.high if t.browner.known else 0.0 for t in s.traits], dtype=float)
    parts = s.x * tops[:, None]
    counts = parts >= COUNTS * parts.sum(axis=0)
    found = {}
    for p in range(len(s.portions)):
        here = [said[i] for i in np.flatnonzero(counts[:, p] & (parts[:, p] > 0)) if said[i]]
        if here:
            found[p] = min(here, key=lambda word: RANK.get(word, 0))
    return found


@affine("yellow load", "portion", unit="% of portion batter", basis="of portion batter")
def yellow_load(s: Situation) -> AffineFraction:
    """All that turns the portion yellow to orange (citral, cinnamal, anthranilates), each by its weight.

    Formula: Σ grams × content ÷ (batter + scent)
    """
    return _cast_load(s, np.array([t.yellow for t in s.traits], dtype=float))


@affine("pink load", "portion", unit="% of portion batter", basis="of portion batter")
def pink_load(s: Situation) -> AffineFraction:
    """All that turns the portion pink to red-brown (indole and its kin), each by its weight.

    Formula: Σ grams × content ÷ (batter + scent)
    """
    return _cast_load(s, np.array([t.pink for t in s.traits], dtype=float))


def _cast_load(s: Situation, content: Floats) -> AffineFraction:
    unit = s.unit_of_portion()
    return fraction(content[None, :, None] * unit, unit, s.split.batter)


def _cap_cast(family: casts.Family) -> Callable[[Situation, str, Floats], Bound]:
    edges = np.array([*casts.EDGES[family], np.inf]) * (1 - science.EDGE_ROUND_OFF)

    last = len(edges) - 1

    def bound(s: Situation, relation: str, limit: Floats) -> Bound:
        """A bound on the cast is one on the load: at most a word, below the edge of the next."""
        index = limit.astype(int) - (relation == "below") + (relation == "above")
        if relation in ("at most", "below"):
            return Bound("at most", np.where(index < 0, -1.0, edges[np.clip(index, 0, last)]))
        lower = np.where(index > 0, edges[np.clip(index - 1, 0, last)], -np.inf)
        return Bound("at least", lower)

    return bound


@inverted("yellow cast", "portion", "yellow load", _cap_cast("yellow"), scale=YELLOWS)
def yellow_cast(s: Situation) -> Column:
    """The yellow that the portion turns by what it holds, on an uncoloured base: none … orange.

    Formula: the last word whose edge the yellow load reaches
    """
    return _cast(s, "yellow", YELLOWS)


@inverted("pink cast", "portion", "pink load", _cap_cast("pink"), scale=PINKS)
def pink_cast(s: Situation) -> Column:
    """The pink that the portion turns by what it holds, on an uncoloured base: none … red-brown.

    Formula: the last word whose edge the pink load reaches
    """
    return _cast(s, "pink", PINKS)


def _cast(s: Situation, family: casts.Family, scale: tuple[str, ...]) -> Column:
    load = s.home(f"{family} load")
    assert isinstance(load, Column)
    word_of = casts.cast_of(np.maximum(load.high, 0.0), family).astype(float)
    return Column(word_of, word_of, scale, evidence=_cast_by(s, family))


def _cast_by(s: Situation, family: casts.Family) -> dict[int, str]:
    """What brings the colour: the constituents by their names."""
    found = {}
    for p in range(len(s.portions)):
        names = [
            part.name
            for i in np.flatnonzero(s.presence[:, p])
            for part in contents_of(s.scent_records[i]).parts
            if casts.weight(part.name, family) > 0 and getattr(s.traits[i], family) > 0
        ]
        if names:
            found[p] = f"by {', '.join(dict.fromkeys(names))}, as makers report"
    return found


@word("planned band", "portion", BANDS)
def planned_band(s: Situation) -> Column:
    """What the plan lets the portion become (`may become:`), else ivory."""
    return words([p.may_become or BANDS[0] for p in s.plan.portions], BANDS)


@number("browning power", "scent", unit="% of the scent", dimension="FRACTION", basis="of the scent")
def browning_power(s: Situation) -> Column:
    """How much of the oil browns: stated browners summed, or what was seen turned back into a content."""
    low = np.array([t.browner.low for t in s.traits], dtype=float)
    high = np.array([t.browner.high for t in s.traits], dtype=float)
    silent = np.array([t.browner.low == 0 and not t.browner.known for t in s.traits], dtype=bool)
    gaps = {i: m for i, m in enumerate(_missing_browners(s)) if m}
    return Column(np.where(silent, -np.inf, low), high, missing=gaps)


@flag("words against each other", "scent")
def against_each_other(s: Situation) -> Column:
    """Whether what is written of its colour contradicts itself by more than a band; the worse counts."""
    said = [_both_words(s, record) for record in s.scent_records]
    return replace(flags([bool(each) for each in said]), evidence={i: t for i, t in enumerate(said) if t})


def _darker_than_stated(scent: Scent, band: str, stated: float, content: float) -> bool:
    """Whether a fragrance oil that states next to no browner is said to turn tan or darker.

    An oil of a plant browns by what no figure names (dark resins, patchouli), a white floral by indole to
    beige (common practice), and what was seen in one's own bar is no contradiction.
    """
    seen = scent.browns_to
    whose = (seen.evidence if seen else None) or scent.evidence or ""
    of_a_plant = scent.kind not in (None, "fragrance oil")
    return (
        not of_a_plant
        and whose not in OWN
        and BANDS.index(band) >= BANDS.index("tan")
        and content > FAR_APART * stated
    )


def _both_words(s: Situation, scent: Scent) -> str:
    """Both words that contradict each other, as written; empty where none do."""
    seen = scent.browns_to
    stated, missing = browning_content(scent)
    if is_tagged(scent) and not missing and stated == 0 and (seen is None or seen.band == "ivory"):
        tags = ", ".join(tag for tag in scent.tags if tag.casefold() in BROWNER_TAGS)
        return f"tagged {tags}, yet nothing in it browns"
    if seen is None or missing:
        return ""
    dose = seen.at.value if seen.at is not None else USUAL_DOSE
    content = typical_load(s.scales, seen.band) * (s.pot.batter_to_oils + dose) / dose
    if stated <= FAR_APART * content and not _darker_than_stated(scent, seen.band, stated, content):
        return ""
    return f"{100 * stated:.3g} % of browners stated, {seen.band} seen"
