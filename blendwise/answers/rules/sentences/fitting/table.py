"""The shapes of sentences, in one table: each an example, and how its parts become a rule."""

from __future__ import annotations

from typing import Final

from blendwise.answers.rules.sentences.fitting import bounds, cups, oils
from blendwise.answers.rules.sentences.fitting.quantities import capped
from blendwise.answers.rules.sentences.fitting.shape import Shape

SHAPES: Final = (
    Shape("apart", "never lime with clove-leaf", "NXwX", oils.apart),
    Shape("only with", "lime only with litsea", "XOwX", oils.only_with),
    Shape("how much", "tonka-milk at most 2 % of portion oils in white", "XRAzW", capped),
    Shape("against", "never more clove-leaf than lime", "RXX", oils.against),
    Shape("only there", "clove-leaf only in outer portions", "XOP", oils.where),
    Shape("nothing but", "nothing but clove-leaf in the inner portions", "bXP", oils.nothing_but),
    Shape("not in embeds", "no clove-leaf in embeds", "NXE", oils.embed),
    Shape("not beside", "benzoin never next to white", "XNnW", cups.next_to),
    Shape("last", "fast ones last", "XL", bounds.last),
    Shape("minute", "fast ones not before minute 12", "XRI", bounds.minute),
    Shape("temperature", "citrus at most 35 °C unless folded", "XRHuX", bounds.temperature),
    Shape("age", "no lime older than 12 months", "NXgY", bounds.age),
    Shape("placed", "black cups poured last", "WcP", cups.placed),
    Shape("count", "at most 2 cups with browners", "R#wX", cups.count),
    Shape("colour", "no charcoal in white", "NCW", cups.no_colour),
    Shape("scent with colour", "ultramarine-blue apart from citrus", "CaX", cups.scent_with_colour),
    Shape("additive", "no honey when gel forced", "ND", cups.no_additive),
    Shape("never when", "no lime when the room is above 25 °C", "NXkMRH", oils.conditioned),
    Shape("needs", "fast ones need fluid batter at least 10 min", "XeRIM", oils.needing),
    Shape("no embeds", "no embeds in a drop swirl", "NFU", cups.no_flag),
    Shape("no gel", "no gel with goat milk", "FwD", cups.no_gel),
    Shape("gel forced", "always gel columns", "vFU", cups.gel_forced),
    Shape("embeds only when", "embeds only when the batter is below 40 °C", "FOkMRH", cups.only_flag),
    Shape("pour never when", "no column when the room is above 25 °C", "NUkMRH", cups.no_pour),
    Shape("unscented", "no scent in the bottom layer", "NMP", cups.unscented),
    Shape("papers", "nothing for sale without a certificate", "NFoM", cups.papers),
)
"""Every shape, asked in this order."""
