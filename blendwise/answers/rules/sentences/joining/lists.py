"""Names in a list ("lime, litsea and cedar") as one part; words that only carry others left out."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from blendwise.answers.rules.sentences.draft import SUBJECTS, UnsureError
from blendwise.answers.rules.sentences.joining.spans import ENDS, spans_of
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.answers.rules.sentences.parts import BY_SORT, span_of_months

_LISTED: Final = re.compile(
    r"\W*(?:,|\b(?:and|or|nor|plus)\b|&|\+|/)\W*(?:(?:and|or|a|an|the)\b\W*)*", re.IGNORECASE
)
_JOINED: Final = re.compile(r"(?:[\W]|\b(?:in|the|a|an|any|for|cups?|portions?)\b)*\b(?:and|or|nor)\b"
                            r"(?:[\W]|\b(?:in|the|a|an|any|for)\b)*", re.IGNORECASE)  # fmt: skip


_UNLESS_IN: Final = re.compile(r"\bunless\b.*\bin(?: it)?\W*$", re.IGNORECASE)
_AGAIN: Final = re.compile(r"\W*(?:and|or)?\W*\b(?:no|nor|not|never)\b\W*(?:the|a|an|any)?\W*", re.IGNORECASE)


def joined(parts: list[Token], text: str) -> list[Token]:
    """Names in a list ("lime, litsea and cedar") as one part; words that only carry others left out.

    ValueError where nothing is demanded; UnsureError where a list may be of cups that are both, or each.
    """
    found: list[Token] = []
    parts = _by(parts, text)
    parts = _of_a_kind(_within(_one_measure(_unless_in(_turned_flags(_permitted(parts)), text))))
    parts = spans_of(_asking(_rated(_without_repeats(parts, text))), text)
    parts = _each_of_oils(parts)
    counts = any(part.letter == "#" for part in parts)
    alone = not any(part.letter in "XCsM" for part in parts)
    for at, part in enumerate(parts):
        before = found[-1] if found else None
        if part.letter == "&" and _joins_demands(parts, at):
            raise ValueError("two demands")
        if _says_nothing(part, before, parts[at + 1] if at + 1 < len(parts) else None, counts):
            continue
        several = text[part.start : part.end].endswith("s") and [each.letter for each in parts] == [
            "c",
            "R",
            "#",
        ]
        if part.letter == "c" and alone and (several or (before is not None and before.letter == "#")):
            part = replace(part, letter="M", values=("portions",))
        between = text[before.end : part.start] if before is not None else ""
        if before is not None and _both_or_each(before, part, between):
            raise UnsureError((f"{before.value} …", f"{part.value} …"))
        if before is not None and part.letter == before.letter and part.letter in "XSPCBDUVW":
            listed = _LISTED.fullmatch(between.replace("-", " ")) or _AGAIN.fullmatch(between)
            span = part.letter == "S" and _is_span(found, between)
            if listed or span:
                found[-1] = _together(before, part, span)
                if span and len(found) > 1 and found[-2].letter == "R":
                    del found[-2]  # "between May and August"
                continue
        found.append(part)
    return _belonging(found)


def _by(parts: list[Token], text: str) -> list[Token]:
    """ "By minute 5" is at most that late."""
    if any(part.letter == "R" for part in parts):
        return parts
    found: list[Token] = []
    for part in parts:
        if part.letter == "I" and _LATEST.search(text[: part.start]):
            found.append(Token("R", ("at most",), part.start, part.start))
        found.append(part)
    return found


_LATEST: Final = re.compile(r"\bby(?: the)?\W*$", re.IGNORECASE)


def _joins_demands(parts: list[Token], at: int) -> bool:
    """Whether "and" or "or" stands before a bound, a "no" or an "only": a demand of its own."""
    following = parts[at + 1].letter if at + 1 < len(parts) else ""
    bounded = any(part.letter == "R" for part in parts[at + 1 :])
    conditions = any(part.letter == "k" for part in parts[:at])
    return following in ("N", "O") or (following in ("R", "M") and bounded and not conditions)


def _says_nothing(part: Token, before: Token | None, after: Token | None, counts: bool) -> bool:
    """Whether a part only carries those beside it: "white cups", "in the batter", "with a column"."""
    following = after.letter if after is not None else ""
    behind = before.letter if before is not None else ""
    match part.letter:
        case "&" | "i":
            return True
        case "w":
            return bool(following) and following in "RUWPVST"
        case "O":  # "below 85 °F or not at all"
            return not following and bool(behind) and behind in f"{ENDS}z"
        case "z":
            return part.value == "in bar" and not counts
        case "c" | "s":
            carried = "WPVUE" if counts else "WPVUEX"
            return (bool(behind) and behind in carried) or following == ("X" if part.letter == "s" else "V")
        case "M" if part.value == "portions":  # "light colours"
            return bool(behind) and behind in "WPVX"
        case "M" if part.value == "scent rate":
            sort = behind == "X" and before is not None and before.value in BY_SORT  # "no fast scent"
            return (following == "X" and behind in ("", "N")) or (sort and following in ("", *"WPVU"))
    return False


def _is_span(found: list[Token], between: str) -> bool:
    """Whether months are the ends of a span: "May to August", "between May and August"."""
    opened = len(found) > 1 and found[-2].letter == "R" and found[-2].value == "between"
    return opened or bool({"to", "through", "until", "till", "thru", "-", "–"} & set(between.split()))


def _permitted(parts: list[Token]) -> list[Token]:
    """ "may go in white, but not in black" demands what stands behind "not"; "may" alone demands nothing."""
    at = next((k for k, part in enumerate(parts) if part.letter == "p"), None)
    found: list[Token] = []
    for part in parts:
        if part.letter == "q":  # "unscented"
            found += [
                replace(part, letter="N", values=("no",)),
                replace(part, letter="M", values=("scent rate",)),
            ]
        elif part.letter != "p":
            found.append(part)
    if at is None:
        return found
    demands = next((k for k, part in enumerate(parts[at:], at) if part.letter in "NObu"), None)
    if any(part.letter in "NOb" for part in parts[:at]):
        return found
    if demands is None:
        if not any(part.letter == "R" and part.value in ("at most", "below") for part in parts):
            raise ValueError("nothing is demanded")
    elif (
        demands is not None
        and parts[demands].letter == "N"
        and {p.letter for p in parts[at:demands]} & set("WPVUS")
    ):
        allowed, forbidden = (
            {(p.letter, p.values) for p in some if p.letter in "WPVUS"}
            for some in (parts[at:demands], parts[demands:])
        )
        if allowed & forbidden:  # allowed and forbidden there at once
            raise ValueError("contradicts itself")
        return [part for part in found if not parts[at].start <= part.start < parts[demands].start]
    return [part for part in found if part.letter != "G"]


def _each_of_oils(parts: list[Token]) -> list[Token]:
    """ "each" matters where oils are measured, each by itself; "each cup" is any cup."""
    measured = any(part.letter == "A" for part in parts)
    found = []
    for at, part in enumerate(parts):
        beside = {each.letter for each in (*parts[max(0, at - 1) : at], *parts[at + 1 : at + 2])}
        behind = at == len(parts) - 1 and not beside & set("cT")  # "lime and cedar at most 2 % each"
        if part.letter != "j" or (measured and (behind or beside & {"X", "M", "s"})):
            found.append(part)
    return found


def _turned_flags(parts: list[Token]) -> list[Token]:
    """ "without gel" is gel not forced, "out of embeds" is not in one."""
    found: list[Token] = []
    for part in parts:
        kept_out = len(found) > 1 and found[-1].letter == "N" and "X" in found[-2].letter
        if kept_out and part.letter == "F" and part.value == "embeds: is yes":  # "lime out of embeds"
            part = replace(part, letter="E", values=("embed",))
        if found and found[-1].letter == "o" and part.letter == "F" and part.value in TURNED:
            part = replace(part, values=(TURNED[part.value],))
            found.pop()
        found.append(part)
    return found


TURNED: Final = {"gel: force": "gel: is not force", "embeds: is yes": "embeds: is no"}


def _unless_in(parts: list[Token], text: str) -> list[Token]:
    """ "unless cedar's in" is "unless with cedar"."""
    if len(parts) < 2 or not _UNLESS_IN.search(text):
        return parts
    ends = parts[-1] if parts[-1].letter != "i" else parts[-2]
    return [*parts, Token("w", ("with",), ends.end, ends.end)] if "X" in ends.letter else parts


def _one_measure(parts: list[Token]) -> list[Token]:
    """ "the batter must stay fluid for 14 minutes" is of the fluid time; the batter is only named."""
    parts = [
        replace(part, letter="z", values=("of batter",)) if _of_batter(parts, at) else part
        for at, part in enumerate(parts)
    ]
    measures = [part for part in parts if part.letter == "M"]
    warm = any(part.letter == "H" for part in parts)
    if warm or len(measures) < 2:
        return parts
    return [part for part in parts if part.letter != "M" or part.value != "batter temperature"]


def _of_batter(parts: list[Token], at: int) -> bool:
    """ "half the batter": a share of it, not its warmth."""
    part, before = parts[at], parts[at - 1].letter if at else ""
    return part.letter == "M" and part.value == "batter temperature" and before == "A"


def _within(parts: list[Token]) -> list[Token]:
    """ "within 5 to 8 %" is a span, "within 2 years" an age; "but" before a bound excepts nothing."""
    parts = [
        part
        for part, after in zip(parts, [*parts[1:], None], strict=True)
        if not (part.letter == "u" and part.end - part.start == len("but") and after and after.letter == "R")
    ]
    return [
        part
        for part, after in zip(parts, [*parts[1:], None], strict=True)
        if not (part.letter == "g" and part.value == "within" and after and after.letter in "AH#JI")
    ]


def _of_a_kind(parts: list[Token]) -> list[Token]:
    """ "goat milk batches" are batches with goat milk; "batch" behind anything else says nothing."""
    found: list[Token] = []
    for part in parts:
        if part.letter == "d":
            if found and found[-1].letter == "D" and (len(found) < 2 or found[-2].letter not in "kwu"):
                found.insert(-1, replace(found[-1], letter="k", values=("when",)))
            elif any(each.letter == "#" for each in parts) and not any(each.letter == "z" for each in parts):
                found.append(replace(part, letter="z", values=("in batch",)))
        else:
            found.append(part)
    return found


def _without_repeats(parts: list[Token], text: str) -> list[Token]:
    """ "no charcoal and no indigo in white": the second "no" says again what the first said of both."""
    kept: list[Token] = []
    for at, part in enumerate(parts):
        before = next((each for each in reversed(kept) if each.letter != "&"), None)
        after = parts[at + 1] if at + 1 < len(parts) else None
        again = part.letter == "N" and any(each.letter == "N" for each in kept)
        alike = before and after and before.letter == after.letter and before.letter in SUBJECTS
        if not (again and alike and before and after and _AGAIN.fullmatch(text[before.end : after.start])):
            kept.append(part)
    return kept


def _asking(parts: list[Token]) -> list[Token]:
    """ "a column needs 20 minutes of working time" asks for at least so many."""
    letters = {part.letter for part in parts}
    if {"e", "I", "U"} <= letters and not {"R", "M"} & letters:  # "a column needs 10 minutes"
        ends = parts[-1].end
        parts, letters = [*parts, Token("M", ("minutes fluid",), ends, ends)], letters | {"M"}
    if not {"e", "I", "M"} <= letters or "R" in letters:
        return parts
    return [replace(part, letter="R", values=("at least",)) if part.letter == "e" else part for part in parts]


def _both_or_each(before: Token, part: Token, between: str) -> bool:
    """ "white and outer cups", "in a column or in white": cups that are both, or each of them?"""
    several = {before.letter, part.letter} <= set("WPVUS") and before.letter != part.letter
    return several and _JOINED.fullmatch(between) is not None


def _rated(parts: list[Token]) -> list[Token]:
    """ "20 g of peppermint per kilo": the mass and what it is a rate of as one amount."""
    rate = next((part for part in parts if part.letter == "K"), None)
    mass = next((part for part in parts if part.letter == "J"), None)
    if rate is None or mass is None or mass.value.split()[1] != rate.value.split()[0]:
        return parts
    amount = replace(mass, letter="A", values=(f"{mass.value.split()[0]} {rate.value}",))
    return [amount if part is mass else part for part in parts if part is not rate]


def _belonging(parts: list[Token]) -> list[Token]:
    """ "clove goes in the last portion" is "only in"; beside another word the going says nothing."""
    letters = "".join(part.letter for part in parts if part.letter != "c")
    letter = "O" if re.fullmatch(r"XG[PWVS]", letters) else ""
    return [
        replace(part, letter=letter) if part.letter == "G" else part
        for part in parts
        if letter or part.letter != "G"
    ]


def _together(before: Token, part: Token, span: bool) -> Token:
    """Two parts of a kind as one; two months with "to" between them are a span."""
    values = (*before.values, *part.values)
    if span:
        values = span_of_months(before.values[-1], part.value)
    return replace(before, values=tuple(dict.fromkeys(values)), end=part.end)
