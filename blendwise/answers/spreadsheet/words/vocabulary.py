"""What makers call their columns, and the words that stand in them, by meaning.

Headings and words are compared in lower case, without accents, hyphens and underscores.
"""

from __future__ import annotations

from typing import Final

REMARK: Final = "remark"
SIZE: Final = "size"
TESTED_AT: Final = "tested at"
NAME: Final = "name"
SUPPLIER: Final = "supplier"
SAFETY: Final = frozenset({"limit in bar", "for skin", "acceleration"})
"""Fields whose cells never become remarks unasked: limits on skin, and what may seize."""

FADES: Final = ("fades", "fade", "does it fade", "fading")
"""Headings that ask the other way round: "no" is good there, and no word is certain."""
OTHER_USES: Final = frozenset(
    [
        "candle",
        "candles",
        "lotion",
        "lotions",
        "perfume",
        "perfumes",
        "spray",
        "diffuser",
        "diffusers",
        "melt",
        "leave",
        "shampoo",
        "balm",
        *("kerze", "kerzen", "bougie", "bougies", "vela", "velas", "lotionen", "locion", "parfumerie"),
    ]
)
"""Words of a heading by which a limit or a use is not that of a bar of soap."""
TOTALS: Final = frozenset(
    {"total", "totals", "sum", "subtotal", "sub total", "grand total", "in all", "altogether", "total left"}
    | {"summe", "gesamt", "gesamtsumme", "totaal", "totale", "somme"}
)
"""What stands in the place of a name where a row adds the others up."""

HEADINGS: Final[dict[str, tuple[str, ...]]] = {
    NAME: (
        *("name", "oil", "scent", "fragrance", "fragrance name", "scent name", "oil name", "fragrance oil"),
        *("essential oil", "product", "product name", "item", "item name", "title"),
        *("fragrance essential oil", "fo", "eo", "fo eo", "eo fo", "fragrances", "scents", "oils"),
        *("what", "what is it", "called", "label on the bottle", "what's in the bottle", "what's in it"),
    ),
    "kind": (
        "kind",
        "type",
        "sort",
        "category",
        "kind of oil",
        "type of oil",
        "oil type",
        "fo or eo",
        "eo or fo",
    ),
    "scent note": ("scent note", "note", "top middle base", "note type", "perfume note", "tmb", "t m b"),
    "vanillin": ("vanillin", "vanillin content", "vanilla content", "vanilla", "van", "vanillin in oil"),
    "ethyl vanillin": (
        "ethyl vanillin",
        "ethylvanillin",
        "ethyl vanillin content",
        "ev",
        "evan",
        "ethyl van",
    ),
    "browns by": (
        *("browns by", "other browners", "discolourers", "other discolourers", "discoloring constituents"),
    ),
    "browns to": (
        *("browns to", "discolouration", "discoloration", "discolours", "discolors", "discolours to"),
        *("discolors to", "colour in soap", "color in soap", "soap colour", "soap color", "turns"),
        *("browning", "cured colour", "cured color", "final colour", "final color"),
        *("colour in cp", "color in cp", "colour in cp soap", "color in cp soap", "farbe in seife"),
        *("discolours soap", "discolor", "turns brown", "turns the bar", "turns soap", "turns to"),
    ),
    "browns to at": (
        *("browns to at", "discolouration tested at", "discoloration tested at", "browns at"),
        *("discolours at", "discolors at"),
    ),
    "browns to evidence": ("browns to evidence", "discolouration source", "discoloration source"),
    "browns to on": ("browns to on", "discolouration seen on", "discoloration seen on"),
    "own cast": (
        *("own cast", "oil colour", "oil color", "colour of oil", "color of oil"),
        *("colour in bottle", "cast"),
    ),
    "acceleration": (
        *("acceleration", "accelerates", "accel", "accelerates trace", "trace", "trace speed", "speed"),
        *("acceleration of trace", "effect on trace", "quickens", "quickens trace", "thickens"),
        *("behaviour", "behavior", "cp behaviour", "cp behavior", "behaviour in cp"),
        *("performance in cp", "soaping", "speeds up", "speeds up trace", "speeds trace"),
    ),
    "acceleration at": ("acceleration at", "acceleration tested at", "accelerates at", "speeds up at"),
    "acceleration evidence": ("acceleration evidence", "acceleration source"),
    "acceleration control": ("acceleration control",),
    "acceleration scented": ("acceleration scented",),
    "acceleration against": ("acceleration against", "compared with", "control"),
    "ricing": ("ricing", "rices", "riced", "rice"),
    "after six weeks": (
        *("after six weeks", "after 6 weeks", "six weeks", "6 weeks", "strength", "scent strength"),
        *("retention", "scent retention", "strength after cure", "after cure", "lasts", "staying power"),
        *(
            "lasting",
            "does it last",
            "scent after cure",
            "holds",
            "sticks",
            "scent after 6 weeks",
            "scent after six weeks",
        ),
        *FADES,
    ),
    "flash point": ("flash point", "flashpoint", "flash", "fp", "flash pt", "closed cup"),
    "for skin": (
        "for skin",
        "skin safe",
        "body safe",
        "skin",
        "safe for skin",
        "skin use",
        "ok for skin",
        "skin ok",
    ),
    "limit in bar": (
        *("limit in bar", "limit", "max", "maximum", "max use", "maximum use", "usage limit"),
        *("max in soap", "max usage", "category 9", "cat 9", "ifra", "ifra limit", "ifra category 9"),
        *("ifra cat 9", "ifra max", "maximum level", "max level", "highest permitted level", "soap limit"),
        *("limit in soap", "safe level", "skin max", "skin limit", "max on skin", "max for skin"),
    ),
    "certificate": (
        *("certificate", "ifra certificate", "ifra amendment", "amendment", "certificate of conformity"),
    ),
    "certificate category": ("certificate category", "category of certificate", "product category"),
    "supplier statement": ("supplier statement", "supplier statement dated"),
    "certificate dated": (
        *("certificate dated", "certificate date", "date of certificate", "ifra date", "cert dated"),
        "cert date",
    ),
    "allergen sheet": ("allergen sheet", "allergens", "allergen", "label allergens", "constituents"),
    "sheet complete": ("sheet complete", "allergens complete", "complete sheet", "all allergens named"),
    "label name": ("label name", "inci", "inci name"),
    "tags": (
        "tags",
        "tag",
        "keywords",
        "family",
        "scent family",
        "fragrance family",
        "group",
        "smells like",
        "smell",
    ),
    "lot": ("lot", "lot number", "lot no", "batch number", "batch no", "lot code", "supplier lot"),
    "price": (
        "price",
        "cost",
        "price paid",
        "unit price",
        "paid",
        "$",
        "€",
        "£",
        "dollars",
        "euros",
        "pounds paid",
    ),
    SIZE: ("size", "bottle size", "bottle", "pack size", "amount bought", "quantity bought"),
    "on hand": (
        *("on hand", "stock", "in stock", "left", "amount left", "remaining", "quantity", "qty", "amount"),
        *("have", "inventory", "weight", "stock level", "current stock"),
    ),
    "bought": (
        *("bought", "date bought", "purchase date", "purchased", "bought on"),
        *("date of purchase", "order date", "got", "got it", "got it on", "when bought", "bought when"),
    ),
    "evidence": (
        *("evidence", "source", "source of information", "who says", "told by", "tested", "tested by me"),
    ),
    TESTED_AT: (
        *("tested at", "test rate", "dose tested", "tested rate", "rate tested", "usage rate", "rate used"),
    ),
    "seen": ("seen", "observations", "diary", "test log", "log"),
    "goes with": ("goes with", "blends with", "pairs with", "good with", "blends well with"),
    SUPPLIER: (
        *(
            "supplier",
            "vendor",
            "brand",
            "manufacturer",
            "supplier name",
            "vendor name",
            "shop",
            "bought from",
        ),
        *("bought at", "maker", "who from", "from whom", "from where", "where from", "bought where"),
    ),
    REMARK: (
        *("remark", "remarks", "notes", "comment", "comments", "description", "scent description"),
        *(
            "link",
            "url",
            "website",
            "id",
            "sku",
            "code",
            "item number",
            "product code",
            "number",
            "no",
            "order number",
        ),
        *("rating", "storage", "location", "expiry", "expiry date", "best before", "use by", "cas"),
        *("density", "specific gravity", "batch"),
    ),
}
"""Field of an oil (as a book writes it) or a helper column → what makers write above it."""

BLANKS: Final = frozenset(
    {
        *("–", "—", "−", "n.v.", "nc", "s/d", "sin datos", "keine daten", "nicht bekannt"),
        *("", "#n/a", "-", "--", ".", "..", "...", "/", "?", "??", "???", "ask", "don't know", "dont know"),
        *("n.a.", "n/a", "na", "nan", "no data", "no info", "no information", "not given", "not known"),
        *("not stated", "not sure", "not tested", "null", "tbc", "tbd", "to test", "unknown", "unsure"),
        *("untested", "…"),
    }
)
"""What stands in a cell where nothing is known; never read as none or zero."""

NOTHING: Final = frozenset(
    {
        *("free", "n", "nil", "no", "none", "nope", "vanilla free", "vanillin free", "zero"),
    }
)
"""What a maker writes in a column of contents for zero."""

WORDS: Final[dict[str, dict[str, tuple[str, ...]]]] = {
    "kind": {
        "fragrance oil": ("fragrance oil", "fragrance", "fo", "f", "synthetic", "perfume oil"),
        "essential oil": ("essential oil", "essential", "eo", "e", "natural"),
        "absolute": ("absolute", "abs"),
        "resinoid": ("resinoid", "resin"),
        "isolate": ("isolate", "aroma chemical", "aromachemical", "single molecule"),
    },
    "scent note": {
        "top": ("top", "head", "t", "top note"),
        "middle": ("middle", "heart", "mid", "m", "middle note", "heart note"),
        "base": ("base", "bottom", "b", "base note"),
    },
    "browns to": {
        "ivory": (
            *(
                "ivory",
                "white",
                "off white",
                "none",
                "no",
                "n",
                "nope",
                "no discolouration",
                "no discoloration",
            ),
            *("stays white", "does not discolour", "does not discolor", "doesn't discolor"),
            *("doesn't discolour", "no change"),
        ),
        "cream": ("cream", "creamy", "slightly off white", "pale yellow"),
        "beige": ("beige", "light tan", "very light tan", "light beige", "ecru"),
        "tan": ("tan", "medium tan", "caramel", "light brown"),
        "brown": ("brown", "medium brown", "dark tan", "mid brown"),
        "chocolate": (
            *("chocolate", "dark brown", "very dark brown", "chocolate brown", "deep brown", "black brown"),
        ),
    },
    "acceleration": {
        "thins": ("thins", "slows", "slows trace", "decelerates", "slows down", "thinner", "retards"),
        "none": (
            *(
                "none",
                "no",
                "n",
                "nope",
                "nil",
                "no acceleration",
                "behaves",
                "behaves well",
                "well behaved",
                "normal",
            ),
            *("does not accelerate", "doesn't accelerate", "no change", "no issues", "works perfectly"),
        ),
        "slight": (
            *(
                "slight",
                "slightly",
                "a little",
                "mild",
                "minor",
                "little",
                "slight acceleration",
                "bit",
                "a bit",
            ),
        ),
        "moderate": (
            *(
                "moderate",
                "moderately",
                "medium",
                "med",
                "mid",
                "some",
                "somewhat",
                "moderate acceleration",
                "average",
            ),
        ),
        "fast": (
            *("fast", "quick", "quickly", "strong", "heavy", "high", "severe", "very fast", "rapid", "bad"),
        ),
        "seizes": ("seizes", "seized", "seize", "seizing", "soap on a stick", "instant"),
    },
    "ricing": {
        "none": ("none", "no", "n", "nope", "nil", "never", "no ricing", "does not rice", "doesn't rice"),
        "slight": ("slight", "slightly", "a little", "a bit", "some", "minor", "mild", "few grains"),
        "bad": ("bad", "badly", "heavy", "severe", "lots", "very", "strong"),
    },
    "after six weeks": {
        "strong": ("strong", "very strong", "excellent", "great", "holds", "sticks", "high", "holds well"),
        "fair": ("fair", "medium", "moderate", "good", "ok", "average", "decent", "so so", "med"),
        "faint": ("faint", "weak", "light", "slight", "low", "poor", "fading"),
        "gone": ("gone", "none", "no scent", "nothing", "faded", "faded completely", "disappeared"),
    },
    "evidence": {
        "own batch": (
            *("own batch", "my batch", "batch", "soaped", "my own batch", "in a batch", "tested in batch"),
        ),
        "own cup": (
            *("own cup", "cup", "test cup", "cup test", "my cup", "own test", "tested", "my test", "test"),
        ),
        "supplier": (
            *("supplier", "vendor", "manufacturer", "data sheet", "supplier sheet", "maker", "website"),
        ),
        "hearsay": ("hearsay", "forum", "friend", "heard", "reviews", "review", "book", "internet"),
    },
    "yes": {
        "yes": ("yes", "y", "true", "ok", "safe", "✓", "✔", "☑", "skin safe", "approved"),
        "no": ("no", "n", "false", "not safe", "unsafe", "✗", "✘", "☒", "not for skin", "candles only"),
    },
}
"""Closed sets of words: what a book writes → what makers write for it."""
