"""What stands where it does not belong: alkalis, poisons, scents, fats, and what is no fat among the fats.

An alkali beside the lye burns, and a scent that is no scent to the plan escapes its limit: both are refused
wherever they are written, with the place where they belong.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from blendwise.facts.situation.additions.additives import as_alkali, family, known, meant, words_of
from blendwise.facts.situation.problems import Problems
from blendwise.records import BookFiles, OwnAdditive, Plan, Recipe, Record
from blendwise.records.kinds.additive import NAOH
from blendwise.science.constituents import candidates
from blendwise.science.plants import carried_by, is_strong
from blendwise.science.substance_names import letters_apart, nearest, said_of
from blendwise.science.substances import Substance

Named = tuple[Record, tuple[str, ...], str, str]
"""The record that names it, the way to it in the file, the name, and what it stands as."""

ADDITIVE, OWN, OIL, MIXED, EMBED, COLOUR, SCENT = (
    *("an additive", "an entry of additives.yaml", "a base oil", "an oil mixed in"),
    *("an embed", "a colourant", "a scent"),
)
# How much stronger than the table's an acid may be: vinegar is sold at 4 to 25 %, a pure acid is what it is.
STRONGER: Final = 6.0
OF_ANOTHER_SOURCE: Final = 1.1
WATERY: Final = 0.1
PRESSED: Final = frozenset({"seed", "berry", "kernel", "butter", "fat"})
"""Parts of plants that fats are pressed from: laurel berry, basil seed."""
ALSO_FATS: Final = frozenset({"almond", "almonds", "mandel", "amande"})
OF_A_SCENT: Final = frozenset({"oil", "essential", "absolute", "resinoid", "otto", "extract"})
FATTY: Final = 0.9
"""Fat in a substance, as a fraction, from which it may be a fat of the recipe."""
# What these are called after may be the name of a fat too (rosehip, pumpkin seed), unless its form is named.
FOOD: Final = frozenset({"botanical", "grain", "purée", "tea"})
FORMS: Final = frozenset(
    {
        "puree",
        "flour",
        "powder",
        "petal",
        "leaf",
        "meal",
        "juice",
        "peel",
        "zest",
        "milk",
        "gel",
        "ground",
        "tea",
    }
)
# Things that may be had as food or powder and as a scent of the same name: which one is meant must be said.
EITHER: Final = frozenset({"botanical", "tea", "other", "preservative"})


def check_places(plan: Plan, recipe: Recipe | None, book: BookFiles, problems: Problems) -> None:
    """Report every alkali and poison, and every scent outside ``scents``, in the plan or additives.yaml."""
    for record, path, name, place in _named(plan, recipe, book):
        alkali = as_alkali(name)
        if alkali is not None:
            _refuse_alkali(alkali, (record, path, name, place), problems)
        elif (poison := known(name)) is not None and poison.kind == "poison":
            message = f'"{name}" never goes into soap: {poison.note}.'
            remedy = (
                "Take it out. If something else of that name is meant, say what it is (`vermilion mica`)."
            )
            problems.add(record, message, remedy, *path)
        elif place in (OIL, MIXED) and (other := _no_fat(name)) is not None:
            called = f'"{name}"' if _same(name, other) else f'"{name}", which reads as {other.name}'
            message = f"Lye makes no soap of {called}: it cannot stand as {place}."
            remedy = "Write it under `additives:`. If a fat is meant, give it the name of the fat."
            problems.add(record, message, remedy, *path)
        elif place != SCENT:
            _check_scent((record, path, name, place), plan, book, problems)
    for own in book.additives.values():
        _check_own(own, problems)


def _named(plan: Plan, recipe: Recipe | None, book: BookFiles) -> Iterator[Named]:
    if recipe is not None:
        yield from ((recipe, ("additives", name), name, ADDITIVE) for name in recipe.additives)
        yield from ((recipe, ("oils", name), name, OIL) for name in recipe.oils)
    for portion in plan.portions:
        yield from ((portion, ("mixed in", name), name, MIXED) for name in portion.mixed_in)
        yield from ((portion, ("colourants", name), name, COLOUR) for name in portion.colourants)
    for embed in plan.embeds:
        yield embed, ("what",), embed.what, EMBED
        yield from ((embed, ("scents", name), name, SCENT) for name in embed.scents)
    if plan.scents is not None:
        yield from ((plan.scents, ("blend", name), name, SCENT) for name in plan.scents.blend)
    for name, own in book.additives.items():
        yield own, (), name, OWN
        if own.same_as is not None:
            yield own, ("same as",), own.same_as, OWN


def _refuse_alkali(alkali: Substance, named: Named, problems: Problems) -> None:
    record, path, name, place = named
    read = f'"{name}" is {alkali.name}' if _same(name, alkali) else f'"{name}" reads as {alkali.name}'
    message = f"{read}, an alkali: it can never stand as {place}."
    match alkali.name:
        case "sodium hydroxide":
            remedy = "It belongs under `lye:`, such as `lye: {NaOH: 140 g}` or by superfat; take it out here."
        case "potassium hydroxide":
            remedy = "Lye is reckoned in sodium hydroxide only, and this is never converted: take it out."
        case _:
            remedy = "It makes the soap lye-heavy and is not reckoned with: take it out."
    if not _same(name, alkali):
        remedy += " If it is something else, give it the name of what it is."
    problems.add(record, message, remedy, *path)


def _same(name: str, row: Substance) -> bool:
    return words_of(name) in map(words_of, row.spellings)


def _no_fat(name: str) -> Substance | None:
    """What a name means, where that takes no lye as a fat does: a mineral oil, honey, milk, water."""
    row, words = known(name), set(words_of(name))
    if row is None or row.belongs == "oils.yaml":
        return None
    if row.fat >= FATTY and (row.acid > 0 or row.kind == "surfactant"):
        return None  # stearic acid, lecithin
    if row.kind in FOOD and words.isdisjoint(FORMS):
        return None
    return row


def _check_scent(named: Named, plan: Plan, book: BookFiles, problems: Problems) -> None:
    """Report a scent of the book, or what is called like one, that stands outside ``scents``."""
    record, path, name, place = named
    found = _scent_called(name, place, book)
    if found is not None:
        if place == EMBED and any(found in embed.scents for embed in plan.embeds if embed is record):
            return  # a piece of soap called after the scent in it
        if place == EMBED and words_of(found) != words_of(name):
            remedy = f"Write how much of it the pieces hold, such as `scents: {{{found}: 1 %}}`."
            problems.add(record, f'"{name}" is called after {found}, and names no scent.', remedy, *path)
            return
        remedy = (
            f'The nearest is "{found}" of scents.yaml, which belongs under `scents:`. {_otherwise(place)}'
        )
        problems.add(record, f'"{name}" is a scent: it cannot stand as {place}.', remedy, *path)
    elif _called_scent(name, place) or _called_plant(name, place) or _of_a_scent(name, place):
        remedy = f"Describe it in scents.yaml, and write it under `scents:`. {_otherwise(place)}"
        problems.add(record, f'"{name}" is a scent by its name: it cannot stand as {place}.', remedy, *path)
    elif place == ADDITIVE and _called_oil(name, book):
        message = f'"{name}" is an oil: as an additive neither its lye nor a limit would be reckoned.'
        remedy = (
            "A fat belongs in oils.yaml and under `oils:` or `mixed in:`; a scent or essential oil in "
            "scents.yaml and under `scents:`."
        )
        problems.add(record, message, remedy, *path)


def _otherwise(place: str) -> str:
    if place in (ADDITIVE, OWN):
        return "If food or a powder is meant, say so in its name (`peppermint leaf`, `coffee grounds`)."
    return "If something else is meant, give it another name."


def _scent_called(name: str, place: str, book: BookFiles) -> str | None:
    """The scent of the book that a name means: any spelling of it, and a slip of a letter or two."""
    words = words_of(name)
    for scent in book.scents:
        called = words_of(scent)
        if called == words:
            return None if _may_share(name, words, place) else scent
        if place == EMBED and len(called) > 1 and set(called) <= set(words):
            return scent
    if place not in (ADDITIVE, OWN) or known(name) is not None or family(name) is not None:
        return None
    ours = "".join(words)
    for scent in book.scents:
        theirs = "".join(words_of(scent))
        room = 2 if len(theirs) >= 10 else 1 if len(theirs) >= 6 else 0
        if room and letters_apart(ours, theirs, room) <= room:
            return scent
    return None


def _may_share(name: str, words: tuple[str, ...], place: str) -> bool:
    """Whether a name may be a scent's and, here, something else's: a fat, a food, a coloured powder."""
    row = known(name)
    if place in (OIL, MIXED):
        return not said_of("common fat").isdisjoint(words)
    if place == COLOUR:
        return row is not None
    return place != EMBED and row is not None and row.kind not in EITHER


def _called_scent(name: str, place: str) -> bool:
    """Whether a name says by itself that it is a scent: an essential oil, a fragrance, a perfume."""
    words = set(words_of(name))
    said = words & said_of("scent")
    if not said or known(name) is not None:
        return False
    return "oil" in words or (place != EMBED and said != {"essential"})


@lru_cache(maxsize=4096)
def _called_plant(name: str, place: str) -> bool:
    """Whether it is called like the oil of a plant that hurts, where a fat or a colour belongs."""
    words = set(words_of(name))
    if not (carried_by(name, only=True) or is_strong(words - ALSO_FATS)):
        return False
    if place in (OIL, MIXED):
        return words.isdisjoint(PRESSED) and words.isdisjoint(said_of("common fat"))
    return place == COLOUR and not words.isdisjoint(OF_A_SCENT)


def _of_a_scent(name: str, place: str) -> bool:
    """Whether it is called like what scents are made of (eugenol, lilial), and like nothing else here."""
    if place not in (ADDITIVE, OWN) or known(name) is not None or family(name) is not None:
        return False
    return bool(candidates(name))


def _called_oil(name: str, book: BookFiles) -> bool:
    """Whether a name that nobody has described is called an oil or a butter, and is none of the book."""
    words = words_of(name)
    if said_of("fatty").isdisjoint(words) or known(name) is not None or family(name) is not None:
        return False
    return words not in {words_of(each) for each in (*book.additives, *book.oils)}


def _check_own(own: OwnAdditive, problems: Problems) -> None:
    """Report an entry of additives.yaml that credits an acid to what is none, or is the same as nothing."""
    row = known(own.name)
    if own.same_as is not None:
        _check_same(own, own.same_as, row, problems)
    if own.lye is None or own.lye.grams <= 0 or row is None:
        return
    most = row.acid * NAOH * (STRONGER if row.water >= WATERY else OF_ANOTHER_SOURCE)
    if 0 < most < own.lye.grams:
        message = f'"{own.name}" never eats more than {most:.3g} g of lye a gram, and here it {own.lye}.'
        problems.add(own, message, "Look at the figure again, or leave it to the table.", "lye")
    if row.acid == 0:
        message = f'"{own.name}" is known not to eat lye, and here it {own.lye}.'
        problems.add(own, message, "If yours is something else, give it the name of what it is.", "lye")


def _check_same(own: OwnAdditive, same_as: str, row: Substance | None, problems: Problems) -> None:
    """Report a name that is said to mean what nobody knows, or other than what it is known to be."""
    other = meant(same_as)
    if other is None and as_alkali(same_as) is None:
        near = nearest(same_as)
        remedy = f'The nearest is "{near.name}".' if near else "Say what it does instead, such as `neutral`."
        problems.add(own, f'Nobody knows "{same_as}" either.', remedy, "same as")
    elif row is not None and other is not row:
        message = f'"{own.name}" is known as {row.name}, and here it is the same as {same_as}.'
        problems.add(own, message, "If yours is something else, give it the name of what it is.", "same as")
