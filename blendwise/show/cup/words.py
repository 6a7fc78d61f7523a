"""The English of a test cup: what is weighed, what is done minute by minute, what is looked for and when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.cup.result import CupResult, TestCup
from blendwise.quantity import Units
from blendwise.show.check.blocks import own_dose
from blendwise.show.numbers import amount, counted
from blendwise.show.pages.render import grams as to_step
from blendwise.show.pages.render import warmth
from blendwise.show.text import command, joined

AT_THE_CUT = "at the cut"
LOOK = {AT_THE_CUT: "day 1"}
"""What a look at a batch is called of a cup, which nobody cuts at a later day."""
LOOKING_ONLY = "for looking only, not for skin: gloves, and into the bin after its last look"
WHAT_TO_DO = "What to do minute by minute"
THICK = "thick is when the trail of the spoon stays standing"
DROPS = "Drops differ from bottle to bottle and only help the eye: weigh."
COARSE = (
    "on your scale the least dose may be off by {error:.0f} %: count the drops of this bottle that make one "
    "step of it, or take larger cups (`--size {size}`)"
)
LARGER = {"g": "300g", "oz": "10oz"}
OF_THE_CUP = (
    "It is weighed on the finer of your scales, its lye rounded down. Soap from a cup is raw for days like "
    "any soap: none of it is for use before it is cured and does not zap."
)


def title(result: CupResult) -> str:
    """Which cup, of whose batter."""
    of = " of ".join(each for each in (result.portion, result.plan) if each) or "your usual batter"
    spread = ", its open doses spread evenly" if result.is_spread else ""
    return f"{result.name}, {result.day.isoformat()}: {joined(list(result.oils))} in {of}{spread}"


def verdict(result: CupResult) -> str:
    """How many cups, and whether they may be poured."""
    if result.refused:
        return "Do not pour this cup."
    return f"{counted(len(result.cups) - 1, 'cup').capitalize()} beside an unscented control."


def looking_only(result: CupResult) -> str:
    """The cups past the limits of skin; empty where there is none."""
    names = [f"{cup.name} ({dose(cup, result.units)})" for cup in result.cups if cup.looking_only]
    if not names:
        return ""
    verb = "holds" if len(names) == 1 else "hold"
    return f"{joined(names)} {verb} more than a bar for skin may: {LOOKING_ONLY}"


def dose(cup: TestCup, units: Units) -> str:
    """The scent of a cup on its own oils."""
    return own_dose(cup.dose, units) if cup.scents else "none"


def pot(result: CupResult) -> str:
    """Everything that is weighed for the pot, in a row."""
    told = [f"{each.what} {to_step(each.grams, each.step, result.units)}" for each in result.pot]
    whole = to_step(result.whole, result.pot[0].step, result.units)
    spare = to_step(result.spare, result.pot[0].step, result.units)
    return f"{', '.join(told)}: {whole} of batter, of which about {spare} clings to the pot"


def superfat(result: CupResult) -> str:
    """The superfat of what is weighed, beside the one that was asked for."""
    if result.superfat is None or result.asked is None:
        return "superfat not known"
    return f"superfat as weighed {100 * result.superfat:.1f} %, asked for {100 * result.asked:.1f} %"


def coarse(result: CupResult) -> str:
    """How far the scale may put a dose off, and what helps."""
    return COARSE.format(error=100 * result.coarse, size=LARGER[result.units.mass])


def drops(cup: TestCup) -> str:
    """How many drops each of its scents may be."""
    return joined([f"{round(each.low or 0)} to {round(each.high or 0)}" for each in cup.drops])


def thick(cup: TestCup) -> str:
    """When it is believed to be thick."""
    if cup.thick is None or cup.thick.low is None or cup.thick.high is None:
        return "not known"
    low, high = round(cup.thick.low), round(cup.thick.high)
    return f"{low} min" if low == high else f"{low} to {high} min"


def band(cup: TestCup) -> str:
    """What it is believed to brown to."""
    return " to ".join(cup.band) or "not known"


def steps(result: CupResult) -> Iterator[tuple[str, str]]:
    """When and what to do, in order."""
    yield from _until_emulsion(result)
    yield from _with_scent([cup.name for cup in result.cups if not cup.is_control])


def _until_emulsion(result: CupResult) -> Iterator[tuple[str, str]]:
    units, batter = result.units, result.cups[0].batter
    celsius, hottest = warmth(result.celsius, units), warmth(result.hottest, units)
    colour = "; wet its colour in a few drops of oil or water" if result.cups[0].dyes else ""
    yield (
        "before",
        f"Label the control and {counted(len(result.cups) - 1, 'cup')}. Weigh each scent into its own "
        f"glass{colour}. Goggles, gloves.",
    )
    melt = f"melt {joined(list(result.hard))}, then all oils" if result.hard else "all oils"
    yield (
        "lye",
        f"Into the cold water, a little at a time (it may reach {hottest}); cool to about {celsius}. "
        f"Warm too: {melt}.",
    )
    yield (
        "minute 0",
        "Lye into the oils, blend in short pulses to emulsion: no streak, and a drip leaves no mark. Weigh "
        f"{to_step(batter.grams, batter.step, units)} into every cup.",
    )


def _with_scent(cups: Sequence[str]) -> Iterator[tuple[str, str]]:
    apart = ", one minute apart" if len(cups) > 1 else ""
    yield (
        "minute 1",
        f"Scent in: {joined(list(cups))}{apart}. Write down each start; stir by hand for 30 s, the control "
        "as well. Its clock starts with the first.",
    )
    yield (
        "every minute",
        f"Lift the spoon over each cup: {THICK}. Write its minutes from its own scent. "
        "Grains? Oil on top? Hot?",
    )
    yield "after 10", "Every 2 minutes, until all are thick or an hour is over."
    yield (
        "then",
        "Write on each cup its name and day. Cover it, leave it cool and away from children and pets.",
    )
    yield (
        "day 1",
        "Gloves. Out of the cup, cut across, lay both halves beside the control: "
        "one in the light, one in the dark.",
    )


def looks(result: CupResult) -> str:
    """The looks with their days."""
    days = [f"{LOOK.get(each.look, each.look)} {each.day.isoformat()}" for each in result.looks[1:]]
    first, last = result.judge
    return f"Look at the pot, {joined(days)}; judge its colour from {first.isoformat()} to {last.isoformat()}"


def note_command(result: CupResult) -> str:
    """How the minutes are noted."""
    saw = [word for cup in result.cups[:2] for word in ("--saw", f"{cup.name}: thick at … min")]
    return command("note", result.name, *saw)


def size(value: float, units: Units) -> str:
    """A mass of batter."""
    return amount(value, "g", units)
