"""The words that a rule may use, and the models behind them: all, or those that speak of what is asked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blendwise.answers.answer import Answer
from blendwise.answers.rules.sentences.fitting.nearest import examples, of_the_book
from blendwise.answers.rules.sentences.fitting.table import SHAPES
from blendwise.facts import manual
from blendwise.facts.columns import Word
from blendwise.facts.measures.named import strangers
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.book import BookFiles


@dataclass(frozen=True, slots=True)
class RuleWord:
    """One measure: where it is told and may be used, in what unit, what it means, and its form for a split.

    ``scale``: the words it may be, worst or least first as the scale has them; empty for a number.
    """

    word: str
    topic: str
    grain: str
    also_at: tuple[str, ...]
    kind: str
    unit: str
    scale: tuple[str, ...]
    meaning: str
    formula: str
    form: str
    source: str
    example: str = ""


@dataclass(frozen=True, slots=True)
class SaidLike:
    """One shape of sentence that `rules new` reads, by an example of it."""

    shape: str
    example: str


@dataclass(frozen=True, slots=True)
class ModelView:
    """One model of the sciences: its formula, source, check and known limits."""

    model: str
    what: str
    formula: str
    source: str
    check: str
    limits: str


@dataclass(frozen=True, slots=True)
class WordsResult(Answer):
    """``asked``: what was looked for, in lower case (nothing: all); ``of``: how many words there are.

    ``sentences``: the shapes that `rules new` reads.
    """

    SCHEMA = "blendwise/rule-words/1"

    asked: tuple[str, ...]
    of: int
    words: tuple[RuleWord, ...]
    models: tuple[ModelView, ...]
    sentences: tuple[SaidLike, ...] = ()

    def frame_rows(self) -> Iterable[RuleWord]:
        """A row a word."""
        return self.words


def rule_words(
    asked: Sequence[str] = (), rules: Sequence[Rule] = (), book: BookFiles | None = None
) -> WordsResult:
    """Words whose topic is asked for, or in whose name, unit or meaning all that is asked occurs.

    Models likewise, by their name and what is said of them.  ``rules``: where examples are taken from, the
    maker's own first; ``book``: whose names and units they are put into.
    """
    wanted = tuple(word.casefold() for word in asked)
    lines = _examples(rules, book)
    units = {} if book is None else OTHER_UNITS.get((book.usual.units.mass, book.usual.units.temperature), {})
    every = [_word(word, lines, units) for word in (*manual.measures(), *manual.families())]
    words = [w for w in every if _speaks(wanted, w.topic, w.word, w.unit, w.meaning, *w.scale)]
    behind = [_model(model) for model in manual.models()]
    models = [m for m in behind if _speaks(wanted, m.model, m.what)]
    sentences = tuple(
        SaidLike(shape, said if book is None else of_the_book(said, book))
        for shape, said in _sentences(wanted)
    )
    return WordsResult(wanted, len(every), tuple(words), tuple(models), sentences)


def _sentences(wanted: Sequence[str]) -> Iterator[tuple[str, str]]:
    """An example of each shape; of what is asked for, all that speak of it."""
    every = examples() if wanted else tuple((shape.name, shape.example) for shape in SHAPES)
    return (each for each in every if _speaks(wanted, "sentences", *each))


def _examples(rules: Sequence[Rule], book: BookFiles | None) -> dict[str, str]:
    """Word → a line of a rule that uses it, with the rule's name; the maker's own rules before others."""
    found: dict[str, str] = {}
    for rule in sorted(rules, key=lambda each: not each.record.is_mine):
        for condition in (rule.must, rule.when):
            for atom in condition:
                family = strangers(atom.measure)
                line = str(atom) if book is None or rule.record.is_mine else of_the_book(str(atom), book)
                found.setdefault(family[0] if family else atom.measure, f"{line} ({rule.name})")
    return found


def _speaks(wanted: Sequence[str], *texts: str) -> bool:
    told = " ".join(texts).casefold()
    return all(word in told for word in wanted)


OTHER_UNITS: Final[Mapping[tuple[str, str], Mapping[str, str]]] = {
    ("oz", "F"): {"°C": "°F", "°C apart": "°F apart", "g": "oz"},
    ("oz", "C"): {"g": "oz"},
    ("g", "F"): {"°C": "°F", "°C apart": "°F apart"},
}
"""What a book shows → unit of a measure → the unit that its maker types."""


def _word(word: Word, examples: Mapping[str, str], units: Mapping[str, str]) -> RuleWord:
    return RuleWord(
        word=word.name,
        topic=word.theme,
        grain=word.grain,
        also_at=tuple(grain for grain in word.grains if grain != word.grain),
        kind=word.kind,
        unit=units.get(word.unit, word.unit),
        scale=tuple(word.scale or ()),
        meaning=word.meaning,
        formula=word.formula,
        form=word.form,
        source=word.source,
        example=examples.get(word.name, ""),
    )


def _model(model: manual.Model) -> ModelView:
    formula, source, check, limits = (model.said.get(label, "") for label in manual.LABELS)
    return ModelView(model.name, model.what, formula, source, check, limits)
