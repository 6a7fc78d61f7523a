"""What is too heavy to be part of a bar: a slip of the pen, and it would thin every limit."""

from __future__ import annotations

from blendwise.facts.situation.pot import ROUNDING, Pot
from blendwise.facts.situation.problems import Problems
from blendwise.facts.situation.split import Split
from blendwise.quantity import format_number
from blendwise.records import BookFiles, Plan

# Beyond these shares it is no part of a bar: our own judgement, kept wide.  Additives have shares of their
# own in the table of substances.
MOST_ADDITIVES = 1.0  # of the oils, all of them together, dry: half salt, half soap
MOST_COLOUR = 0.5  # of the portion's oils, each colourant
MOST_MIXED_IN = 0.5  # of the portion's oils, all of it together
MOST_EMBEDS = 1.0  # of the batter, all embeds together
REMEDY = "Correct the amount: what is no plausible part of a bar does not count as one."


def check_heaps(plan: Plan, pot: Pot, split: Split, book: BookFiles, problems: Problems) -> None:
    """Report every amount that no bar is made with, at its line."""
    _additives(plan, pot, book, problems)
    for p, portion in enumerate(plan.portions):
        oils = float(split.oils[p])
        where = f"the oils of {portion.name}"
        for c, name in enumerate(split.colourants):
            message = _too_much(name, float(split.colour[c, p]), oils, MOST_COLOUR, where)
            if message:
                problems.add(portion, message, REMEDY, "colourants", name)
        message = _too_much("Oil mixed in", float(split.mixed_in[p]), oils, MOST_MIXED_IN, where)
        if message:
            remedy = "Correct `mixed in`, or count that oil among the oils of the recipe."
            problems.add(portion, message, remedy, "mixed in")
    embeds = float(sum(embed.mass.value for embed in plan.embeds))
    message = _too_much("All embeds", embeds, float(split.batter.sum()), MOST_EMBEDS, "the batter")
    if message:
        problems.add(plan, message, "Correct their masses: embeds lie in a bar, not a bar in them.", "embeds")


def _additives(plan: Plan, pot: Pot, book: BookFiles, problems: Problems) -> None:
    recipe = plan.recipe or book.usual.recipe
    assert recipe is not None
    for each in pot.added:
        if each.row is None or each.row.plausible <= 0:  # what has no share is an alkali, and told as one
            continue
        message = _too_much(each.name, each.grams, pot.oils_total, each.row.plausible, "the oils")
        if message:
            problems.add(recipe, message, REMEDY, "additives", each.name)


def _too_much(what: str, grams: float, of: float, most: float, basis: str) -> str:
    """A sentence where there is more of it than its share; empty where there is not."""
    if grams <= most * of * (1 + ROUNDING):
        return ""
    share, limit = format_number(round(100 * grams / of)), format_number(100 * most)
    weighed = f"{format_number(grams)} g are {share} % of {basis}"
    return f"{what}: {weighed}, more than {limit} % are no part of a bar."
