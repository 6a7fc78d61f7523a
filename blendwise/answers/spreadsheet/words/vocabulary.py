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
GUESSES: Final[dict[str, dict[str, str]]] = {
    "acceleration": {"yes": "moderate", "y": "moderate", "yes!": "fast", "very": "fast", "slow": "none"},
    "browns to": {
        **dict.fromkeys(("yes", "y", "browns", "turns brown", "a lot", "yes!"), "brown"),
        **dict.fromkeys(("yes dark", "dark", "very", "very dark", "black", "a lot"), "chocolate"),
        **dict.fromkeys(("slight", "slightly", "a bit", "a little", "some", "bit"), "beige"),
        **dict.fromkeys(("pale", "light"), "cream"),
    },
    "ricing": {"yes": "bad", "y": "bad", "yes!": "bad", "sometimes": "slight"},
    "fades": {
        **dict.fromkeys(("no", "n", "nope", "not", "never", "not at all", "none"), "strong"),
        **dict.fromkeys(("slight", "slightly", "a bit", "a little", "some", "bit", "slow", "slowly"), "fair"),
        **dict.fromkeys(("yes", "y", "yes!", "fast", "quick", "quickly", "a lot", "badly", "fades"), "faint"),
        **dict.fromkeys(("", "soon", "early", "very fast", "strong", "medium", "quite", "very"), "faint"),
        **dict.fromkeys(("hardly", "does not", "do not", "not much", "little", "very slow"), "strong"),
    },
    "holds": {
        **dict.fromkeys(
            ("", "yes", "well", "very well", "long", "for long", "for months", "strong"), "strong"
        ),
        **dict.fromkeys(("no", "not", "badly", "poorly", "hardly", "does not", "not long", "weak"), "faint"),
        **dict.fromkeys(("slight", "bit", "a bit", "little", "a little", "some", "not well"), "faint"),
        **dict.fromkeys(("ok", "so so", "fair", "medium", "moderate", "a while", "for a while"), "fair"),
    },
    "limit in bar": {
        **dict.fromkeys(("no limit", "none", "unlimited", "not restricted", "no restriction"), "100 %"),
    },
    "vanillin": dict.fromkeys(("trace", "traces", "tr"), "unknown"),
    "ethyl vanillin": dict.fromkeys(("trace", "traces", "tr"), "unknown"),
}
"""What a word most likely means that is not certain: offered, never taken unasked ("!": said with force)."""

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
        *("scent after cure", "holds", "sticks", "scent after 6 weeks", "scent after six weeks"),
        *FADES,
    ),
    "flash point": ("flash point", "flashpoint", "flash", "fp", "flash pt", "closed cup"),
    "for skin": ("for skin", "skin safe", "body safe", "skin", "safe for skin", "skin use", "ok for skin"),
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

NEGATIONS: Final = frozenset(
    {
        *("doesn't", "doesnt", "hardly", "isn't", "isnt", "never", "no", "non", "not", "without"),
    }
)
"""Words that may turn a meaning round."""

TURNING: Final = NEGATIONS | frozenset(
    [
        *(
            "almost",
            "barely",
            "bearly",
            "nearly",
            "scarcely",
            "less",
            "free",
            "lose",
            "loses",
            "lost",
            "loss",
        ),
        *("unsafe", "nicht", "kein", "keine", "ohne", "nie", "frei", "kaum", "weniger", "pas", "sans"),
        *(
            "jamais",
            "peine",
            "moins",
            "sin",
            "nunca",
            "apenas",
            "menos",
            "casi",
            "presque",
            "pierde",
            "perte",
        ),
    ]
)
"""Words of a heading, or of a longer cell, that may turn round what its known words mean, or halve it."""
YES_OR_NO: Final = frozenset({"yes", "y", "no", "n", "nope", "true", "false"})
"""What answers the question of its heading, and nothing else."""
MANNERS: Final = {
    **dict.fromkeys(("fade", "fades", "fading", "disappears", "vanishes"), "fades"),
    **dict.fromkeys(("hold", "holds", "last", "lasts", "stay", "stays", "stick", "sticks"), "holds"),
}
"""What a scent does over the weeks: the rest of such a cell says how, as below a heading of that word."""

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
