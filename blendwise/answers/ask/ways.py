"""Ways side by side: part of a pot scented at one dose or with all of the scent; other lyes, warmths, gel."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import Gelled, HalfScented, QuickOil, Warmed, Watered
from blendwise.answers.check.result import CheckResult, Fact
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.records.kinds.plan import Plan
    from blendwise.records.reading.document import Document

LYES: Final = (0.28, 0.30, 0.33)
"""Strengths of lye that makers choose between: common practice."""
WARMTHS: Final = {"C": (27.0, 32.0, 38.0, 43.0, 49.0), "F": (80.0, 90.0, 100.0, 110.0, 120.0)}
"""Temperatures of the batter that makers choose between, in the unit they use: common practice."""
RATE, TIMES = "scent rate", "times the load"


def half_scented(check: CheckResult, portions: Sequence[str], asked: str = "") -> HalfScented | None:
    """Both ways for the portions that are named, else for the part that the question names, else for those
    that hold scent; None where no load is known.

    same dose: each scented portion takes the load.  same total: load ÷ share of the oils that are scented.
    """
    oils = {row.portion: row.oils for row in check.grams}
    named = [name for name in portions if name in oils]
    scented = [row.portion for row in check.grams if row.scent_total]
    whole, load = math.fsum(oils.values()), _load(check)
    if not whole or not scented or load is None:
        return None
    part = part_named(asked) if not named and len(scented) == len(oils) else None
    share = part or math.fsum(oils[name] for name in named or scented) / whole
    if share > 1 - 1e-9:  # everything is scented and no part is named: the question speaks of half
        share = HALF
    return _both(share, load, whole)


HALF: Final = 0.5


def part_named(asked: str) -> float | None:
    """The part of a pot that a question names: "half", "one third", "2 of the 4 colours"."""
    if of := OF_SO_MANY.search(asked):
        part, whole = (COUNTS.get(each.casefold()) or float(each) for each in of.groups())
        return part / whole if 0 < part < whole else None
    said = re.findall(r"[a-z]+", asked.casefold())
    return next((PARTS[word] for word in said if word in PARTS), None)


COUNTS: Final = {"one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0}
OF_SO_MANY: Final = re.compile(
    rf"\b(\d|{'|'.join(COUNTS)})\s+(?:out\s+)?of\s+(?:the\s+|my\s+)?(\d|{'|'.join(COUNTS)})\b", re.IGNORECASE
)
PARTS: Final = {"half": 0.5, "third": 1 / 3, "thirds": 2 / 3, "quarter": 0.25, "fourth": 0.25}
"""Words that name a part of the pot."""


def half_of_usual(book: Door, asked: str = "") -> HalfScented | None:
    """The part of a pot that is named, else half, at the book's usual load; None where it has none."""
    load = book.files.usual.load
    return None if load is None else _both(part_named(asked) or 0.5, load.mid, None)


def _both(share: float, load: float, oils: float | None) -> HalfScented:
    return HalfScented(share, load, load, load / share, MOST_USUAL_DOSE, oils)


def _load(check: CheckResult) -> float | None:
    """The load as planned: a portion's rate by how many times the load it is."""
    rates, times = (_by_subject(check.working, measure) for measure in (RATE, TIMES))
    return next((rate / times[name] for name, rate in rates.items() if times.get(name)), None)


def _by_subject(facts: Sequence[Fact], measure: str) -> dict[str, float]:
    return {
        fact.subject: fact.low for fact in facts if fact.measure == measure and isinstance(fact.low, float)
    }


def watered(book: Door, plan: str | Path, on: AsOf, amounts: Sequence[str]) -> tuple[Watered, ...]:
    """The plan as it is and at other strengths of lye, those named too; none where it states no strength
    that could be changed."""
    return tuple(_watered(book, plan, on, [each for each in map(strength, amounts) if each]))


def strength(text: str) -> float | None:
    """A strength of lye that was named; None for what is none."""
    held = PER_CENT.match(text)
    value = float(held[1].replace(",", ".")) / 100 if held else 0.0
    return value if STRENGTHS[0] <= value <= STRENGTHS[1] else None


PER_CENT: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:%|per ?cent)", re.IGNORECASE)
STRENGTHS: Final = (0.2, 0.5)
"""Between which a per cent in a question about water is lye's strength: common practice."""


def _watered(book: Door, plan: str | Path, on: AsOf, asked: Sequence[float]) -> Iterator[Watered]:
    from blendwise.answers.plan_text.edits import set_or_add
    from blendwise.answers.plan_text.scaling import with_own_recipe
    from blendwise.quantity import format_number
    from blendwise.records.book import plan_of

    situation = book.situation(plan, on)
    own = situation.pot.mixed_concentration
    try:
        doc = _with_lye(with_own_recipe(situation), book)
        stated = doc.root.plain["recipe"].get("lye", {})
        if any(key in stated for key in ("NaOH", "water", "water to lye", "water of oils")):
            return
        strengths = sorted({*LYES, *asked, round(own, 3)})
        found: list[Watered] = []
        for lye in strengths:
            text = set_or_add(doc, ("recipe", "lye", "concentration"), f"{format_number(100 * lye)} %")
            check = book.check(plan_of(text, book.files), on=on, working=True)
            found.append(_at(lye, check.working, lye == round(own, 3), lye in asked))
    except RecordError:
        return
    first = next((each.fluid for each in found if each.fluid is not None), None)
    for each in found:
        yield replace(each, slower=first is not None and each.fluid is not None and first > each.fluid)


def _with_lye(doc: Document, book: Door) -> Document:
    """The plan's text with the usual lye where it states none: its superfat must not get lost."""
    from blendwise.records.writing.edit import add_field

    usual = book.files.docs.get("usual.yaml")
    said = usual.root.plain if usual is not None else {}
    if "lye" in doc.root.plain["recipe"] or "lye" not in said:
        return doc
    return add_field(doc, ("recipe",), "lye", said["lye"])


def gelled(book: Door, plan: str | Path, on: AsOf, found: CheckResult) -> Gelled | None:
    """The plan with gel forced throughout, whatever it plans; None where it cannot be written so."""
    from blendwise.answers.plan_text.edits import set_or_add
    from blendwise.answers.plan_text.scaling import with_own_recipe
    from blendwise.records.book import plan_of

    words = {fact.measure: fact.high for fact in found.working if fact.grain == "batch"}
    forced = found
    if words.get("gel") != "force":
        try:
            text = set_or_add(with_own_recipe(book.situation(plan, on)), ("process", "gel"), "force")
            forced = book.check(plan_of(text, book.files), on=on, working=True)
        except RecordError:
            return None
    hot = {fact.measure: fact.high for fact in forced.working if fact.grain == "batch"}
    veins = [f.subject for f in forced.working if f.measure == "river risk" and f.high == "high"]
    lye = words.get("lye concentration")
    return Gelled(
        heat=_word(hot.get("overheating risk")),
        veins=tuple(veins),
        partial=_word(words.get("partial gel risk")),
        lye=lye if isinstance(lye, float) else None,
        peak=peak if isinstance(peak := hot.get("peak temperature"), float) else None,
    )


def _word(value: object) -> str | None:
    return value if isinstance(value, str) else None


def quick_oils(book: Door, plan: str | Path | Plan, on: AsOf) -> tuple[QuickOil, ...]:
    """How quick each oil of a plan is, the quickest first, and which cups hold it as it is planned."""
    s = book.situation(plan, on)
    found = []
    for name, traits, doses in zip(s.scents, s.traits, s.x, strict=True):
        cups = tuple(cup for cup, mass in zip(s.portions, doses, strict=True) if mass > 0)
        seizes = traits.speed_word == "seizes"
        told = traits.speed_word
        found.append(
            (traits.speed.high, QuickOil(name, told, seizes, traits.speed.evidence if told else "", cups))
        )
    found.sort(key=lambda each: (not each[1].seizes, each[1].word is None, -each[0]))
    return tuple(each for _, each in found if each.cups)


def warmed(
    book: Door, plan: str | Path, on: AsOf, found: CheckResult, amounts: Sequence[str] = ()
) -> tuple[Warmed, ...]:
    """The plan with its batter at other temperatures, its own among them, and those that are named."""
    own = [f.low for f in found.working if f.measure == "batter temperature" and isinstance(f.low, float)]
    ways = list(_warmed(book, plan, on, [each for each in map(degrees, amounts) if each]))
    if ways and own and not any(math.isclose(own[0], way.at, abs_tol=0.1) for way in ways):
        ways.append(Warmed(own[0], *_tightest(found.working), bound=_bound(found)))
    return tuple(sorted(ways, key=lambda way: way.at))


def _bound(check: CheckResult) -> float | None:
    """The most that a rule bears of the batter's warmth, where it is past that (°C)."""
    held = (
        each.limit
        for each in check.findings
        if each.measure == "batter temperature" and each.relation == "at most" and each.status == "broken"
    )
    return min((limit for limit in held if isinstance(limit, float)), default=None)


def degrees(text: str) -> str:
    """A temperature that was named, as a book writes it; empty for what is none."""
    held = DEGREES.fullmatch(text.strip())
    return f"{held[1].replace(',', '.')} °{held[2].upper()}" if held else ""


DEGREES: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:°|degrees)?\s*([cf])", re.IGNORECASE)


def _warmed(book: Door, plan: str | Path, on: AsOf, asked: Sequence[str]) -> Iterator[Warmed]:
    from blendwise.answers.plan_text.edits import set_or_add
    from blendwise.answers.plan_text.scaling import with_own_recipe
    from blendwise.quantity import Dimension, format_number, parse_amount
    from blendwise.records.book import plan_of

    unit = book.files.usual.units.temperature
    try:
        doc = with_own_recipe(book.situation(plan, on))
        usual = [f"{format_number(at)} °{unit}" for at in WARMTHS[unit]]
        for said in dict.fromkeys([*usual, *asked]):
            text = set_or_add(doc, ("process", "batter at split"), said)
            check = book.check(plan_of(text, book.files), on=on, working=True)
            at = parse_amount(said, Dimension.TEMPERATURE).value
            yield Warmed(at, *_tightest(check.working), said in asked, _bound(check))
    except RecordError:
        return


def _tightest(facts: Sequence[Fact]) -> tuple[float | None, float | None]:
    """Minutes fluid and minutes needed of the cup that has the fewest to spare."""
    return _tightest_cup(facts)[1:]


def _tightest_cup(facts: Sequence[Fact]) -> tuple[str, float | None, float | None]:
    """The cup that has the fewest minutes to spare, its minutes fluid and those needed."""
    fluid, needed = _by_subject(facts, "minutes fluid"), _by_subject(facts, "minutes needed")
    spare = {name: minutes - needed.get(name, 0.0) for name, minutes in fluid.items()}
    tightest = min(spare, key=lambda name: spare[name], default="")
    open_ = {fact.subject for fact in facts if fact.measure == "minutes fluid" and fact.missing}
    if tightest in open_ and spare[tightest] < 0:  # short only if what nobody knows is quick
        return tightest, None, needed.get(tightest)
    return tightest, fluid.get(tightest), needed.get(tightest)


def _at(lye: float, facts: Sequence[Fact], own: bool, asked: bool) -> Watered:
    cup, fluid, needed = _tightest_cup(facts)
    risks = [fact.high for fact in facts if fact.measure == "river risk" and isinstance(fact.high, str)]
    worst = max(risks, key=("low", "some", "high").index) if risks else None
    water = next((f.low for f in facts if f.measure == "water" and isinstance(f.low, float)), None)
    return Watered(lye, fluid, needed, worst, water, own, asked, cup=cup)
