"""The English of a pairing, in one place: every sentence is made from data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from blendwise.answers.pair_results import (
    Cap,
    ColourFit,
    Ends,
    Help,
    PairResult,
    PourFit,
    Shared,
    Side,
    Stop,
    Together,
    Words,
)
from blendwise.quantity import METRIC, Units, format_number
from blendwise.show.numbers import amount, counted, grams
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE

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
MINGLE = "In the cure the scents mingle through the whole bar: it is one product, and its label names what all of them bring"
POUR_WORDS = {
    "time enough": "Time enough",
    "with care": "With care",
    "no time": "No time",
    "not known": "Not known",
}
COLOUR_WORDS = {
    "stays": "Stay as planned",
    "warms": "Warm, and keep their name",
    "turns": "Turn to another colour",
    "lost": "Are lost",
    "not known": "Cannot be told, because the browning is not known",
}


def title(result: PairResult) -> str:
    """What was asked: oils, ratio, load, colour, pour."""
    parts = [joined(result.oils)]
    if len(result.oils) > 1:
        parts.append(ratio(result.shares))
    parts.append(
        f"together {rate(result.load, result.units)}"
        if len(result.oils) > 1
        else rate(result.load, result.units)
    )
    parts.append(f"in {result.colour}" if result.colour else "in white")
    return ", ".join([*parts, *([f"for a {result.pour} pour"] if result.pour else [])])


def verdict(result: PairResult) -> str:
    """Whether they get on as asked, in one sentence."""
    broken, waits = result.check.count("broken"), result.check.count("undecided")
    heavy = [counted(broken[level], level) for level in ("stop", "conflict") if broken[level]]
    open_ends = sum(waits[level] for level in ("stop", "conflict"))
    them = "They get" if len(result.oils) > 1 else "It gets"
    if heavy and _only_browning(result):
        cured = from_to(result.together.bands)
        where = f"in {result.colour}" if result.colour else "in white"
        return f"Not {where}: it becomes {cured}. Where it may brown, nothing worse than a caution stands against it."
    if heavy:
        also = f", and {counted(open_ends, 'thing')} not known besides" if open_ends else ""
        return f"Not as asked: {joined(heavy)} against it{also}. What would help is said below."
    if open_ends:
        return f"Cannot be said: {counted(open_ends, 'conflict or stop', 'conflicts or stops')} hang on what is not known."
    if broken["caution"]:
        return f"{them} on with care: {counted(broken['caution'], 'caution')}, nothing worse."
    return f"{them} on: no stop, no conflict, no caution."


def _only_browning(result: PairResult) -> bool:
    """Whether planning the bar at the colour that it reaches is all that is wanted."""
    return any(each.kind == "may become" and each.details["sound"] == "yes" for each in result.helps)


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


def from_to(ends: Words | Ends, unit: str = "") -> str:
    """A word or number, or the two ends between which it lies."""
    low, high = ends
    texts = [text if isinstance(text, str) or text is None else format_number(text) for text in (low, high)]
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
    low, high = ends
    if high is None or (low == "ivory" and high == "chocolate"):
        return "browning not known" if low in (None, "ivory") else f"browns to {low} at least"
    if high == "ivory":
        return "leaves white soap white or a touch ivory"
    return f"browns white soap to {from_to(ends)}"


def side(oil: Side, units: Units = METRIC) -> str:
    """One oil in a sentence: what it is, does, leaves, and what limits it."""
    what = ", ".join(part for part in (oil.kind, f"{oil.note} note" if oil.note else None) if part)
    parts = [_browning(oil), _speed(oil), *_body(oil), _limit(oil), *_shelf(oil, units)]
    known = f"{oil.name}{f' ({what})' if what else ''}: {'; '.join(parts)}"
    return f"{known}. Not known: {joined(oil.not_known)}" if oil.not_known else known


def _browning(oil: Side) -> str:
    told = f" ({_by(oil.browning_by)})" if oil.browning_by and oil.bands[1] is not None else ""
    named = [f"{name} {_content(part)}" for name, part in oil.browners if part is None or part > 0]
    if named:
        return f"{bands(oil.bands)}{told}, by {joined(named)}"
    if not oil.browners:
        return f"{bands(oil.bands)}{told}, and nothing is said of vanillin or other browners"
    return f"{bands(oil.bands)}{told}; vanillin {_content(oil.browners[0][1])}, no other browner named{_untested(oil)}"


def _untested(oil: Side) -> str:
    """No vanillin is not yet fit for white: other causes are unknown until somebody looked."""
    return (
        ""
        if oil.browning_by in ("own batch", "own cup")
        else ", so that other causes are unknown until you test it"
    )


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
        flighty = ", its sheet's constituents are very volatile" if oil.volatility == "very high" else ""
        yield f"{oil.after_six_weeks} after six weeks{flighty}"


def _limit(oil: Side) -> str:
    if oil.limit is None:
        return "no certificate on file"
    papers = ", ".join(
        part for part in (oil.certificate, f"dated {day(oil.dated)}" if oil.dated else "") if part
    )
    return f"its certificate allows {amount(oil.limit, OF_BAR)}{f' ({papers})' if papers else ''}"


def _shelf(oil: Side, units: Units) -> Iterator[str]:
    low, high = oil.flash_point
    if low is not None:
        point = amount(low, "°C", units)
        stored = ", a flammable liquid: keep it from flames" if oil.flammable == 3 else ""
        yield f"flash point {point if high == low else f'above {point}'}{stored}"
    if oil.lot:
        yield f"lot {oil.lot}"
    if oil.on_hand is not None:
        yield f"{grams(oil.on_hand, units)} on hand"
    yield f"best known from {_by(oil.evidence)}" if oil.evidence else "nobody's word is given for it"


def together(result: PairResult) -> Iterator[str]:
    """What the blend does in one portion, a sentence a matter."""
    both, units = result.together, result.units
    yield from _noted(both)
    yield strength(both, result.load, units)
    yield from _shared(both.shared)
    if len(result.oils) > 1:
        yield MINGLE
    yield _label(both)
    yield from _pair_colour(both)
    yield _colour(both, result.colour)
    yield from _stabilised(both, units)
    yield _minutes(both, result.load, units)


def _noted(both: Together) -> Iterator[str]:
    for word in ("good", "bad"):
        pairs = [f"{each.one} with {each.other}" for each in both.noted if each.word == word]
        if pairs:
            yield f"You noted as {word} together: {joined(pairs)}"


def strength(both: Together, load: float, units: Units = METRIC) -> str:
    """The sum rule: what the certificates allow together, in the bar and on oils."""
    used = f"{rate(load, units)} is {amount(both.scent_in_bar, OF_BAR)}"
    if both.most_in_bar is None or both.most_on_oils is None:
        return (
            f"{used}; the certificates set no bound"
            if not both.uncertified
            else f"{used}; {_uncertified(both)}"
        )
    most = f"{amount(both.most_in_bar, OF_BAR)}, which is {rate(both.most_on_oils, units)}"
    worst = f"; {both.tightest} counts most" if both.tightest else ""
    note = f". {_uncertified(both)}" if both.uncertified else ""
    return (
        f"By the certificates, summed, the bar may hold at most {most}; {used} and uses "
        f"{format_number(100 * both.limit_used)} % of it{worst}. The certificates' bound is no dose: 6.25 % of oils is the "
        f"most that makers normally use{note}"
    )


def _uncertified(both: Together) -> str:
    return f"{joined(both.uncertified)} {'has' if len(both.uncertified) == 1 else 'have'} no certificate and is not in that sum"


def _shared(shared: Sequence[Shared]) -> Iterator[str]:
    if not shared:
        return
    told = [
        f"{each.name} ({joined(each.oils)}: {format_number(100 * each.in_bar)} % of the bar{_most(each)})"
        for each in shared
    ]
    yield f"Constituents that more than one brings, added up: {'; '.join(told)}"


def _most(each: Shared) -> str:
    return "" if each.maximum is None else f", published maximum {format_number(100 * each.maximum)} %"


def _label(both: Together) -> str:
    names = joined(both.label_names) if both.label_names else "none that is known"
    unknown = (
        f". The sheets of {joined(both.label_unknown)} are missing or not complete, so that names may be lacking"
        if both.label_unknown
        else ""
    )
    return f"Names due on the label above 0.01 % of the bar (Regulation (EC) No 1223/2009, Annex III): {names}{unknown}"


def _stabilised(both: Together, units: Units) -> Iterator[str]:
    for name, mass in both.stabilised:
        yield (
            f"Vanilla stabiliser in {name}: it delays browning and does not cure it, so the browning is counted in full and "
            f"judged at six months. Half to the whole of the oil's mass is common, here {grams(mass / 2, units)} to "
            f"{grams(mass, units)}; your own look is the only proof"
        )


def _pair_colour(both: Together) -> Iterator[str]:
    for one, other in both.pair_colour:
        yield f"{one} and {other} bring an amine and an aldehyde: together they may go deep yellow to orange-red though each stays pale alone"


def _colour(both: Together, colour: str | None) -> str:
    judged = f"judge it from {day(both.judge_from)} to {day(both.judge_by)} if it is poured today, not before"
    plain = (
        f"Uncoloured soap {_becomes(both)}"
        if colour is None
        else f"{colour} ({both.planned_colour}) {_cured(both)}"
    )
    return f"{plain}; {judged}"


def _becomes(both: Together) -> str:
    low, high = both.bands
    if high == "ivory":
        return "is most likely to stay white or a touch ivory"
    return (
        f"becomes {from_to(both.bands)}"
        if high is not None
        else f"becomes {low} or darker: a browner's amount is not known"
    )


def _cured(both: Together) -> str:
    return f"cures to {from_to(both.cured_colours)}"


def _minutes(both: Together, load: float, units: Units) -> str:
    low, high = both.unscented
    base = f"Unscented, the batter stays fluid {format_number(low)} to {format_number(high)} minutes from emulsion ({both.unscented_from})"
    if both.thickening[1] is None:
        return f"{base}; with this blend that is not known"
    quick = both.thickening[1]
    faster = "no faster" if quick <= 1 + 1e-9 else f"{format_number(quick)} times as fast"
    left = from_to(both.minutes, "minutes")
    return f"{base}; with {of_oils(load, units)} of this blend it thickens {faster}, and scented at minute {format_number(both.scented_at)} it has {left} left"


def cap_line(cap: Cap, oils: Sequence[str], units: Units = METRIC) -> str:
    """One ratio of the region as a sentence."""
    blend = joined(
        [
            f"{format_number(100 * share)} % {oil}"
            for oil, share in zip(oils, cap.shares, strict=True)
            if share > 0
        ]
    )
    return f"{blend}: {cap_words(cap, units)}"


def stopped(stop: Stop | None, units: Units = METRIC) -> str:
    """A bound in words: "8 % (far-too-much-scent)"."""
    return "any load" if stop is None or stop.load is None else f"{of_oils(stop.load, units)} ({stop.rule})"


def cap_words(cap: Cap, units: Units = METRIC) -> str:
    """How much, what stops it, and how much more where the portion may brown."""
    if not cap.stops:
        return "no rule stops it"
    first = cap.stops[0]
    here = f"up to {stopped(first, units)}" if first.load else f"not at all ({first.rule})"
    return f"{here}; where it may brown, {stopped(cap.darker, units)}" if first.browning else here


def pour_line(word: str, fits: Sequence[PourFit]) -> str:
    """All pours of one word in a sentence, with what stands against them."""
    told = [f"{fit.pour} ({_spare(fit)})" for fit in fits]
    rules = list(dict.fromkeys(rule for fit in fits for rule in fit.rules))
    by = f"; by {joined(rules)}" if rules else ""
    return f"{POUR_WORDS[word]}: {', '.join(told)}{by}"


def _spare(fit: PourFit) -> str:
    low, high = fit.spare
    taken = f"takes {format_number(fit.minutes, 2)} min"
    if high is None:
        return f"{taken}, wants thick batter"
    if fit.batter_alone is not None and fit.batter_alone < 0:
        return f"{taken}, too long even unscented"
    if low is None:
        return f"{taken}, time left not known"
    return f"{taken}, {format_number(abs(low), 2)} {'to spare' if low >= 0 else 'short'}"


def colour_line(word: str, fits: Sequence[ColourFit]) -> str:
    """All colourants of one word in a sentence."""
    return f"{COLOUR_WORDS[word]}: {'; '.join(colour(fit) for fit in fits)}"


def colour(fit: ColourFit) -> str:
    """One colourant: from what to what, by how much, and what lye and light do to it."""
    besides = "".join(f", {each}" for each in fit.besides)
    cured = from_to(fit.cured_words)
    change = f"{fit.planned_word} to {cured}" if cured != fit.planned_word else fit.planned_word
    return f"{fit.colourant} ({change}, ΔE {from_to(_rounded(fit.shift))}{besides})"


def _rounded(ends: Ends) -> Ends:
    low, high = (None if end is None else round(end, 1) for end in ends)
    return low, high


def help_line(held: Help, units: Units = METRIC) -> str:
    """What would help, in a sentence."""
    d = held.details
    match held.kind:
        case "lower load":
            return (
                f"Less of it: up to {rate(float(d['most']), units)} at this ratio, where {d['rule']} stops it"
            )
        case "another ratio":
            blend = joined([f"{format_number(100 * float(share))} % {oil}" for oil, share in d.items()])
            return f"Another ratio: {blend} bears the asked load"
        case "split":
            return _split(held, units)
        case "white unscented":
            return _white(held, units)
        case "may become":
            sound = (
                "then nothing worse than a caution is left"
                if d["sound"] == "yes"
                else "other rules still stand against it"
            )
            return f"Plan it at the colour that it will reach: `may become: {d['band']}`; {sound}"
        case "a little of":
            share = format_number(100 * float(d["share"]))
            return f"A little of another ({share} % of the blend) mends {d['rule']}: {d['names']}; a hint, whether holding works is disputed"
        case "stand-in":
            return f"In place of {d['for']}, with nothing worse than a caution left: {d['names']}"
        case "colours that stay":
            return f"Colours under which it does not show ({counted(int(d['number']), 'colourant')}): {d['names']}"
        case "pours with time":
            return f"Pours with time enough: {d['names']}"
        case "cup":
            return _cup(held, units)
    return f"{held.kind}: {joined([f'{key} {value}' for key, value in d.items()])}"


def _split(held: Help, units: Units) -> str:
    d = held.details
    rest = "nothing worse than a caution is left" if d["sound"] == "yes" else f"still to solve: {d['left']}"
    return (
        f"Split them: {d['dark oils']} in a dark portion ({d['dark colour']}), {d['light oils']} in the white one. "
        f"Dark: {grams(float(d['dark grams']), units)} of scent in {grams(float(d['dark oils mass']), units)} of oils "
        f"({format_number(100 * float(d['dark share']))} % of the pot); white: {grams(float(d['light grams']), units)} in "
        f"{grams(float(d['light oils mass']), units)}; the two then differ by ΔE {format_number(float(d['contrast']))}, and {rest}"
    )


def _white(held: Help, units: Units) -> str:
    d = held.details
    rest = "nothing worse than a caution is left" if d["sound"] == "yes" else f"still to solve: {d['left']}"
    return (
        f"Keep part of the bar white by leaving that part unscented: {d['dark oils']} in a dark portion "
        f"({d['dark colour']}), {grams(float(d['dark grams']), units)} in {grams(float(d['dark oils mass']), units)} of oils, beside "
        f"{grams(float(d['light oils mass']), units)} of oils without scent; that white is most likely to stay. "
        f"The two differ by ΔE {format_number(float(d['contrast']))}, and {rest}"
    )


def _cup(held: Help, units: Units) -> str:
    d = held.details
    parts = [
        f"{grams(float(value), units)} of {key.removeprefix('grams of ')}"
        for key, value in d.items()
        if key.startswith("grams of ")
    ]
    why = [
        f"no look of your own at {d['unseen']}" if d["unseen"] else "",
        f"gaps in what is known of {d['gaps']}" if d["gaps"] else "",
        f"{d['unmet']} not noted together" if d["unmet"] else "",
    ]
    reasons = "; ".join(part for part in why if part)
    return (
        f"Make a cup first ({reasons}): {joined(parts)} in {grams(float(d['batter']), units)} of batter, beside an unscented cup of "
        "the same batter. Write down the minutes to thick of both, grains, then colour and smell at one, two, four and six weeks"
    )
