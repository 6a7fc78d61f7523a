"""The pour against the clock for a bench sheet, and what may go wrong with these portions."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from blendwise.answers.check.drawn import split_and_colour, stirred_by, surely_fluid
from blendwise.answers.sheet.result import Clock, Simpler, Trouble, Turn
from blendwise.answers.sheet.weigh import vessel_of_all
from blendwise.facts.columns import Column
from blendwise.facts.pour.minutes import style_minutes
from blendwise.facts.situation.appearance import gel_word
from blendwise.facts.situation.timeline import Timeline, timeline
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.records.kinds.pour import PourStyle

CLEARLY_QUICKER = 1.2  # times unscented batter, from which a portion is named as quick: judgement
BLENDER_FITS = 500.0  # g of batter that cover a stick blender's head: judgement, as in the rulebook
LARGE_BATCH = 2000.0  # g of oils from which a mould holds much heat: judgement, as in the symptoms


def clock_of(s: Situation) -> Clock | None:
    """The pour with its turns in the order of scenting; None where the plan names no pour."""
    line, pour = timeline(s), s.pour
    if line is None or pour is None:
        return None
    split, colour = split_and_colour(s, line)
    return Clock(
        pour=pour.name,
        how=pour.how or "",
        family=line.family,
        batter=pour.batter,
        wait=(pour.wait.low, pour.wait.high) if pour.wait else None,
        minutes=line.minutes,
        base=line.base,
        base_from=line.base_from,
        first_scenting=line.first,
        end=line.end,
        turns=tuple(_turns(s, line)),
        split_by=split,
        together=vessel_of_all(s) if pour.gathers_in_a_cup else None,
        coloured_from=colour,
    )


def _turns(s: Situation, line: Timeline) -> Iterator[Turn]:
    q, cautious = _thickening(s), surely_fluid(s, line)
    for p in np.argsort(line.place):
        yield Turn(
            s.portions[p],
            float(line.scented_at[p]),
            float(line.needed_until[p]),
            tuple(m.subject for m in q.missing.get(int(p), ())),
            stirred_by=stirred_by(line, int(p)),
            must_run=bool(line.asks[p]),
            number=int(p) + 1,
            quick_day=float(cautious[p]),
            fluid=(float(line.fluid_until[0][p]), float(line.fluid_until[1][p])),
        )


def _thickening(s: Situation) -> Column:
    q = s.home("thickening")
    assert isinstance(q, Column)
    return q


def trouble_of(s: Situation, findings: tuple[Finding, ...]) -> Trouble:
    """What these portions may do, and which simpler pour still works."""
    ricing = {r.name: word for r, (word, _) in zip(s.scent_records, s.ricing, strict=True)}
    seizes = {t.name: t.seizes for t in s.traits}
    too_small = {f.subject[-1] for f in findings if f.measure == "portion mass"}
    fit = [
        n for n, b in zip(s.portions, s.split.batter, strict=True) if b >= BLENDER_FITS and n not in too_small
    ]
    return Trouble(
        quick=tuple(_quick(s)),
        speed_unknown=_where(s, [n for n in s.scents if n in _unknown(s)]),
        rices=_where(s, [n for n in s.scents if ricing[n] in ("slight", "bad")]),
        ricing_unknown=_where(s, [n for n in s.scents if ricing[n] is None]),
        seizes=_where(s, [n for n in s.scents if seizes[n] == "yes"]),
        fit_blender=tuple(fit),
        heats=tuple(_heats(s)),
        simpler=tuple(_simpler(s)),
        wanted_in=_wanted_thick(s),
    )


def _wanted_thick(s: Situation) -> str:
    """The last portion of a pour that is thick on purpose."""
    line = timeline(s)
    return s.portions[int(np.argmax(line.place))] if line is not None and line.family == "thick" else ""


def _quick(s: Situation) -> list[str]:
    q = _thickening(s)
    fast = [p for p in range(len(s.portions)) if np.isfinite(q.high[p]) and q.high[p] >= CLEARLY_QUICKER]
    return [s.portions[p] for p in sorted(fast, key=lambda p: -q.high[p])]


def _unknown(s: Situation) -> set[str]:
    return {m.subject for missing in _thickening(s).missing.values() for m in missing}


def _where(s: Situation, scents: list[str]) -> dict[str, tuple[str, ...]]:
    """Scent → the portions that hold it; scents that no portion holds are left out."""
    held = {n: tuple(np.array(s.portions)[s.x[s.scents.index(n)] > 0]) for n in scents}
    return {n: tuple(map(str, portions)) for n, portions in held.items() if portions}


def _heats(s: Situation) -> Iterator[str]:
    if gel_word(s) == "force":
        yield "gel"
    sugars = s.home("sugars")
    if isinstance(sugars, Column) and sugars.high[0] > 0:
        yield "sugar"
    if any("spice" in r.tags and row.any() for r, row in zip(s.scent_records, s.x, strict=True)):
        yield "spice"
    if s.pot.oils_total > LARGE_BATCH:
        yield "size"


def _simpler(s: Situation) -> Iterator[Simpler]:
    """The quickest figure that still wants fluid batter and is quicker than the plan's; then rough layers."""
    line, now = timeline(s), s.pour
    if line is None or now is None or len(s.portions) < 2:
        return
    others = [p for p in s.book.pours.values() if p.name != now.name and p.touching != "none"]
    if not now.gathers_in_a_cup:  # whose cups have room for their own batter alone
        others = [p for p in others if not p.gathers_in_a_cup]
    figure = _quickest(s, [p for p in others if p.family == "interleaved"])
    if figure is not None and now.family == "interleaved" and style_minutes(s, figure) < line.minutes:
        minutes = style_minutes(s, figure)
        begin_by = float(line.fluid_until[0].min()) - minutes
        if begin_by >= line.first:  # before the first scenting nothing can be begun
            yield Simpler(figure.name, figure.how or "", minutes, begin_by)
    thick = [p for p in others if p.family == "sequential" and p.batter in ("medium", "thick")]
    layers = _quickest(s, thick)
    if layers is not None:
        yield Simpler(layers.name, layers.how or "", style_minutes(s, layers), None)


def _quickest(s: Situation, pours: list[PourStyle]) -> PourStyle | None:
    return min(pours, key=lambda pour: style_minutes(s, pour), default=None)
