"""The English of a pairing, in one place: every sentence is made from data."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from blendwise.answers.answer import Range
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.quantity import METRIC, Units, format_number
from blendwise.show.numbers import amount, counted, grams
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE, HEAVY, as_far_as_known

if TYPE_CHECKING:
    from blendwise.answers.pair.result import PairResult, Side, Words

SIDES, TOGETHER, ALONE, RULES = "Side by side", "Together", "In the bar", "What the rules say"
REGION, POURS, COLOURS, HELPS = (
    "How much of which ratio",
    "Time, pour by pour",
    "Which colours survive",
    "What would help",
)
OF_OILS, OF_BAR = "% of batch oils", "% of finished bar"
ACCELERATION = {
    "thins": "makes batter thinner, which is not counted on",
    "none": "does not quicken it",
    "slight": "quickens it slightly",
    "moderate": "quickens it",
    "fast": "quickens it fast",
    "seizes": "seizes it",
}


def title(result: PairResult) -> str:
    """What was asked: oils, ratio, load, colour, pour."""
    parts = [joined(result.oils)]
    if len(result.oils) > 1:
        parts.append(ratio(list(result.shares.values())))
    parts.append(
        f"together {rate(result.load, result.units)}"
        if len(result.oils) > 1
        else rate(result.load, result.units)
    )
    parts.append(f"in {result.colour}" if result.colour else "in white")
    return ", ".join([*parts, *([f"for a {result.pour} pour"] if result.pour else [])])


NO_DOSE = "a bound is no dose"
UNNAMED = "its limit of {limit} is of no certificate that is named"


def verdict(result: PairResult, ways: str = "is said below") -> str:
    """Whether they get on as asked, in one sentence; ``ways``: where what would help stands."""
    check = result.check
    broken, known = check.count("broken"), as_far_as_known(check)
    heavy = [counted(broken[level], level) for level in ("stop", "conflict") if broken[level]]
    open_ends = sum(f.stands and f.status != "broken" and f.level in HEAVY for f in check.findings)
    them = "They get" if len(result.oils) > 1 else "It gets"
    haste = no_pour(result)
    if heavy and _only_browning(result):
        cured = from_to(result.together.bands)
        where = f"in {result.colour}" if result.colour else "in white"
        rest = haste or "Where it may brown, nothing worse than a caution stands against it."
        return f"Not {where}: it becomes {cured}. {rest}"
    if heavy:
        also = f", and {counted(open_ends, 'thing')} not known besides" if open_ends else ""
        told = f"Not as asked: {joined(heavy)} against it{also}. What would help {ways}."
        return f"{told} {haste}".rstrip()
    if haste:
        return haste
    if open_ends:
        waiting = counted(open_ends, "conflict or stop hangs", "conflicts or stops hang")
        return f"Cannot be said: {waiting} on what is not known."
    if broken["caution"]:
        return f"{them} on with care: {counted(broken['caution'], 'caution')}, nothing worse{known}."
    if any(finding.status == "tight" and not finding.hidden for finding in check.findings):
        return f"{them} on with care: it is too tight to call{known}."
    return f"Nothing speaks against it{known}." if known else f"{them} on: no stop, no conflict, no caution."


def no_pour(result: PairResult) -> str:
    """That no pour has time for it, where that is so and none was named: at best a thick top bears it."""
    fit = [each for each in result.pours if each.word != "no time"]
    thick = [each.pour for each in fit if each.batter_alone is None]
    if result.pour is not None or not result.pours or len(thick) < len(fit):
        return ""
    seizing = [side.name for side in result.sides if side.acceleration == "seizes"]
    but = f"only a {' or '.join(thick)} bears it, with care" if thick else "no pour bears it"
    if seizing:
        verb = "seizes" if len(seizing) == 1 else "seize"
        return f"{joined(seizing)} {verb} the batter: {but}."
    return f"Too quick for every pour: {but}."


def _only_browning(result: PairResult) -> bool:
    """Whether planning the bar at the colour that it reaches is all that is wanted."""
    return any(each.way == "band" and each.sound and not each.together for each in result.check.levers)


def ratio(shares: Sequence[float]) -> str:
    """Shares as parts where they are small whole numbers ("2:1"), else as per cents."""
    least = min(share for share in shares if share > 0)
    for factor in range(1, 11):
        parts = [share / least * factor for share in shares]
        if all(abs(part - round(part)) < 1e-6 for part in parts) and max(parts) <= 20:
            return ":".join(str(round(part)) for part in parts)
    return " : ".join(f"{format_number(100 * share)} %" for share in shares)


def rate(load: float, units: Units = METRIC) -> str:
    """A load as the book shows it."""
    return amount(load, OF_OILS, units)


def of_oils(load: float, units: Units = METRIC) -> str:
    """A load under a heading that names its basis."""
    return rate(load, units).removesuffix(" of batch oils")


def day(when: date) -> str:
    """A day as people read it: 23 December 2026."""
    return f"{when.day} {when:%B %Y}"


def from_to(ends: Words | Range, unit: str = "", number: Callable[[float], str] = format_number) -> str:
    """A word or ``number``, or the two ends between which it lies."""
    low, high = ends.low, ends.high
    texts = [text if isinstance(text, str) or text is None else number(text) for text in (low, high)]
    if texts[0] is None and texts[1] is None:
        return "not known"
    if texts[0] == texts[1]:
        text = str(texts[0])
    elif texts[1] is None:
        text = f"{texts[0]} or more"
    else:
        text = f"{texts[0] or 'anything'} to {texts[1]}"
    return f"{text} {unit}".rstrip()


def bands(ends: Words) -> str:
    """A browning band in words."""
    low, high = ends.low, ends.high
    if high is None or (low == "ivory" and high == "chocolate"):
        return "browning not known" if low in (None, "ivory") else f"browns to {low} at least"
    if high == "ivory":
        return "leaves white soap white or a touch ivory"
    return f"browns white soap to {from_to(ends)}"


def cast(oil: Side, at: str = "") -> str:
    """Depth and hue of what an oil makes of white soap (``at`` a dose), and by what it brings."""
    named = [f"{name} {_content(part)}" for name, part in oil.browners.items() if part is None or part > 0]
    hues = joined([f"{hue} ({by})" if by else hue for hue, by in oil.tints.items()])
    if hues and oil.bands.high == "ivory":
        return f"turns white soap {hues}{at}"
    brown = f"{bands(oil.bands)}{at}{_browner(oil, named)}"
    return f"{brown}, and {hues}" if hues else brown


def _browner(oil: Side, named: Sequence[str]) -> str:
    """What browns it by its papers; beside a colour that was seen only what is in it besides."""
    if not named:
        return ""
    return f", with {joined(named)} in it" if oil.colour_seen else f", by {joined(named)}"


def allowed(oil: Side, units: Units) -> str:
    """At what dose the oil is spoken of, where its papers allow less than the load."""
    if oil.alone_at is None or oil.limit is None:
        return ""
    most = "its certificate's most" if oil.certificate or oil.dated else "the most written for it"
    return f" at {most}, {amount(oil.alone_at, '% of oils', units)} ({of_bar(oil.limit)})"


def _whose_colour(oil: Side) -> str:
    """Whose word a colour is: a bar that was seen, else a reckoning on what the papers say."""
    if oil.bands.high is None:
        return ""
    return _by(oil.browning_by) if oil.colour_seen else "reckoned from what is written of it, seen by nobody"


def side(oil: Side, units: Units = METRIC) -> str:
    """One oil in a sentence: what it is, does, leaves, and what limits it."""
    what = ", ".join(part for part in (oil.kind, f"{oil.note} note" if oil.note else None) if part)
    parts = [
        _browning(oil, units),
        _speed(oil),
        *_body(oil),
        _limit(oil),
        *_shelf(oil, units),
    ]
    known = f"{oil.name}{f' ({what})' if what else ''}: {'; '.join(parts)}"
    return f"{known}. Not known: {joined(oil.not_known)}" if oil.not_known else known


def short_side(oil: Side, units: Units = METRIC) -> str:
    """One oil in few words: what it does to colour, batter and nose, and what its certificate allows."""
    told = any(oil.tints) or any(part is None or part > 0 for part in oil.browners.values())
    looked = oil.browning_by in ("own batch", "own cup") or oil.bands.high is None
    unseen = "" if looked or told else ", which nobody here has seen"
    limits = [] if oil.alone_at is not None else [_short_limit(oil)]
    parts = [f"{cast(oil, allowed(oil, units))}{unseen}", _short_speed(oil), *_body(oil), *limits]
    return f"{oil.name} {'; '.join(parts)}"


def _short_limit(oil: Side) -> str:
    if oil.limit is None:
        return "no certificate"
    if not oil.certificate and oil.dated is None:
        return UNNAMED.format(limit=of_bar(oil.limit))
    return f"its certificate allows {of_bar(oil.limit)}"


def most_usual(units: Units) -> str:
    """The scent of the oils beyond which it is more than is usual, in a sentence."""
    return f"{amount(MOST_USUAL_DOSE, '% of oils', units)} is the most that makers normally use"


def of_bar(limit: float) -> str:
    """A share of the finished bar, in a sentence."""
    return amount(limit, OF_BAR).replace("of finished bar", "of the bar")


def _short_speed(oil: Side) -> str:
    if oil.acceleration is None:
        return "what it does to the batter is not known"
    return ACCELERATION[oil.acceleration]


def _browning(oil: Side, units: Units) -> str:
    whose = _whose_colour(oil)
    told = f"{cast(oil, allowed(oil, units))}{f' ({whose})' if whose else ''}"
    if any(part is None or part > 0 for part in oil.browners.values()):
        return told
    if not oil.browners:
        return f"{told}, and nothing is said of vanillin or other browners"
    none = f"vanillin {_content(next(iter(oil.browners.values())))}, no other browner named"
    return f"{told}; {none}{_untested(oil)}"


def _untested(oil: Side) -> str:
    """No vanillin is not yet fit for white: beyond a bar of one's own, other causes are unknown."""
    own = oil.browning_by in ("own batch", "own cup")
    return ", so that other causes are unknown until you test it" if oil.colour_seen and not own else ""


def _content(part: float | None) -> str:
    return "of unknown amount" if part is None else f"{format_number(100 * part)} %"


def _by(evidence: str) -> str:
    return EVIDENCE.get(evidence, evidence)


def _speed(oil: Side) -> str:
    if oil.acceleration is None:
        return "what it does to the batter is not known"
    return (
        f"{ACCELERATION[oil.acceleration]} ({_by(oil.acceleration_by)})"
        if oil.acceleration_by
        else ACCELERATION[oil.acceleration]
    )


def _body(oil: Side) -> Iterator[str]:
    if oil.ricing in ("slight", "bad"):
        yield f"rices: {oil.ricing}"
    if oil.after_six_weeks:
        low, high = oil.left.low, oil.left.high
        share = "" if low is None else f" ({from_to(Range(low * 100, (high or low) * 100), '% left')})"
        whose = f", {_by(oil.after_six_weeks_by)}" if oil.after_six_weeks_by else ""
        yield f"{oil.after_six_weeks} after six weeks{share}{whose}"


def _limit(oil: Side) -> str:
    if oil.limit is None:
        return "no certificate on file"
    if not oil.certificate and oil.dated is None:
        return UNNAMED.format(limit=amount(oil.limit, OF_BAR))
    papers = ", ".join(
        part for part in (oil.certificate, f"dated {day(oil.dated)}" if oil.dated else "") if part
    )
    return f"its certificate allows {amount(oil.limit, OF_BAR)} ({papers})"


def _shelf(oil: Side, units: Units) -> Iterator[str]:
    low, high = oil.flash_point.low, oil.flash_point.high
    if low is not None:
        point = amount(low, "°C", units)
        stored = ", a flammable liquid: keep it from flames" if oil.flammable == 3 else ""
        yield f"flash point {point if high == low else f'above {point}'}{stored}"
    if oil.lot:
        yield f"lot {oil.lot}"
    if oil.on_hand is not None:
        yield f"{grams(oil.on_hand, units)} on hand"
    yield f"best known from {_by(oil.evidence)}" if oil.evidence else "nobody's word is given for it"
