"""Measures of constituents: published maxima, bans, names for the label, and oils that only embeds bring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

import numpy as np

from blendwise.beliefs.contents import contents_of
from blendwise.facts import papers
from blendwise.facts.columns import Bools, Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, not_asked
from blendwise.facts.measure import affine, flag
from blendwise.facts.measures.bar import embed_grams, embed_records, of_dried_bar, of_dried_portion
from blendwise.facts.measures.scent import said_for_skin
from blendwise.facts.plain_columns import flags
from blendwise.facts.situation.worked_out import Situation, once_for_all_doses
from blendwise.quantity import format_number
from blendwise.records.kinds.scent import Scent
from blendwise.science import restrictions
from blendwise.science.limits import use_of_maxima

SOURCE = "papers and names in scents.yaml; Regulation (EC) No 1223/2009, Annexes II and III"


@dataclass(frozen=True, slots=True)
class Maxima:
    """Published maxima that the oils touch, ``rows``; what a gram of each scent uses of each of them.

    ``per_gram``, ``per_gram_high``: (scents, rows), content over maximum as told, and at most.
    ``from_embeds``: (rows,), of all embeds together, at most.
    """

    rows: tuple[restrictions.Restriction, ...]
    per_gram: Floats
    per_gram_high: Floats
    from_embeds: Floats


Shares = dict[str, tuple[float, float]]
"""Substance → what is told of it, and what it may be at most, as fractions of the oil."""


@once_for_all_doses
def maxima(s: Situation) -> Maxima:
    """What a gram of each oil uses of each published maximum, by the top of what its papers say."""
    ours = [_limited_in(r, s.today) for r in s.scent_records]
    embeds = [_limited_in(r, s.today) for r in embed_records(s)]
    names = tuple(dict.fromkeys(name for shares in (*ours, *embeds) for name in shares))
    rows, members, most = _maxima_for(names, _authorities(s), s.today)
    low, high, brought = (
        use_of_maxima(_table(oils, names, end), members, most) if rows else np.zeros((len(oils), 0))
        for oils, end in ((ours, 0), (ours, 1), (embeds, 1))
    )
    return Maxima(rows, low, high, embed_grams(s) @ brought)


@lru_cache(maxsize=256)
def _maxima_for(
    names: tuple[str, ...], authorities: tuple[str, ...], day: date
) -> tuple[tuple[restrictions.Restriction, ...], Bools, Floats]:
    return restrictions.maxima_for(names, *authorities, day=day)


def _authorities(s: Situation) -> tuple[str, ...]:
    """Whose maxima count: the law's, and the industry's where a certificate of category 9 binds to them."""
    bound = any(papers.settles_standards(r, s.today) for r in all_records(s))
    return (restrictions.EU, restrictions.INDUSTRY) if bound else (restrictions.EU,)


def _limited_in(scent: Scent, today: date) -> Shares:
    """What may be limited in an oil, by its papers, its names, its plant, and slips that may mean it."""
    found = contents_of(scent)
    shares: Shares = {}
    for part in found.parts:
        _add(shares, part.name, 0.0 if part.open else part.high, part.high)
    for unread in found.unread:
        for name in unread.could_be:
            _add(shares, name, 0.0, unread.high)
    for plant in papers.carries(scent, today):
        _add(shares, plant.constituent, 0.0, plant.most)
    if scent.kind != "fragrance oil":
        for own in found.own:
            _add(shares, own.name, 1.0, 1.0)
    return shares


def _add(shares: Shares, name: str, low: float, high: float) -> None:
    before = shares.get(name, (0.0, 0.0))
    shares[name] = (max(before[0], low), max(before[1], high))


def _table(oils: Sequence[Shares], names: tuple[str, ...], end: int) -> Floats:
    """One end of each share, (oils, names); 0 where nothing speaks of it."""
    rows = [[oil.get(name, (0.0, 0.0))[end] for name in names] for oil in oils]
    return np.array(rows, dtype=float).reshape(len(oils), len(names))


def all_records(s: Situation) -> list[Scent]:
    """Every oil of the blend and of the embeds, each once."""
    return list({r.name: r for r in (*s.scent_records, *embed_records(s))}.values())


def _worst_maximum(s: Situation) -> dict[int, str]:
    """Which constituent stands nearest to its published maximum in the bar, what that is, and its source."""
    found = maxima(s)
    if not found.rows:
        return {}
    used = s.x.sum(axis=1) @ found.per_gram_high + found.from_embeds
    return {0: _named(found.rows[int(used.argmax())])} if used.max() > 0 else {}


def _worst_maximum_in_portion(s: Situation) -> dict[int, str]:
    found = maxima(s)
    if not found.rows:
        return {}
    used = s.x.T @ found.per_gram_high
    return {p: _named(found.rows[int(row.argmax())]) for p, row in enumerate(used) if row.max() > 0}


def _named(row: restrictions.Restriction) -> str:
    assert row.most is not None
    most = format_number(100 * row.most)
    source = f"{row.source}, not read in the original" if row.reported else row.source
    return f"{row.substance}, at most {most} % of the finished bar ({row.authority} {row.entry}; {source})"


def _open_shares(s: Situation) -> list[tuple[Missing, ...]]:
    """For each scent, the substances that may be in it and of which no paper says how much."""
    whose = _authorities(s)
    return [
        tuple(
            Missing(scent.name, name)
            for name, (low, high) in _limited_in(scent, s.today).items()
            if high > low and _maxima_for((name,), whose, s.today)[0]
        )
        for scent in s.scent_records
    ]


def nobody_named_any(s: Situation) -> bool:
    """Whether no paper and no name speaks of a limited substance, while papers that could are missing."""
    return not maxima(s).rows and not all(papers.stated(r, s.today) for r in all_records(s))


@affine(
    "published maximum used",
    "batch",
    unit="% of the maximum",
    dimension="FRACTION",
    missing=_open_shares,
    evidence=_worst_maximum,
)
def published_maximum_used(s: Situation) -> AffineFraction:
    """How much of a constituent's published maximum the bar uses, the worst constituent, all scents summed.

    By what papers and names say is in the oils; at most what their plants are known to carry where no
    certificate of category 9 answers.  Not asked where nothing is named and no statement
    says that nothing is.
    Formula: greatest over constituents of Σ grams × content ÷ dried mass ÷ maximum
    """
    found = maxima(s)
    entries = max(1, len(found.rows))
    a, a_high = (_spread(s, per_gram, entries) for per_gram in (found.per_gram, found.per_gram_high))
    a0 = found.from_embeds if found.rows else 0.0
    over = of_dried_bar(s, a, a0, np.zeros(entries, dtype=np.int64), a_high)
    return not_asked(over) if nobody_named_any(s) else over


def _spread(s: Situation, per_gram: Floats, entries: int) -> Floats:
    """(entries, scents, portions): the same in every portion; nothing where no maximum is touched."""
    filled = per_gram if per_gram.shape[1] else np.zeros((len(s.scents), 1))
    return np.broadcast_to(filled.T[:, :, None], (entries, *s.shape))


@affine(
    "published maximum used in portion",
    "portion",
    unit="% of the maximum",
    dimension="FRACTION",
    missing=_open_shares,
    evidence=_worst_maximum_in_portion,
)
def published_maximum_used_in_portion(s: Situation) -> AffineFraction:
    """How much of a constituent's published maximum the portion would use by itself, the worst constituent.

    Formula: greatest over constituents of Σ grams × content ÷ dried mass of the portion ÷ maximum
    """
    found = maxima(s)
    entries, portions = max(1, len(found.rows)), len(s.portions)
    unit = np.repeat(s.unit_of_portion(), entries, axis=0)
    a, a_high = (
        unit * np.tile(_spread(s, per_gram, entries)[:, :, :1], (portions, 1, 1))
        for per_gram in (found.per_gram, found.per_gram_high)
    )
    home = np.repeat(np.arange(portions, dtype=np.int64), entries)
    over = of_dried_portion(s, a, entries, home, a_high)
    return not_asked(over) if nobody_named_any(s) else over


@flag("banned constituent", "scent")
def banned_constituent(s: Situation) -> Column:
    """Whether a paper, `browns by` or a name of the oil names a constituent that is prohibited (Annex II).

    Open where a name may be a slip of one or shares its number with one.  It is "no" only where the
    supplier's statement says so; else, where nothing names one, it is not asked: that is no all-clear.
    """
    return _banned([Bans.of(r, s.today) for r in s.scent_records])


@dataclass(frozen=True, slots=True)
class Bans:
    """Of one oil: what is named and banned, what may be, and whether the supplier answered for it."""

    scent: str
    named: tuple[str, ...]
    may_be: tuple[Missing, ...]
    answered: bool

    @classmethod
    def of(cls, scent: Scent, today: date) -> Bans:
        """What papers and names say of it."""
        found = contents_of(scent)
        said = {part.name: " + ".join(part.spellings) for part in found.parts}
        said |= {own.name: scent.name for own in found.own if own.name not in said}
        bans = restrictions.bans_among(tuple(said))
        named = tuple(dict.fromkeys(_banned_as(said[name], row) for name, row in bans))
        may_be = tuple(
            Missing(scent.name, f"whether {unread.spelling} is {name}")
            for unread in found.unread
            for name in dict(restrictions.bans_among(unread.could_be))
        )
        return cls(scent.name, named, may_be, papers.stated(scent, today))

    @property
    def value(self) -> bool | None:
        """Yes where one is named, open where one may be, else no."""
        return True if self.named else None if self.may_be else False

    @property
    def asked(self) -> bool:
        """Whether there is anything to say: something is named, may be, or was answered for."""
        return bool(self.named or self.may_be) or self.answered


def _banned_as(said: str, row: restrictions.Restriction) -> str:
    source = f"{row.authority} {row.entry}, as reported" if row.reported else f"{row.authority} {row.entry}"
    same = said.casefold() == row.substance.casefold()
    return f"{row.substance} ({source})" if same else f"{said} is {row.substance} ({source})"


def _banned(bans: Sequence[Bans]) -> Column:
    """A row a scent."""
    return _banned_column([(b.value, b.may_be, b.asked, ", ".join(b.named)) for b in bans])


def _any_banned(bans: Sequence[Bans]) -> Column:
    """One row for all scents."""
    named = [f"{b.scent}: {name}" for b in bans for name in b.named]
    may_be = tuple(missing for b in bans for missing in b.may_be)
    value = True if named else None if may_be else False
    asked = bool(bans) and (value is not False or all(b.answered for b in bans))
    return _banned_column([(value, may_be, asked, ", ".join(named))])


def _banned_column(rows: Sequence[tuple[bool | None, tuple[Missing, ...], bool, str]]) -> Column:
    """Rows of (banned, what may be, asked, which) as a column."""
    asked_of = np.array([row[2] for row in rows], dtype=bool)
    column = flags([row[0] for row in rows], [row[1] for row in rows], asked_of)
    return replace(column, evidence={i: row[3] for i, row in enumerate(rows) if row[3]})


def _only_in_embeds(s: Situation) -> list[Scent]:
    """Oils that come with embeds and with no portion: the rules on scents do not see them."""
    return [r for r in embed_records(s) if r.name not in s.scents]


@flag("embed scents for skin", "batch")
def embed_scents_for_skin(s: Situation) -> Column:
    """Whether every oil that only embeds bring is sold for use on skin (not asked where there is none)."""
    records = _only_in_embeds(s)
    said = [said_for_skin(r, s.today) for r in records]
    found = False if False in said else None if None in said else True
    lost = tuple(Missing(r.name, "for skin") for r, word in zip(records, said, strict=True) if word is None)
    return flags([found], [lost], np.array([bool(records)]))


@flag("embed scents certified", "batch")
def embed_scents_certified(s: Situation) -> Column:
    """Whether every oil that only embeds bring has a certificate for soap (not asked where there is none)."""
    records = _only_in_embeds(s)
    return flags([all(papers.certified(r, s.today) for r in records)], None, np.array([bool(records)]))


@flag("embed scents banned", "batch")
def embed_scents_banned(s: Situation) -> Column:
    """Whether a prohibited constituent (EU, Annex II) is named of an oil that only embeds bring."""
    return _any_banned([Bans.of(r, s.today) for r in _only_in_embeds(s)])
