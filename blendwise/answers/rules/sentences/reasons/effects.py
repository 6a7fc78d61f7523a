"""What clauses tell that happens, how soon and to what colour: parts of a reason, never of a demand.

"It goes brown in a week" tells; "it goes in after 3 minutes" demands, and is never taken for telling.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from blendwise.answers.rules.sentences.terms import read_table

TABLE: Final = {
    term.letter: frozenset(term.said) for term in read_table(Path(__file__).with_name("asides.txt"))
}
TELLING, HAPPENS = TABLE["telling"], TABLE["happens"]
_STRONG: Final = (TELLING | HAPPENS) - TABLE["weak"]
"""Verbs that tell by themselves; "goes" and "gets" may place something, too."""
_MANY: Final = r"(?:an?|the|one|two|three|four|five|six|eight|ten|twelve|some|every|a few|the first|\d+)"
_SPAN: Final = r"(?:minute|hour|day|night|week|month|year|time)s?"
_HUE: Final = "|".join(TABLE["colours"])
_TURNED: Final = re.compile(
    r"\b(?:go|goes|going|went|gone|turn|turns|turned|turning|become|becomes|became|becoming|get|gets|got|look|looks"
    r"|stains?|stained|dyes?|dyed|makes?|made)"
    r"(?: (?:to|all|too|very|a bit|more|my|the|a|an|it|them|everything|whole|loaf|batch|soap|bar|log"
    r"|always|slowly|completely|like))*"
    rf"(?: (?:{_HUE})(?:ish)?)* (?:{_HUE}|flat|sour|bad|off|stone|rancid)(?:ish)?"
    r"(?: (?:ring|spot|line|streak|halo|patche?|bit)s?)?\b"
    rf"|\b(?:{_HUE}) (?:ring|spot|line|streak|halo|patche?)s?\b",
    re.IGNORECASE,
)
_HOW: Final = (
    "fast|quick|quickly|early|soon|hot|warm|cold|strong|thick|heavy|hard|much|many|dark|light|brown|yellow"
)
_FAST: Final = re.compile(
    rf"(?<!the )(?<!for )(?<!in )\b(?:{_HOW}|a lot|a bit|(?:straight|right) away)\b", re.IGNORECASE
)
_TOO: Final = re.compile(rf"\b(?:(?:too|so|very) (?:{_HOW})|both(?= \w))\b", re.IGNORECASE)
_WHEN: Final = re.compile(
    rf"\b(?:(?:in|within|after|by|over|about|at|around)(?: about| only| just)? (?:{_MANY} )?{_SPAN}"
    rf"|by (?:day|week|month) (?:\d+|{_MANY})|over ?night|(?:every|each) time|from {_MANY} {_SPAN}"
    r"|last (?:year|time|week|month|summer|winter|fall|autumn|spring)"
    r"|(?:my|the|a) (?:whole )?(?:loaf|batch|soap|bar|log))\b",
    re.IGNORECASE,
)
_WHERE: Final = re.compile(
    r"\b(?:in|on|into) (?:me|us|(?:the|my) (?:cure|shelf|suds|lather|nose|hands?|cloth|skin|towel|bath))\b",
    re.IGNORECASE,
)
PLACED: Final = re.compile(
    r"\b(?:go|goes|come|comes|get|gets|is|are|put|puts|move|moves|sit|sits|stay|stays|live|lives|belong|belongs|keep"
    r"|keeps|add|pour|use) (?:it |them |only |always )?"
    r"(?:in|into|inside|onto?|at|under|over|after|before|with|within|without|between|up to|from|for|by)\b",
    re.IGNORECASE,
)
"""What puts something somewhere, or at a time."""
NEGATED: Final = re.compile(
    r"\b(?:(?:do|does|did|is|are|was|were|can|could|will|would)(?:n't| ?not)"
    r"|(?:makes?|has|have|had|gives?|leaves?|gets?|got|is|are|was|there's|there is) (?:no|not|nothing)"
    r"|nobody|nothing)\b",
    re.IGNORECASE,
)
MORE: Final = re.compile(
    r"^(?:and |but |if )?(?:any(?:thing)? )?(?:more|less|over|above|beyond|higher|hotter|warmer|older|longer)"
    r"(?: (?:than )?(?:that|this|it))?(?= (?:and |then |it |is|it's"
    r"|gets?|makes?|goes|turns?|will|would|just|only )\b| \w+s\b)",
    re.IGNORECASE,
)
"""Whoever goes past the bound, of whom a reason tells: "more makes no foam"."""


def without_effects(clause: str) -> str:
    """A clause without how soon, how much and to what colour something happens; places stay as they are."""
    if PLACED.search(clause):
        return clause
    clause = _TOO.sub(_blank, clause)
    turned = _TURNED.sub(_blank, clause)
    words = set(re.findall(r"[^\W\d_]+", clause.casefold()))
    if turned == clause and not words & _STRONG:
        return clause
    for effect in (_WHEN, _WHERE, _FAST):
        turned = effect.sub(_blank, turned)
    return turned


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])
