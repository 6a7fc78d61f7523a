"""A pairing in blocks: side by side, together, the rules, the region, pours, colours, what would help."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.pair_results import Cap, PairResult
from blendwise.quantity import Units
from blendwise.show import pair_words as say
from blendwise.show import words
from blendwise.show.blocks import Block, Note, Rows, Section, Title
from blendwise.show.check import advice_blocks, assumed_blocks

BAR_LENGTH = 24
"""Characters of the longest bar of the chart."""
DRAWN = "▪"


def pair_blocks(result: PairResult) -> list[Block]:
    """The whole answer: what each does, what they do together, what stands against it, what would help."""
    return [
        Title(say.title(result), say.verdict(result)),
        *_lines(say.SIDES, [say.side(each, result.units) for each in result.sides]),
        *_lines(say.TOGETHER if len(result.oils) > 1 else say.ALONE, list(say.together(result))),
        *_rules(result),
        *_region(result),
        *_by_word(say.POURS, say.POUR_WORDS, result.pours, say.pour_line),
        *_by_word(say.COLOURS, say.COLOUR_WORDS, result.colours, say.colour_line),
        *_lines(say.HELPS, [say.help_line(each, result.units) for each in result.helps]),
        *assumed_blocks(result.said),
        Note(words.footing(result.check)),
        Note(words.CAUTIONS),
    ]


def _lines(heading: str, lines: Sequence[str]) -> Iterator[Block]:
    if lines:
        yield Section(heading)
        yield Rows((), (), tuple(lines))


def _rules(result: PairResult) -> Iterator[Block]:
    advice = list(advice_blocks(result.check))
    if advice:
        yield Section(say.RULES)
        yield from advice


def _by_word(heading: str, order, fits, line) -> Iterator[Block]:  # type: ignore[no-untyped-def]
    grouped = {word: [fit for fit in fits if fit.word == word] for word in order}
    yield from _lines(heading, [line(word, held) for word, held in grouped.items() if held])


def _region(result: PairResult) -> Iterator[Block]:
    """A bar a ratio on the terminal, a sentence a ratio in plain text; the asked one first."""
    caps = result.region
    yield Section(say.REGION)
    longest = max((cap.most for cap in caps if cap.most is not None), default=0.0)
    yield Rows(
        header=(" : ".join(result.oils), "most", "", "what stops it"),
        rows=tuple(_drawn(cap, longest, result.units) for cap in caps),
        lines=tuple(say.cap_line(cap, result.oils, result.units) for cap in caps),
    )


def _drawn(cap: Cap, longest: float, units: Units) -> tuple[str, ...]:
    shares = " : ".join(f"{100 * share:.0f}" for share in cap.shares)
    if cap.most is None:
        return shares, "any", DRAWN * BAR_LENGTH, say.cap_words(cap, units)
    bar = DRAWN * round(BAR_LENGTH * cap.most / longest) if longest else ""
    return shares, say.of_oils(cap.most, units), bar, cap.stops[0].rule if cap.stops else ""
