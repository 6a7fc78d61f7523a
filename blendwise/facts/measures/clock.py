"""Measures of time: how fast scents thicken a portion, and whether the pour outruns it.

All minutes are counted from emulsion and use the cautious end of what is known.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from blendwise.beliefs.traits import Belief
from blendwise.facts.columns import Bools, Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number, word
from blendwise.facts.plain_columns import flags, known, numbers, words
from blendwise.facts.pour.fats import has_set
from blendwise.facts.pour.minutes import base_of, recipe_class, style_ends
from blendwise.facts.pour.temperatures import split_temperature
from blendwise.facts.registry import Use
from blendwise.facts.scales import ACCELERATION
from blendwise.facts.situation.timeline import CARRIES, Corner, Ints, Timeline, seizing_portions, timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.science import clock
from blendwise.science.acceleration import excess_per_dose

SOURCE = "minutes and factors of the rulebook (common practice); the law is judgement"

RECIPE_SPEED = ("slow", "ordinary", "fast")
PACES = ("thickening", "least thickening", "most thickening")


def _missing_speed(s: Situation) -> list[tuple[Missing, ...]]:
    return [() if t.speed.known else (Missing(t.name, "acceleration"),) for t in s.traits]


@affine(
    "thickening",
    "portion",
    unit="× unscented",
    dimension="NUMBER",
    missing=_missing_speed,
    use=Use(warns_of="thick too soon"),
)
def thickening(s: Situation) -> AffineFraction:
    """How many times faster than unscented batter the portion thickens; thinning is never credited.

    Formula: 1 + Σ max(0, factor − 1) × dose ÷ the dose of its note
    """
    low, high = pace(s)
    return _quickness(s, low, high)


def _quickness(s: Situation, low: Floats, high: Floats) -> AffineFraction:
    unit = s.unit_of_portion() / s.split.oils[None, None, :]
    return fraction(
        low[None, :, None] * unit,
        d0=1.0,
        a0=1.0,
        a_high=np.where(unit > 0, high[None, :, None] * np.where(unit > 0, unit, 1.0), 0.0),
    )


def pace(s: Situation) -> tuple[Floats, Floats]:
    """What a unit of dose (g per g of oils) adds to q, a scent: (low, high), high infinite if not known."""
    return _pace(s, lambda speed: (speed.low, speed.high))


def pace_ends(s: Situation) -> tuple[Floats, Floats]:
    """:func:`pace` within judgement's doubt about the words and the cups: (least, most)."""
    return _pace(s, lambda speed: speed.ends)


def _pace(s: Situation, ends: Callable[[Belief], tuple[float, float]]) -> tuple[Floats, Floats]:
    seen_at = [t.speed.dose if t.speed.known else 1.0 for t in s.traits]
    low = [max(0.0, ends(t.speed)[0]) if t.speed.known else 1.0 for t in s.traits]
    high = [ends(t.speed)[1] if t.speed.known else np.inf for t in s.traits]
    return excess_per_dose(low, seen_at), excess_per_dose(high, seen_at)


@affine("least thickening", "portion", unit="× unscented", dimension="NUMBER", missing=_missing_speed)
def least_thickening(s: Situation) -> AffineFraction:
    """``thickening`` at the kind end of what its words and cups tell.

    Formula: 1 + Σ max(0, least factor − 1) × dose ÷ the dose of its note
    """
    least, _ = pace_ends(s)
    return _quickness(s, least, np.where(np.isfinite(pace(s)[1]), least, np.inf))


@affine("most thickening", "portion", unit="× unscented", dimension="NUMBER", missing=_missing_speed)
def most_thickening(s: Situation) -> AffineFraction:
    """``thickening`` at the harsh end of what its words and cups tell.

    Formula: 1 + Σ max(0, greatest factor − 1) × dose ÷ the dose of its note
    """
    _, most = pace_ends(s)
    return _quickness(s, np.where(np.isfinite(most), most, 0.0), most)


@number("slowest thickening", "batch", unit="× unscented", form="afterwards")
def slowest_thickening(s: Situation) -> Column:
    """How many times as fast as unscented batter the slowest portion thickens.

    Formula: the least thickening of all portions
    """
    q = s.home("thickening")
    assert isinstance(q, Column)
    gaps = tuple(dict.fromkeys(gap for each in q.missing.values() for gap in each))
    missing = {0: gaps} if gaps and q.low.min() < q.high.min() else {}
    return Column(np.array([q.low.min()]), np.array([q.high.min()]), missing=missing)


def _not_asked(s: Situation) -> Column:
    nothing = np.zeros(len(s.portions))
    return known(nothing, np.zeros(len(s.portions), dtype=bool))


def _fluid_until(s: Situation, line: Timeline) -> Column:
    """Until when the portions are fluid, by the low end of the batter's minutes; open where q is."""
    q = s.home("thickening")
    assert isinstance(q, Column)
    first, last = (clock.fluid_until(line.base[0], line.scented_at, end) for end in (q.high, q.low))
    return Column(first, last, asked=_has_minutes(s), missing=q.missing)


def _has_minutes(s: Situation) -> Bools:
    """Portions (portions,) of which minutes can be told: not where fats have set or a scent seizes."""
    return np.asarray(~seizing_portions(s) & (not has_set(s)))


@number(
    "minutes fluid",
    "portion",
    unit="min",
    dimension="TIME",
    form="clock",
    reads=PACES,
    use=Use(of_size=True, warns_of="thick too soon", of_pour=True),
)
def minutes_fluid(s: Situation) -> Column:
    """How long the portion stays fluid from its scenting, in its slot of the pour (not asked without a pour).

    Nor asked where the fats have set or a scent seizes: there no minutes can be told.
    Formula: (B − t) ÷ thickening, B the minutes unscented batter stays fluid, t the minute of its scenting
    """
    line = timeline(s)
    if line is None:
        return _not_asked(s)
    q = s.home("thickening")
    assert isinstance(q, Column)
    low, high = (stays(line.base[0], line.scented_at, end) for end in (q.high, q.low))
    told = {p: (Missing("plan", "stays fluid"),) for p in range(len(low))}
    fluid = Column(low, high, asked=_has_minutes(s), missing=q.missing, narrowed_by=told)
    return _at_corners(fluid, corners(s, line)[0])


def corners(s: Situation, line: Timeline) -> tuple[Floats, Floats]:
    """Minutes fluid and minutes needed (corners, portions) at the corners of judgement and at its middle.

    Both at each corner with the same batter, the same hands and the same scents: what is left between them
    is one figure.
    """
    q, slow, quick = (s.home(f"{end}thickening") for end in ("", "least ", "most "))
    assert isinstance(q, Column)
    assert isinstance(slow, Column)
    assert isinstance(quick, Column)
    middle = Corner(line.base[0], line.scented_at[None, :], line.needed_until[None, :])
    each = ((line.kind, slow.low), (line.harsh, quick.high), (middle, q.low), (middle, q.high))
    fluid = [stays(c.base, c.at, pace) for c, pace in each]
    needed = [np.broadcast_to(c.until - c.at, f.shape) for (c, _), f in zip(each, fluid, strict=True)]
    return np.concatenate(fluid), np.concatenate(needed)


def _at_corners(column: Column, worlds: Floats) -> Column:
    least, most = np.minimum(worlds.min(axis=0), column.low), np.maximum(worlds.max(axis=0), column.high)
    return replace(column, least=least, most=most, worlds=worlds)


def stays(base: Floats | float, at: Floats | float, q: Floats) -> Floats:
    """Minutes that batter stays fluid from its scenting at a minute, q times as quick; ``base``: B."""
    return np.maximum(clock.fluid_until(base, at, np.maximum(q, 1.0)) - at, 0.0)


@number(
    "minutes needed",
    "portion",
    unit="min",
    dimension="TIME",
    form="clock",
    reads=PACES,
    use=Use(of_size=True, warns_of="thick too soon", of_pour=True),
)
def minutes_needed(s: Situation) -> Column:
    """How long the portion must stay fluid from its scenting: to the common end, or to its layer's pour.

    Not asked without a pour, nor for a top that is thick on purpose or layers that are spooned on.
    Formula: minute by which it must be poured − minute of its scenting
    """
    line = timeline(s)
    if line is None:
        return _not_asked(s)
    needed = line.needed_until - line.scented_at
    return _at_corners(Column(needed, needed, asked=line.asks), corners(s, line)[1])


@number(
    "minutes to spare",
    "portion",
    unit="min",
    dimension="TIME",
    form="afterwards",
    reads=PACES,
    lowest=-np.inf,
    use=Use(warns_of="thick too soon", of_pour=True),
)
def minutes_to_spare(s: Situation) -> Column:
    """How much longer the portion stays fluid than it must; below zero, the minutes that are missing.

    One figure: its doubt is worked out with batter, hands and scents moved for both sides at once.
    Formula: minutes fluid − minutes needed
    """
    line = timeline(s)
    if line is None:
        return _not_asked(s)
    fluid, needed = s.home("minutes fluid"), line.needed_until - line.scented_at
    assert isinstance(fluid, Column)
    asked = line.asks if fluid.asked is None else fluid.asked & line.asks
    column = replace(fluid, low=fluid.low - needed, high=fluid.high - needed, asked=asked)
    spare = _at_corners(column, np.subtract(*corners(s, line)))
    return replace(spare, worlds=None)


@number(
    "scented at", "portion", unit="min", dimension="TIME", form="clock", use=Use(of_size=True, of_pour=True)
)
def scented_at(s: Situation) -> Column:
    """The minute from emulsion at which the portion's slot comes, scented or not.

    Formula: minutes before scenting + the slots before its own
    """
    line = timeline(s)
    return _not_asked(s) if line is None else known(line.scented_at)


@number(
    "fluid until", "portion", unit="min", dimension="TIME", form="clock", use=Use(of_size=True, of_pour=True)
)
def fluid_until(s: Situation) -> Column:
    """The minute from emulsion until which the portion is fluid, by the cautious end of the batter's time.

    Formula: t + (B − t) ÷ thickening, and B where t is past it
    """
    line = timeline(s)
    return _not_asked(s) if line is None else _fluid_until(s, line)


@number(
    "layer below",
    "portion",
    unit="of the way to thick",
    form="afterwards",
    use=Use(of_size=True, of_pour=True),
)
def layer_below(s: Situation) -> Column:
    """How far the layer below has thickened when this one is poured: 0 at emulsion, 1 thick.

    Asked of every layer but the first, where the style says how thick it must be; its doubt is that of the
    batter, the hands and the scents, the waits being those that each would bring.
    Formula: (t + (now − t) × thickening) ÷ B, of the layer below
    """
    line = timeline(s)
    if line is None or not line.by_gravity or s.pour is None or s.pour.minimum_thickness is None:
        return _not_asked(s)
    q = s.home("thickening")
    assert isinstance(q, Column)
    row = np.argsort(line.place)
    below = row[np.maximum(line.place - 1, 0)]
    middle = Corner(line.base[0], line.scented_at[None, :], line.needed_until[None, :])
    low, high = (_carrying(line, below, middle, end)[0] for end in (q.low, q.high))
    gaps = {p: q.missing[int(b)] for p, b in enumerate(below) if int(b) in q.missing}
    found = Column(low, high, asked=line.place > 0, missing=gaps)
    slow, quick = (s.home(f"{end} thickening") for end in ("least", "most"))
    assert isinstance(slow, Column)
    assert isinstance(quick, Column)
    ends = ((line.kind, slow.low), (line.harsh, quick.high), (middle, q.low), (middle, q.high))
    return _at_corners(found, np.concatenate([_carrying(line, below, each, pace) for each, pace in ends]))


def _carrying(line: Timeline, below: Ints, corner: Corner, q: Floats) -> Floats:
    """How thick (paces, portions) the layer below each has become when it is poured, q times as quick."""
    now = corner.at + line.jobs.scent
    return clock.thickness_at(now, corner.base, corner.at[:, below], np.maximum(q[below], 1.0))


@number("thickness that carries", "batch", unit="of the way to thick", use=Use(of_pour=True))
def thickness_that_carries(s: Situation) -> Column:
    """How far a layer must have thickened to carry the next (asked of pours whose rulebook entry says so)."""
    wanted = s.pour.minimum_thickness if s.pour else None
    return known([CARRIES[wanted or "thin"]], np.array([wanted is not None]))


@number("minutes before scenting", "batch", unit="min", dimension="TIME", use=Use(of_size=True, of_pour=True))
def minutes_before_scenting(s: Situation) -> Column:
    """Minutes of splitting and colouring before the first portion is scented.

    Formula: portions × (½ min to split + 1 min to colour), by one pair of hands; longer for a cup over 700 g
    """
    line = timeline(s)
    return numbers([line.first if line else None], [Missing("plan", "pour")])


@number("pour minutes", "batch", unit="min", dimension="TIME", use=Use(of_size=True, of_pour=True))
def pour_minutes(s: Situation) -> Column:
    """What the style of pour takes with so many portions, from the first scenting to the last movement.

    Formula: the low end of its minutes for two portions, the high end for eight; × √(batter ÷ 2 kg) above
    """
    line = timeline(s)
    if line is None or s.pour is None:
        return numbers([None], [Missing("plan", "pour")])
    least, most = style_ends(s, s.pour)
    at = np.array([line.minutes])
    return Column(at, at, least=np.minimum(least, at), most=np.maximum(most, at))


@number("unscented minutes", "batch", unit="min", dimension="TIME", use=Use(of_size=True))
def unscented_minutes(s: Situation) -> Column:
    """How long unscented batter stays fluid from emulsion: as the plan says, else the low end of its class.

    Formula: minutes of the class × 2 to the power of (its usual °C − °C of the batter) ÷ 10
    """
    base = base_of(s)
    at = np.array([base.low])
    return Column(at, at, least=np.minimum(base.least, at), most=np.maximum(base.most, at))


@word("recipe speed", "batch", RECIPE_SPEED)
def recipe_speed(s: Situation) -> Column:
    """How fast the recipe itself thickens: slow, ordinary, fast."""
    return words([RECIPE_SPEED[recipe_class(s)]], RECIPE_SPEED)


@number("batter temperature", "batch", unit="°C", dimension="TEMPERATURE")
def batter_temperature(s: Situation) -> Column:
    """Temperature of the batter at the split."""
    return known([split_temperature(s)])


@number("quickness the pour bears", "batch", unit="× unscented", use=Use(of_pour=True))
def quickness_borne(s: Situation) -> Column:
    """The top of the quickest word of the acceleration scale with which makers still manage this style."""
    bears = s.scales.acceleration[s.pour.tolerates].factor.high if s.pour else None
    return numbers([bears], [Missing("plan", "pour")])


@number("portions the pour bears", "batch", unit="portions", use=Use(of_pour=True))
def portions_borne(s: Situation) -> Column:
    """The most portions that a style bears, such as a mould tilted for each (asked where it says so)."""
    most = s.pour.most_portions if s.pour else None
    return known([float(most or 0)], np.array([most is not None]))


@flag("on top", "portion", use=Use(of_pour=True))
def on_top(s: Situation) -> Column:
    """Whether the portion is the top of a pour that is thick on purpose (asked of such a pour)."""
    line = timeline(s)
    if line is None or line.family != "thick":
        return flags([None] * len(s.portions), asked=np.zeros(len(s.portions), dtype=bool))
    return flags(line.place == len(s.portions) - 1)


@word("fastest the pour bears", "batch", ACCELERATION, use=Use(of_pour=True))
def tolerates(s: Situation) -> Column:
    """The quickest scent with which makers still manage this style."""
    return words([s.pour.tolerates if s.pour else None], ACCELERATION, [Missing("plan", "pour")])


@flag("seizes", "scent", use=Use(warns_of="thick too soon"))
def seizes(s: Situation) -> Column:
    """Whether it turns batter solid within a minute: a gate, whatever the minutes say."""
    gates = {"yes": True, "no": False, "unknown": None}
    return flags([gates[t.seizes] for t in s.traits], [Missing(t.name, "acceleration") for t in s.traits])


@number("quickening", "scent", unit="× unscented")
def quickening(s: Situation) -> Column:
    """How many times faster than an unscented cup it thickened, at the dose of its note; below 1 it thins."""
    low = np.array([t.speed.low if t.speed.known else -np.inf for t in s.traits], dtype=float)
    high = np.array([t.speed.high for t in s.traits], dtype=float)
    gaps = {i: gap for i, gap in enumerate(_missing_speed(s)) if gap}
    said = {i: t.speed.evidence for i, t in enumerate(s.traits) if t.speed.evidence}
    return Column(low, high, missing=gaps, evidence=said)


@number("quickening seen at", "scent", unit="% of oils", dimension="FRACTION")
def quickening_seen_at(s: Situation) -> Column:
    """The dose at which its quickening was seen; 4 % of oils where the note names none."""
    return numbers([t.speed.dose if t.speed.known else None for t in s.traits], _missing_speed(s))
