"""Every way that there is, by its name: the kind it is of, and what makes its values for a case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from blendwise.answers.levers.case import Case, Way
from blendwise.answers.levers.result import Kind
from blendwise.answers.levers.ways import batter, blend, doses, look_and_pour, weighing

WAYS: Final[Mapping[str, tuple[Kind, Callable[[Case], Iterator[Way]]]]] = {
    "weigh together": ("weigh it together", weighing.weigh_together),
    "more premixes": ("weigh it together", weighing.more_premixes),
    "apart": ("weigh it together", weighing.apart),
    "finer scale": ("weigh it together", weighing.finer_scale),
    "more hands": ("more hands", batter.more_hands),
    "held back": ("return held-back oil", batter.held_back),
    "superfat": ("more or less lye", batter.superfat),
    "order": ("another order", look_and_pour.order),
    "temperature": ("warmer or cooler", batter.temperature),
    "gel": ("warmer or cooler", batter.gel),
    "water": ("more or less water", batter.water),
    "dose open": ("put it elsewhere", doses.dose_open),
    "doses open": ("put it elsewhere", doses.doses_open),
    "dose out": ("put it elsewhere", doses.dose_out),
    "spread": ("put it elsewhere", doses.spread),
    "move": ("put it elsewhere", doses.move),
    "less here": ("less here", doses.less_here),
    "less colour": ("less here", look_and_pour.less_colour),
    "less additive": ("less here", batter.less_additive),
    "less mixed in": ("less here", batter.less_mixed_in),
    "other rate": ("another colour or band", look_and_pour.other_rate),
    "same dose": ("less of all", blend.same_dose),
    "less of one": ("less of all", blend.less_of_one),
    "less of all": ("less of all", blend.less_of_all),
    "embed unscented": ("the embed unscented", batter.embed_unscented),
    "band": ("another colour or band", look_and_pour.band),
    "other colour": ("another colour or band", look_and_pour.other_colour),
    "other pour": ("another pour", look_and_pour.other_pour),
    "other oil": ("another oil", blend.other_oil),
    "bare": ("leave it out", blend.bare),
    "leave out": ("leave it out", blend.leave_out),
}
