"""The English of what is taken for granted: a sentence a kind, its figures in the book's units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from blendwise.facts.assumed import Assumed
from blendwise.quantity import METRIC, Amount, Basis, Dimension, Units, format_amount, format_number
from blendwise.show.numbers import counted, in_units
from blendwise.show.text import joined, sentence
from blendwise.show.words import batches_or_cups

Details = Mapping[str, Any]


def said(each: Assumed, units: Units = METRIC) -> str:
    """One assumption as a sentence."""
    words = WORDS[each.kind]
    return words if isinstance(words, str) else words(each.details, units)


def all_said(each: Sequence[Assumed], units: Units = METRIC) -> tuple[str, ...]:
    """Assumptions as sentences, in order."""
    return tuple(said(one, units) for one in each)


def _temperature(value: float, units: Units) -> str:
    number, unit = in_units(value, "°C", units)
    return f"{number:g} {unit}"


def _mass(value: float, units: Units, digits: str = ".3g") -> str:
    number, unit = in_units(value, "g", units)
    return f"{number:{digits}} {unit}"


def _spread(d: Details, units: Units) -> str:
    scents = [f'"{name}"' for name in d["scents"]]
    verb = "are" if len(scents) > 1 else "is"
    return (
        f"{', '.join(scents)} {verb} not placed by the plan: taken as spread evenly, "
        f"by the weight of portion oils, over {', '.join(d['portions'])}."
    )


def _no_portion(d: Details, units: Units) -> str:
    grams = _mass(d["grams"], units)
    return f'{grams} of "{d["scent"]}" find no portion: less is poured than the blend asks for.'


def _own_looks(d: Details, units: Units) -> str:
    held = [f"{d['batches']:g} batches"] if d["batches"] or not d["cups"] else []
    held += [counted(int(d["cups"]), "test cup")] if d["cups"] else []
    return f"Your own looks count ({d['looks']:g} looks of {joined(held)}); `--as-written` leaves them out."


def _set_aside(d: Details, units: Units) -> str:
    many = "One note is" if d["notes"] == 1 else f"{d['notes']:g} notes are"
    return f"{many} damaged and set aside: see `blendwise review`."


def _clock(d: Details, units: Units) -> str:
    low, high = d["low"], d["high"]
    fluid = f"{low:.3g} minutes" if low == high else f"{low:.3g} to {high:.3g} minutes (the low end is used)"
    return (
        f"Unscented batter is taken as fluid for {fluid} from emulsion, by {d['by']}. "
        f"{d['portions']:g} portions take about {d['minutes']:.3g} minutes to pour, "
        f"after {d['first']:.3g} minutes of splitting and colouring."
    )


def _cure_loss(d: Details, units: Units) -> str:
    all_of_it = ", all the water there is" if d["all_of_it"] else ""
    return (
        f"A finished bar is taken to have lost {100 * d['loss']:.3g} % of oils, lye and water as water"
        f"{all_of_it}."
    )


def _load(d: Details) -> Amount:
    return Amount(d["load"], d["load"], Dimension.FRACTION, Basis(d["of"]), "")


def _usual_load(d: Details, units: Units) -> str:
    return f"The load is your usual one, {format_amount(_load(d), units)}."


def _usual_recipe(d: Details, units: Units) -> str:
    mass = f", {d['mass']} of oils" if d["mass"] else ""
    return f"The batter is your usual recipe: {', '.join(d['oils'])}{mass}."


def _turns_alone(d: Details, units: Units) -> str:
    planned = f"{d['oil']} alone turns white soap {d['band']}: the bar is planned at {d['band']}"
    return f"{planned}, and others are judged by what they add."


TAKEN: Final = {
    "browning": "here it is taken as browning to {now}{at}",
    "acceleration": "here its acceleration is taken as {now}{at}",
    "after six weeks": "after six weeks it is taken as {now}",
}
MOST_NOTES: Final = 3


def _belief_changed(d: Details, units: Units) -> str:
    """ "The notes of 2 batches of tonka-milk say tan at 5 % of oils; the catalogue says beige: …" """
    entry = "the catalogue does not say" if d["was"] is None else f"the catalogue says {d['was']}"
    taken = TAKEN[d["trait"]].format(now=d["now"], at=_at(d["dose"]))
    another = "" if d["evidence"] in ("own batch", "own cup") else "of another lot, so with more doubt "
    one, many = batches_or_cups(d["batches"], d["cups"])
    held = f"one {one}" if d["batches"] == 1 else f"{d['batches']:g} {many}"
    if not d["notes"]:
        return f"By {held} with {d['oil']} in them, {another}{taken}; {entry}."
    noted = dict.fromkeys(f"{shown}{_at(dose)}" for shown, dose in d["notes"])
    said = [
        *list(noted)[:MOST_NOTES],
        *([f"{len(noted) - MOST_NOTES} more"] if len(noted) > MOST_NOTES else []),
    ]
    whose = f"The note of {held}" if d["batches"] == 1 else f"The notes of {held}"
    verb = "says" if d["batches"] == 1 else "say"
    return f"{whose} of {d['oil']} {verb} {joined(said)}; {entry}: {another}{taken}."


def _at(dose: float | None) -> str:
    """The dose that a word speaks of."""
    return "" if dose is None else f" at {format_number(round(100 * dose, 2))} % of oils"


Words = str | Callable[[Details, Units], str]
WORDS: Final[dict[str, Words]] = {
    "usual purpose": lambda d, u: f"It is judged as soap for {d['purpose']}, as usual.yaml says.",
    "for sale": "The plan does not say what it is for: it is judged as soap for sale.",
    "spread evenly": _spread,
    "no portion for it": _no_portion,
    "no mix": lambda d, u: (
        f"{joined(d['scents'])} do not stand in one ratio in every portion, so that no mix of them can be "
        "divided: each is taken as weighed by itself, in spite of `weigh together`."
    ),
    "own looks": _own_looks,
    "belief changed": _belief_changed,
    "notes set aside": _set_aside,
    "careful": (
        "Acceleration, browning and strength count by the worse end of what is believed (`--careful`)."
    ),
    "scaled": lambda d, u: f"Scaled to {_mass(d['oils'], u, ',.4g')} of oils.",
    "purity": "The purity of the sodium hydroxide is not stated: it counts as 100 %.",
    "scent scale": lambda d, u: f"The step of the scent scale is not stated: {_mass(1.0, u)} is assumed.",
    "lye scale": lambda d, u: f"The step of the lye scale is not stated: {_mass(1.0, u)} is assumed.",
    "small amount": lambda d, u: (
        f"{_mass(d['grams'], u, '.2g')} of {d['what']} in {d['into']} is little for steps of "
        f"{_mass(d['step'], u)}, up to {format_number(100 * d['error'], 2)} % off: "
        "the sheet tells how to weigh it."
    ),
    "no pour": "The plan names no pour: nothing is said of the clock, and any two portions may touch.",
    "clock": _clock,
    "room": lambda d, u: (
        f"The temperature of the room is not stated: {_temperature(d['temperature'], u)} is assumed."
    ),
    "batter at split": lambda d, u: (
        "The batter's temperature at the split is not stated: "
        f"{_temperature(d['temperature'], u)} is assumed."
    ),
    "cure loss": _cure_loss,
    "nothing to place": "The plan has no blend with a load: every portion stays as it is written.",
    "reason": lambda d, u: sentence(d["said"]),
    "stopped early": lambda d, u: (
        f"Stopped early: what was found is within {100 * d['gap']:.2g} % of the total scent of the best "
        "there can be."
    ),
    "taken as": lambda d, u: f'"{d["typed"]}" is taken as {d["name"]}.',
    "usual load": _usual_load,
    "load taken as": lambda d, u: f'"{d["typed"]}" is taken as {format_amount(_load(d), u)}.',
    "no usual load": "usual.yaml names no load: 4 % of batch oils is taken, as is common practice.",
    "usual recipe": _usual_recipe,
    "no usual mass": lambda d, u: (
        f"usual.yaml does not say how much is made: {_mass(d['grams'], u, 'g')} of oils are reckoned with."
    ),
    "no ratio": "No ratio is given: equal parts by mass.",
    "no colour": "No colour is given: uncoloured (white) batter that is to stay white.",
    "any pour": "No pour is given: all of the rulebook's are tried.",
    "no purpose": "Nothing is said of what it is for: it is judged as soap for sale.",
    "turns alone": _turns_alone,
    "asked of a pair alone": lambda d, u: f"Asked only of a pair by itself: {', '.join(d['rules'])}.",
}
