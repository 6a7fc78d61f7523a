"""Measures of the finished bar: limits by certificate, shares in it, flash points, notes of the blend."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from blendwise.beliefs.believe import OWN
from blendwise.beliefs.contents import is_folded
from blendwise.facts import papers
from blendwise.facts.columns import Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number
from blendwise.facts.measures.dose import GUARD, guard_of
from blendwise.facts.measures.scent import missing
from blendwise.facts.plain_columns import flags, known
from blendwise.facts.registry import Use
from blendwise.facts.scales import SCENT_NOTES, STRENGTH
from blendwise.facts.situation.dried import dried, dried_portions
from blendwise.facts.situation.worked_out import Situation
from blendwise.records.kinds.scent import Scent
from blendwise.science.flash import lowest_flash
from blendwise.science.limits import per_limit, worst_bar

SOURCE = "certificates in scents.yaml; the sum rule (derived); only water leaves a bar, down to 6 %"


GUARD_IN_BAR = 0.025  # what 3 % of oils come to in a dried bar: our own guard, no publication
FAIR = STRENGTH.index("fair")
HUGE = 1e9  # stands for 1 / 0: an oil that may not be in soap at all uses any limit up


def limits(records: Sequence[Scent]) -> Floats:
    """Most of each oil in the bar by its certificate (fractions); NaN without one."""
    return np.array(
        [np.nan if r.limit_in_bar is None else r.limit_in_bar.most.low for r in records], dtype=float
    )


def _uses(records: Sequence[Scent]) -> Floats:
    """1 / limit a scent; 0 without a certificate (other rules speak of that), huge for a limit of zero."""
    found = limits(records)
    return np.where(np.isnan(found), 0.0, np.minimum(per_limit(np.nan_to_num(found, nan=1.0)), HUGE))


def embed_records(s: Situation) -> list[Scent]:
    """The oils that embeds bring, in the order of ``s.embed_scents``."""
    return [s.book.scents[name] for name in s.embed_scents]


def embed_grams(s: Situation) -> Floats:
    """Grams of each of those."""
    return np.array(list(s.embed_scents.values()), dtype=float)


def embeds_by_limit(s: Situation) -> float:
    """Σ grams / limit over the scents that embeds bring."""
    return float((embed_grams(s) * _uses(embed_records(s))).sum())


@affine("limit used", "batch", unit="% of what the certificates allow", dimension="FRACTION")
def limit_used(s: Situation) -> AffineFraction:
    """How much of what the certificates allow the whole bar uses, by the sum rule, embeds included.

    Above 100 % is too much.  Oils without a certificate are not in this sum: they have rules of their own.
    Formula: Σ (share in dried bar ÷ limit); dried bar =
    Formula: (oils + lye + dry additives + colour + scent) ÷ 0.94 + embeds
    """
    a = np.broadcast_to(_uses(s.scent_records)[None, :, None], (1, *s.shape))
    return of_dried_bar(s, a, a0=embeds_by_limit(s))


def of_dried_bar(
    s: Situation,
    a: Floats,
    a0: Floats | float = 0.0,
    home: NDArray[np.int64] | None = None,
    a_high: Floats | None = None,
) -> AffineFraction:
    """Rows ``a`` (rows, scents, portions) and ``a0``, over the whole batch as limits see it."""
    bar = dried(s)
    below = np.full((len(a), *s.shape), bar.per_gram)
    return fraction(a, below, bar.batch, a0=a0, a_high=a_high, home=home)


def of_dried_portion(
    s: Situation,
    a: Floats,
    rows: int = 1,
    home: NDArray[np.int64] | None = None,
    a_high: Floats | None = None,
) -> AffineFraction:
    """Rows ``a`` (portions × rows, scents, portions), each over its portion as a bar by itself."""
    bar = dried(s)
    below = np.repeat(s.unit_of_portion() * bar.per_gram_in_portion[:, None, None], rows, axis=0)
    return fraction(a, below, np.repeat(bar.portions, rows), a_high=a_high, home=home)


@affine("limit used in portion", "portion", unit="% of what the certificates allow", dimension="FRACTION")
def limit_used_in_portion(s: Situation) -> AffineFraction:
    """How much of what the certificates allow the portion would use by itself, as a bar cut from it alone.

    Formula: Σ grams ÷ limit ÷ dried mass of the portion
    """
    return of_dried_portion(s, s.unit_of_portion() * _uses(s.scent_records)[None, :, None])


@number(
    "limit used in worst bar",
    "batch",
    unit="% of what the certificates allow",
    dimension="FRACTION",
    form="afterwards",
)
def limit_used_in_worst_bar(s: Situation) -> Column:
    """How much of what the certificates allow the worst cut bar uses.

    The mean, or a bar that gets no embed, is raised by the pour's unevenness; a cavity that is filled by hand
    may catch twice its even part of the strongest portion (our estimate); at most that portion alone.
    Formula: min(max(mean × (1 + uneven), mean + share ÷ (1 − share) × (strongest − mean)), strongest)
    """
    mean, strongest = s.home("limit used"), s.home("limit used in portion")
    assert isinstance(mean, Column)
    assert isinstance(strongest, Column)
    bare = _without_embeds(s)
    pour = s.book.guard_pour(s.plan.pour)
    uneven = pour.uneven.high if pour and pour.uneven else 0.0
    top = float(strongest.low.max(initial=0.0))
    even = np.maximum(mean.low, bare)
    worst = worst_bar(even, uneven, top)
    if _mould(s) == "cavities" and len(s.portions) > 1:
        part = float(s.split.share[int(strongest.low.argmax())])
        caught = even + part / (1 - part) * max(0.0, top - bare)
        worst = np.maximum(worst, np.minimum(caught, np.maximum(top, even)))
    return known(worst)


def _without_embeds(s: Situation) -> float:
    """The use of the limits in a bar of batter alone, evenly mixed."""
    grams = dried_portions(s).sum()
    return float((s.x.sum(axis=1) * _uses(s.scent_records)).sum() / grams)


def _mould(s: Situation) -> str | None:
    recipe = s.plan.recipe or s.book.usual.recipe
    return recipe.amount.mould if recipe and recipe.amount else None


@affine("guard used in bar", "batch", unit="× the guard", dimension="NUMBER")
def guard_used_in_bar(s: Situation) -> AffineFraction:
    """How much of our own guard for oils without a certificate the whole bar uses, all such oils summed.

    The guard is 2.5 % of the dried bar (about 3 % of oils), a sixth of it for spice, mint and almond;
    what embeds bring counts.  It is no limit.
    Formula: Σ over oils without a certificate of share in dried bar ÷ guard
    """
    rates = _guard_rates(s.scent_records, s.today)
    a = np.broadcast_to(rates[None, :, None], (1, *s.shape))
    return of_dried_bar(s, a, float((embed_grams(s) * _guard_rates(embed_records(s), s.today)).sum()))


def _guard_rates(records: Sequence[Scent], today: date) -> Floats:
    """1 / guard in the bar of each oil without a certificate; 0 for those that have one."""
    found = [0.0 if papers.certified(r, today) else GUARD / (GUARD_IN_BAR * guard_of(r)) for r in records]
    return np.array(found, dtype=float)


@flag("portions are bars", "batch")
def portions_are_bars(s: Situation) -> Column:
    """Whether no two portions meet in a bar, so that each is a bar by itself, however its amount is given.

    So it is where the pour lets no portions touch, and where the plan says `touching: []`.
    """
    if s.plan.touching == []:
        return flags([True])
    several = len(s.portions) > 1
    pour = s.book.guard_pour(s.plan.pour)
    if _mould(s) == "cavities":
        alone = pour.touching == "none" if pour else several and None
        return flags([alone], [Missing("plan", "pour")])
    return flags([several and pour is not None and pour.touching == "none"])


@affine("finished mass", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def finished_mass(s: Situation) -> AffineFraction:
    """Grams of the whole batch after cure, as it is weighed.

    Formula: (1 − cure loss) × (oils + NaOH + water) + additives + mixed in + colourants + scent + embeds
    """
    return fraction(np.ones((1, *s.shape)), a0=s.bar_constant)


@affine("dried mass", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def dried_mass_of_batch(s: Situation) -> AffineFraction:
    """Grams of the whole batch as limits see it: what shares in the finished bar are taken of.

    Each part counts as far as it is plausibly a part of a bar.
    Formula: (oils + NaOH + dry additives + colour + mixed in + scent) ÷ 0.94 + embeds
    """
    bar = dried(s)
    return fraction(np.full((1, *s.shape), bar.per_gram), a0=bar.batch)


@affine("finished portion", "portion", unit="g", dimension="MASS", use=Use(of_size=True))
def finished_portion(s: Situation) -> AffineFraction:
    """Grams of the portion after cure, without embeds.

    Formula: (1 − cure loss) × its oils, NaOH and water + its additives, mixed-in oil, colourants and scent
    """
    return fraction(s.unit_of_portion().copy(), a0=s.portion_bar_constant)


@affine("share in bar", "scent", unit="% of finished bar", basis="of finished bar", highest=1.0)
def share_in_bar(s: Situation) -> AffineFraction:
    """The oil's share of the finished bar, what embeds bring included.

    Formula: grams ÷ dried mass of the batch (6 % water)
    """
    brought = np.array([s.embed_scents.get(name, 0.0) for name in s.scents], dtype=float)
    return of_dried_bar(s, s.unit_of_scent(), brought)


@affine("scent in bar", "batch", unit="% of finished bar", basis="of finished bar", highest=1.0)
def scent_in_bar(s: Situation) -> AffineFraction:
    """All scent in the finished bar, what embeds bring included.

    Formula: Σ grams ÷ dried mass of the batch (6 % water)
    """
    return of_dried_bar(s, np.ones((1, *s.shape)), sum(s.embed_scents.values()))


@number("lowest flash point", "batch", unit="°C", dimension="TEMPERATURE")
def lowest_flash_point(s: Situation) -> Column:
    """The lowest flash point among the oils: treat a mix as you would that oil.

    Formula: least over the oils of the blend; not above the least that is known
    """
    points = [r.flash_point.low if r.flash_point else None for r in s.scent_records] or [None]
    lost = tuple(Missing(r.name, "flash point") for r in s.scent_records if r.flash_point is None)
    low, high = lowest_flash(
        [[-np.inf if p is None else p for p in points]], [[np.inf if p is None else p for p in points]]
    )
    asked = np.array([bool(s.scent_records)])
    return Column(low, high, asked=asked, missing={0: lost} if lost else {})


def _note_share(s: Situation, wanted: str) -> AffineFraction:
    return _share_of(s, [None if r.scent_note is None else r.scent_note == wanted for r in s.scent_records])


def _share_of(s: Situation, held: list[bool | None], grain: str = "batch") -> AffineFraction:
    """Share of the oils that are such in all scent poured or in the portion's; what is not known may be."""
    sure = np.array([float(each is True) for each in held])
    maybe = np.array([float(each is not False) for each in held])
    spread = np.ones((1, *s.shape)) if grain == "batch" else s.unit_of_portion()
    return fraction(sure[None, :, None] * spread, spread, 0.0, a_high=maybe[None, :, None] * spread)


def _missing_note(s: Situation) -> list[tuple[Missing, ...]]:
    return [(m,) for m in missing(s, "scent note")]


@affine(
    "base notes",
    "batch",
    unit="% of the scent",
    missing=_missing_note,
    highest=1.0,
    use=Use(warns_of="faint at six weeks"),
)
def base_notes(s: Situation) -> AffineFraction:
    """Share of base notes in all scent poured.

    Formula: Σ grams of base notes ÷ Σ grams
    """
    return _note_share(s, SCENT_NOTES[0])


@affine(
    "top notes",
    "batch",
    unit="% of the scent",
    missing=_missing_note,
    highest=1.0,
    use=Use(warns_of="faint at six weeks"),
)
def top_notes(s: Situation) -> AffineFraction:
    """Share of top notes in all scent poured.

    Formula: Σ grams of top notes ÷ Σ grams
    """
    return _note_share(s, SCENT_NOTES[2])


def _missing_strength(s: Situation) -> list[tuple[Missing, ...]]:
    return [
        () if record.scent_note == "base" else (m,)
        for m, record in zip(missing(s, "after six weeks"), s.scent_records, strict=True)
    ]


def _lasting(s: Situation, grain: str) -> AffineFraction:
    """A base note of which nobody says what is left counts as one that lasts: a fact of the blend."""
    held = [
        record.scent_note == "base" or None if t.strength is None else STRENGTH.index(t.strength) >= FAIR
        for t, record in zip(s.traits, s.scent_records, strict=True)
    ]
    return _share_of(s, held, grain)


@affine(
    "scent that lasts",
    "batch",
    unit="% of the scent",
    missing=_missing_strength,
    highest=1.0,
    use=Use(warns_of="faint at six weeks"),
)
def scent_that_lasts(s: Situation) -> AffineFraction:
    """Share of oils that are fair or strong after six weeks in all scent poured; own looks count.

    Formula: Σ grams of oils fair or strong after six weeks ÷ Σ grams
    """
    return _lasting(s, "batch")


@affine(
    "scent that lasts here",
    "portion",
    unit="% of the portion's scent",
    missing=_missing_strength,
    highest=1.0,
    use=Use(warns_of="faint at six weeks"),
)
def scent_that_lasts_here(s: Situation) -> AffineFraction:
    """Share of oils that are fair or strong after six weeks in the portion's scent; own looks count.

    Formula: Σ grams of oils fair or strong after six weeks ÷ Σ grams
    """
    return _lasting(s, "portion")


@affine("scent smelled by you", "batch", unit="% of the scent", highest=1.0)
def scent_smelled(s: Situation) -> AffineFraction:
    """Share of oils of which own batches or cups say what is left at six weeks, in all scent poured.

    Formula: Σ grams of oils with own looks ÷ Σ grams
    """
    return _share_of(s, [t.strength is not None and t.strength_evidence in OWN for t in s.traits])


def _tag_share(s: Situation, tag: str, grain: str) -> AffineFraction:
    return _share_of(s, [tag in r.tags for r in s.scent_records], grain)


@affine("citrus", "portion", unit="% of the portion's scent", highest=1.0)
def citrus(s: Situation) -> AffineFraction:
    """Share of oils tagged citrus in the portion's scent; folded ones are apart, for they last.

    Formula: Σ grams of oils tagged citrus and not folded ÷ Σ grams
    """
    return _share_of(s, ["citrus" in r.tags and not is_folded(r) for r in s.scent_records], "portion")


@affine(
    "fixatives",
    "portion",
    unit="% of the portion's scent",
    highest=1.0,
    use=Use(warns_of="faint at six weeks"),
)
def fixatives(s: Situation) -> AffineFraction:
    """Share of oils tagged fixative in the portion's scent.

    Formula: Σ grams of oils tagged fixative ÷ Σ grams
    """
    return _tag_share(s, "fixative", "portion")


@affine("spice", "batch", unit="% of the scent", highest=1.0)
def spice(s: Situation) -> AffineFraction:
    """Share of oils tagged spice in all scent poured.

    Formula: Σ grams of oils tagged spice ÷ Σ grams
    """
    return _tag_share(s, "spice", "batch")
