"""Words of somebody who is hurt, or may be: first aid is told before anything else, whatever was asked."""

from __future__ import annotations

import re
from typing import Final

WHOSE: Final = r"(?:my|his|her|their|your|the (?:child|kid|dog|cat)'?s)"
PART: Final = (
    r"(?:skin|hands?|fingers?|thumbs?|wrists?|arms?|elbows?|face|cheeks?|chin|neck|lips?|mouth|tongue|throat"
    r"|chest|stomach|belly|legs?|knees?|thighs?|foot|feet|toes?|eyes?|eyelids?)"
)
WHO: Final = (
    r"(?:i|we|he|she|they|somebody|someone|kids?|child|children|toddler|baby|son|daughter|boy|girl|husband|wife"
    r"|friend|dogs?|cats?|puppy|kitten|pet)"
)
CAUSTIC: Final = r"(?:lye|caustic|batter|raw soap|soda|hydroxide)"
ACCIDENT: Final = re.compile(
    rf"\b(?:in the eyes?|(?:in|into|on|onto|over|down|up) {WHOSE} (?:left |right |bare )?{PART}"
    rf"|{WHO} (?:has |have |just |may have |might have |must have |accidentally )*"
    r"(?:ate|eaten|licked|lapped|drank|drunk|tasted|chewed|sipped|gulped|bit|bitten)"
    r"|swallow\w*|drank|burn(?:ed|t|s|ing)? (?:me|my|him|his|her)|splash(?:ed)? (?:me|my)|poison\w*"
    rf"|blisters? on {WHOSE}"
    rf"|{WHOSE} {PART} (?:is |are |still |really |now )*(?:burn|sting|hurt|red\b|blister)\w*"
    r"|burn(?:ed|t)? (?:my|him|her|them)sel(?:f|ves)|(?:lye|chemical|caustic) burns?"
    r"|(?:inhal\w*|breath\w*) (?:some |the |in |of |a |lot )*(?:lye|fumes?|vapou?rs?|steam|dust|powder)"
    rf"|{CAUSTIC} (?:got |is |ran |went |leaked |dripped )*(?:in|into|inside|down) {WHOSE} "
    r"(?:gloves?|boots?|shoes?|socks?|sleeves?))\b",
    re.IGNORECASE,
)
NEAR_BODY: Final = re.compile(
    rf"\b{CAUSTIC}\b.{{0,40}}\b(?:{WHOSE} (?:left |right )?{PART}|eyes?|nose|lungs?|hair)\b"
    rf"|\bgloves? (?:leak|tore|rip|split)\w*.{{0,20}}\b{CAUSTIC}\b",
    re.IGNORECASE,
)
EATEN: Final = re.compile(
    r"\b(?:can|may|could|should|shall|safe|ok|okay|fine|want)\b[^.]{0,24}\b(?:drink|eat|lick|swallow|chew|gargle)\b"
    r"|\b(?:edible|toothpaste|mouthwash|tooth soap)\b",
    re.IGNORECASE,
)
"""It is asked whether soap or lye can be eaten or drunk: what would be done then is said at once."""
FOOD: Final = re.compile(
    r"\b(?:drink|eat)\s+(?:(?:the|my|this|some|a|an|rest of the)\s+)*"
    r"(?:goats?|oat|rice|almond|coconut|butter)?\s*(?:milk|buttermilk|honey|tea|coffee|wine|beer|oats?|oatmeal)\b",
    re.IGNORECASE,
)
OF_THE_POT: Final = re.compile(
    rf"\b(?:{CAUSTIC}|soap\w*|bars?|scent\w*|fragrance|essential|oils?|drops?|mica|fumes?|with|into|in it)\b",
    re.IGNORECASE,
)
"""Beside these what is eaten or drunk is no food."""
HARMLESS: Final = re.compile(r"\b(?:smells?|rubs? off|colou?rs?|lathers?|stains?|dyes?)\b", re.IGNORECASE)
HARM: Final = re.compile(rf"\b(?:{CAUSTIC}|burn\w*|sting\w*|hurt\w*|blister\w*|swallow\w*)\b", re.IGNORECASE)


def is_accident(asked: str) -> bool:
    """Whether lye or batter touched somebody, or was swallowed or breathed in, or may be."""
    if HARMLESS.search(asked) and not HARM.search(asked):
        return False
    if FOOD.search(asked) and not OF_THE_POT.search(asked):
        return any(words.search(asked) for words in (ACCIDENT, NEAR_BODY))
    return any(words.search(asked) for words in (ACCIDENT, NEAR_BODY, EATEN))
