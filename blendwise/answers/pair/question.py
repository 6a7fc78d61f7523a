"""What is asked of some oils: names, ratio, load, colour and pour; what is not said is the maker's usual."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from blendwise.answers.looks_counted import looks_counted
from blendwise.answers.names import Found, find_name
from blendwise.answers.refusals import NotAskable, defer_health
from blendwise.beliefs.believe import AS_WRITTEN, Believing
from blendwise.beliefs.traits import USUAL_DOSE
from blendwise.facts.assumed import Assumed, assumed
from blendwise.quantity import Amount, Basis, Dimension, QuantityError, parse_amount
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
    said: tuple[Assumed, ...] = ()
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
    style = _style(pour, book) if pour else None
    held = [find_name(name, oils, "oil", "The question") for name in stabilised]
    tint = None if colour.casefold().strip() in ("", WHITE, "uncoloured") else _colour(colour, book)
    said = [
        *(_taken(each) for each in (*found, style, tint) if each is not None and each.guessed),
        *_recipe_said(book),
        *load_said,
        *_ratio_said(ratio, shares),
        *_open_said(style, tint),
        *_purpose_said(purpose, book),
    ]
    return Question(
        book,
        oils,
        shares,
        amount,
        today,
        read_purpose(purpose.strip() or book.usual.for_ or ""),
        style.name if style else None,
        tint.name if tint else None,
        stabilised=tuple(each.name for each in held),
        said=tuple(said),
    )


def believed(question: Question, believing: Believing) -> Question:
    """The question with own looks counted (or not), and that said of its oils."""
    records = [question.book.scents[name] for name in question.oils]
    told = looks_counted(believing, records, question.book.scales)
    return replace(question, believing=believing, said=(*question.said, *told))


def ask_along(book: BookFiles, name: str, *, ratio: str = "", **said: Any) -> Question:
    """A question about one oil beside each of the others: as ``ask``, but the ratio has two parts."""
    asked = ask(book, [name], **said)
    shares = read_ratio(ratio, (asked.oils[0], "each other oil"))
    equal = [] if ratio.strip() else [Assumed("no ratio")]
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


def read_load(text: str, book: BookFiles) -> tuple[Amount, list[Assumed]]:
    """The load and what is to be said of it; NotAskable where no soap could hold it."""
    if not text.strip():
        usual = book.usual.load
        if usual is not None:
            return usual, [assumed("usual load", load=usual.value, of=str(usual.basis or ""))]
        common = Amount(USUAL_DOSE, USUAL_DOSE, Dimension.FRACTION, Basis.BATCH_OILS, "4 % of batch oils")
        return common, [Assumed("no usual load")]
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
    plain = bare or "of" not in text
    taken = assumed("load taken as", typed=text.strip(), load=amount.value, of=str(amount.basis or ""))
    return amount, [taken] if plain else []


def read_purpose(text: str) -> str:
    """sale or home; questions of health are deferred."""
    word = text.strip().casefold()
    if word in ("", "sale", "home"):
        return word or "sale"
    defer_health(text)
    raise NotAskable(f'"{text}" is not what soap is made for here.', "Write --for sale or --for home.")


def _taken(found: Found) -> Assumed:
    return assumed("taken as", typed=found.typed, name=found.name)


def _recipe_said(book: BookFiles) -> Iterator[Assumed]:
    recipe = book.usual.recipe
    if recipe is None:
        return
    amount = recipe.amount
    yield assumed(
        "usual recipe",
        oils=tuple(f"{name} {share.text}" for name, share in recipe.oils.items()),
        mass=amount.oils.text if amount and amount.oils else None,
    )
    if amount is None and all(a.dimension is Dimension.FRACTION for a in recipe.oils.values()):
        yield assumed("no usual mass", grams=PLAIN_MASS)


def _ratio_said(text: str, shares: Sequence[float]) -> Iterator[Assumed]:
    if not text.strip() and len(shares) > 1:
        yield Assumed("no ratio")


def _open_said(pour: Found | None, colour: Found | None) -> Iterator[Assumed]:
    if colour is None:
        yield Assumed("no colour")
    if pour is None:
        yield Assumed("any pour")


def _purpose_said(purpose: str, book: BookFiles) -> Iterator[Assumed]:
    usual = book.usual.for_
    if not purpose.strip():
        yield assumed("usual purpose", purpose=usual) if usual else Assumed("no purpose")


def _style(pour: str, book: BookFiles) -> Found:
    meant = book.pour_named(pour)
    return find_name(meant.name if meant else pour, book.pours, "pour style", "The rulebook")
