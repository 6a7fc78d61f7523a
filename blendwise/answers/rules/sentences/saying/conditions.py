"""Who is meant, where and when, and how much, as words that are read back: each part of a rule by itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from blendwise.answers.rules.sentences.parts import BY_SORT
from blendwise.answers.rules.sentences.terms import FLAGS, LIGHTNESS, MEASURES, printed
from blendwise.judge.conditions.conditions import BOUNDS, Atom

Atoms = Sequence[Atom]
DENYING: Final = ("is not", "none of")
OILS: Final = frozenset({"scent", "tags", *(measure for measure, _ in BY_SORT.values())})


def subject_of(atoms: Atoms, side: str = "") -> tuple[str, list[Atom]] | None:
    """Who is meant, and the lines that are left."""
    for atom in atoms:
        measure = atom.measure.removeprefix(side) if atom.measure.startswith(side) else ""
        if measure in OILS and (said := oils_said(measure, atom)):
            return said, [each for each in atoms if each is not atom]
    return None


def oils_said(measure: str, atom: Atom) -> str:
    if measure in ("scent", "tags"):
        return " and ".join(atom.words) if atom.relation in ("is", "one of") else ""
    text = f"{atom.relation} {atom.limits[0].text}" if atom.limits else ""
    wanted = (measure, text.removeprefix("is "))
    return next((printed("X", sort) for sort, line in BY_SORT.items() if line == wanted), "")


def conditions_said(atoms: Atoms) -> str | None:
    """Conditions behind the core of a sentence; None where one of them has no wording."""
    said = [condition_said(atom) for atom in atoms]
    return None if None in said else "".join(f" {each}" for each in said)


def condition_said(atom: Atom) -> str | None:
    place = place_said(atom)
    if place:
        return place
    if atom.measure == "holds" and atom.relation in ("is", "one of"):
        return f"when {' or '.join(printed('X', name) for name in atom.words)} is in it"
    if atom.measure in ("scent", "tags") and atom.relation == "none of":
        return f"unless {' and '.join(atom.words)}"
    if atom.measure == "additives" and atom.relation in ("is", "one of"):
        return f"with {' or '.join(f'additive {word}' for word in atom.words)}"
    if atom.measure in ("colourants", "colourant kinds") and atom.relation in ("is", "one of"):
        return f"when {' or '.join(atom.words)} is in it"
    flag = f"{atom.measure}: {tail(atom)}"
    told = (flag, flag.replace(": ", ": is "), f"{atom.measure}: {atom.relation} {tail(atom)}")
    for term in FLAGS:
        if atom.relation not in DENYING and term.value in told:
            return f"when {term.said[0]}"
    measured = next((t.said[0] for t in MEASURES if t.value == atom.measure), None)
    said = bounds_said(atom)
    return f"when {measured} {said}" if measured and said else _unless(atom)


def _unless(atom: Atom) -> str | None:
    """A condition that only its exception has a wording for: "unless for home", "unless in snow pour"."""
    if atom.relation in DENYING:
        for term in FLAGS:
            measure, _, said = term.value.partition(": ")
            if measure == atom.measure and said.removeprefix("is ") == tail(atom):
                return f"unless {term.said[0]}"
    said = place_said(atom, negated=True)
    return f"unless {said}" if said else None


def bounds_said(atom: Atom) -> str:
    """ "at most 2 %", "between 4 % and 7 %"; nothing for what is no bound on figures alone."""
    if atom.relation not in (*BOUNDS, "between") or atom.limit_measures:
        return ""
    ends = [limit.text for limit in atom.limits]
    if len(ends) == 2 and (of := ends[1].partition(" of ")[2]):  # "between 1 % and 2 % of portion oils"
        ends[0] = ends[0].removesuffix(f" of {of}")
    return f"{atom.relation} {' and '.join(ends)}"


def tail(atom: Atom) -> str:
    return atom.limits[0].text if atom.limits else " ".join(atom.words)


def place_said(atom: Atom, *, negated: bool = False) -> str:
    """A cup, a pour or months, as words behind "in"; nothing for any other line."""
    words = " and ".join(atom.words)
    one_of = atom.relation == ("none of" if negated else "one of") or (atom.relation == "is" and not negated)
    match atom.measure:
        case "planned lightness" if atom.relation in BOUNDS and not atom.limit_measures:
            return colour_said(atom, negated)
        case "place" if one_of:
            return f"in {words} portions"
        case "portion" if one_of and atom.words:
            return f"in portion {' and portion '.join(atom.words)}"
        case "pour" if one_of and words:
            return f"in {words} pour"
        case "month" if one_of and words:
            return f"in {words}"
        case "month" if one_of and atom.limits:
            return f"in {atom.limits[0].text}"
    return ""


def colour_said(atom: Atom, negated: bool) -> str:
    turned = (
        {"below": "at least", "above": "at most"}
        if negated
        else {"at least": "at least", "at most": "at most"}
    )
    wanted = turned.get(atom.relation), atom.limits[0].value
    return next((f"in {word}" for word, line in LIGHTNESS.items() if line == wanted), "")


def names_said(names: Sequence[str]) -> str:
    return " and ".join(printed("X", name) for name in names)
