"""What is asked of some oils: names, ratio, load, colour and pour; what is not said is the maker's usual."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from blendwise.answers.beliefs_told import said_of
from blendwise.answers.names import Found, find_name
from blendwise.answers.refusals import NotAskable, defer_health
from blendwise.beliefs.believe import AS_WRITTEN, Believing
from blendwise.beliefs.traits import USUAL_DOSE
from blendwise.quantity import Amount, Basis, Dimension, QuantityError, format_amount, parse_amount
from blendwise.records.book import BookFiles

WHITE: Final = "white"
MOST_OILS: Final = 8
MOST_LOAD: Final = 0.25
"""No soap holds a quarter of its oils in scent: such a load is a slip of the keyboard."""
LARGEST_PART: Final = 1000.0
PLAIN_MASS: Final = 1000.0
"""Grams of oils that are reckoned with where usual.yaml does not say how much is made."""
LOAD_BASES: Final = frozenset(
    {Basis.BATCH_OILS, Basis.OILS, Basis.PORTION_OILS, Basis.BATCH_BATTER, Basis.BATTER}
)


@dataclass(frozen=True, slots=True)
class Question:
    """A question ready to be worked out.

    ``oils``: names of the book; ``shares``: of the blend by mass, summing to 1; ``load``: as asked, of batch
    oils or batter; ``colour``: a colourant of the book, None for uncoloured (white) batter; ``said``: what
    was taken for granted, a sentence each.
    """

    book: BookFiles
    oils: tuple[str, ...]
    shares: tuple[float, ...]
    load: Amount
    today: date
    purpose: str = "sale"
    pour: str | None = None
    colour: str | None = None
    may_become: str | None = None
    stabilised: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    believing: Believing = AS_WRITTEN

    @property
    def title(self) -> str:
        """The oils in a row: "tonka-milk with lime"."""
        first, *others = self.oils
        return f"{first} with {' and '.join(others)}" if others else first


def ask(
    book: BookFiles,
    names: Sequence[str],
    *,
    today: date,
    ratio: str = "",
    load: str = "",
    pour: str = "",
    colour: str = "",
    purpose: str = "",
    stabilised: Sequence[str] = (),
) -> Question:
    """Read a question as typed.  NotAskable or QuantityError with what to write where that cannot be done."""
    found = find_oils(book, names)
    oils = tuple(each.name for each in found)
    shares = read_ratio(ratio, oils)
    amount, load_said = read_load(load, book)
    style = find_name(pour, book.pours, "pour style", "The rulebook") if pour else None
    held = [find_name(name, oils, "oil", "The question") for name in stabilised]
    tint = None if colour.casefold().strip() in ("", WHITE, "uncoloured") else _colour(colour, book)
    said = [
        *(taken for each in (*found, style, tint) if each is not None and (taken := _taken(each))),
        *_recipe_said(book),
        *load_said,
        *_ratio_said(ratio, shares),
        *_open_said(style, tint, purpose),
    ]
    return Question(
        book,
        oils,
        shares,
        amount,
        today,
        read_purpose(purpose),
        style.name if style else None,
        tint.name if tint else None,
        stabilised=tuple(each.name for each in held),
        said=tuple(said),
    )


def believed(question: Question, believing: Believing) -> Question:
    """The question with own looks counted (or not), and that said of its oils."""
    records = [question.book.scents[name] for name in question.oils]
    told = said_of(believing, records, question.book.scales)
    return replace(question, believing=believing, said=(*question.said, *told))


def ask_along(book: BookFiles, name: str, *, ratio: str = "", **said: Any) -> Question:
    """A question about one oil beside each of the others: as ``ask``, but the ratio has two parts."""
    asked = ask(book, [name], **said)
    shares = read_ratio(ratio, (asked.oils[0], "each other oil"))
    equal = [] if ratio.strip() else ["No ratio is given: equal parts by mass."]
    return replace(asked, shares=shares, said=(*asked.said, *equal))


def find_oils(book: BookFiles, names: Sequence[str]) -> list[Found]:
    """The oils meant; NotAskable for an empty shelf, an unknown or an ambiguous name, the same oil twice."""
    if not book.scents:
        raise NotAskable("The shelf is empty: scents.yaml names no oil.", "Write your oils into scents.yaml.")
    if not names:
        raise NotAskable("No oil is named.", "Name one or more, such as `blendwise pair lime cedar`.")
    found = [find_name(name, book.scents, "scent") for name in names]
    for index, each in enumerate(found):
        twin = next((other for other in found[:index] if other.name == each.name), None)
        if twin is not None:
            raise NotAskable(
                f'"{twin.typed}" and "{each.typed}" are the same oil, {each.name}.',
                f'Name each oil once; a name of two words stands in quotes ("{twin.typed} {each.typed}").',
            )
    if len(found) > MOST_OILS:
        raise NotAskable(f"{len(found)} oils are too many for one look.", f"Name at most {MOST_OILS}.")
    return found


def _colour(text: str, book: BookFiles) -> Found:
    if not book.colourants:
        raise NotAskable(
            "The book has no colourants.", "Write them into colourants.yaml, or leave out --colour."
        )
    return find_name(text, book.colourants, "colourant")


def read_ratio(text: str, oils: Sequence[str]) -> tuple[float, ...]:
    """Shares of the blend from "2:1:1", equal where nothing was said; NotAskable where they do not match."""
    defer_health(text)
    parts = [part.strip() for part in text.split(":")] if text.strip() else ["1"] * len(oils)
    if len(parts) != len(oils):
        raise NotAskable(
            f'The ratio "{text}" has {_number(len(parts), "part")} for {_number(len(oils), "oil")}.',
            f"Write one part for each oil, such as {':'.join(['2', *['1'] * (len(oils) - 1)])}.",
        )
    numbers = [_part(part, text) for part in parts]
    return tuple(number / sum(numbers) for number in numbers)


def _part(part: str, text: str) -> float:
    try:
        amount = parse_amount(
            part, Dimension.PARTS, Dimension.FRACTION, default_basis=Basis.WHOLE, ranges=False
        )
    except QuantityError as error:
        raise NotAskable(
            f'The ratio "{text}" cannot be read: {error.message}', "Write it like 2:1."
        ) from error
    if not 0 < amount.value <= LARGEST_PART:
        raise NotAskable(
            f'The ratio "{text}" has a part of {part}.',
            f"Each part must be above 0 and at most {LARGEST_PART:g}.",
        )
    return amount.value


def _number(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def read_load(text: str, book: BookFiles) -> tuple[Amount, list[str]]:
    """The load and what is to be said of it; NotAskable where no soap could hold it."""
    if not text.strip():
        usual = book.usual.load
        if usual is not None:
            return usual, [f"The load is your usual one, {format_amount(usual, book.usual.units)}."]
        assumed = Amount(USUAL_DOSE, USUAL_DOSE, Dimension.FRACTION, Basis.BATCH_OILS, "4 % of batch oils")
        return assumed, ["usual.yaml names no load: 4 % of batch oils is taken, as is common practice."]
    defer_health(text)
    bare = text.strip().replace(".", "", 1).isdigit()
    amount = parse_amount(
        f"{text} %" if bare else text,
        Dimension.FRACTION,
        bases=LOAD_BASES,
        default_basis=Basis.BATCH_OILS,
        ranges=False,
    )
    if not 0 < amount.value <= MOST_LOAD:
        raise NotAskable(
            f'A load of "{text}" is not one that soap is made with.',
            "Usual are 2 to 6 % of oils; write --load 4%.",
        )
    if amount.basis in (Basis.OILS, Basis.PORTION_OILS):
        amount = replace(amount, basis=Basis.BATCH_OILS)
    return amount, [
        f'"{text.strip()}" is taken as {format_amount(amount)}.'
    ] if bare or "of" not in text else []


def read_purpose(text: str) -> str:
    """sale or home; questions of health are deferred."""
    word = text.strip().casefold()
    if word in ("", "sale", "home"):
        return word or "sale"
    defer_health(text)
    raise NotAskable(f'"{text}" is not what soap is made for here.', "Write --for sale or --for home.")


def _taken(found: Found) -> str:
    return f'"{found.typed}" is taken as {found.name}.' if found.guessed else ""


def _recipe_said(book: BookFiles) -> Iterator[str]:
    recipe = book.usual.recipe
    if recipe is None:
        return
    oils = ", ".join(f"{name} {amount.text}" for name, amount in recipe.oils.items())
    amount = recipe.amount
    grams = f", {amount.oils.text} of oils" if amount and amount.oils else ""
    yield f"The batter is your usual recipe: {oils}{grams}."
    if amount is None and all(a.dimension is Dimension.FRACTION for a in recipe.oils.values()):
        yield f"usual.yaml does not say how much is made: {PLAIN_MASS:g} g of oils are reckoned with."


def _ratio_said(text: str, shares: Sequence[float]) -> Iterator[str]:
    if not text.strip() and len(shares) > 1:
        yield "No ratio is given: equal parts by mass."


def _open_said(pour: Found | None, colour: Found | None, purpose: str) -> Iterator[str]:
    if colour is None:
        yield "No colour is given: uncoloured (white) batter that is to stay white."
    if pour is None:
        yield "No pour is given: all of the rulebook's are tried."
    if not purpose.strip():
        yield "Nothing is said of what it is for: it is judged as soap for sale."
