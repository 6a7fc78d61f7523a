"""What would help: another load or ratio, a darker plan, dark beside light, pours with time, a cup first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.pair_findings import findings_of, heaviest, one_each, unscented_bar
from blendwise.answers.pair_kin import kin
from blendwise.answers.pair_plan import BAR, Cup, load_on_oils, situation
from blendwise.answers.pair_pours import without_pours
from blendwise.answers.pair_question import Question
from blendwise.answers.pair_results import Cap, ColourFit, Help, PourFit, Side, Together
from blendwise.answers.pair_sides import column
from blendwise.facts.scales import BANDS
from blendwise.facts.situation import Situation
from blendwise.judge.compile import Rule
from blendwise.judge.finding import LEVELS, Finding

CUP_BATTER: Final = 100.0
"""Grams of batter in a test cup; common practice."""
CAUTION: Final = LEVELS.index("caution")
OWN_LOOKS: Final = ("own cup", "own batch")
LEAST_WORTH: Final = 0.01
"""Load on oils below which nobody smells the bar, so that it is not offered: judgement."""
LIGHT, DARK = "light", "dark"


def helps(
    question: Question,
    s: Situation,
    rules: Sequence[Rule],
    sides: Sequence[Side],
    both: Together,
    region: Sequence[Cap],
    pours: Sequence[PourFit],
    colours: Sequence[ColourFit],
    findings: Sequence[Finding],
) -> Iterator[Help]:
    """In a maker's order: what costs least first; a cup last, since it is worth making whatever was done."""
    yield from _other_load(question, s, region)
    yield from _split(question, s, rules, sides)
    yield from _may_become(question, s, rules, findings)
    yield from _colours(findings, colours)
    yield from kin(question, rules, findings)
    yield from _pours(question, pours)
    yield from _cup(question, s, sides, both)


def _other_load(question: Question, s: Situation, region: Sequence[Cap]) -> Iterator[Help]:
    """Less of it, or more of the one that bears more, where the asked load is not allowed."""
    load = load_on_oils(s)
    here = region[0]
    if here.most is None or load <= here.most * (1 + 1e-9):
        return
    if here.most >= LEAST_WORTH:
        yield Help("lower load", {"most": here.most, "rule": here.stops[0].rule})
    fits = [cap for cap in region[1:] if min(cap.shares) > 0 and (cap.most is None or cap.most >= load)]
    if fits:
        near = min(
            fits, key=lambda cap: sum(abs(a - b) for a, b in zip(cap.shares, here.shares, strict=True))
        )
        yield Help("another ratio", dict(zip(question.oils, near.shares, strict=True)))


def _split(question: Question, s: Situation, rules: Sequence[Rule], sides: Sequence[Side]) -> Iterator[Help]:
    """This one dark, that one light: the browning oils in one portion, the others in a white one."""
    brown = [side for side in sides if side.bands[1] != BANDS[0]]
    clean = [side for side in sides if side.bands[1] == BANDS[0]]
    dark = darkest(question)
    if not brown or dark is None or question.colour is not None:
        return
    load = load_on_oils(s)
    share = sum(side.share for side in brown) if clean else 0.5
    cups = [
        Cup(LIGHT, share=1 - share, scents=_within(clean, load)),
        Cup(DARK, share=share, colour=dark, scents=_within(brown, load)),
    ]
    split = situation(question, cups)
    found = one_each(findings_of(split, unscented_bar(question), without_pours(rules)))
    left = [finding for finding in found if finding.level != "hint"]
    halo = [finding.rule for finding in found if finding.looks_at == "edge" and finding.level == "hint"]
    yield Help(
        "split" if clean else "white unscented",
        {
            "dark oils": ", ".join(side.name for side in brown),
            "light oils": ", ".join(side.name for side in clean),
            "dark colour": dark,
            "dark share": share,
            "dark oils mass": float(split.split.oils[1]),
            "light oils mass": float(split.split.oils[0]),
            "dark grams": float(split.x[:, 1].sum()),
            "light grams": float(split.x[:, 0].sum()),
            "contrast": float(column(split, "contrast").low[0]),
            "sound": "yes" if heaviest(left) <= CAUTION else "no",
            "left": ", ".join(f"{f.rule} ({f.level})" for f in left),
            "halo": ", ".join(halo),
        },
    )


def _within(held: Sequence[Side], load: float) -> dict[str, float]:
    """The load parted among the oils of one portion as they stand in the blend."""
    total = sum(side.share for side in held)
    return {side.name: load * side.share / total for side in held}


def darkest(question: Question) -> str | None:
    """The colourant which looks darkest, of those that are stable in lye and do not bleed."""
    from blendwise.science.colour import lab_from_hex

    fit = [c for c in question.book.colourants.values() if c.stable_in_lye and c.bleeds is False]
    return min(fit, key=lambda c: float(lab_from_hex(c.hex)[0])).name if fit else None


def _may_become(
    question: Question, s: Situation, rules: Sequence[Rule], findings: Sequence[Finding]
) -> Iterator[Help]:
    """Plan it at the colour that it will reach."""
    reaches = column(s, "browning band").high[0]
    shows = [f for f in findings if f.limit_measure == "planned band" and f.level != "hint"]
    if not shows or not reaches < len(BANDS):
        return
    band = BANDS[int(reaches)]
    planned = situation(question, [Cup(BAR, colour=question.colour, may_become=band)])
    left = one_each(findings_of(planned, unscented_bar(question), without_pours(rules)))
    yield Help("may become", {"band": band, "sound": "yes" if heaviest(left) <= CAUTION else "no"})


def _colours(findings: Sequence[Finding], colours: Sequence[ColourFit]) -> Iterator[Help]:
    """Colours under which the browning does not show."""
    safe = [fit.colourant for fit in colours if fit.word == "stays" and not fit.rules]
    if safe and any(f.measure == "browning band" for f in findings):
        yield Help("colours that stay", {"names": ", ".join(safe[:6]), "number": float(len(safe))})


def _pours(question: Question, pours: Sequence[PourFit]) -> Iterator[Help]:
    """Pours that leave time, where the asked one does not or any is too slow."""
    fine = [fit.pour for fit in pours if fit.word == "time enough"]
    asked = next((fit for fit in pours if fit.pour == question.pour), None)
    if fine and (asked is None or asked.word != "time enough") and len(fine) < len(pours):
        yield Help("pours with time", {"names": ", ".join(fine), "number": float(len(fine))})


def _cup(question: Question, s: Situation, sides: Sequence[Side], both: Together) -> Iterator[Help]:
    """A test cup, with what to weigh and why: an oil known from others only, a gap, or two never met."""
    unseen = [side.name for side in sides if side.evidence not in OWN_LOOKS]
    gaps = [side.name for side in sides if side.not_known]
    unmet = [f"{each.one} with {each.other}" for each in both.noted if each.word == "unsaid"]
    if not (unseen or gaps or unmet):
        return
    oils = CUP_BATTER / s.pot.batter_to_oils
    grams = {
        name: load_on_oils(s) * oils * part for name, part in zip(question.oils, question.shares, strict=True)
    }
    why = {"unseen": ", ".join(unseen), "gaps": ", ".join(gaps), "unmet": "; ".join(unmet)}
    yield Help(
        "cup", {"batter": CUP_BATTER, **why, **{f"grams of {name}": value for name, value in grams.items()}}
    )
