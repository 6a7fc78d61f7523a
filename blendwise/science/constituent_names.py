"""Spellings of substances: the keys under which a name on a paper is looked up, and CAS numbers.

A key is a name in lower case, Greek letters written out, everything but letters and digits left out: then
"benzylbenzoate" and "Benzyl Benzoate" are one.  What a spelling *drops* is bounded.  Marks of optical form
((R), (+), d-, dl-) go, for no list parts by them; a geometry ((E), trans-, cis-) is kept first, and dropped
only for substances of which any form is meant.  Greek letters, iso-, neo- and place numbers never go.

Formula: check digit of a CAS number = Σ i × digit i, from the right, without the check digit, modulo 10.
Source: CAS, "Check Digit Verification of CAS Registry Numbers" (from memory); spellings as papers print them.
Check: 2,114 names of papers against a table made by hand; pairs that must stay apart; check digits.
Limits: no chemistry is understood: a systematic name is found only where the table holds it.
"""

from __future__ import annotations

import re
import unicodedata

from blendwise.quantity.cas import CAS, DASHES, GLUED

LONGEST_NAME = 200  # signs; what is longer is no name of a substance, and costs time to take apart
LEAST_WORD = 6  # letters of a word that may lose or gain its final e; shorter ones are abbreviations

_GREEK = {"α": "alpha", "β": "beta", "γ": "gamma", "δ": "delta", "ε": "epsilon", "ω": "omega", "τ": "tau"}
_DOTTED = re.compile(r"\.(alpha|beta|gamma|delta|epsilon|omega|tau)\.-?")  # as libraries of spectra print
_CAS_WORDS = re.compile(r"\bcas(?:[\s-]*(?:rn|nr|no|number|registry number)\b)?[.:#\s]*")
_MARK = r"(?:\d{0,2}[a-d]?'{0,2}[ezrs]\*?|\+/?-|[+-]|dl|d|l|trans|cis|rac|rel)"
_IN_BRACKETS = re.compile(rf"[(\[]\s*{_MARK}(?:\s*[,/]?\s*{_MARK})*\s*[)\]]-?")
_OPTICAL = re.compile(r"(dl|d[,/]l|l[,/]d|d|l|rac|rel|r|s|\+/?-|[+-])[-\s]\s*(?=\S)")
_SIDE = r"\d{0,2}(?:trans|cis|[ezt])"
_GEOMETRY = re.compile(rf"((?:all-|\d{{1,2}}-)?{_SIDE}(?:[,-]\s*(?:\d{{1,2}}-)?{_SIDE})*)[-\s]\s*(?=\S)")
_LETTER = re.compile(r"([abgy])[-\s]\s*(?=\S)")
_LETTERS = {"a": "alpha", "b": "beta", "g": "gamma", "y": "gamma"}
_LETTER_FIRST = re.compile(r"(alpha|beta|gamma|delta)[-\s]*(trans|cis)-")
_L_AS_ONE = re.compile(r"1-(?=[a-z][a-z -]*$)")  # l-carvone, read by a scanner
_LONG_TAIL = re.compile(r"(.+?)[\s,(\[-]+((?:(?:alpha|beta|gamma|delta|trans|cis)-?)+)[)\]]?")
_SHORT_TAIL = re.compile(r"(.+?)\s*[,(\[]\s*((?:dl|[dlezabg])-?)[)\]]?")
_OTHER_SIGNS = re.compile("[^a-z0-9]+")
_FORMED = re.compile(r"(?:trans|cis)-")
_INDEX = re.compile(r"([^,]+),\s*(\S.*-)")  # Phenol, 2-methoxy-
_REMARK = re.compile(
    r"(?:(?:sum|mix|mixture|total|all|both|mixed) ?(?:of )?)?(?:the )?"
    r"(?:isomers?|furanoid|pyranoid|natural|synthetic|nature identical|total|sum|(?:eu )?allergen|traces?)"
)


def without_cas(text: str) -> str:
    """The text without its CAS numbers and the words that announce them."""
    plain = GLUED.sub(" ", text.translate(DASHES))
    rest = CAS.sub(" ", plain)
    return text if rest == plain else _CAS_WORDS.sub(" ", rest.casefold())


def key_of(name: str) -> str:
    """The name as letters and digits: what two spellings have in common (E is written trans)."""
    return _squeezed(_written(name))


def rounds_of_keys(name: str) -> tuple[tuple[str, ...], ...]:
    """Keys to look a name up by, in rounds from strict to looser; the first that finds anything ends it.

    Strict: the name as written.  Then with its marks of form in front; then with a final e put on or taken
    off (safrol, coumarine).  Within one round two finds contradict each other.
    """
    strict = (_squeezed(_written(name)),)
    fronted = tuple(map(_squeezed, _moved(name)))
    return _filled(strict, fronted, _final_e(strict + fronted))


def rounds_without_geometry(name: str) -> tuple[tuple[str, ...], ...]:
    """Keys without trans or cis, for substances of which any form is meant; none where it has neither."""
    bare = tuple(_squeezed(text[text.index("-") + 1 :]) for text in _moved(name) if _FORMED.match(text))
    return _filled(bare, _final_e(bare))


def parts_of(name: str) -> tuple[str, ...]:
    """The several names that one spelling gives, as "estragole (methyl chavicol)"; empty if only one.

    A remark in brackets (furanoid, sum of isomers, natural) is left out; anything else must be a name itself.
    """
    bracket = re.fullmatch(r"(.+?)\s+[(\[]([^()\[\]]+)[)\]]", name.strip())
    if bracket:
        outside, inside = bracket.groups()
        said = [part for part in _alternatives(inside) if not _REMARK.fullmatch(part.casefold())]
        return (outside, *said)
    several = _alternatives(name)
    return several if len(several) > 1 else ()


def _alternatives(text: str) -> tuple[str, ...]:
    parts = re.split(r"\s*[;=]\s*|\s+[/+&]\s+|\s+(?:or|and)\s+", text)
    return tuple(part.strip() for part in parts if part.strip())


def _written(name: str) -> str:
    """Lower case, Greek written out, accents off, marks of form in brackets as trans-, cis- or left out."""
    text = name.casefold() if name.isascii() else _in_ascii(name)
    if "." in text:
        text = _DOTTED.sub(r"\1-", text)
    if "(" in text or "[" in text:
        text = _IN_BRACKETS.sub(lambda found: _geometry(found.group()), text)
    return text.strip(" ,;.*")


def _in_ascii(name: str) -> str:
    text = unicodedata.normalize("NFKC", name).casefold().translate(DASHES).replace("±", "+-")
    for sign, word in _GREEK.items():
        text = text.replace(sign, f"{word}-").replace("--", "-")
    return "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))


def _geometry(marks: str) -> str:
    """trans- for E alone, cis- for Z alone, nothing for both or neither."""
    trans = bool(re.search(r"trans|(?<![a-z])\d*[et](?![a-z])", marks))
    cis = bool(re.search(r"cis|(?<![a-z])\d*z(?![a-z])", marks))
    return "" if trans == cis else "trans-" if trans else "cis-"


def _moved(name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(form for text in _turned(_written(name)) for form in _fronted(text)))


def _turned(text: str) -> tuple[str, ...]:
    """The text, and with what stands behind a comma, or a last Greek letter or mark of form, in front."""
    forms = [text]
    if tail := _LONG_TAIL.fullmatch(text) or _SHORT_TAIL.fullmatch(text):
        forms.append(f"{tail[2].rstrip('-')}-{tail[1]}")
    if index := _INDEX.fullmatch(text):
        forms.append(f"{index[2]}{index[1]}")
    elif ", " in text:
        head, _, behind = text.partition(", ")
        forms.append(f"{behind} {head}")
    return tuple(forms)


def _fronted(text: str) -> tuple[str, ...]:
    """The text with its leading marks read: optical ones gone, geometry first, a- alpha, d- also delta."""
    geometry, delta = "", False
    text = _L_AS_ONE.sub("", text.lstrip("-+ "))
    while True:
        if found := _GEOMETRY.match(text):
            geometry = _geometry(found[1]) or geometry
        elif found := _OPTICAL.match(text):
            delta = delta or found[1] == "d"
        else:
            break
        text = text[found.end() :].lstrip("-+ ")
    if swapped := _LETTER_FIRST.match(text):
        geometry, text = f"{swapped[2]}-", f"{swapped[1]}-{text[swapped.end() :]}"
    if letter := _LETTER.match(text):
        text = f"{_LETTERS[letter[1]]}-{text[letter.end() :]}"
    return (geometry + text, f"{geometry}delta-{text}") if delta else (geometry + text,)


def _filled(*rounds: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(key for key in each if key) for each in rounds)


def _squeezed(text: str) -> str:
    return _OTHER_SIGNS.sub("", text)


def _final_e(keys: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(key[:-1] if key.endswith("e") else f"{key}e" for key in keys if len(key) >= LEAST_WORD)
