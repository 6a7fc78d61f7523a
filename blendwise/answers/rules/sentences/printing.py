"""A rule printed as the sentence that is read back as that rule; in its plain form where it has no shape."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from blendwise.answers.rules.sentences.alike import alike, rule_of
from blendwise.answers.rules.sentences.draft import Draft
from blendwise.answers.rules.sentences.fitting.cups import CUP_RATES, RATES
from blendwise.answers.rules.sentences.fitting.quantities import BAR
from blendwise.answers.rules.sentences.plain import say_plain
from blendwise.answers.rules.sentences.reading import rule_in_words
from blendwise.answers.rules.sentences.saying.conditions import (
    OILS,
    bounds_said,
    colour_said,
    condition_said,
    conditions_said,
    names_said,
    oils_said,
    place_said,
    subject_of,
    tail,
)
from blendwise.answers.rules.sentences.terms import FLAGS, MEASURES, printed
from blendwise.facts.measures.named import strangers
from blendwise.judge.conditions.conditions import BOUNDS, Atom
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.book import BookFiles

_PLACES: Final = frozenset({"planned lightness", "place", "portion", "pour", "month"})


def sentence_of(rule: Rule, book: BookFiles) -> str:
    """One line that says the rule, and is read back as it."""
    for said in _tried(rule):
        for text in (said, f"{rule.level}: {said}", f"{rule.level}: always {said}"):
            found = rule_in_words(text, book)
            if isinstance(found, Draft) and not found.asks:
                back = rule_of(found)
                if back is not None and alike(back, rule):
                    return text
    return say_plain(rule.looks_at, rule.record.when, rule.record.must, rule.level)


def _tried(rule: Rule) -> Iterator[str]:
    """What may say it, the first that fits its shape."""
    if rule.must.branches or len(rule.must.atoms) != 1 or len(rule.when.branches) > 1:
        return
    when = list(rule.when.atoms) + [atom for branch in rule.when.branches for atom in branch]
    for shape in _SHAPES:
        said = shape(rule.looks_at, when, rule.must.atoms[0])
        if said:
            yield said


def _apart(grain: str, when: list[Atom], must: Atom) -> str:
    if grain != "pair" or must.measure != "together" or tail(must) != "no":
        return ""
    one = subject_of(when, "one ")
    other = subject_of(one[1], "other ") if one else None
    rest = conditions_said(other[1]) if other else None
    return f"never {one[0]} with {other[0]}{rest}" if one and other and rest is not None else ""


def _of_oils(when: list[Atom], core: Callable[[str], str], behind: str = "") -> str:
    """A sentence about oils, with the conditions that are left behind it."""
    subject = subject_of(when)
    rest = conditions_said(subject[1]) if subject else None
    return f"{core(subject[0])}{rest}{behind}" if subject and rest is not None else ""


def _with(grain: str, when: list[Atom], must: Atom) -> str:
    if grain != "dose" or must.measure != "with" or must.relation not in ("is", "one of"):
        return ""
    words = " or ".join(printed("X", word) for word in must.words)
    return _of_oils(when, lambda oils: f"{oils} only with {words}")


def _there(grain: str, when: list[Atom], must: Atom) -> str:
    if grain not in ("dose", "scent") or must.measure not in _PLACES:
        return ""
    only, never = place_said(must), place_said(must, negated=True)
    if not (only or never):
        return ""
    return _of_oils(when, lambda oils: f"{oils} only {only}" if only else f"{oils} never {never}")


def _coloured(grain: str, when: list[Atom], must: Atom) -> str:
    """Colourants that belong in some cups alone, and two that share none."""
    held = next((a for a in when if a.measure in _COLOURS and a.relation in ("is", "one of")), None)
    if grain != "portion" or held is None:
        return ""
    rest = conditions_said([atom for atom in when if atom is not held])
    words = " and ".join(held.words)
    if rest is None:
        return ""
    if must.measure == "colourants" and must.relation == "none of":
        return f"no {words} and {' and '.join(must.words)} together in one cup{rest}"
    only = place_said(must) if must.measure in _PLACES else ""
    return f"{words} only {only}{rest}" if only else ""


_COLOURS: Final = ("colourants", "colourant kinds")


def _embed(grain: str, when: list[Atom], must: Atom) -> str:
    rest = conditions_said(when)
    fits = grain == "embed" and must.measure == "embed holds" and must.relation == "none of"
    return f"no {' and '.join(must.words)} {printed('E', 'embed')}{rest}" if fits and rest is not None else ""


def _beside(grain: str, when: list[Atom], must: Atom) -> str:
    if grain != "edge" or must.measure != "touching" or tail(must) != "no":
        return ""
    sides = [_side(when, side) for side in ("one ", "other ")]
    if not all(sides):
        return ""
    (one, first), (other, second) = (side for side in sides if side)
    rest = conditions_said([atom for atom in when if atom not in (first, second)])
    return f"{one} never next to {other}{rest}" if rest is not None else ""


def _side(when: list[Atom], side: str) -> tuple[str, Atom] | None:
    for atom in when:
        measure = atom.measure.removeprefix(side) if atom.measure.startswith(side) else ""
        if measure == "portion" and atom.relation in ("is", "one of"):
            return " and ".join(f"portion {word}" for word in atom.words), atom
        if measure in ("holds", *_COLOURS) and atom.relation in ("is", "one of"):
            return " and ".join(printed("X", word) for word in atom.words), atom
        if (said := printed("f", measure)) != measure and tail(atom) == "yes":
            return said, atom
        if measure == "planned lightness" and atom.relation in BOUNDS and (word := colour_said(atom, False)):
            return word.removeprefix("in "), atom
    return None


def _last(grain: str, when: list[Atom], must: Atom) -> str:
    found = strangers(must.measure)
    if grain != "portion" or found is None or not found[0].startswith("scented after") or tail(must) != "no":
        return ""
    rest = [atom for atom in when if atom.measure not in ("scented", "holds")]
    said = conditions_said(rest)
    return f"{names_said(found[1])} last{said}" if said is not None else ""


def _bound(grain: str, when: list[Atom], must: Atom) -> str:
    """A bound on the minute, the batter's warmth or the bottle's age of oils."""
    said = bounds_said(must)
    if not said:
        return ""
    text = must.limits[0].text
    match grain, must.measure:
        case "dose", ("scented at" | "batter temperature"):
            return _of_oils(when, lambda oils: f"{oils} {said}")
        case "portion", "batter temperature":
            return _with_held(when, f"batter {said}", "colourants")
        case "scent", "share in bar" if must.relation in ("at most", "below"):
            return _of_oils(when, lambda oils: f"{oils} {said.removesuffix(BAR).rstrip()} {BAR}")
        case "scent", ("bottle age" | "certificate age") if must.relation == "at most":
            aged = "" if must.measure == "bottle age" else "with a certificate "
            age = text if " " in text else f"{text} years"
            return _of_oils(when, lambda oils: f"no {oils} {aged}older than {age}") or _of_all(
                when, f"no {'' if aged else 'bottle '}{aged}older than {age}"
            )
        case "batch", "batter temperature":
            return _with_held(when, f"batter {said}", "additives", "additive ")
    return ""


def _of_all(when: list[Atom], core: str) -> str:
    rest = conditions_said(when)
    return f"{core}{rest}" if rest is not None else ""


def _with_held(when: list[Atom], core: str, measure: str, called: str = "") -> str:
    """A sentence on cups or batches that hold a colourant or an additive."""
    held = next((atom for atom in when if atom.measure == measure and atom.relation == "one of"), None)
    rest = conditions_said([atom for atom in when if atom is not held]) if held else None
    return f"{core} with {called}{' or '.join(held.words)}{rest}" if held and rest is not None else ""


def _apart_in_bar(grain: str, when: list[Atom], must: Atom) -> str:
    one, other = strangers(when[0].measure) if when else None, strangers(must.measure)
    if grain != "batch" or not (one and other and one[0] == other[0] and other[0].startswith("grams of")):
        return ""
    rest = conditions_said(when[1:])
    core = f"never {names_said(one[1])} with {names_said(other[1])} in one batch"
    return f"{core}{rest}" if rest is not None else ""


def _scent_with_colour(grain: str, when: list[Atom], must: Atom) -> str:
    colours = next((atom for atom in when if atom.measure == "colourants"), None)
    if grain != "portion" or must.measure != "holds" or must.relation != "none of":
        return ""
    if not when:
        return f"{names_said(must.words)} {printed('E', 'only embed')}"
    if colours is None:
        return ""
    rest = conditions_said([atom for atom in when if atom is not colours])
    core = f"no {names_said(must.words)} with {' and '.join(colours.words)}"
    return f"{core}{rest}" if rest is not None else ""


def _additives(grain: str, when: list[Atom], must: Atom) -> str:
    rest = conditions_said(when)
    fits = grain == "batch" and must.measure == "additives" and must.relation == "none of"
    return (
        f"no {' and '.join(f'additive {word}' for word in must.words)}{rest}"
        if fits and rest is not None
        else ""
    )


def _amount(grain: str, when: list[Atom], must: Atom) -> str:
    """How much: a relation and a limit on named things, a constituent or a measure that has a wording."""
    said = bounds_said(must)
    if not said:
        return ""
    if must.measure == "scent rate":
        when = [atom for atom in when if atom.measure != "scented"]
    rest = conditions_said(when)
    what, basis = _what(must)
    if rest is None or not what:
        return ""
    behind = f" {basis}" if basis and " of " not in said and must.word.dimension == "FRACTION" else ""
    return f"{what} {said}{behind}{rest}"


def _what(must: Atom) -> tuple[str, str]:
    """What a measure is of, in words, and the basis that its limit may lack."""
    named = strangers(must.measure)
    if named is not None:
        pattern, names = named
        basis = printed("z", "of its scent") if pattern.startswith("share of") else must.word.basis
        return ("additive " if pattern.startswith("additive") else "") + names_said(names), basis
    for place in (" in portion", " in bar"):
        if must.measure.endswith(place):
            return must.measure.removesuffix(place), must.word.basis
    basis = must.word.basis if must.measure in ("scent rate", "scent of batch oils") else ""
    measure = "scent rate" if must.measure == "scent of batch oils" else must.measure
    return next((t.said[0] for t in MEASURES if t.value == measure), ""), basis


_COUNTED: Final = {"scents in portion": "in one cup", "scents in batch": "in one batch"}


def _count(grain: str, when: list[Atom], must: Atom) -> str:
    rest, named = conditions_said(when), strangers(must.measure)
    said = bounds_said(must)
    if rest is None or not said:
        return ""
    if must.measure == "portions":
        return f"{said} portions{rest}"
    if named and named[0].startswith("scents in"):
        place = "in one batch" if grain == "batch" else "in one cup"
        return f"{said} {names_said(named[1])} {place}{rest}"
    if must.measure in _COUNTED:
        return f"{said} scents {_COUNTED[must.measure]}{rest}"
    if must.measure == "share":
        return f"{said} of the batter{rest or ' in any portion'}"
    if must.measure == "portion mass":
        return f"each cup {said}{rest}"
    if named and named[0].startswith(("portions with", "portions coloured with")):
        return f"{said} cups with {names_said(named[1])}{rest}"
    return ""


def _each(grain: str, when: list[Atom], must: Atom) -> str:
    said = bounds_said(must)
    if grain != "dose" or must.measure != "dose" or not said:
        return ""
    return _of_oils(when, lambda oils: f"{oils} each {said}")


def _conditioned(grain: str, when: list[Atom], must: Atom) -> str:
    """ "no lime when …" of what may not be, "lime only when …" of what must."""
    if grain not in ("dose", "scent"):
        return ""
    never = condition_said(_denied(must)) if must.relation in DENIED else None
    if never and never.startswith("when "):
        return _of_oils(when, lambda oils: f"no {oils}", f" {never}")
    only = condition_said(must)
    if only and only.startswith("when "):
        return _of_oils(when, lambda oils: f"{oils} only", f" {only}")
    return ""


DENIED: Final = {"at most": "above", "at least": "below", "below": "at least", "above": "at most",
                 "is not": "is", "none of": "one of"}  # fmt: skip


def _denied(atom: Atom) -> Atom:
    return replace(atom, relation=DENIED[atom.relation])


def _nothing_but(grain: str, when: list[Atom], must: Atom) -> str:
    if grain != "dose" or must.measure not in OILS or not (oils := oils_said(must.measure, must)):
        return ""
    cups = [atom for atom in when if atom.measure in ("planned lightness", "place", "portion")]
    rest = conditions_said(when)
    return f"nothing but {oils}{rest}" if cups and rest is not None else ""


def _no_flag(grain: str, when: list[Atom], must: Atom) -> str:
    if grain != "batch" or must.relation not in ("is", "is not"):
        return ""
    rest = conditions_said(when)
    for term in FLAGS:
        measure, _, said = term.value.partition(": ")
        if measure == must.measure and tail(must) == {"is yes": "no", "is no": "yes"}.get(said, "") and rest:
            return f"no {term.said[-1]}{rest}"
    return ""


def _no_gel(grain: str, when: list[Atom], must: Atom) -> str:
    if must.measure != "gel" or must.relation != "is" or tail(must) != "avoid":
        return ""
    if grain == "batch":
        rest = conditions_said(when)
        return f"no gel{rest}" if rest is not None else ""
    return _of_oils(when, lambda oils: f"{oils}: no gel") if grain == "dose" else ""


def _none_of_a_rate(grain: str, when: list[Atom], must: Atom) -> str:
    rest = conditions_said(when)
    of_rate = must.measure in (RATES if grain == "batch" else CUP_RATES)
    if not of_rate or not bounds_said(must).startswith("at most 0 %") or not rest:
        return ""
    return f"no {printed('M', must.measure)}{rest}"


def _colourants(grain: str, when: list[Atom], must: Atom) -> str:
    rest = conditions_said(when)
    if grain == "portion" and tail(must) == "no" and rest and printed("f", must.measure) != must.measure:
        return f"no {printed('f', must.measure)}{rest}"
    if grain == "portion" and must.measure == "colourant kinds" and must.relation == "none of":
        return f"no {' and '.join(must.words)}{rest}" if rest else ""
    fits = grain == "portion" and must.measure == "colourants" and must.relation == "none of"
    return f"no {' and '.join(must.words)}{rest}" if fits and rest is not None else ""


def _no_fat(grain: str, when: list[Atom], must: Atom) -> str:
    named, rest = strangers(must.measure), conditions_said(when)
    none_of = named and named[0].startswith("oil share") and bounds_said(must) == "at most 0 %"
    return f"no {names_said(named[1])}{rest}" if named and none_of and rest is not None else ""


def _unscented(grain: str, when: list[Atom], must: Atom) -> str:
    rest = conditions_said(when)
    fits = grain == "portion" and must.measure == "scented" and tail(must) == "no"
    return f"no scent{rest}" if fits and rest else ""


def _papers(grain: str, when: list[Atom], must: Atom) -> str:
    asked = must.measure == "certificate" and tail(must) == "yes"
    if grain != "scent" or not (asked or (must.measure == "allergen sheet" and len(must.words) == 2)):
        return ""
    subject = subject_of(when)
    oils, left = subject or ("nothing", when)
    rest = conditions_said(left)
    return f"{'no ' if subject else ''}{oils} without {must.measure}{rest}" if rest is not None else ""


_SHAPES: Final = (
    _apart, _with, _no_gel, _each, _none_of_a_rate, _coloured, _count, _bound, _amount, _there, _embed,
    _beside, _last, _colourants, _unscented, _papers, _apart_in_bar, _scent_with_colour, _additives, _no_fat,
    _nothing_but, _conditioned, _no_flag,
)  # fmt: skip
