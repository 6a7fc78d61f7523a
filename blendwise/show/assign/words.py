"""The English of an assignment: its verdict, each portion, what stops it, and what cannot all be."""

from __future__ import annotations

from collections.abc import Sequence

from blendwise.answers.answer import Range
from blendwise.answers.assign.result import (
    AssignResult,
    Bare,
    Beside,
    Conflict,
    Cost,
    GoalChange,
    OffBlend,
    PotScented,
    Pour,
    Premix,
    Tight,
    WaitsOn,
    WhyNone,
)
from blendwise.assignment.search.scented import MEANT, TRUE
from blendwise.quantity import METRIC, Units, format_number
from blendwise.show.flag_words import plain_name
from blendwise.show.numbers import amount, grams, minutes_left
from blendwise.show.text import joined, quoted
from blendwise.show.words import place
from blendwise.show.words import verdict as of_check

PREMIXES = "Mix first"
PORTIONS = "What goes where, in the order of scenting"
TIGHT = "What stops a portion from taking more"
BESIDE = "What else you may choose"
RUNNER_UP = "The runner-up"
COST = "What it costs"
CONFLICTS = "What stands against what; without any one of these the rest can be met"
WAYS_OUT = "What would help, least change first; each was placed anew and judged again"
ADVICE = "The rulebook on this split"

VERDICTS = {
    "proven": "By your order of goals this split is proven the best.",
    "best looked at": "It is the best of the splits looked at; a rule spoke against others.",
    "best found": "This split is the best found in the time, not proven the best.",
    "nothing fits": "Nothing fits: no split of these oils over these portions keeps every rule and line.",
    "not decided": "Stopped early: neither a split was found nor a proof that there is none.",
    "harm first": "No split mends that: none is made and nothing is weighed out until it is mended.",
    "lye first": "The lye comes first: no split is made and nothing is weighed out until it is mended.",
}
UNSOUND = {
    "proven": "The oils are placed, and by your order of goals no other split of them does more.",
    "best looked at": "Of the splits looked at none keeps clear of what stands against it.",
    "best found": "The oils are placed as well as was found in the time; a better way was not ruled out.",
}
"""What is said of a split that a stop or a conflict stands against: never that it is the best."""
CONFLICTS_KIND = {
    "": "",
    "proved": "This holds for every way of dividing the oils.",
    "only with premixes": "Divided freely the oils would fit; the number of premixes stands in the way.",
    "only with steps": "Finer weighing would fit; the step of the scale stands in the way.",
}


def verdict(result: AssignResult) -> str:
    """What the rulebook says of the split that was found, then what was proven of it."""
    check = result.check
    if check is None:
        return VERDICTS[result.status]
    told = VERDICTS if check.sound else VERDICTS | UNSOUND
    return f"{of_check(check)} {told[result.status]}"


def scale(result: AssignResult) -> str:
    """Which scale step the grams are rounded to, and whether the maker stated it."""
    step = grams(result.scale_step, result.units)
    if result.scale_step_stated:
        return f"Weighed in steps of {step}, as usual.yaml says"
    return f"Weighed in steps of {step}: no scale step is stated, so this one was assumed"


def premix(mixed: Premix, units: Units = METRIC) -> str:
    """One premix as a sentence."""
    parts = [f"{name} {grams(mass, units)}" for name, mass in mixed.scents.items()]
    error = (
        ""
        if mixed.error is None
        else f"; the least part is weighed to within {format_number(mixed.error * 100, 2)} %"
    )
    return f"{mixed.name}: {joined(parts)}, together {grams(mixed.grams, units)}{error}"


def mixed(held: Premix, units: Units = METRIC) -> str:
    """One premix in few words: "premix 1 is lime 19.9 g and cedar 13.2 g"."""
    return f"{held.name} is {joined([f'{name} {grams(mass, units)}' for name, mass in held.scents.items()])}"


def pour(row: Pour, units: Units = METRIC) -> str:
    """One portion as a sentence: what is weighed into it, the dose, and its clock."""
    clock = fluid(row)
    if not row.grams:
        return f"{row.portion}: unscented" + (f"; {clock}" if clock else "")
    weighed = [f"{name} {grams(mass, units)}" for name, mass in (row.premixes or row.scents).items() if mass]
    dose = amount(row.dose, "% of portion oils", units)
    return f"{row.portion}: {joined(weighed)}, {dose}" + (f"; {clock}" if clock else "")


def cup(row: Pour, units: Units = METRIC) -> str:
    """Each oil of a cup in an answer that stands beside the best, whose mixes have other names."""
    held = joined([f"{name} {grams(mass, units)}" for name, mass in row.scents.items() if mass])
    return f"{row.portion}: {held or 'unscented'}"


def fluid(row: Pour) -> str:
    """Until when a portion is fluid and the minutes to spare, as far as they are known."""
    if row.fluid_until is None:
        return ""
    until = _minutes(row.fluid_until)
    spare = "" if row.slack is None else f", {minutes_left(row.slack)} min to spare"
    return f"fluid until {until} min from emulsion{spare}"


def _minutes(span: Range) -> str:
    low, high = (minutes_left(end) for end in (span.low, span.high) if end is not None)
    return low if span.low == span.high else f"{low} to {high}"


def tight(held: Tight, units: Units = METRIC) -> str:
    """What stops a portion: "milk takes 1.8 g of tonka-milk: at 1.9 g it would brown past …"."""
    takes = f"takes {grams(held.takes, units)}" if held.takes > 0 else "takes none"
    wish = PLAN_BREAKS.get(held.rule, "") if held.kind == "plan" else _break(held)
    breaks = wish or f"{quoted(held.rule)} on {held.subject} would break"
    at = f"at {grams(held.at, units)} " if held.at > held.takes > 0 else ""
    gain = (
        ""
        if held.gain is None
        else f"; without that rule {held.gain_in} would gain {format_number(held.gain)}"
    )
    return f"{held.portion} {takes} of {held.premix}: {at}{breaks}{gain}"


def _break(held: Tight) -> str:
    measure, _, demand = held.wants.partition(": ")
    found = RULE_BREAKS.get(measure, "")
    return found.replace("DEMAND", demand.removeprefix("at most ").removeprefix("at least "))


RULE_BREAKS = {
    "browning band": "it would brown past what you planned",
    "cured lightness": "it would turn darker than you planned",
    "minutes fluid": "it would no longer stay fluid to the end of the pour",
    "limit used": "the bar would pass the certificates",
    "limit used in portion": "by itself it would pass the certificates",
    "published maximum used": "the bar would pass a published maximum",
    "scent rate": "it would pass DEMAND of scent",
    "times the load": "it would be DEMAND times as strong as the load",
    "short by": "the bottle would not be enough",
}
PLAN_BREAKS = {
    "never": "the plan forbids it",
    "only": "the plan keeps it elsewhere",
    "doses": "your own dose stands",
    "unscented": "it is to stay unscented",
}


def cost(found: Cost, units: Units = METRIC) -> list[str]:
    """What the scents cost, and what the shelf lacks."""
    money = f" {found.currency}".rstrip()
    bar = "" if found.per_bar is None else f", {found.per_bar:.2f}{money} a bar"
    lines = [f"scents for {found.batch:.2f}{money}{bar}"]
    if found.not_known:
        lines.append(f"price not known, so not in the sum: {joined(list(found.not_known))}")
    lines += [f"{name}: the bottle lacks {grams(mass, units)}" for name, mass in found.short.items()]
    return lines


def pot(found: PotScented) -> str:
    """Whether to scent the whole pot before colouring, and what it costs in minutes."""
    fewer = format_number(found.instead_of - found.fluid_until, 2)
    weighings = f"{found.saves} weighings" if found.saves != 1 else "one weighing"
    verdict = "there is still time for this pour" if found.fits else "this pour then has not time enough"
    return (
        "All portions share one blend: scenting the whole pot before the split saves "
        f"{weighings} and costs {fewer} minutes (fluid until {minutes_left(found.fluid_until)} instead "
        f"of {minutes_left(found.instead_of)} min from emulsion); {verdict}, which ends at minute "
        f"{format_number(found.needed, 2)}."
    )


def best_if(waits: Sequence[WaitsOn]) -> str:
    """On what the split waits: it holds only *if* what nobody knows turns out well."""
    facts = joined([f"{each.subject}'s {each.fact}" for each in waits])
    rules = joined(list(dict.fromkeys(rule for each in waits for rule in each.rules)))
    return f"It holds only if {facts} let {rules} hold, which nobody has written down."


def conflict(held: Conflict) -> str:
    """One of the things that cannot all hold, with its place."""
    what = "rule" if held.kind == "rule" else "plan line"
    where = f" ({place(held.where)})" if held.where else ""
    return f"{what} {quoted(held.name)} on {held.subject}{where}"


def in_one_sentence(conflicts: Sequence[Conflict]) -> str:
    """What cannot all hold, as one maker would say it to another."""
    wants: dict[str, list[str]] = {}
    for held in conflicts:
        wants.setdefault(_wish(held), []).append(held.subject)
    said = [wish.format(joined(subjects)) for wish, subjects in wants.items()]
    if len(said) == 1:
        return f"No split can keep this: {said[0]}."
    return f"These cannot all be: {joined(said)}."


def bare(held: Bare) -> str:
    """Why a cup that is meant to be scented stays bare: all that has to hold, told together."""
    if not held.because:
        return f"{held.portion} stays bare: {OBSTACLES.get(held.obstacle, OBSTACLES['steps'])}"
    return f"{held.portion} stays bare, for no scent that is smelled fits in while {_wishes(held.because)}"


OBSTACLES = {
    "steps": "what it could take is too little for the scale",
    "premixes": "it could take scent only with more premixes, or fewer weighed together",
}
GOALS = {
    "true to blend": "true to blend would go from {best} off to {other} off",
    "even scent": "even scent would go from {best} off to {other} off",
    "few weighings": "weighings would go from {best} to {other}",
    "quick oils in little batter": "batter with a quick oil in it would go from {best} to {other}",
    "only where it browns": "browning oil in light cups would go from {best} to {other} of the scent",
    "wide margin": "the least room under a limit would go from {best} to {other}",
    "fewest cautions": "what speaks against it would go from {best} to {other} (a caution counts one)",
    "lightest cautions": "cautions would be passed further, by {other} in all instead of {best}",
}
NUMBERS = ("few weighings", "fewest cautions")


def goal_change(held: GoalChange) -> str:
    """What a goal gains or costs, with both figures: "true to blend would go from 2 % off to 9 % off"."""
    sign = -1.0 if held.goal == "wide margin" else 1.0
    best, other = (
        format_number(end, 3) if held.goal in NUMBERS else f"{format_number(100 * sign * end, 2)} %"
        for end in (held.best, held.other)
    )
    return GOALS[held.goal].format(best=best, other=other)


def why_none(held: WhyNone, units: Units = METRIC) -> str:
    """Why a cup takes none of an oil: what forbids it, or what it would cost."""
    what = held.scent or "scent"
    if held.takes > 0:
        return f"{held.portion} takes {grams(held.takes, units)} of {what}"
    none = f"{held.portion} takes no {what}"
    if held.because:
        return f"{none}, for none fits in while {_wishes(held.because)}"
    if not held.portions:
        return f"{none}: {OBSTACLES.get(held.obstacle, 'whether it could was not found in the time')}"
    if held.worsens is None:
        return f"{none}: it could, and no goal would be worse for it; it is only farther from your plan"
    return f"{none}: it could, but {goal_change(held.worsens)}"


def beside(held: Beside) -> str:
    """What an answer beside the best gains and costs, in one sentence before its cups."""
    changed = joined([goal_change(each) for each in held.changes])
    if held.scents:
        gives = f"Scented all the same, {held.scents} breaks what kept it bare ({_wishes(held.breaks)})"
        return f"{gives}; {changed}" if changed else gives
    return f"With {held.goal} first: {changed}"


def off_blend(held: OffBlend) -> str:
    """Why an oil comes to another share of the bar than was asked for."""
    share, asked = (f"{format_number(100 * each, 2)} %" for each in (held.share, held.asked))
    why = f", while {_wishes(held.because)}" if held.because else ", as the scale weighs it"
    return f"{held.scent} comes to {share} of the scent instead of {asked}{why}"


def _wishes(because: Sequence[Conflict]) -> str:
    wants: dict[str, list[str]] = {}
    for each in because:
        wants.setdefault(_wish(each), []).append(each.subject)
    return joined([wish.format(joined(subjects)) for wish, subjects in wants.items()])


def _wish(held: Conflict) -> str:
    """What one of them asks; {} stands for its subjects."""
    if held.kind == "plan":
        return PLAN_WISHES.get(held.name, f"the plan's line {quoted(held.name)} must hold for {{}}")
    measure, _, demand = held.wants.partition(": ")
    wish = RULE_WISHES.get(measure, f"{{}}: {plain_name(measure)} must be {demand}").rstrip()
    return wish.replace("DEMAND", demand)


RULE_WISHES = {
    "guard used in bar": "the bar must keep within what is safe without certificates",
    "browning band": "{} must not brown past what you planned",
    "cured lightness": "{} must stay as light as you planned",
    "minutes fluid": "{} must stay fluid to the end of the pour",
    "thickening": "{} must not thicken faster than this pour bears",
    "minutes to spare": "{} must stay fluid to the end of the pour",
    "limit used": "the bar must keep within the certificates",
    "limit used in portion": "{} by itself must keep within the certificates",
    "published maximum used": "the bar must keep within the published maxima",
    "scent rate": "{} must take scent of DEMAND",
    "short by": "the bottle of {} must be enough",
    "for skin": "{} must be sold for use on skin",
    "seizes": "this pour bears no oil that seizes ({})",
    "stick blend portions": "this pour bears no oil that rices badly ({})",
}
PLAN_WISHES = {
    TRUE: "{} must hold its part of the blend",
    MEANT: "{} must take scent that is smelled",
    "total": "all of the {} must go in",
    "somewhere": "some of the {} must go in",
    "dose": "{} must hold its whole dose",
    "on hand": "the bottle of {} must be enough",
    "never": "the plan forbids {}",
    "only": "the plan's `only` closes {}",
    "doses": "your own dose of {} must stand",
    "unscented": "{} must stay unscented",
}
