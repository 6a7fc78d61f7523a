"""Pages: one self-contained HTML file each, from templates with every name escaped.

A page holds its own style, asks nothing of any network and has no script: its content security policy
forbids both, so that nothing in a name could run even if it got past the escaping.
"""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blendwise.quantity import Units, format_number
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.show.numbers import amount, minutes_left
from blendwise.version import __version__

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

    from blendwise.answers.sheet.result import Weighed

TEMPLATES = Path(__file__).with_name("templates")
GENERATOR = f"Blendwise {__version__}"
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def page(template: str, units: Units, **context: Any) -> str:
    """One template as a whole page, in the book's units."""
    made: str = _environment(units).get_template(template).render(**context, generator=GENERATOR)
    return made


def _environment(units: Units) -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    from blendwise.show.pages.compiled import KeptTemplates

    env = Environment(
        bytecode_cache=KeptTemplates(),
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.globals["style"] = Markup((TEMPLATES / "style.css").read_text("utf-8"))
    env.filters.update(
        mass=lambda weighed: mass(weighed, units),
        bare=lambda weighed: mass(weighed, units).rpartition(" ")[0],
        unit=lambda weighed: mass(weighed, units).rpartition(" ")[2],
        left=minutes_left,
        grams=lambda value, step=1.0: grams(value, step, units),
        warmth=lambda celsius: warmth(celsius, units),
        day=day,
        days=days,
        short_day=short_day,
        whole=lambda value: format_number(round(value), 15),
        minute=minute,
        name=name,
        names=names,
        plainly=plainly,
    )
    return env


def said(template: str, **parts: object) -> Markup:
    """A sentence of our own with parts put in, each escaped unless it is markup already."""
    from markupsafe import Markup

    return Markup(template).format(**parts)


def plainly(text: str) -> Markup:
    """A sentence of a terminal on a page: what is typed as code, a number never parted from its unit."""
    from markupsafe import Markup, escape

    joined = re.sub(r"(?<=\d) (?=[%°])", "\u00a0", text)
    return Markup(re.sub(r"`([^`]+)`", r"<code>\1</code>", str(escape(joined))))


def name(text: str) -> Markup:
    """A name that a maker typed, isolated so that its writing direction disturbs nothing around it."""
    from markupsafe import Markup

    return Markup("<bdi>{}</bdi>").format(text)


def names(texts: tuple[str, ...] | list[str], last: str = "and") -> Markup:
    """Names in a sentence: a, b and c."""
    from markupsafe import Markup

    shown = [name(text) for text in texts]
    if len(shown) < 2:
        return Markup("").join(shown)
    return Markup("{} {} {}").format(Markup(", ").join(shown[:-1]), last, shown[-1])


def mass(weighed: Weighed, units: Units) -> str:
    """What the scale is to show: grams to its step, or ounces as finely."""
    return grams(weighed.grams, weighed.step, units)


def grams(value: float, step: float, units: Units) -> str:
    """Grams with the decimals of a scale's step, in the book's unit of mass."""
    if units.mass == "oz":
        return f"{value / GRAMS_PER_OUNCE:.{_decimals(step / GRAMS_PER_OUNCE)}f} oz"
    return f"{value:.{_decimals(step)}f} g"


def _decimals(step: float) -> int:
    """Decimals that show a step: 0 for 1 and 5, 1 for 0.1 and 0.5, 3 for 0.0035."""
    decimals = 0
    while step * 10**decimals < 1 - 1e-9 and decimals < 4:
        decimals += 1
    return decimals


def warmth(celsius: float, units: Units) -> str:
    """A temperature to the whole degree, in the book's unit."""
    from blendwise.show.numbers import in_units

    value, unit = in_units(celsius, "°C", units)
    return f"{round(value)} {unit}"


def minute(value: float) -> str:
    """A minute on the clock, whole where that is near enough ("6", "7½")."""
    halves = round(value * 2)
    whole, half = divmod(halves, 2)
    return f"{whole or ''}½" if half else str(whole)


def day(when: date) -> str:
    """A day as it is written on a shelf label: Fri 27 Nov 2026."""
    return f"{DAYS[when.weekday()]} {when.day} {MONTHS[when.month - 1]} {when.year}"


def short_day(when: date) -> str:
    """A day where the year is plain: 27 Nov."""
    return f"{when.day} {MONTHS[when.month - 1]}"


def days(span: tuple[date, date]) -> str:
    """Two days as a span, the year said once: Fri 27 Nov to Sun 29 Nov 2026."""
    first, last = (day(each) for each in span)
    if first == last:
        return first
    return f"{first.removesuffix(f' {span[1].year}')} to {last}"


__all__ = [
    "amount",
    "day",
    "days",
    "grams",
    "mass",
    "minute",
    "name",
    "names",
    "page",
    "said",
    "warmth",
]
