"""What is asked of two or more oils: names, ratio, load, colour and pour; what is not said is the maker's usual."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Final

from blendwise.answers.asking import NotAskable, defer_health
from blendwise.answers.names import Found, find_name
from blendwise.facts.appearance import ASSUMED_RATE
from blendwise.facts.situation import USUAL_DOSE, Situation, work_out
from blendwise.quantity import Amount, Basis, Dimension, QuantityError, format_amount, parse_amount
from blendwise.records.book import BookFiles
from blendwise.records.colourant import Colourant
from blendwise.records.fields import Dose
from blendwise.records.plan import Plan, Portion, Scents
from blendwise.records.recipe import Process, Recipe, RecipeAmount

BAR: Final = "bar"
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
                f'"{twin.typed}" and "{each.typed}" are the same oil, {each.name}.', "Name each oil once."
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


def recipe_of(book: BookFiles) -> tuple[Recipe | None, Process | None]:
    """The usual recipe with an amount (None where usual.yaml gives it whole, and the plan need not).

    NotAskable where usual.yaml has no recipe or no lye to reckon with.
    """
    recipe = book.usual.recipe
    if recipe is None or (recipe.lye or book.usual.lye) is None:
        lacking = "recipe" if recipe is None else "lye"
        raise NotAskable(
            f"usual.yaml names no {lacking}, and without batter nothing can be reckoned.",
            f"Write your usual `{lacking}:` into usual.yaml.",
        )
    if recipe.amount is not None or any(a.dimension is Dimension.MASS for a in recipe.oils.values()):
        return None, None
    oils = Amount(PLAIN_MASS, PLAIN_MASS, Dimension.MASS, None, f"{PLAIN_MASS:g} g")
    whole = recipe.model_copy(update={"amount": RecipeAmount.model_construct(oils=oils)})
    return whole, Process.model_construct(stays_fluid=book.usual.stays_fluid)


@dataclass(frozen=True, slots=True)
class Cup:
    """A portion of a plan made in memory: its colourants as rates of its oils, its scents as rates of its oils."""

    name: str
    share: float = 1.0
    colour: str | None = None
    scents: Mapping[str, float] | None = None
    may_become: str | None = None


def situation(question: Question, cups: Sequence[Cup] = (), pour: str | None = None) -> Situation:
    """A plan in memory worked out: one portion by default, else these.

    A cup without scents of its own takes the blend at the load.
    """
    held = cups or (Cup(BAR, colour=question.colour, may_become=question.may_become),)
    return work_out(_plan(question, held, pour), question.book, question.today)


def _plan(question: Question, cups: Sequence[Cup], pour: str | None) -> Plan:
    book, (recipe, process) = question.book, recipe_of(question.book)
    blend = {name: _parts(share) for name, share in zip(question.oils, question.shares, strict=True)}
    own = {
        cup.name: {s: _dose(rate) for s, rate in cup.scents.items()} for cup in cups if cup.scents is not None
    }
    return Plan.model_construct(
        plan=question.title,
        for_=question.purpose,
        recipe=recipe,
        process=process,
        pour=pour,
        portions=[_portion(cup, book) for cup in cups],
        scents=Scents.model_construct(
            blend=blend,
            load=question.load,
            dosing="same dose in each scented portion" if len(cups) > 1 else None,
            stabilised=list(question.stabilised),
        ),
        doses=own,
    )


def _portion(cup: Cup, book: BookFiles) -> Portion:
    tint = {} if cup.colour is None else {cup.colour: tint_of(book.colourants[cup.colour])}
    return Portion.model_construct(
        name=cup.name,
        share=_parts(cup.share),
        colourants=tint,
        may_become=cup.may_become,
        scented=False if cup.scents == {} else None,
    )


def tint_of(colourant: Colourant) -> Amount:
    """How much of a colourant is tried: the rate of its colour, else the middle of its usual one, else 1 %."""
    noted = colourant.at or colourant.usual_rate
    if noted is None:
        return _rate(ASSUMED_RATE)
    of_batter = noted.basis in (Basis.BATTER, Basis.PORTION_BATTER)
    return replace(_rate(noted.mid), basis=Basis.PORTION_BATTER if of_batter else Basis.PORTION_OILS)


def _parts(value: float) -> Amount:
    return Amount(value, value, Dimension.PARTS, None, f"{value:g}")


def _rate(value: float) -> Amount:
    return Amount(value, value, Dimension.FRACTION, Basis.PORTION_OILS, f"{100 * value:g} % of portion oils")


def _dose(rate: float) -> Dose:
    return Dose(_rate(rate), None, "")


def load_on_oils(s: Situation) -> float:
    """The load of a situation as a fraction of its portions' oils."""
    return s.scenting.load
