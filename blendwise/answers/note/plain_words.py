"""What makers say of a portion without naming a field: "clean edge", "halo 3 mm", "orangey tan", "no ash".

Only what can mean one thing is taken; the rest is asked back.
"""

from __future__ import annotations

import re
from typing import Final

from blendwise.answers.refusals import NotAskable
from blendwise.quantity.typed import TYPED
from blendwise.records.kinds.scent import BANDS
from blendwise.records.nearest import nearest

Said = list[tuple[str, str]]

VALUES: Final[dict[str, dict[str, tuple[str, ...]]]] = {
    "edge": {
        "clean": ("sharp", "crisp", "clear", "straight", "no bleed", "no bleeding", "not bled"),
        "soft": (
            "fuzzy",
            "blurred",
            "blurry",
            "hazy",
            "softened",
            "softish",
            "a bit soft",
            "bit soft",
            "a little soft",
            "slightly soft",
        ),
        "bled": ("bleeds", "bleeding", "bleed", "halo", "crept", "migrated", "ran", "smudged", "smeared"),
    },
    "strength": {
        "strong": ("very strong", "powerful"),
        "fair": ("medium", "moderate", "ok", "okay", "good"),
        "faint": ("weak", "light", "very faint", "barely there"),
        "gone": ("none", "no scent", "no smell", "nothing", "vanished", "lost"),
    },
    "gel": {
        "full": ("complete", "gelled", "fully gelled", "all through", "yes"),
        "partial": ("half", "partly", "ring", "in the middle", "centre only", "center only", "dark ring"),
        "none": ("no", "not gelled", "did not gel", "didn't gel", "ungelled", "no gel"),
    },
    "ash": {
        "none": ("no",),
        "slight": ("some", "a little", "a bit", "light", "minor", "yes"),
        "heavy": ("lots", "a lot", "thick", "bad", "much"),
    },
    **{
        field: {
            "none": ("no", "never", "smooth"),
            "slight": ("some", "a little", "a bit", "a few", "light", "minor"),
            "bad": ("lots", "a lot", "heavy", "many", "severe", "badly"),
        }
        for field in ("ricing", "rivers", "spots")
    },
}
"""Field → the word of the note → what people say for it."""
NAMES: Final = {
    "edge": ("edge", "edges", "line", "lines"),
    "strength": ("smell", "smells", "scent", "strength"),
    "gel": ("gel",),
    "ash": ("ash", "soda ash"),
    "rivers": ("rivers", "glycerine rivers", "glycerin rivers"),
    "spots": ("spots", "orange spots", "dots"),
    "ricing": ("ricing", "rice", "grains"),
}
"""Field → what it is called within a few words."""
BY_ITSELF: Final[dict[str, Said]] = {
    "riced": [("ricing", "bad")],
    "rices": [("ricing", "bad")],
    "seized": [("minutes to thick", "1 min")],
    "bled": [("edge", "bled")],
    "halo": [("edge", "bled")],
    "no halo": [("halo", "0 mm")],
    "halo none": [("halo", "0 mm")],
    "clean": [("edge", "clean")],
    "gelled": [("gel", "full")],
    "fully gelled": [("gel", "full")],
    "no bleed": [("edge", "clean")],
    "soda ash": [("ash", "slight")],
    "glycerin rivers": [("rivers", "slight")],
    "glycerine rivers": [("rivers", "slight")],
    "orange spots": [("spots", "slight")],
    "partial gel": [("gel", "partial")],
    "strong": [("strength", "strong")],
    "barely there": [("strength", "faint")],
    "scentless": [("strength", "gone")],
    "no scent": [("strength", "gone")],
    "no smell": [("strength", "gone")],
}
"""What can mean one thing only."""
_HALO: Final = re.compile(
    r"(?:edge|halo|brown|tan|faint|tint(?:ed)?|margin|bled|bleed|creep(?:s|ing)?|crept|went|of|about|by|is|a|:|=|\s)*"
    rf"(?P<size>{TYPED}(?:\s*(?:-|to)\s*{TYPED})?\s*(?:mm|cm|in|inch(?:es)?|\"))"
    r"(?:\s*(?:of|halo|brown|margin|in|wide|deep|into it|creep|bleed))*",
    re.I,
)


_LEAD: Final = re.compile(
    r"^(?:(?:the|a|it|is|was|are|went|turned|turns|got|came out|still|now|looks?|mostly|all|some)\s+)+",
    re.IGNORECASE,
)
_DAY: Final = re.compile(
    r"\b(?:(?:by|at|after|on|in)\s+)?(?:(?:day|week|wk|month)s?\s*\d+|\d+\s*(?:days?|weeks?|wks?|months?))\b",
    re.IGNORECASE,
)
_SPOT: Final = re.compile(
    r"\b(?:(?:at|on|along|round|around|in|of) the (?:rim|edges?|middle|sides?|top|faces?|bars?)|on top"
    r"|where (?:it|they)\b.*)",
    re.IGNORECASE,
)
_DENIED: Final = re.compile(
    r"n't\b|\b(?:not|never|hardly|nearly|almost|than|or|maybe|like|should|would|planned|expected)\b",
    re.IGNORECASE,
)


def days_in(text: str) -> list[str]:
    """The days that a sentence names: "day 2", "after 3 weeks"."""
    return [" ".join(found[0].split()) for found in _DAY.finditer(text)]


def meant_loosely(clause: str) -> Said:
    """As ``meant``, of a clause with verbs, days and places round it; nothing where it denies or compares."""
    if _DENIED.search(clause):
        return []
    core = " ".join(_SPOT.sub(" ", _DAY.sub(" ", clause)).split())
    return meant(core) or meant(_LEAD.sub("", core).strip())


def meant(part: str) -> Said:
    """(field, value) of a few words that name no field; nothing where they may mean several things."""
    plain = " ".join(part.casefold().replace("’", "'").split())
    if halo := _HALO.fullmatch(plain):
        size = re.sub(r"\s*(?:\"|inch(?:es)?)$", " in", halo["size"])
        return [("edge", "bled"), ("halo", size)]
    if plain in BY_ITSELF:
        return BY_ITSELF[plain]
    for field, names in NAMES.items():
        for name in names:
            rest = plain.removeprefix(f"{name} ").removesuffix(f" {name}").strip()
            if rest != plain and (value := value_meant(field, rest)) in VALUES[field]:
                return [(field, value)]
    told = _colour(plain)
    return [("colour", told)] if told else []


def value_meant(field: str, value: str) -> str:
    """The word of a note that a value of a field stands for; the value itself where none is known."""
    plain = " ".join(value.casefold().split())
    for word, others in VALUES.get(field, {}).items():
        if plain == word or plain in others:
            return word
    return value


def colour_meant(value: str) -> str:
    """A band or hex as typed, any other colour by the hex of its words; NotAskable for none."""
    told = _colour(" ".join(value.casefold().split()))
    if told:
        return told
    from blendwise.science.said_colours import colour_names

    near = nearest(value, (*BANDS, *colour_names()))
    like = f'The nearest is "{near}"; write' if near else "Write"
    raise NotAskable(
        f'"{value}" is not a colour that is known here.',
        f'{like} {", ".join(BANDS)}, a common colour such as "orangey tan" or "pale pink", or six digits in '
        'quotes, like "#a0b1c2".',
    )


def _colour(plain: str) -> str | None:
    from blendwise.answers.spreadsheet.words.vocabulary import WORDS
    from blendwise.science.said_colours import hex_of_words

    if plain in BANDS or re.fullmatch(r"#[0-9a-f]{6}", plain):
        return plain
    from blendwise.science.colour_words import hex_of_word

    return (
        hex_of_word(plain)
        or next(
            (band for band, words in WORDS["browns to"].items() if plain in words and band != BANDS[0]), None
        )
        or hex_of_words(plain)
    )
