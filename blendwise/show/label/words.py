"""The English of a label's draft."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from blendwise.answers.label.result import AtMarket, Open
from blendwise.quantity import Units
from blendwise.show.text import joined

TITLE = "Draft of a label"
PUT_IN = "Ingredients, as put in"
SAPONIFIED = "Ingredients, as saponified"
SAPONIFIED_NOTE = "Either custom is in use; keep to one, and let your assessor choose it."
OPEN: Final[Mapping[Open, str]] = {
    "harm": "This plan is not to be made, so it has no list of ingredients; `blendwise check` says why.",
    "papers": "Not for sale until papers are here that `blendwise check` names.",
    "for home": "This soap is planned for home; before it is sold, write `for: sale` and check it anew.",
    "names of ingredients": "What is marked (name to be asked) has no name in our table; ask its supplier.",
    "names due": "Names of allergens are not all known: ask for the sheets named below.",
    "embeds": "What is in the pieces set in has to be listed too; it is not in these lists.",
    "weight": 'Weight: weigh ten bars on the day of sale and write `--weights "{bars}, ..."`.',
    "few bars": "Fewer than ten bars were weighed, so a lighter one is likely: weigh ten.",
    "custom": "Below 1 % any order is allowed; colourants stand last. Names are from memory of the glossary.",
    "free oil": "Oil that stays free is counted with its soap in the second list; which, nobody knows.",
    "assessor": "Only an assessor can say: warnings, how long it keeps, for whom it is, any claim.",
}
PAPERS: Final[Mapping[str, str]] = {
    "safety report": "a safety report by a qualified assessor",
    "product file": "a product file kept at hand",
    "notification": "the notification before the first sale",
    "responsible person": "name and address of the responsible person",
    "good practice": "making by good practice, with batch records",
    "soap only": "nothing but soap is claimed, else it is a cosmetic with rules of its own",
    "net weight": "the net weight, in ounces and grams",
    "name and address": "your name and place of business",
}
NET: Final = "Net weight {grams:g} g, {ounces:g} oz"
US_NOTE = "no list of ingredients is asked of soap that is sold only as soap; a cosmetic needs one"
UK_NOTE = "Great Britain keeps its own list: ask which names it has by then"

HELP = (
    "A draft to take to your assessor, not a label. Law: Regulation (EC) No 1223/2009, Articles 10 to 19, "
    "from memory; allergens as read in its Annex III; 21 CFR 701.20, read. Local rules differ."
)


def still_open(what: Open, units: Units) -> str:
    """What is still to be done, with bars as the book weighs them."""
    return OPEN[what].format(bars="4 oz, 4.05 oz" if units.mass == "oz" else "112 g, 113 g")


def due(each: AtMarket) -> str:
    """What a market asks to be named, in few words."""
    if each.market == "US":
        return US_NOTE
    names = joined(each.allergens) if each.allergens else "none that is known"
    return f"name these allergens in the list: {names}"
