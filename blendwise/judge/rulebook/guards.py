"""Rules that can never be asked: they name a scent, tag, colourant, oil or pour that the book does not have.

Only the maker's own rules are looked at: the package's may name tags that a book does not use.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from itertools import chain
from typing import TYPE_CHECKING, Final, get_args

from blendwise.facts.measures.members import SORTS
from blendwise.facts.measures.named import PATTERNS, strangers
from blendwise.facts.measures.places import PLACES
from blendwise.judge.conditions.conditions import Atom
from blendwise.judge.rulebook.compile import Rule, faults_of
from blendwise.records.book import BookFiles
from blendwise.records.kinds.colourant import ColourantKind, DispersedIn
from blendwise.records.layer.aside import Aside
from blendwise.records.nearest import hint
from blendwise.records.place import Fault

if TYPE_CHECKING:
    from blendwise.judge.rulebook.lint import Wrong

SIDES: Final = ("one ", "other ", "lighter ", "darker ")
Names = Collection[str]
OF_THE_RECIPE: Final = frozenset({"additive rate of [NAME, …]"})
"""What the recipe names at will."""


def known_names(book: BookFiles, shipped: Sequence[Rule]) -> Mapping[str, tuple[str, Callable[[], Names]]]:
    """Measure → (whose names they are, all names that it may ever hold in this book)."""

    def tags() -> Names:
        return {*_tags(book), *_words("tags", shipped)}

    def meant() -> Names:
        return {*book.scents, *tags(), *SORTS}

    def colours() -> Names:
        return {*book.colourants, *get_args(ColourantKind)}

    oils = (*(pattern for pattern in PATTERNS if pattern not in OF_THE_RECIPE), "holds", "with")
    return {
        **dict.fromkeys(oils, ("The shelf", meant)),
        "scent": ("The shelf", lambda: book.scents),
        "tags": ("The book", tags),
        "embed holds": ("The shelf", lambda: {*book.scents, *tags()}),
        "place": ("A portion's place", lambda: PLACES),
        "oil share of [NAME, …]": ("The book", lambda: book.oils),
        "colour rate of [NAME, …]": ("The book", colours),
        "portions coloured with [NAME, …]": ("The book", colours),
        "colourants": ("The book", lambda: book.colourants),
        "colourant kinds": ("A colourant", lambda: get_args(ColourantKind)),
        "dispersed in": ("A colourant", lambda: get_args(DispersedIn)),
        "pour": ("The rulebook", lambda: book.pours),
        "oils": ("The book", lambda: book.oils),
    }


def _tags(book: BookFiles) -> Iterator[str]:
    return (tag for scent in book.scents.values() for tag in scent.tags or ())


def _words(measure: str, rules: Sequence[Rule]) -> Iterator[str]:
    """Words that rules themselves use for a measure."""
    for rule in rules:
        for atom in _atoms(rule):
            if _plain(atom.measure) == measure:
                yield from atom.words


def _atoms(rule: Rule) -> Iterator[Atom]:
    for condition in (rule.when, rule.must):
        yield from condition


def _plain(measure: str) -> str:
    """A measure without the side of a pair or edge."""
    side = next((each for each in SIDES if measure.startswith(each)), "")
    return measure.removeprefix(side)


def strange_names(rule: Rule, known: Mapping[str, tuple[str, Callable[[], Names]]]) -> Iterator[Wrong]:
    """Every name in a rule that nothing in the book bears, with the nearest that something does."""
    from blendwise.judge.rulebook.lint import Wrong

    for part, condition in (("when", rule.when), ("must", rule.must)):
        for atom in condition:
            for measure, words in _named(atom):
                whose, names = known.get(measure, ("", tuple))
                held = names() if whose else words
                for word in (each for each in words if each not in held):
                    message = f'"{word}" is nowhere in the book: the line speaks of nothing.'
                    yield Wrong((part, atom.measure), message, hint(word, sorted(held), whose))


def _named(atom: Atom) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Measure or pattern → the names that a line says of it, or that its measure holds."""
    plain = _plain(atom.measure)
    yield plain, atom.words
    if found := strangers(plain):
        yield found


def faults_of_guards(rules: Sequence[Rule], book: BookFiles, shipped: Sequence[Rule]) -> Iterator[Fault]:
    """What `rules lint` says of the maker's own rules that can never be asked for their names."""
    from blendwise.judge.rulebook.lint import as_error

    known = known_names(book, shipped)
    for rule in (each for each in rules if each.record.is_mine):
        yield from faults_of(rule.record, [as_error(wrong) for wrong in strange_names(rule, known)])


def _is_dead(wrong: Wrong) -> bool:
    return wrong.dead


def dead_guards(rules: Sequence[Rule], book: BookFiles, shipped: Sequence[Rule]) -> Iterator[Aside]:
    """Own stops that can never be asked or broken, each once: every check says so."""
    stops = [rule for rule in rules if rule.record.is_mine and rule.level == "stop"]
    if stops:
        yield from _dead(stops, known_names(book, shipped))


def _dead(stops: Sequence[Rule], known: Mapping[str, tuple[str, Callable[[], Names]]]) -> Iterator[Aside]:
    from blendwise.judge.rulebook.lint import as_error, pointless

    for rule in stops:
        wrong = next(chain(strange_names(rule, known), filter(_is_dead, pointless(rule))), None)
        if wrong is not None:
            fault = faults_of(rule.record, [as_error(wrong)])[0]
            yield Aside(
                "never asked",
                "rule",
                rule.name,
                fault.place,
                rule.level,
                message=wrong.message,
                remedy=wrong.remedy,
            )
