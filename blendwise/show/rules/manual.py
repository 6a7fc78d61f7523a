"""The words of the rules and the models behind them, in blocks: by topic, each with what it means."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.rules.words import ModelView, RuleWord, WordsResult
from blendwise.show import words
from blendwise.show.blocks import Block, Entry, Line, Note, Section, Title
from blendwise.show.numbers import counted
from blendwise.show.text import joined, quoted, sentence

MODELS = "The models behind them"
ALSO, UNIT, ONE_OF, FORMULA, SPLIT = "Also at", "Unit", "One of", "Formula", "In an assignment"
CHECKED, LIMITS = "Checked by", "Known limits"
FORMS = {
    "constant": "no dose changes it",
    "fraction": "a bound on it is one bound on the doses",
    "inverted": "a bound on it is a bound on the doses, found by turning it back",
    "clock": "a bound on it is a place in the order of scenting that leaves time enough",
    "presence": "it asks whether anything is dosed at all",
    "afterwards": "it is no bound on the doses: every answer is checked against it afterwards",
}
"""Each form in which a measure reaches the solver, in words."""
SIDED = (
    "A rule on pairs reads words of scents and doses as `one …` and `other …`; one on neighbours reads words "
    "of portions so too, and as `lighter …` and `darker …`."
)
SENTENCES = "Sentences that `blendwise rules new` reads, such as"
MORE = (
    "`blendwise rules words TOPIC`, or a word, tells what it means, with an example of yours; `--more` all."
)
EXAMPLE = "As in"
NOTHING = "No word and no model speaks of that"


def manual_blocks(result: WordsResult) -> list[Block]:
    """Title and count, then every word by topic, then the models."""
    about = f" of {joined([quoted(word) for word in result.asked])}" if result.asked else ""
    found = f"{counted(len(result.words), 'word')} of {result.of}, {counted(len(result.models), 'model')}"
    verdict = sentence(found.capitalize() if result.words or result.models or result.sentences else NOTHING)
    title = Title(f"What a rule may speak{about or ' of'}", verdict)
    models: list[Block] = [Section(MODELS), *map(_model, result.models)] if result.models else []
    return [title, *_sentences(result), *_by_topic(result), *models, Note(SIDED)]


def topic_blocks(result: WordsResult) -> list[Block]:
    """The sentences that are read, then every word by topic, a topic a line; what each means is asked for."""
    found = f"{counted(len(result.words), 'word')} by topic".capitalize()
    lines = []
    for topic in dict.fromkeys(word.topic for word in result.words):
        mine = [word.word for word in result.words if word.topic == topic]
        lines.append(Line(topic.capitalize(), sentence(", ".join(mine))))
    return [Title("What a rule may speak of", sentence(found)), *_sentences(result), *lines, Line("", MORE)]


def _sentences(result: WordsResult) -> Iterator[Block]:
    if result.sentences:
        yield Line(SENTENCES, sentence("; ".join(each.example for each in result.sentences)))


def _by_topic(result: WordsResult) -> Iterator[Block]:
    for topic in dict.fromkeys(word.topic for word in result.words):
        mine = [word for word in result.words if word.topic == topic]
        yield Section(f"{topic} ({mine[0].source})")
        yield from map(_word, mine)


def _word(word: RuleWord) -> Entry:
    details = {
        UNIT: word.unit,
        ONE_OF: joined(word.scale, "or") if word.scale else "",
        FORMULA: word.formula,
        ALSO: joined(word.also_at) if word.also_at else "",
        SPLIT: FORMS[word.form],
        EXAMPLE: word.example,
    }
    told = tuple((label, sentence(text)) for label, text in details.items() if text)
    return Entry(word.grain, f"{word.word}: {word.meaning.rstrip('.')}", told)


def _model(model: ModelView) -> Entry:
    details = {FORMULA: model.formula, words.SOURCE: model.source, CHECKED: model.check, LIMITS: model.limits}
    told = tuple((label, sentence(text)) for label, text in details.items() if text)
    return Entry("model", model.what.rstrip("."), told)
