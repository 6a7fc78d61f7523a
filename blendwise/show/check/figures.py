"""What a check and a split draw on a page: how the portions lie, colours, scent, minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from blendwise.answers.check.drawn import Drawn
from blendwise.answers.check.result import CheckResult, PortionGrams
from blendwise.quantity import Units
from blendwise.show.charts import cut, measured, stacked
from blendwise.show.charts.swatches import palette
from blendwise.show.check.blocks import own_dose
from blendwise.show.check.clock import plan_clock
from blendwise.show.numbers import grams, in_units
from blendwise.show.pages.answer import Figure
from blendwise.show.pages.render import said
from blendwise.show.sheet.words import LIES

if TYPE_CHECKING:
    from markupsafe import Markup

LAID = "The bar"
SWATCHES = "Colours: left as poured, right cured"
DOSES = "Scent in each cup"
CLOCK = "Minutes from emulsion"
OF_OILS = "% of portion oils"


def figures(check: CheckResult | None) -> Iterator[Figure]:
    """The pictures of a plan; none where nothing was worked out, and no dose of what is not to be made."""
    if check is None or check.drawn is None or not check.drawn.cups:
        return
    yield _bar(check.drawn)
    doses = () if check.not_to_be_made else check.grams
    scented = frozenset(row.portion for row in check.grams if row.scent_total)
    if any(row.scent_total for row in doses):
        yield Figure(DOSES, _doses(doses, check.units), _drawn_of(check))
    timed = plan_clock(check.drawn, scented)
    if timed is not None:
        yield Figure(CLOCK, timed)


def _drawn_of(check: CheckResult) -> str:
    """Which version is drawn, where the check speaks of others too."""
    others = sorted({each.version for each in check.findings if each.version})
    return f"Drawn as the plan is written, not version {' or '.join(others)}." if others else ""


def _bar(drawn: Drawn) -> Figure:
    """How the portions lie beside their colours; the colours alone where the tool cannot say how they lie."""
    kind = cut.kind_of(drawn.pour, drawn.family, drawn.touching, len(drawn.cups))
    colours = palette(
        [
            (n, c.portion, c.fresh, c.cured or "", c.fresh_word, " to ".join(c.cured_words) or "not known")
            for n, c in enumerate(drawn.cups, 1)
        ]
    )
    if kind == "swatches":
        return Figure(LAID, colours, SWATCHES)
    parts = [cut.Part(n, c.share, c.fresh, c.cured or "") for n, c in enumerate(drawn.cups, 1)]
    both = said(
        "<div class=bar-and-colours><figure class=lies>{it}<figcaption>{lies}</figcaption></figure>"
        "<div><p class='small soft'>{told}</p>{colours}</div></div>",
        it=cut.cut(kind, parts, LIES[kind]),
        lies=LIES[kind],
        told=SWATCHES,
        colours=colours,
    )
    return Figure(LAID, both)


def _doses(rows: Sequence[PortionGrams], units: Units) -> Markup:
    """A bar a cup on one axis of the share of its own oils; each oil has its filling."""
    names = list(dict.fromkeys(name for row in rows for name, mass in row.scents.items() if mass))
    top = 1.1 * max(row.dose for row in rows)
    end, unit = in_units(top, OF_OILS, units)
    head = said(
        "<div class='turn brief heads'><span class=who>cup</span><span class=face>"
        "<span class=small>{unit}</span>{axis}</span><span class=wide>to weigh</span></div>",
        unit=unit,
        axis=measured.axis(end, f"scent, {unit}"),
    )
    drawn = [_dose(number, row, names, top, units) for number, row in enumerate(rows, 1)]
    key = (
        said("<span>{it}<bdi>{name}</bdi></span>", it=stacked.sample(n), name=name)
        for n, name in enumerate(names)
    )
    return said(
        "{fillings}<p class=key>{key}</p><div class=clock>{head}{rows}</div>",
        fillings=stacked.fillings(),
        key=said("").join(key),
        head=head,
        rows=said("").join(drawn),
    )


def _dose(number: int, row: PortionGrams, names: Sequence[str], top: float, units: Units) -> Markup:
    held = [(n, row.scents[name]) for n, name in enumerate(names) if row.scents.get(name)]
    weighed = ", ".join(f"{names[n]} {grams(mass, units)}" for n, mass in held) or "no scent"
    dose = own_dose(row.dose, units) if held else ""
    parts = [(n, mass / row.oils) for n, mass in held] if row.oils else []
    return said(
        "<div class='turn brief'><div class=who><span class=no>{number}</span> "
        "<strong><bdi>{name}</bdi></strong></div><div class=face>{bar}</div>"
        "<div class='small wide'><b>{dose}</b> <span dir=auto>{weighed}</span></div></div>",
        number=number,
        name=row.portion,
        bar=stacked.stacked(top, parts, f"{row.portion}: {dose or 'no scent'} of its oils; {weighed}"),
        dose=dose,
        weighed=weighed,
    )
