"""Words that are not certain: what they most likely mean, and those that may turn a meaning round."""

from __future__ import annotations

from typing import Final

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
