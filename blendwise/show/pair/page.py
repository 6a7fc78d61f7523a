"""A pairing as a page: the region that works, the palette before and after, time, and what would help."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from blendwise.answers.pair.result import Cap, ColourFit, PairResult
from blendwise.show import words
from blendwise.show.assumed import all_said
from blendwise.show.numbers import amount
from blendwise.show.pages.render import page
from blendwise.show.pair import advice
from blendwise.show.pair import together as pair_together
from blendwise.show.pair import words as say

OF_OILS = "% of batch oils"
LOAD_AXIS = 0.10  # of oils: beyond it nobody doses, so the chart ends there


@dataclass(frozen=True, slots=True)
class Row:
    """One ratio of the chart: shares in per cent, how far it goes, how far where it may brown, and words."""

    shares: str
    most: float
    browned: float
    told: str


def pair_page(result: PairResult) -> str:
    """The whole HTML file."""
    top = axis_top(result)
    return page(
        "pair.html",
        result.units,
        result=result,
        title=say.title(result),
        verdict=say.verdict(result),
        sides=[say.side(each, result.units) for each in result.sides],
        together=list(pair_together.together(result)),
        said=all_said(result.said, result.units),
        rows=[_row(cap, result, top) for cap in in_order(result.region)],
        asked=100 * min(result.load / top, 1.0),
        asked_words=amount(result.load, OF_OILS, result.units),
        top=amount(top, OF_OILS, result.units),
        colours={word: _of(result.colours, word) for word in advice.COLOUR_WORDS},
        colour_words=advice.COLOUR_WORDS,
        pours=[
            advice.pour_line(word, [fit for fit in result.pours if fit.word == word])
            for word in advice.POUR_WORDS
            if any(fit.word == word for fit in result.pours)
        ],
        helps=[advice.help_line(each, result.units) for each in result.helps],
        findings=[
            (words.TAGS[f.level], words.headline(f, result.units), f.because, f.try_)
            for f in result.check.findings
            if f.status == "broken"
        ],
        not_known=sorted({f"{m.subject}: {m.fact}" for f in result.check.findings for m in f.missing}),
        cautions=words.CAUTIONS,
    )


def axis_top(result: PairResult) -> float:
    """The load at the end of the chart: a little beyond the greatest that counts."""
    loads = [cap.most for cap in result.region if cap.most is not None]
    browned = [cap.darker.load for cap in result.region if cap.darker and cap.darker.load is not None]
    return min(max([*loads, *browned, result.load, 0.01]) * 1.1, LOAD_AXIS)


def in_order(region: Sequence[Cap]) -> list[Cap]:
    """Most of the first oil at the top."""
    return sorted(region, key=lambda cap: [-share for share in cap.shares.values()])


def _row(cap: Cap, result: PairResult, top: float) -> Row:
    most = top if cap.most is None else cap.most
    browned = top if cap.darker is None or cap.darker.load is None else cap.darker.load
    return Row(
        " : ".join(f"{100 * share:.0f}" for share in cap.shares.values()),
        100 * min(most / top, 1.0),
        100 * min(max(browned, most) / top, 1.0),
        advice.cap_words(cap, result.units),
    )


def _of(colours: Sequence[ColourFit], word: str) -> list[ColourFit]:
    return [fit for fit in colours if fit.word == word]
