"""A pairing as a page: the region that works, the palette before and after, time, and what would help."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.pair.result import Cap, ColourFit, PairResult, PourFit
from blendwise.judge.findings.finding import LEVELS
from blendwise.quantity.prose import theirs
from blendwise.show import words
from blendwise.show.assumed import all_said
from blendwise.show.charts import measured
from blendwise.show.charts.clock import hatching
from blendwise.show.check.says import says
from blendwise.show.numbers import amount, in_units
from blendwise.show.pages.render import page
from blendwise.show.pair import advice
from blendwise.show.pair import together as pair_together
from blendwise.show.pair import words as say

if TYPE_CHECKING:
    from markupsafe import Markup

OF_OILS = "% of batch oils"
LOAD_AXIS = 0.10  # of oils: beyond it nobody doses, so the chart ends there


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a chart: what it is of, its bar, and the same in words."""

    name: str
    drawn: Markup
    told: str


def pair_page(result: PairResult) -> str:
    """The whole HTML file."""
    top, longest = axis_top(result), _longest(result)
    scale, unit = in_units(top, OF_OILS, result.units)
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
        axis=measured.axis(scale, f"load, {unit}"),
        unit=unit,
        no_dose=say.NO_DOSE[:1].upper() + say.NO_DOSE[1:],
        bounds=advice.bounds(result.region),
        asked_words=amount(result.load, OF_OILS, result.units),
        hatching=hatching(),
        colours={word: _of(result.colours, word) for word in advice.COLOUR_WORDS},
        colour_words=advice.COLOUR_WORDS,
        pours=[(say_word, [_pour(fit, longest) for fit in fits]) for say_word, fits in _pours(result.pours)],
        minutes=measured.axis(longest, "minutes from the first scenting"),
        helps=[advice.help_line(each, result.units) for each in result.helps],
        flammable=list(_findings(result, ("flash point",))),
        findings=list(_findings(result)),
        not_known=sorted({f"{m.subject}: {m.fact}" for f in result.check.findings for m in f.missing}),
        cautions=words.CAUTIONS,
    )


def _findings(result: PairResult, of: tuple[str, ...] = ()) -> Iterator[tuple[str, str, str, str]]:
    """A line a rule that is broken, the heaviest first: in the maker's words, why, and what to try.

    ``of``: the measures that are told, all where it is empty.
    """
    broken = [each for each in result.check.findings if each.status == "broken" and not each.hidden]
    broken = [each for each in broken if not of or each.measure in of]
    for level in reversed(LEVELS):
        for held in words.by_rule([each for each in broken if each.level == level]):
            told = says(held, result.units)
            recited = "" if held[0].says else held[0].try_
            because, remedy = (theirs(text, result.units) for text in (held[0].because, recited))
            yield words.TAGS[level], told[:1].upper() + told[1:], because, remedy


def _pours(fits: Sequence[PourFit]) -> Iterator[tuple[str, list[PourFit]]]:
    for word, told in advice.POUR_WORDS.items():
        held = [fit for fit in fits if fit.word == word]
        if held:
            yield told, held


def _there(fit: PourFit) -> float | None:
    """Minutes that there are, None where they are not known or thick batter serves."""
    return None if fit.spare.low is None or fit.spare.high is None else fit.minutes + fit.spare.low


def _longest(result: PairResult) -> float:
    return max([10.0, *(1.1 * fit.minutes for fit in result.pours)])


def _pour(fit: PourFit, longest: float) -> Row:
    told = advice.spare(fit)
    return Row(fit.pour, measured.taken(longest, fit.minutes, _there(fit), f"{fit.pour}: {told}"), told)


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
    shares = zip(cap.shares, advice.whole_shares(list(cap.shares.values())), strict=True)
    name = " + ".join(f"{share} {oil}" for oil, share in shares if share)
    told = advice.short_cap(cap, result.units)
    return Row(name, measured.limit(top, most, max(browned, most), result.load, f"{name}: {told}"), told)


def _of(colours: Sequence[ColourFit], word: str) -> list[ColourFit]:
    return [fit for fit in colours if advice.honest(fit) == word]
