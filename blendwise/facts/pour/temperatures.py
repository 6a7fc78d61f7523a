"""Temperatures of the batter, the room and the oven: by the plan, else as usual."""

from __future__ import annotations

from typing import Final

from blendwise.facts.situation.worked_out import Situation
from blendwise.science import clock

USUAL_ROOM: Final = 21.0  # °C, where neither plan nor usual.yaml says: an assumption that the advice states
OVEN: Final = 77.0  # °C of a forced gel where the plan gives none: common practice


def split_temperature(s: Situation) -> float:
    """°C of the batter at the split: by the plan, else the usual one, else the middle of design pours."""
    process = s.plan.process
    stated = (process.batter_at_split if process else None) or s.book.usual.batter_at_split
    return stated.mid if stated else clock.CLASS_CELSIUS[0]


def room_celsius(s: Situation) -> float | None:
    """°C of the room; None where nobody says."""
    process = s.plan.process
    stated = (process.room if process else None) or s.book.usual.room
    return stated.mid if stated else None


def oven_celsius(s: Situation) -> float:
    """°C at which gel is forced."""
    process = s.plan.process
    plan = (process.gel_plan if process else None) or s.book.usual.gel_plan
    return plan.at.mid if plan is not None and plan.at is not None else OVEN
