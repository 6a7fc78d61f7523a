"""The clock: how long batter stays fluid, when each portion gets its turn, how quick a scent may be there.

Minutes run from emulsion.  A batch of a recipe stays fluid for B minutes.  A portion scented at t < B
with factor q (see ``acceleration``) ages q times faster from then on, so it is fluid until t + (B - t)/q;
from B on it is thick, scented or not.  Its *thickness* is its age over B: 0 at emulsion, 1 at thick.

Three families of pour.  *Interleaved*: all portions must be fluid until one common end E.  *Sequential*
(layers): each portion has an end of its own, and the one below must carry.  *Thick on purpose*: a
portion should have thickened by a given minute.  All are ranges: use the low end of B for "still fluid"
and the high end for "thick by then".

The law is a model of judgement; its figures are common practice, and the maker's own "stays fluid"
outranks them.

Formula: fluid until t + (B − t) ÷ q, B from there on; B doubles for every 10 °C cooler.
Source: minutes of classes, jobs and styles are common practice; the law and the doubling are judgement.
Check: time lines by hand; classes and styles of the trade; q by slot never falls as the slot grows later.
Limits: shown as ranges with what they assume; where the fats have set the answer is false trace, not
    minutes; stick blending is not in it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative, numbers, positive, share

RECIPE_CLASSES = ("slow", "ordinary", "fast")
# Minutes fluid from emulsion, low and high, by class: slow recipe, ordinary, hard-fat/low-water.
# Common practice (tutorials and makers agree).
CLASS_MINUTES = ((20.0, 40.0), (8.0, 15.0), (3.0, 6.0))
# °C for which those minutes are reported: the middles of design pours (27 to 38) and of general ones
# (38 to 49), and the hot end.  Common practice.
CLASS_CELSIUS = (33.0, 43.0, 49.0)
# Every 10 °C roughly doubles the speed.  Judgement, from general kinetics.
DOUBLING_CELSIUS = 10.0
# A trait speaks for a slow recipe up to the first figure and for a fast one from the second.  Common
# practice for the first (60 to 72 % liquid oils; 25 to 30 % lye), judgement for the second.
HARD_SHARE_EDGES = (0.40, 0.60)
LYE_EDGES = (0.30, 0.38)
# Mean speed of the oils, slow -1, medium 0, fast 1, by share.  Judgement.
SPEED_EDGES = (-1 / 3, 1 / 3)
# Two traits more on one side than on the other settle the class.  Judgement.
TRAITS_TO_SETTLE = 2
# 0 °C in K.
ZERO_CELSIUS = 273.15
# Minutes that one portion takes at each job, by hand whisk.  Judgement; the maker's own outrank them.
SPLIT_MINUTES = 0.5
COLOUR_MINUTES = 1.0
SCENT_MINUTES = 1.0
POUR_MINUTES = 1.0
# How far each may be off, as a factor either way.  Judgement: 0.4 to 1.0 to split, 0.5 to 1.5 to colour.
JOBS_DOUBT = 1.5
# The same where the maker has written down what a job or a pour takes.  Judgement.
OWN_DOUBT = 1.2
# g of a cup, and g of a batch, up to which those minutes and the minutes of the styles are reported; above
# them they grow with mass to this power.  Common practice (cups of 100 to 700 g; 0.8 to 2 kg); judgement.
CUP_GRAMS = 700.0
BATCH_GRAMS = 2000.0
GROWS = 0.5
# Minutes to fill one cavity.  Common practice: 10 to 25 s a hole.
HOLE_MINUTES = 0.3
# What a recipe stays fluid from one day to the next, as factors, where its minutes are one figure.  Common
# practice: the doubt that no sum removes.
DAY_DOUBT = (0.7, 1.4)
# Part of their minutes that is left to batter in which the fats are about to set.  Judgement.
CLOUDY_LEAVES = 0.5


def recipe_class(hard_share: ArrayLike, lye_concentration: ArrayLike, oil_speed: ArrayLike) -> Ints:
    """Index into RECIPE_CLASSES, each argument (...), broadcast.

    ``hard_share``: fraction of hard fats in the oils; ``lye_concentration``: lye / (lye + water), fraction;
    ``oil_speed``: mean over the oils of slow -1, medium 0, fast 1, by share.  Each is one trait for slow,
    fast or neither; two more on one side settle it.  Temperature is not a trait: it scales the minutes.
    """
    traits = (
        _trait(share("hard-fat share", hard_share, "it is a fraction of the oils"), HARD_SHARE_EDGES)
        + _trait(share("lye concentration", lye_concentration, "it is a fraction of the solution"), LYE_EDGES)
        + _trait(numbers("speed of the oils", oil_speed), SPEED_EDGES)
    )
    return np.asarray(1 + (traits >= TRAITS_TO_SETTLE) - (traits <= -TRAITS_TO_SETTLE).astype(np.intp))


def _trait(value: Floats, edges: tuple[float, float]) -> Ints:
    return np.asarray((value >= edges[1]).astype(np.intp) - (value <= edges[0]))


def fluid_minutes(
    kind: ArrayLike, celsius: ArrayLike, class_minutes: ArrayLike | None = None
) -> tuple[Floats, Floats]:
    """B, low and high (each ...): minutes from emulsion that unscented batter stays fluid.

    ``kind``: index into RECIPE_CLASSES; ``celsius``: of the batter at the split; ``class_minutes``: the
    rulebook's own low and high of each class (3, 2), CLASS_MINUTES if not given.  The minutes of the class
    double for every DOUBLING_CELSIUS below its usual temperature.  Not valid where the fats have set.
    """
    usual = CLASS_MINUTES if class_minutes is None else class_minutes
    ranges = positive("minutes of a class", usual, "batter that is fluid for no time cannot be poured")
    warmth = _kelvin("batter temperature", celsius)
    index = np.asarray(kind, dtype=np.intp)
    stretch = 2 ** ((np.asarray(CLASS_CELSIUS)[index] + ZERO_CELSIUS - warmth) / DOUBLING_CELSIUS)
    minutes = ranges[index] * stretch[..., None]
    return minutes[..., 0], minutes[..., 1]


def _kelvin(name: str, celsius: ArrayLike) -> Floats:
    return positive(f"{name} in kelvin", numbers(name, celsius) + ZERO_CELSIUS, "nothing is that cold")


def fluid_until(base: ArrayLike, scented_at: ArrayLike, q: ArrayLike) -> Floats:
    """Minute (...) until which a portion is fluid: t + (B - t)/q for t < B, else B.  Broadcast."""
    return minute_at_thickness(1.0, base, scented_at, q)


def minute_at_thickness(level: ArrayLike, base: ArrayLike, scented_at: ArrayLike, q: ArrayLike) -> Floats:
    """Minute (...) at which a portion reaches a thickness (age over B): the age if unscented by then,
    else t + (age - t)/q.  Level 1 is thick.  Infinite q thickens at once."""
    life = positive("minutes fluid", base, "batter that is fluid for no time cannot be poured")
    start = not_negative("minute of scenting", scented_at, "minutes run from emulsion")
    age = share("thickness", level, "it runs from emulsion (0) to thick (1)") * life
    return np.asarray(np.minimum(age, start) + np.maximum(age - start, 0) / _speed(q))


def thickness_at(minute: ArrayLike, base: ArrayLike, scented_at: ArrayLike, q: ArrayLike) -> Floats:
    """Thickness (...) at a minute: age over B, at most 1; age = minute, and q a minute once scented."""
    life = positive("minutes fluid", base, "batter that is fluid for no time cannot be poured")
    now = not_negative("minute", minute, "minutes run from emulsion")
    start = not_negative("minute of scenting", scented_at, "minutes run from emulsion")
    since = np.maximum(now - start, 0)
    quick = np.where(since > 0, since, 1.0) * _speed(q)
    return np.asarray(np.minimum((np.minimum(now, start) + np.where(since > 0, quick, 0.0)) / life, 1.0))


def _speed(q: ArrayLike) -> Floats:
    speed = numbers("q", q, endless=True)
    if (speed < 1).any():
        raise ValueError("q must be 1 or more: thinning is never credited")
    return speed


def most_quickening(base: ArrayLike, slot: ArrayLike, end: ArrayLike) -> Floats:
    """The largest q (...) that is fluid until ``end`` if scented at ``slot``: (B - t)/(E - t), 0 from B on.

    A value below 1 says that not even an unscented portion lasts.  With E <= B it never falls as t grows.
    ValueError where the end does not come after the slot.
    """
    life = positive("minutes fluid", base, "batter that is fluid for no time cannot be poured")
    start = not_negative("slot", slot, "minutes run from emulsion")
    left = positive("minutes from the slot to the end", numbers("end", end) - start, "the end comes first")
    return np.asarray(np.maximum(life - start, 0) / left)


def grown(mass: ArrayLike, usual: float) -> Floats:
    """Factor (..., at least 1) on minutes for what is bigger than the mass for which they are reported."""
    return np.asarray(np.maximum(positive("mass", mass, "nothing takes no time") / usual, 1.0) ** GROWS)


def filling_minutes(cavities: ArrayLike) -> Floats:
    """Minutes (...) to fill so many cavities, one by one."""
    return np.asarray(not_negative("cavities", cavities, "a mould has some") * HOLE_MINUTES)


def clouded(minutes: ArrayLike, cloudiness: ArrayLike) -> Floats:
    """Minutes (...) left to batter that cools: all while clear (0), CLOUDY_LEAVES where its fats set (1)."""
    part = np.clip(numbers("cloudiness", cloudiness, endless=True), 0, 1)
    return np.asarray(numbers("minutes", minutes) * (1 - part * (1 - CLOUDY_LEAVES)))


@dataclass(frozen=True, slots=True)
class Jobs:
    """Minutes that one portion takes at each job; all above zero."""

    split: float = field(default_factory=lambda: SPLIT_MINUTES)
    colour: float = field(default_factory=lambda: COLOUR_MINUTES)
    scent: float = field(default_factory=lambda: SCENT_MINUTES)
    pour: float = field(default_factory=lambda: POUR_MINUTES)

    def __post_init__(self) -> None:
        why = "a job that takes no time would put two slots on one minute"
        positive("minutes of a job", [self.split, self.colour, self.scent, self.pour], why)

    def times(self, factor: float) -> Jobs:
        """The same jobs, each so many times as long."""
        return Jobs(*(factor * part for part in (self.split, self.colour, self.scent, self.pour)))


def first_scenting(jobs: Jobs, portions: int, hands: int = 1) -> float:
    """Minute of the first scenting: all portions are split and coloured before.

    One pair of hands does job after job; with two, one colours a portion while the other splits the next.
    """
    _crew(portions, hands)
    if hands == 1:
        return portions * (jobs.split + jobs.colour)
    return jobs.split + (portions - 1) * max(jobs.split, jobs.colour) + jobs.colour


def scenting_slots(jobs: Jobs, portions: int, hands: int = 1) -> Floats:
    """Slot minutes t_k (portions,), from emulsion, at which portions are scented for an interleaved pour.

    Every portion keeps a slot, scented or not.  Two pairs of hands scent two portions at a time.
    """
    turns = np.arange(portions) // _crew(portions, hands)
    return np.asarray(first_scenting(jobs, portions, hands) + turns * jobs.scent)


def _crew(portions: int, hands: int) -> int:
    if portions < 1:
        raise ValueError("a pour needs at least one portion")
    if hands not in (1, 2):
        raise ValueError("one or two pairs of hands: more get in each other's way")
    return hands


def common_end(slots: ArrayLike, jobs: Jobs, style_minutes: ArrayLike) -> Floats:
    """E (...) of an interleaved pour: the style's minutes (...) run from the first scenting to the last
    useful movement, which cannot come before the last portion is scented and poured."""
    minutes = positive("minutes of the style", style_minutes, "a pour takes time")
    times = numbers("slot", slots)
    return np.asarray(np.maximum(times.min() + minutes, times.max() + jobs.scent + jobs.pour))


def paced(quick: Jobs, slow: Jobs, portions: int, hands: int, style_minutes: float) -> tuple[Floats, Floats]:
    """Slots (3, portions) and end (3,) of an interleaved pour with quick hands, with slow ones, and with
    those between with whom the last portion begins to decide the end: there minutes to spare turn."""
    slots = np.array([scenting_slots(each, portions, hands) for each in (quick, slow)])
    last = slots[:, -1] + [each.scent + each.pour for each in (quick, slow)]
    over = last - slots[:, 0] - style_minutes  # how far the last portion overruns the style, at both ends
    part = float(np.clip(-over[0] / (over[1] - over[0]), 0.0, 1.0)) if over[1] > over[0] else 0.0
    paces = np.array([[1.0, 0.0], [0.0, 1.0], [1 - part, part]])
    slots, last = paces @ slots, paces @ last
    return slots, np.maximum(slots[:, 0] + style_minutes, last)
