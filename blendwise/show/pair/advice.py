"""The English of a pairing's advice: how much of which ratio, pours, colours, what would help."""

from __future__ import annotations

from collections.abc import Sequence

from blendwise.answers.answer import Range
from blendwise.answers.pair.result import Cap, ColourFit, Help, PourFit, Stop, Words
from blendwise.quantity import METRIC, Units, format_number
from blendwise.show.numbers import counted, grams, minutes_left
from blendwise.show.pair.words import from_to, of_oils
from blendwise.show.text import command, joined

REGION, POURS, COLOURS, HELPS = (
    "How much of which ratio",
    "Time, pour by pour",
    "Which colours survive",
    "What would help",
)
POUR_WORDS = {
    "time enough": "Time enough",
    "with care": "With care",
    "no time": "No time",
    "not known": "Not known",
}
GRAMS_OF = "grams of "
COLOUR_WORDS = {
    "stays": "Stay as planned",
    "warms": "Warm, and keep their name",
    "renamed": "Shift, and change their name",
    "turns": "Turn to another colour",
    "lost": "Are lost",
    "not known": "Cannot be told, because the browning is not known",
}


def cap_line(cap: Cap, units: Units = METRIC) -> str:
    """One ratio of the region as a sentence."""
    blend = joined(
        [f"{format_number(100 * share)} % {oil}" for oil, share in cap.shares.items() if share > 0]
    )
    return f"{blend}: {cap_words(cap, units)}"


def stopped(stop: Stop | None, units: Units = METRIC) -> str:
    """A bound in words: "up to 8 % (far-too-much-scent)"."""
    if stop is None or stop.load is None:
        return "any load"
    if stop.waits:
        return f"no load is sure ({stop.rule} waits on what is not known)"
    return f"up to {of_oils(stop.load, units)} ({stop.rule})" if stop.load else f"not at all ({stop.rule})"


def cap_words(cap: Cap, units: Units = METRIC) -> str:
    """How much, what stops it, and how much more where the portion may brown."""
    if not cap.stops:
        return "no rule stops it"
    first = cap.stops[0]
    here = stopped(first, units)
    return f"{here}; where it may brown, {stopped(cap.darker, units)}" if first.browning else here


def rule_in_words(rule: str) -> str:
    """A rule's name as it is said: "browning shows in light"."""
    return rule.replace("-", " ")


def bounds(region: Sequence[Cap]) -> list[tuple[str, tuple[str, ...]]]:
    """What stops the blend over all ratios: as planned, and where it may brown."""
    told = (
        ("as planned", [cap.stops[0] for cap in region if cap.stops]),
        ("where it may brown", [cap.darker for cap in region if cap.stops and cap.stops[0].browning]),
    )
    return [
        (when, tuple(dict.fromkeys(rule_in_words(stop.rule) for stop in stops if stop is not None)))
        for when, stops in told
        if any(stops)
    ]


def short_cap(cap: Cap, units: Units = METRIC) -> str:
    """How much of a ratio, without the rules: "to 0.16 %; where it may brown, to 8 %"."""
    if not cap.stops:
        return "no rule stops it"
    here = _to(cap.stops[0], units)
    return f"{here}; where it may brown, {_to(cap.darker, units)}" if cap.stops[0].browning else here


def _to(stop: Stop | None, units: Units) -> str:
    if stop is None or stop.load is None:
        return "any load"
    if stop.waits:
        return "not known"
    return f"to {of_oils(round(stop.load, 4), units)}" if stop.load else "not at all"


def pour_line(word: str, fits: Sequence[PourFit]) -> str:
    """All pours of one word in a sentence, with what stands against them."""
    told = [f"{fit.pour} ({spare(fit)})" for fit in fits]
    rules = list(dict.fromkeys(rule for fit in fits for rule in fit.rules))
    by = f"; by {joined(rules)}" if rules else ""
    return f"{POUR_WORDS[word]}: {', '.join(told)}{by}"


def spare(fit: PourFit) -> str:
    """What a pour takes, and what is to spare or lacking."""
    low, high = fit.spare.low, fit.spare.high
    taken = f"takes {format_number(fit.minutes, 2)} min"
    if high is None:
        return f"{taken}, thick batter serves"
    if fit.batter_alone is not None and fit.batter_alone < 0:
        return f"{taken}, too long even unscented"
    if low is None:
        return f"{taken}, time left not known"
    return f"{taken}, {minutes_left(low).removeprefix('-')} {'to spare' if low >= 0 else 'short'}"


def honest(fit: ColourFit) -> str:
    """Its word, but a colour that changes its name neither stays nor keeps it."""
    if fit.word in ("stays", "warms") and set(fit.cured_words) != {fit.planned_word}:
        return "renamed"
    return fit.word


def whole_shares(shares: Sequence[float]) -> list[int]:
    """Shares in whole per cent that make 100 together: the largest rests are rounded up."""
    parts = [100 * share for share in shares]
    found = [int(part) for part in parts]
    by_rest = sorted(range(len(parts)), key=lambda n: found[n] - parts[n])
    for n in by_rest[: round(sum(parts)) - sum(found)]:
        found[n] += 1
    return found


def colour_line(word: str, fits: Sequence[ColourFit]) -> str:
    """All colourants of one word in a sentence."""
    return f"{COLOUR_WORDS[word]}: {'; '.join(colour(fit) for fit in fits)}"


def colour(fit: ColourFit) -> str:
    """One colourant: from what to what, by how much, and what lye and light do to it."""
    besides = "".join(f", {each}" for each in fit.besides)
    cured = from_to(Words(*fit.cured_words))
    change = f"{fit.planned_word} to {cured}" if cured != fit.planned_word else fit.planned_word
    return f"{fit.colourant} ({change}, ΔE {from_to(_rounded(fit.shift))}{besides})"


def _rounded(ends: Range) -> Range:
    low, high = (None if end is None else round(end, 1) for end in (ends.low, ends.high))
    return Range(low, high)


def help_line(held: Help, units: Units = METRIC) -> str:
    """What would help, in a sentence."""
    d = held.details
    match held.kind:
        case "split":
            return _split(held, units)
        case "white unscented":
            return _white(held, units)
        case "a little of":
            share = format_number(100 * float(d["share"]))
            little = f"A little of another ({share} % of the blend) mends {d['rule']}: {d['names']}"
            return f"{little}; a hint, whether holding works is disputed"
        case "colours that stay":
            number = counted(int(d["number"]), "colourant")
            return f"Colours under which it does not show ({number}): {d['names']}"
        case "pours with time":
            return f"Pours with time enough: {d['names']}"
        case "cup":
            return _cup(held)
    return f"{held.kind}: {joined([f'{key} {value}' for key, value in d.items()])}"


def _split(held: Help, units: Units) -> str:
    d = held.details
    part = f"{format_number(100 * float(d['dark share']))} % of the pot"
    return (
        f"Split them: {d['dark oils']} in a dark portion ({d['dark colour']}, {part}), {d['light oils']} in "
        f"the white one. Dark: {_weighed(held, 'dark', units)}; white: {_weighed(held, 'light', units)}. "
        f"{_left(held)}"
    )


def _white(held: Help, units: Units) -> str:
    d = held.details
    return (
        "Keep part of the bar white by leaving that part unscented, which is most likely to stay white: "
        f"{d['dark oils']} in a dark portion ({d['dark colour']}), {_weighed(held, 'dark', units)}, beside "
        f"{_mass(held, 'light oils mass', units)} of oils without scent. {_left(held)}"
    )


def _weighed(held: Help, side: str, units: Units) -> str:
    return (
        f"{_mass(held, f'{side} grams', units)} of scent in {_mass(held, f'{side} oils mass', units)} of oils"
    )


def _mass(held: Help, name: str, units: Units) -> str:
    return grams(float(held.details[name]), units)


def _left(held: Help) -> str:
    """How far the two portions then differ, and what the rules still say."""
    d = held.details
    rest = "nothing worse than a caution is left" if d["sound"] == "yes" else f"still to solve: {d['left']}"
    halo = "; a brown halo at the edge is possible, keep white lines wide" if d["halo"] else ""
    return f"The two then differ by ΔE {format_number(float(d['contrast']))}, and {rest}{halo}"


def _cup(held: Help) -> str:
    d = held.details
    oils = [name.removeprefix(GRAMS_OF) for name in d if name.startswith(GRAMS_OF)]
    why = [
        f"no look of your own at {d['unseen']}" if d["unseen"] else "",
        f"gaps in what is known of {d['gaps']}" if d["gaps"] else "",
        f"{d['unmet']} not noted together" if d["unmet"] else "",
    ]
    reasons = "; ".join(part for part in why if part)
    return (
        f"Make a cup first ({reasons}): `{command('cup', *oils)}` says what to weigh and when to look, "
        "beside an unscented cup of the same batter"
    )
