"""A draft of the label: what can be worked out, and beside it what only an assessor can say.

Past a harm there is no list, for that soap is not to be made.  Where only a paper is missing, or the soap is
for home, the draft stands with that said.  What a maker must not claim stands nowhere in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from blendwise.answers.check.compute import check_situation, relative
from blendwise.answers.check.label import label_of
from blendwise.answers.check.result import Label, LabelLine
from blendwise.answers.label.ingredients import as_put_in, as_saponified
from blendwise.answers.label.result import AtMarket, LabelDraft, Open, Weight
from blendwise.answers.refusals import NotAskable
from blendwise.facts.situation.dried import dried_mass, fresh_mass
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import Dimension, parse_amount
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.science.cure import CURE_DAYS
from blendwise.science.ingredients import net_weight

ENOUGH: Final = 10  # bars to weigh: judgement
ALIKE: Final = 2.0  # the heaviest bar over the lightest; beyond it a slip is likely: judgement
TENTH_OF_AN_OUNCE: Final = GRAMS_PER_OUNCE / 10
EU_LAW: Final = "Regulation (EC) No 1223/2009, Annex III, as amended by (EU) 2023/1545"
UK_LAW: Final = "UK Cosmetics Regulation, Annex III"
COSMETIC: Final = ("safety report", "product file", "notification", "responsible person", "good practice")
SOAP_ONLY: Final = ("soap only", "net weight", "name and address")


def draft_of(
    s: Situation, rulebook: Rulebook, weights: str = "", batch: str = "", age: int | None = None
) -> LabelDraft:
    """The draft for soap sold on the situation's day; ``weights``: bars that were weighed, parted by commas.

    ``batch``: the code of the batch that was poured, else one is proposed; ``age``: its days when weighed.
    """
    check, names, weighed = check_situation(s, rulebook), label_of(s), read_weights(weights)
    stopped = bool(check.harm)
    put_in = () if stopped else as_put_in(s)
    saponified = () if stopped else as_saponified(s)
    open_: dict[Open, bool] = {
        "harm": stopped,
        "papers": bool(check.papers),
        "for home": s.purpose == "home",
        "names of ingredients": not all(each.known for each in (*put_in, *saponified)),
        "names due": bool(names.not_known),
        "embeds": bool(s.plan.embeds),
        "weight": not weighed,
        "few bars": 0 < len(weighed) < ENOUGH,
        "custom": True,
        "free oil": True,
        "assessor": True,
    }
    return LabelDraft(
        plan=s.plan.plan,
        file=relative(str(s.plan.place.file), s.book.folder) if s.plan.place else "",
        purpose=s.purpose,
        sold_on=s.today,
        as_put_in=put_in,
        as_saponified=saponified,
        names=names,
        weight=weight_of(s, weighed, age),
        batch_code=batch or batch_code(s.plan.plan, s.today, s.variation or ""),
        markets=tuple(_markets(names)),
        open_=tuple(each for each, stands in open_.items() if stands),
        harm=check.harm,
        papers=check.papers,
        units=s.book.usual.units,
    )


def read_weights(text: str) -> tuple[float, ...]:
    """Grams of each bar; NotAskable for what is no mass, for nothing, or for bars too unlike for a batch."""
    parts = [part.strip() for part in re.split(r"[;,]\s+|;", text.strip()) if part.strip()]
    grams = tuple(_mass(part) for part in parts)
    if grams and max(grams) > ALIKE * min(grams):
        raise NotAskable(
            f"The bars weigh {min(grams):g} to {max(grams):g} g, which is too unlike for one batch.",
            "Look for a slip, such as a missing digit or another unit.",
        )
    return grams


def _mass(text: str) -> float:
    remedy = 'Write each with its unit, parted by commas, such as "112 g, 110.5 g".'
    try:
        found = parse_amount(text, Dimension.MASS)
    except ValueError as error:
        raise NotAskable(f'"{text}" is no weight of a bar.', remedy) from error
    if found.low != found.high or not found.value > 0:
        raise NotAskable(f'"{text}" is no weight of a bar.', remedy)
    return float(found.value)


def weight_of(s: Situation, weighed: Sequence[float], age: int | None = None) -> Weight:
    """The net weight by the lightest bar, less what it may still lose at its age."""
    if not weighed:
        return Weight((), still_to_lose(s), None, None)
    still = still_to_lose(s, age)
    ounces = net_weight(weighed, still, TENTH_OF_AN_OUNCE) / GRAMS_PER_OUNCE
    return Weight(tuple(weighed), still, net_weight(weighed, still), round(ounces, 1))


def still_to_lose(s: Situation, age: int | None = None) -> float:
    """What a bar may still lose until 6 % of it is water, as a fraction of what it weighs.

    Until it is called cured it counts as fresh, with all of its cure to come; from then on, or where no day
    is known, the cure loss is behind it.
    """
    fresh = age is not None and age < CURE_DAYS[0]
    whole = fresh_mass(s) if fresh else s.bar_constant + float(s.x.sum())
    return min(max(0.0, 1 - dried_mass(s) / whole), 0.99)


def batch_code(plan: str, day: date, version: str = "") -> str:
    """A code that leads back to plan, day and version: the first letters of the plan's words, the day."""
    letters = "".join(word[0] for word in re.findall(r"[^\W_]+", plan)).upper()
    return f"{letters or 'B'}-{day:%y%m%d}" + (f"-{version}" if version else "")


def _markets(names: Label) -> Iterator[AtMarket]:
    yield AtMarket("EU", _names(names.due), EU_LAW, _since(names.due), COSMETIC)
    kept = tuple(line for line in names.due if line.placed_from is None)
    yield AtMarket("UK", _names(kept), UK_LAW, None, COSMETIC)
    yield AtMarket("US", (), "", None, SOAP_ONLY)


def _names(lines: Sequence[LabelLine]) -> tuple[str, ...]:
    return tuple(line.name for line in lines)


def _since(lines: Sequence[LabelLine]) -> date | None:
    return max((line.placed_from for line in lines if line.placed_from), default=None)
