"""Answers as a maker weighs them, and the sentences for what could not be proven."""

from __future__ import annotations

import numpy as np

from blendwise.assignment.problem.ready import EPSILON, Frame, Group, whole_shares
from blendwise.assignment.result import Answer, Premix
from blendwise.assignment.search.evaluate import Evaluation
from blendwise.facts.columns import Floats

DIGITS = 9


def answer(frame: Frame, found: Evaluation) -> Answer:
    """An evaluation in grams, as it is weighed."""
    kept = [j for j in range(len(found.groups)) if found.units[j].sum() > 0]
    premixes = tuple(_premix(frame, found.groups[j], float(found.units[j].sum())) for j in kept)
    place = {j: i for i, j in enumerate(kept)}
    return Answer(
        premixes,
        np.round(found.grams, DIGITS) + 0.0,
        np.round(found.units[kept] * frame.unit, DIGITS) + 0.0,
        found.order,
        {measure: round(value, DIGITS) + 0.0 for measure, value in found.values.items()},
        found.broken,
        found.undecided,
        tuple((place[j], p, 0.5 / float(found.units[j, p])) for j, p in found.small),
    )


def _premix(frame: Frame, group: Group, units: float) -> Premix:
    exact = frame.shares(group)[list(group)] * units
    weighed = whole_shares(exact, round(units)) if frame.steps else exact
    off = (0.5 + np.abs(weighed - exact)) / np.maximum(weighed, EPSILON)
    grams = tuple(float(round(g * frame.unit, DIGITS)) for g in weighed)
    return Premix(group, grams, tuple(float(o) for o in off), float(round(units * frame.unit, DIGITS)))


def as_weighed(best: Answer, shape: tuple[int, int]) -> Floats:
    """Grams (scents, portions) with each premix as it is weighed, part by part."""
    grams = np.zeros(shape)
    for premix, doses in zip(best.premixes, best.doses, strict=True):
        for s, part in zip(premix.scents, premix.grams, strict=True):
            grams[s] += part / premix.total * doses
    return grams


def nothing(frame: Frame) -> Answer:
    """No scent anywhere."""
    return Answer((), np.zeros(frame.shape), np.zeros((0, frame.shape[1])), (), {"few weighings": 0.0})


def too_little(frame: Frame) -> str:
    """Which oils come to less than can be weighed, in one sentence."""
    problem = frame.problem
    short = [
        f'"{problem.scents[s]}" to {frame.weighed[s] * frame.unit:g} g'
        for s in np.flatnonzero(~frame.weighable)
    ]
    least = max(frame.least if frame.least_is_hard else 1, 1) * frame.unit
    return f"In all, {', '.join(short)} would come: less than the {least:g} g which this scale can weigh."


def early(frame: Frame, complete: bool, answered: bool) -> str:
    """Why there is no proof."""
    if not complete:
        most = frame.problem.premixes
        begun = f"{frame.shape[0]} oils can be divided into {most} premixes in too many ways to try them all"
        return (
            f"{begun}; the likeliest were tried." if answered else f"{begun}; none of the likeliest serves."
        )
    if answered:
        return "Stopped by the clock before the best was proven."
    return "Stopped by the clock before an answer was found; nothing is proven either way."
