"""The words that a rule may use, and the models behind them: all, or those that speak of what is asked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from blendwise.answers.answer import Answer
from blendwise.facts import manual
from blendwise.facts.columns import Word


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
    """``asked``: what was looked for, in lower case (nothing: all); ``of``: how many words there are."""

    SCHEMA = "blendwise/rule-words/1"

    asked: tuple[str, ...]
    of: int
    words: tuple[RuleWord, ...]
    models: tuple[ModelView, ...]

    def frame_rows(self) -> Iterable[RuleWord]:
        """A row a word."""
        return self.words


def rule_words(asked: Sequence[str] = ()) -> WordsResult:
    """Words whose topic is asked for, or in whose name, unit or meaning all that is asked occurs.

    Models likewise, by their name and what is said of them.
    """
    wanted = tuple(word.casefold() for word in asked)
    every = [_word(word) for word in manual.measures()]
    words = [w for w in every if _speaks(wanted, w.topic, w.word, w.unit, w.meaning, *w.scale)]
    behind = [_model(model) for model in manual.models()]
    models = [m for m in behind if _speaks(wanted, m.model, m.what)]
    return WordsResult(wanted, len(every), tuple(words), tuple(models))


def _speaks(wanted: Sequence[str], *texts: str) -> bool:
    told = " ".join(texts).casefold()
    return all(word in told for word in wanted)


def _word(word: Word) -> RuleWord:
    return RuleWord(
        word=word.name,
        topic=word.theme,
        grain=word.grain,
        also_at=tuple(grain for grain in word.grains if grain != word.grain),
        kind=word.kind,
        unit=word.unit,
        scale=tuple(word.scale or ()),
        meaning=word.meaning,
        formula=word.formula,
        form=word.form,
        source=word.source,
    )


def _model(model: manual.Model) -> ModelView:
    formula, source, check, limits = (model.said.get(label, "") for label in manual.LABELS)
    return ModelView(model.name, model.what, formula, source, check, limits)
