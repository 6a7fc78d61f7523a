"""The plan of a draft as a maker could have typed it, with remarks on what each part is for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Final

from blendwise.answers.draft import checks as check
from blendwise.answers.draft.answers import Answers, oils_of, portions_of, scents_of, usual_recipe
from blendwise.quantity import THE_REST
from blendwise.records.book import BookFiles
from blendwise.records.kinds.scent import BANDS
from blendwise.records.writing.edit import Plain, flow

FILLER: Final = "what is not yet said"


def plan_text(name: str, answers: Answers, book: BookFiles, today: date) -> str:
    """The whole file; every amount stands as it was typed."""
    lines = [
        f"# Drafted on {today.isoformat()} with `blendwise draft`; usual.yaml says what is left out here.",
        f"plan: {flow(name)}",
        f"for: {answers.get('for', 'sale')}  # sale: a missing certificate is a stop; home: a caution",
        *_recipe(answers, book),
        *_process(answers),
        *_pour(answers, book),
        *_portions(answers, book),
        *_scents(answers, book),
    ]
    return "\n".join(lines) + "\n"


def _recipe(answers: Answers, book: BookFiles) -> Iterator[str]:
    usual = usual_recipe(book)
    yield "recipe:"
    yield f"  oils: {flow(oils_of(answers, book))}"
    if "amount" in answers:
        amount = check.amount(answers["amount"])
        bars = {"bars": answers["bars"]} if answers.get("bars") and "inside" in amount else {}
        yield f"  amount: {flow({**amount, **bars})}"
    said = answers.get("lye", check.USUAL)
    if said != check.USUAL:
        yield f"  lye: {flow(check.lye(said))}  # lye: its share of lye and water"
    elif "lye" in usual:
        yield f"  lye: {flow(usual['lye'])}"
    if "additives" in usual and answers.get("oils", check.USUAL) == check.USUAL:
        yield f"  additives: {flow(usual['additives'])}"


def _process(answers: Answers) -> Iterator[str]:
    named = {"batter at split": answers.get("batter", ""), "gel": answers.get("gel", "")}
    held = {key: text for key, text in named.items() if text}
    if held:
        yield f"process: {flow(held)}"


def _pour(answers: Answers, book: BookFiles) -> Iterator[str]:
    pour = answers.get("pour", "")
    if pour in book.pours:
        style = book.pours[pour]
        minutes = f"{style.minutes.low:g} to {style.minutes.high:g} minutes"
        bears = f"bears a scent that is {style.tolerates} at most"
        yield f"pour: {flow(pour)}  # {style.batter} batter, {minutes}; {bears}"


def _portions(answers: Answers, book: BookFiles) -> Iterator[str]:
    """The portions; while more are to come, what nobody has yet taken stands under a name of its own."""
    yield "portions:  # in the order in which the pot is split; shares of the batter"
    named = portions_of(answers)
    taken = any(each.get("share") == THE_REST for each in named)
    held = [each for each in named if "share" in each or not taken]
    yield from (f"  - {flow(_portion(each, book))}" for each in held)
    finished = f"portion {len(named) + 1} name" in answers
    if not held or not (finished or taken or "share" not in held[-1]):
        yield f"  - {flow({'name': FILLER, 'share': THE_REST})}"


def _portion(said: Mapping[str, str], book: BookFiles) -> dict[str, Plain]:
    """A portion's fields; what is not yet answered takes what leaves the others possible."""
    found: dict[str, Plain] = {"name": said["name"], "share": said.get("share", THE_REST)}
    colours = check.colours(said.get("colours", ""), book)
    if colours:
        found["colourants"] = colours
    if said.get("becomes", BANDS[0]) != BANDS[0]:
        found["may become"] = said["becomes"]
    return found


def _scents(answers: Answers, book: BookFiles) -> Iterator[str]:
    named = scents_of(answers)
    if not named:
        yield "# No scent: name oils under `scents: {blend: {NAME: 1}, load: 3 % of batch oils}`."
        return
    yield "scents:"
    blend = {each["name"]: each.get("parts", "1") for each in named}
    yield f"  blend: {flow(blend)}  # parts by mass, for the bar as a whole"
    yield f"  load: {answers.get('load', '') or _usual_load(book)}"
    dosing = answers.get("dosing") or book.usual.dosing or check.DOSINGS[0]
    yield f"  dosing: {dosing}  # or: {next(way for way in check.DOSINGS if way != dosing)}"
    pairs = check.kept_out(answers.get("never", ""), blend, [each["name"] for each in portions_of(answers)])
    if pairs:
        yield f"never: {flow([{'scent': scent, 'in': portion} for scent, portion in pairs])}"
    else:
        yield "# never: [{scent: NAME, in: PORTION}]  keeps a scent out of a portion"
    yield "# `blendwise assign` on this file finds which portion takes which oil, in weighable grams."


def _usual_load(book: BookFiles) -> str:
    return book.usual.load.text if book.usual.load else "3 % of batch oils"
