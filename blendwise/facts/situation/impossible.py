"""What no arithmetic can mend: names nobody knows, no time, more water leaving than there is."""

from __future__ import annotations

import numpy as np

from blendwise.facts.situation.additions.misplaced import check_places
from blendwise.facts.situation.pot import ROUNDING, Pot
from blendwise.facts.situation.problems import Problems
from blendwise.facts.situation.split import Split
from blendwise.quantity import Dimension
from blendwise.records import BookFiles, Plan, Record
from blendwise.records.kinds.plan import Embed
from blendwise.records.kinds.usual import Usual


def check_sense(plan: Plan, book: BookFiles, problems: Problems) -> None:
    """Report what makes a plan senseless whatever its masses are."""
    style = book.pour_named(plan.pour)
    if plan.pour is not None and style is None:
        problems.unknown(plan, "pour", plan.pour, "pour", book.pours)
    check_places(plan, plan.recipe or book.usual.recipe, book, problems)
    for embed in plan.embeds:
        _check_embed(embed, book, problems)
    for record in (plan.process, book.usual):
        if record is not None and record.stays_fluid is not None and record.stays_fluid.low <= 0:
            _no_time(record, "Batter that stays fluid for no time cannot be poured.", "stays fluid", problems)
    _check_usual(book.usual, problems)
    if style is not None and style.minutes.low <= 0:
        _no_time(style, f'The pour "{style.name}" takes no time.', "minutes", problems)


def _check_usual(usual: Usual, problems: Problems) -> None:
    """Losses that leave nothing, and steps and multipliers of nothing."""
    losses = {"pot loss": usual.pot_loss, "cup loss": usual.cup_loss}
    for field, loss in losses.items():
        if loss is not None and loss.value >= 1:
            problems.add(usual, f"A {field} of {loss} leaves nothing.", "Write 1 to 3 %.", field)
    sizes = {
        "scale step": usual.scale_step,
        "lye scale step": usual.lye_scale_step,
        "oils per volume": usual.oils_per_volume,
    }
    for field, size in sizes.items():
        if size is not None and size.value <= 0:
            problems.add(usual, f'"{field}" cannot be nothing.', "Write the real figure.", field)


def _no_time(record: Record, message: str, field: str, problems: Problems) -> None:
    problems.add(record, message, f"Write the minutes, as in `{field}: 20 min`.", field)


def _check_embed(embed: Embed, book: BookFiles, problems: Problems) -> None:
    for name in embed.scents:
        if name not in book.scents:
            problems.unknown(embed, "scents", name, "scent", book.scents)
    if scent_in(embed) > embed.mass.value * (1 + ROUNDING):
        message = (
            f'There is more scent in "{embed.what}" ({scent_in(embed):.4g} g) than it weighs ({embed.mass}).'
        )
        problems.add(embed, message, "Correct its mass or its scents.", "scents")


def scent_in(embed: Embed) -> float:
    """Grams of all scents in an embed."""
    mass = embed.mass.value
    given = embed.scents.values()
    return float(sum(a.value if a.dimension is Dimension.MASS else a.value * mass for a in given))


def most_cure_loss(pot: Pot, split: Split) -> float:
    """The greatest cure loss there can be: all water gone from the portion that holds the least of it."""
    usable = split.share * (1 - pot.loss)
    whole = (pot.pot_oils + pot.naoh + pot.water) * usable + split.returned
    return float(np.min(pot.water * usable / whole))


def check_cure(plan: Plan, pot: Pot, split: Split, problems: Problems) -> None:
    """Report a cure loss that takes more water than there is."""
    process, most = plan.process, most_cure_loss(pot, split)
    if process is None or process.cure_loss is None or process.cure_loss.value <= most * (1 + ROUNDING):
        return
    message = (
        f"A cure loss of {process.cure_loss} takes more water than there is ({100 * most:.3g} % of the soap)."
    )
    problems.add(process, message, "Lower it, or leave it out.", "cure loss")
