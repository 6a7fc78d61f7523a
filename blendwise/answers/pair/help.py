"""What would help beside the levers: dark beside light, colours, a little of another, a pour, a cup."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.answers.cup.sizes import CUP_BATTER
from blendwise.answers.heaviest import CAUTION, heaviest, one_each
from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.plan import Cup, load_on_oils, situation
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.result import ColourFit, Help, PourFit, Side, Together
from blendwise.answers.pair.sides import column
from blendwise.answers.shelf.bar import Shelf
from blendwise.answers.shelf.blend_judge import Bench
from blendwise.answers.shelf.blends import Blends
from blendwise.facts.scales import ACCELERATION, BANDS, NOTED
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.conditions.logic import UNDECIDED
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.kinds.scent import Scent
from blendwise.science.colour import lab_from_hex
from blendwise.science.fade import CLASSES, main_class

OWN_LOOKS: Final = ("own cup", "own batch")
A_LITTLE: Final = 0.15
"""Share of the blend at which an oil is added to hold or mend it; 5 to 20 % are common practice."""
MOST_NAMED: Final = 3
LIGHT, DARK = "light", "dark"


@dataclass(frozen=True, eq=False)
class Looked:
    """All that was found of a blend, on which the help is built."""

    s: Situation
    rules: Sequence[Rule]
    hearing: Hearing
    findings: Sequence[Finding]
    sides: Sequence[Side]
    together: Together
    pours: Sequence[PourFit]
    colours: Sequence[ColourFit]

    @property
    def question(self) -> Question:
        return self.hearing.question


def helps(found: Looked) -> Iterator[Help]:
    """In a maker's order: what costs least first; a cup last, since it is worth making whatever was done."""
    yield from _split(found)
    yield from _colours(found)
    yield from _additions_of(found)
    yield from _pours(found)
    yield from _cup(found)


def _split(found: Looked) -> Iterator[Help]:
    """This one dark, that one light: the browning oils in one portion, the others in a white one."""
    brown = [side for side in found.sides if side.bands.high != BANDS[0]]
    clean = [side for side in found.sides if side.bands.high == BANDS[0]]
    dark = darkest(found.question)
    seizing = any(side.acceleration == ACCELERATION[-1] for side in found.sides)  # no cup of a swirl bears it
    if not brown or dark is None or found.question.colour is not None or seizing:
        return
    load = load_on_oils(found.s)
    share = sum(side.share for side in brown) if clean else 0.5
    cups = [
        Cup(LIGHT, share=1 - share, scents=_within(clean, load)),
        Cup(DARK, share=share, colour=dark, scents=_within(brown, load)),
    ]
    split = situation(found.question, cups)
    names = {"dark oils": _names(brown), "light oils": _names(clean), "dark colour": dark}
    yield Help("split" if clean else "white unscented", {**names, **_figures(split), **_left(found, split)})


def _names(sides: Sequence[Side]) -> str:
    return ", ".join(side.name for side in sides)


def _figures(split: Situation) -> dict[str, float]:
    """Grams of oils and of scent in both portions, and how far their colours then lie apart."""
    light, dark = (split.portions.index(name) for name in (LIGHT, DARK))
    return {
        "dark share": float(split.split.share[dark]),
        "dark oils mass": float(split.split.oils[dark]),
        "light oils mass": float(split.split.oils[light]),
        "dark grams": float(split.x[:, dark].sum()),
        "light grams": float(split.x[:, light].sum()),
        "contrast": float(column(split, "contrast").low[0]),
    }


def _left(found: Looked, split: Situation) -> dict[str, str]:
    """What the rules still say of the split."""
    asked = [rule for rule in found.hearing.rules if rule.level != "hint" or rule.looks_at == "edge"]
    said = one_each(found.hearing.of(split, asked))
    heavy = [finding for finding in said if finding.level != "hint"]
    halo = [finding.rule for finding in said if finding.looks_at == "edge" and finding.level == "hint"]
    return {
        "sound": "yes" if heaviest(heavy) <= CAUTION else "no",
        "left": ", ".join(f"{finding.rule} ({finding.level})" for finding in heavy),
        "halo": ", ".join(halo),
    }


def _within(held: Sequence[Side], load: float) -> dict[str, float]:
    """The load parted among the oils of one portion as they stand in the blend."""
    total = sum(side.share for side in held)
    return {side.name: load * side.share / total for side in held}


def darkest(question: Question) -> str | None:
    """The colourant which looks darkest, of those that are stable in lye and do not bleed."""
    fit = [c for c in question.book.colourants.values() if c.stable_in_lye and c.bleeds is False]
    return min(fit, key=lambda c: float(lab_from_hex(c.hex)[0])).name if fit else None


def _colours(found: Looked) -> Iterator[Help]:
    """Colours under which the browning does not show."""
    safe = [fit.colourant for fit in found.colours if fit.word == "stays" and not fit.rules]
    if safe and any(finding.measure == "browning band" for finding in found.findings):
        yield Help("colours that stay", {"names": ", ".join(safe[:6]), "number": float(len(safe))})


def _pours(found: Looked) -> Iterator[Help]:
    """Pours that leave time, where the asked one does not, or where any does not."""
    fine = [fit.pour for fit in found.pours if fit.word == "time enough"]
    asked = next((fit for fit in found.pours if fit.pour == found.question.pour), None)
    if fine and (asked is None or asked.word != "time enough") and len(fine) < len(found.pours):
        yield Help("pours with time", {"names": ", ".join(fine), "number": float(len(fine))})


def _cup(found: Looked) -> Iterator[Help]:
    """A test cup, with what to weigh and why: an oil known from others only, a gap, or two never met."""
    unseen = [side for side in found.sides if side.evidence not in OWN_LOOKS]
    gaps = [side for side in found.sides if side.not_known]
    unmet = [f"{each.one} with {each.other}" for each in found.together.noted if each.word == "unsaid"]
    if not (unseen or gaps or unmet):
        return
    oils = CUP_BATTER / found.s.pot.batter_to_oils
    grams = {f"grams of {side.name}": load_on_oils(found.s) * oils * side.share for side in found.sides}
    why = {"unseen": _names(unseen), "gaps": _names(gaps), "unmet": "; ".join(unmet)}
    yield Help("cup", {"batter": CUP_BATTER, **why, **grams})


def _additions_of(found: Looked) -> Iterator[Help]:
    """Base notes of the shelf of which a little mends a fade, judged all at once; hints, no credit is
    given."""
    question, findings = found.question, found.findings
    broken = [finding for finding in findings if finding.status == "broken"]
    fading = {rule.name for rule in found.rules if rule.record.topic == "fade"}
    light = list(dict.fromkeys(f.rule for f in broken if f.level == "caution" and f.rule in fading))
    others = [
        name for name, oil in question.book.scents.items() if name not in question.oils and may_hold(oil)
    ]
    if not (others and light):
        return
    bench = Bench(Shelf(question, tuple(question.book.scents)), found.rules, found.hearing)
    own = [bench.shelf.place[name] for name in question.oils]
    rest = [bench.shelf.place[name] for name in others]
    yield from _additions(question, bench, own, rest, light, max(CAUTION, heaviest(findings)))


def may_hold(oil: Scent) -> bool:
    """Whether an oil may hold another: a base note, and by its constituents none that leaves early itself."""
    sheet = oil.allergen_sheet
    names = sheet.names if sheet else {}
    contents = np.array([amount.mid for amount in names.values()])
    main = main_class(list(names), contents / max(1.0, contents.sum())) if names else None
    return oil.scent_note == "base" and (main is None or main >= CLASSES.index("lasting"))


def known_to_last(oil: Scent) -> bool:
    """Whether somebody wrote down that it is still there at six weeks."""
    said = oil.six_weeks
    if said is None:
        return False
    return said.word in ("strong", "fair") or (said.left is not None and said.left.low >= HALF)


HALF: Final = 0.5
"""Share of a smell that is left from which an oil is taken to last: judgement."""


def may_brown(oil: Scent) -> bool:
    """Whether it darkens by its colour or by what it holds; of which nothing is known, it may."""
    if oil.browns_to is not None:
        return oil.browns_to.band != "ivory"
    held = [oil.vanillin, oil.ethyl_vanillin, *oil.browns_by.values()]
    return oil.vanillin is None or any(each is not None and each.value > 0 for each in held)


def _additions(
    question: Question, bench: Bench, own: list[int], rest: list[int], light: Sequence[str], bearable: int
) -> Iterator[Help]:
    """Oils of which a little mends a caution and brings nothing heavier than there is."""
    index = np.array([[*own, other] for other in rest], dtype=np.intp)
    shares = np.tile([*((1 - A_LITTLE) * np.array(question.shares)), A_LITTLE], (len(rest), 1))
    asked = list(bench.asked(Blends(bench.shelf, index, shares)))
    verdicts = bench.verdicts(asked, len(rest))
    no_heavier = np.maximum(verdicts.broken, verdicts.undecided) <= bearable
    for each in (each for each in asked if each.rule.name in light):
        fit = np.flatnonzero((each.outcomes < UNDECIDED) & no_heavier)
        liked = sorted(
            (
                (
                    not known_to_last(question.book.scents[bench.shelf.names[rest[int(k)]]]),
                    may_brown(question.book.scents[bench.shelf.names[rest[int(k)]]]),
                    *_liking(bench, own, rest[int(k)], int(verdicts.cautions[k])),
                ),
                rest[int(k)],
            )
            for k in fit
        )
        if liked:
            names = ", ".join(bench.shelf.names[place] for _, place in liked[:MOST_NAMED])
            held = [question.book.scents[bench.shelf.names[place]] for _, place in liked[:MOST_NAMED]]
            said = {
                "unsure": ", ".join(oil.name for oil in held if not known_to_last(oil)),
                "brown": ", ".join(oil.name for oil in held if may_brown(oil)),
            }
            yield Help("a little of", {"rule": each.rule.name, "share": A_LITTLE, "names": names, **said})


def _liking(bench: Bench, own: list[int], place: int, cautions: int) -> tuple[bool, float, int, str]:
    """Noted as good with any of the blend first, then what brings fewest cautions, then by name."""
    noted = bench.shelf.noted_codes(np.array(own), np.full(len(own), place))
    bad = bool(noted.min() == NOTED.index("bad"))
    return bad, -float(noted.max()), cautions, bench.shelf.names[place]
