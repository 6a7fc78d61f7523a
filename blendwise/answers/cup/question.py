"""What is asked of a test cup: which oils, which doses or lots, of whose recipe, in what colour."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from blendwise.answers.cup.sizes import CUP_BATTER, LEAST_CUP, MOST_CUP, MOST_CUPS
from blendwise.answers.names import find_name
from blendwise.answers.pair import plan as pair_plan
from blendwise.answers.pair.question import ask, find_oils, read_load, read_ratio
from blendwise.answers.refusals import NotAskable
from blendwise.beliefs.believe import Believing
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Basis, Dimension, parse_amount
from blendwise.records.book import BookFiles
from blendwise.records.nearest import hint
from blendwise.science.mass import dose_grams

APART: Final = re.compile(r";|,\s+|(?<=[%A-Za-z]),")
RATED: Final = re.compile(r"(?P<name>.*[^\W\d_].*?)[\s,:]+(?P<rate>[\d½¼¾⅓⅔⅛.].*)")
"""A colourant with the rate that is wanted of it: "charcoal 0.5 %"."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question as typed: nothing in it has been checked.  ``portion``: of the plan."""

    oils: Sequence[str] = ()
    portion: str = ""
    doses: str = ""
    lots: str = ""
    ratio: str = ""
    size: str = ""
    colour: str = ""
    coloured: bool = False
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Filling:
    """What goes into one cup: oil → rate of the cup's oils; the lot of each oil that is not the shelf's."""

    rates: Mapping[str, float]
    lots: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A question read.

    ``base``: the recipe worked out, as the plan or the maker's usual way has it; ``plan`` and ``portion``:
    where the doses come from, None without a plan; ``colours``: colourant → rate of the cup's oils;
    ``size``: g of batter in a cup; ``is_spread``: the plan leaves doses open, taken as spread evenly.
    """

    base: Situation
    oils: tuple[str, ...]
    fillings: tuple[Filling, ...]
    colours: Mapping[str, float]
    size: float
    plan: str | None = None
    portion: str | None = None
    is_spread: bool = False


def of_plan(asked: Asked, s: Situation) -> Wanted:
    """Cups of a plan's recipe, dosed as one of its portions is; apart, each oil as where it is strongest.

    NotAskable where that cannot be read.
    """
    p = _portion(asked, s)
    scattered = asked.apart and not asked.portion
    rates = (s.x / s.split.oils).max(axis=1) if scattered else s.x[:, p] / s.split.oils[p]
    there = {name: float(rate) for name, rate in zip(s.scents, rates, strict=True) if rate > 0}
    names = _named(asked, s.book) or tuple(there)
    missing = [name for name in names if name not in there]
    if not names or (missing and not asked.doses):
        where = s.portions[p] if asked.portion or len(missing) < len(names) else "any portion"
        raise NotAskable(
            f'No {" and no ".join(missing) or "scent"} goes into {where} of "{s.plan.plan}".',
            f"Say how much with --doses 4%, or name another portion: {', '.join(s.portions)}.",
        )
    held = {name: there[name] for name in names} if not missing else dict.fromkeys(names, 1.0)
    rows = [s.scents.index(name) for name in names if name in there]
    found = _wanted(asked, s, held, s.plan.plan, s.portions[p])
    written = s.scenting.written[rows]
    open_ = np.isnan(written if scattered else written[:, p])
    is_spread = not asked.doses and bool(open_.any())
    return replace(found, portion=None if scattered else found.portion, is_spread=is_spread)


def of_usual(asked: Asked, book: BookFiles, today: date, believing: Believing) -> Wanted:
    """Cups of the maker's usual recipe at the usual load.  NotAskable where that cannot be read."""
    if asked.coloured or asked.portion:
        raise NotAskable(
            "A portion belongs to a plan.", "Name it with --plan PLAN, or a colour with --colour NAME."
        )
    question = ask(book, asked.oils, today=today, ratio=asked.ratio)
    base = pair_plan.situation(replace(question, believing=believing))
    load = pair_plan.load_on_oils(base)
    shares = [1.0] * len(question.oils) if asked.apart else question.shares
    return _wanted(asked, base, {n: load * share for n, share in zip(question.oils, shares, strict=True)})


def _named(asked: Asked, book: BookFiles) -> tuple[str, ...]:
    return tuple(each.name for each in find_oils(book, asked.oils)) if asked.oils else ()


def _portion(asked: Asked, s: Situation) -> int:
    """The portion named, else the one that holds most of the named oils on its own oils."""
    if asked.portion:
        return s.portions.index(find_name(asked.portion, s.portions, "portion", "The plan").name)
    names = _named(asked, s.book)
    if not names:
        raise NotAskable(
            "Neither an oil nor a portion is named.", f"Name oils, or --portion of {', '.join(s.portions)}."
        )
    rows = [s.scents.index(name) for name in names if name in s.scents]
    return int((s.x[rows].sum(axis=0) / s.split.oils).argmax())


def _wanted(
    asked: Asked,
    base: Situation,
    held: Mapping[str, float],
    plan: str | None = None,
    portion: str | None = None,
) -> Wanted:
    """``held``: oil → rate of the cup's oils, as the portion or the usual load has it."""
    names = tuple(held)
    if asked.ratio and not asked.apart:
        shares = read_ratio(asked.ratio, names)
        held = {name: share * sum(held.values()) for name, share in zip(names, shares, strict=True)}
    blends = [{name: rate} for name, rate in held.items()] if asked.apart else [dict(held)]
    fillings = tuple(
        Filling(rates, lots)
        for blend in blends
        for rates in ([_at(blend, load) for load in _loads(asked.doses, base)] or [blend])
        for lots in _lots(asked.lots, names)
    )
    if len(fillings) > MOST_CUPS:
        raise NotAskable(
            f"{len(fillings)} cups are more than anybody keeps the time of.", f"Ask for at most {MOST_CUPS}."
        )
    return Wanted(base, names, fillings, _colours(asked, base, portion), _size(asked.size), plan, portion)


def _at(blend: Mapping[str, float], load: float) -> dict[str, float]:
    """A blend at another load."""
    total = sum(blend.values())
    return {name: load * rate / total for name, rate in blend.items()}


def _loads(text: str, base: Situation) -> list[float]:
    """Scent on the cup's oils, one a dose typed."""
    return [_on_oils(part.strip(), base) for part in APART.split(text) if part.strip()]


def _on_oils(text: str, base: Situation) -> float:
    amount, _ = read_load(text, base.book)
    if amount.basis in (Basis.BATCH_BATTER, Basis.BATTER):
        batter = base.pot.batter_to_oils
        return float(dose_grams(amount.value, Basis.BATCH_BATTER, {Basis.BATCH_BATTER: batter}))
    return amount.value


def _lots(text: str, names: Sequence[str]) -> list[dict[str, str]]:
    lots = list(dict.fromkeys(part.strip() for part in text.split(",") if part.strip()))
    if text.strip() and not lots:
        raise NotAskable(f'"{text}" names no lot.', 'Write them like "B-2231, B-2250".')
    if lots and len(names) != 1:
        raise NotAskable(
            f"Lots are set beside one another for one oil; {len(names)} are named.", "Name one oil."
        )
    return [{names[0]: lot} for lot in lots] or [{}]


def _size(text: str) -> float:
    if not text.strip():
        return CUP_BATTER
    grams = parse_amount(text, Dimension.MASS, ranges=False).value
    if not LEAST_CUP <= grams <= MOST_CUP:
        raise NotAskable(
            f'"{text}" is no test cup.', "It holds 50 to 500 g of batter (2 to 17 oz), 100 g as a rule."
        )
    return grams


def _tint(text: str, base: Situation) -> float:
    try:
        return _on_oils(text, base)
    except (NotAskable, ValueError) as error:
        remedy = 'Write it like "charcoal 0.5 % of portion oils".'
        raise NotAskable(f'"{text}" is no rate of a colourant.', remedy) from error


def _colours(asked: Asked, base: Situation, portion: str | None) -> dict[str, float]:
    """Colourants with their rates: the portion's own; else the one named, at the rate typed behind it."""
    if asked.coloured:
        p = base.portions.index(portion or "")
        rows = zip(base.split.colourants, base.split.colour, strict=True)
        return {name: float(row[p] / base.split.oils[p]) for name, row in rows if row[p] > 0}
    if not asked.colour:
        return {}
    if not base.book.colourants:
        raise NotAskable("The book has no colourants.", hint(asked.colour, (), "colourants.yaml"))
    typed = RATED.fullmatch(asked.colour.strip())
    if typed and asked.colour not in base.book.colourants:
        name = find_name(typed["name"], base.book.colourants, "colourant").name
        return {name: _tint(typed["rate"], base)}
    name = find_name(asked.colour, base.book.colourants, "colourant").name
    rate = pair_plan.tint_of(base.book.colourants[name])
    on = base.pot.batter_to_oils if rate.basis is Basis.PORTION_BATTER else 1.0
    return {name: rate.value * on}
