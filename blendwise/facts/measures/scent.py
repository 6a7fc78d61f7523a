"""Measures of an oil as the catalogue describes it."""

from __future__ import annotations

from datetime import date

import numpy as np

from blendwise.beliefs.believe import OWN
from blendwise.beliefs.contents import contents_of
from blendwise.beliefs.traits import READING_DOUBT, USUAL_DOSE, Traits, typical_load
from blendwise.facts import papers
from blendwise.facts.columns import Column, Floats, Missing, SetColumn
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number, tags, word
from blendwise.facts.plain_columns import flags, known, numbers, sets, words
from blendwise.facts.registry import Use
from blendwise.facts.scales import ACCELERATION, KINDS, RICING, SCENT_NOTES, STRENGTH, VOLATILITY
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science import browning, fade, flash

SOURCE = "scents.yaml"

IMPLIED = ("amine", "aldehyde")
IMPLIES = 0.01  # of the oil: from here its amines or aldehydes are worth the tag: judgement


def missing(s: Situation, fact: str) -> list[Missing]:
    """One named gap a scent."""
    return [Missing(name, fact) for name in s.scents]


def evidence(s: Situation) -> list[str]:
    """Who says so, a scent, unless a statement names its own evidence."""
    return [r.evidence or "" for r in s.scent_records]


@word("kind", "scent", KINDS)
def kind(s: Situation) -> Column:
    """What sort of oil it is."""
    return words([r.kind for r in s.scent_records], KINDS, missing(s, "kind"))


@word("scent note", "scent", SCENT_NOTES)
def scent_note(s: Situation) -> Column:
    """Base, middle or top."""
    return words([r.scent_note for r in s.scent_records], SCENT_NOTES, missing(s, "scent note"))


@tags("tags", "scent")
def scent_tags(s: Situation) -> SetColumn:
    """The maker's own words for the oil (citrus, spice, fixative …); what it holds adds amine and aldehyde.

    An oil that holds 1 % or more of amines or of aldehydes, by its papers, counts as so tagged (judgement).
    """
    return sets([tags_of(r) for r in s.scent_records])


def tags_of(scent: Scent) -> tuple[str, ...]:
    """The maker's words for an oil, and those that its contents imply."""
    return (*scent.tags, *_implied(scent))


def _implied(scent: Scent) -> list[str]:
    """The classes that constituents named on the sheet, in `browns by` or by the oil's name put it into."""
    found = contents_of(scent)
    held = {kind: sum(p.high for p in found.parts if p.kind.startswith(kind)) for kind in IMPLIED}
    own = {kind for kind in IMPLIED for row in found.own if row.kind.startswith(kind)}
    return [kind for kind in IMPLIED if (held[kind] >= IMPLIES or kind in own) and kind not in scent.tags]


@tags("scent", "scent")
def scent_name(s: Situation) -> SetColumn:
    """The oil's own name, so that a rule can speak of one oil."""
    return sets([[name] for name in s.scents])


@number(
    "vanillin",
    "scent",
    unit="% of the scent",
    dimension="FRACTION",
    basis="of the scent",
    highest=1.0,
    use=Use(fact="browning", told_by=lambda r: r.browns_to or r.vanillin is not None or r.browns_by),
)
def vanillin(s: Situation) -> Column:
    """Vanillin content with ethyl vanillin; a range counts by its top."""
    found = [
        None
        if r.vanillin is None
        else r.vanillin.value + (r.ethyl_vanillin.value if r.ethyl_vanillin else 0.0)
        for r in s.scent_records
    ]
    return numbers(found, missing(s, "vanillin"), evidence=evidence(s))


@word(
    "acceleration",
    "scent",
    ACCELERATION,
    use=Use(warns_of="thick too soon", fact="acceleration", told_by=lambda r: r.acceleration),
)
def acceleration(s: Situation) -> Column:
    """How much it quickens trace, in the words of the scale; own looks count."""
    who = [t.speed.evidence for t in s.traits]
    return words([t.speed_word for t in s.traits], ACCELERATION, missing(s, "acceleration"), evidence=who)


@word("ricing", "scent", RICING, use=Use(warns_of="riced", fact="ricing", told_by=lambda r: r.ricing))
def ricing(s: Situation) -> Column:
    """Whether it makes batter rice; own looks count."""
    who = [told for _, told in s.ricing]
    return words([word for word, _ in s.ricing], RICING, missing(s, "ricing"), evidence=who)


@word(
    "after six weeks",
    "scent",
    STRENGTH,
    use=Use(warns_of="faint at six weeks", fact="after six weeks", told_by=lambda r: r.after_six_weeks),
)
def after_six_weeks(s: Situation) -> Column:
    """How strong the bar smells at six weeks: gone, faint, fair, strong; own looks count."""
    who = [t.strength_evidence for t in s.traits]
    return words([t.strength for t in s.traits], STRENGTH, missing(s, "after six weeks"), evidence=who)


@number("broken by lye", "scent", unit="% of the scent", dimension="FRACTION", highest=1.0)
def broken_by_lye(s: Situation) -> Column:
    """Esters and aldehydes that raw soap splits or changes, as far as the oil's papers name them.

    Formula: Σ content of constituents that break in lye
    """
    return known([min(1.0, _broken(r)) for r in s.scent_records])


def _broken(scent: Scent) -> float:
    parts = contents_of(scent).parts
    return sum(p.high for p in parts if not p.open and fade.breaks_in_lye(p.name, p.kind))


@flag("strength smelled by you", "scent")
def smelled(s: Situation) -> Column:
    """Whether what is left of it at six weeks stands on own batches or cups."""
    return flags([t.strength is not None and t.strength_evidence in OWN for t in s.traits])


@word("volatility", "scent", VOLATILITY)
def volatility(s: Situation) -> Column:
    """Class by published vapour pressures of the constituents that its sheet names."""
    return words([_volatility(s, i) for i in range(len(s.scents))], VOLATILITY, missing(s, "constituents"))


def _volatility(s: Situation, index: int) -> str | None:
    sheet = s.scent_records[index].allergen_sheet
    if sheet is None or not sheet.names:
        return None
    contents = np.array([amount.mid for amount in sheet.names.values()])
    found = fade.main_class(list(sheet.names), contents / max(1.0, contents.sum()))
    return None if found is None else VOLATILITY[len(VOLATILITY) - 1 - found]


@number(
    "flash point",
    "scent",
    unit="°C",
    dimension="TEMPERATURE",
    use=Use(fact="flash point", told_by=lambda r: r.flash_point),
)
def flash_point(s: Situation) -> Column:
    """For storing and shipping, not for fade."""
    points = [r.flash_point for r in s.scent_records]
    low = np.array([-np.inf if p is None else p.low for p in points], dtype=float)
    high = np.array([np.inf if p is None else p.high for p in points], dtype=float)
    lost = {i: (m,) for i, m in enumerate(missing(s, "flash point")) if points[i] is None}
    return Column(low, high, missing=lost)


@number("flammable category", "scent", lowest=1.0, highest=5.0)
def flammable_category(s: Situation) -> Column:
    """GHS category of flammable liquids by its flash point (1 worst, 4 least; 5 stands for none)."""
    points = [r.flash_point for r in s.scent_records]
    found = [None if p is None else float(flash.ghs_category(round(p.low, 6)) or 5) for p in points]
    return numbers(found, missing(s, "flash point"))


@flag("for skin", "scent", use=Use(fact="for skin", told_by=lambda r: r.for_skin is not None))
def for_skin(s: Situation) -> Column:
    """Whether the supplier sells it for use on skin; a certificate with a limit for soap says so too."""
    return flags([said_for_skin(r, s.today) for r in s.scent_records], missing(s, "for skin"))


def said_for_skin(scent: Scent, today: date) -> bool | None:
    """What is said of use on skin, by its entry or by a certificate for soap; None where nothing is."""
    limit = scent.limit_in_bar
    allowed = limit is not None and limit.most.high > 0 and papers.certified(scent, today)
    return True if scent.for_skin is None and allowed else scent.for_skin


@number("blend share", "scent", unit="% of the blend", dimension="FRACTION", highest=1.0)
def blend_share(s: Situation) -> Column:
    """Its share of the blend, by mass, as the plan writes it."""
    return numbers([float(v) for v in s.scenting.blend], missing(s, "blend"))


@affine("grams in batch", "scent", unit="g", dimension="MASS", use=Use(of_size=True))
def grams_in_batch(s: Situation) -> AffineFraction:
    """All of it that the batch takes.

    Formula: Σ over portions of dose
    """
    return fraction(s.unit_of_scent().copy(), d0=1.0)


@affine("short by", "scent", unit="g", dimension="MASS", lowest=-np.inf, use=Use(of_size=True))
def short_by(s: Situation) -> AffineFraction:
    """How much more the batch takes than the bottle holds (below zero: enough; not asked where not weighed).

    Formula: Σ over portions of dose − on hand
    """
    held = np.array([np.nan if r.on_hand is None else r.on_hand.value for r in s.scent_records], dtype=float)
    weighed: Floats = np.where(np.isnan(held), 0.0, 1.0)
    return fraction(s.unit_of_scent() * weighed[:, None, None], d0=weighed, a0=-np.nan_to_num(held))


@flag("stabilised", "scent")
def stabilised(s: Situation) -> Column:
    """Whether a vanilla stabiliser is added: it delays browning, it does not prevent it."""
    named = s.plan.scents.stabilised if s.plan.scents else []
    return flags([name in named for name in s.scents])


@flag("own cast", "scent")
def own_cast(s: Situation) -> Column:
    """Whether the oil has a colour of its own."""
    return flags(
        [None if r.own_cast is None else r.own_cast not in browning.COLOURLESS for r in s.scent_records],
        missing(s, "own cast"),
    )


@flag("deep own cast", "scent")
def deep_own_cast(s: Situation) -> Column:
    """Whether its entry calls the oil's own colour a deep one (amber, orange, red-brown, dark green).

    No where the entry does not speak of it (`own cast` asks for that), and for an oil that browns past cream
    at a usual dose: its brown hides its tint, and has rules of its own.
    """
    deep = [r.own_cast is not None and bool(browning.is_deep(r.own_cast)) for r in s.scent_records]
    return flags([one and not _browns(s, t) for one, t in zip(deep, s.traits, strict=True)])


def _browns(s: Situation, traits: Traits) -> bool:
    """Whether an oil alone, at a usual dose, browns past cream by the centre of what is believed."""
    load = traits.browner.low * USUAL_DOSE / (s.pot.batter_to_oils + USUAL_DOSE)
    return load > typical_load(s.scales, "beige") / READING_DOUBT


@number("terpenes that air changes", "scent", unit="% of the scent", dimension="FRACTION", highest=1.0)
def oxidising(s: Situation) -> Column:
    """What air makes allergens of (limonene, terpinenes, linalool, pinenes …), as far as papers name it.

    Formula: Σ content of constituents that air changes
    """
    return known([min(1.0, _oxidising(r)) for r in s.scent_records])


def _oxidising(scent: Scent) -> float:
    parts = contents_of(scent).parts
    return sum(p.high for p in parts if not p.open and fade.air_changes(p.name))
