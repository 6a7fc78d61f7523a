"""A pairing in blocks: side by side, together, the rules, the region, pours, colours, what would help."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.pair.result import Cap, PairResult
from blendwise.quantity import Units
from blendwise.show import words
from blendwise.show.assumed import all_said
from blendwise.show.blocks import Block, Note, Rows, Section, Title
from blendwise.show.check.blocks import advice_blocks, assumed_blocks
from blendwise.show.pair import advice
from blendwise.show.pair import together as bar
from blendwise.show.pair import words as say

BAR_LENGTH = 16
"""Characters of the longest bar of the chart."""
DRAWN, FAINT = "▪", "·"


def pair_blocks(result: PairResult) -> list[Block]:
    """The whole answer: what each does, what they do together, what stands against it, what would help."""
    return [
        Title(say.title(result), say.verdict(result)),
        *_lines(say.SIDES, [say.side(each, result.units) for each in result.sides]),
        *_lines(say.TOGETHER if len(result.oils) > 1 else say.ALONE, list(bar.together(result))),
        *_rules(result),
        *_region(result),
        *_by_word(advice.POURS, advice.POUR_WORDS, result.pours, advice.pour_line),
        *_by_word(advice.COLOURS, advice.COLOUR_WORDS, result.colours, advice.colour_line),
        *_lines(advice.HELPS, [advice.help_line(each, result.units) for each in result.helps]),
        *assumed_blocks(all_said(result.said, result.units)),
        Note(words.footing(result.check)),
        Note(words.CAUTIONS),
    ]


def _lines(heading: str, lines: Sequence[str]) -> Iterator[Block]:
    if lines:
        yield Section(heading)
        yield Rows((), (), tuple(lines))


def _rules(result: PairResult) -> Iterator[Block]:
    advice = list(advice_blocks(result.check, levers=result.check.levers))
    if advice:
        yield Section(say.RULES)
        yield from advice


def _by_word(heading: str, order, fits, line) -> Iterator[Block]:  # type: ignore[no-untyped-def]
    word_of = advice.honest if heading == advice.COLOURS else lambda fit: fit.word
    grouped = {word: [fit for fit in fits if word_of(fit) == word] for word in order}
    yield from _lines(heading, [line(word, held) for word, held in grouped.items() if held])


def _region(result: PairResult) -> Iterator[Block]:
    """A bar a ratio on the terminal, a sentence a ratio in plain text; most of the first oil at the top."""
    caps = sorted(result.region, key=lambda cap: [-share for share in cap.shares.values()])
    known = ", as far as is known" if result.check.open_questions else ""
    yield Section(f"{advice.REGION}, {' : '.join(result.oils)}{known}")
    longest = max((cap.most for cap in caps if cap.most is not None), default=0.0)
    darker = any(cap.stops and cap.stops[0].browning for cap in caps)
    header = ("of 100", "", "up to", "stopped by", *(("if it may brown",) if darker else ()))
    yield Rows(
        header=header,
        rows=tuple(_drawn(cap, longest, darker, result.units) for cap in caps),
        lines=tuple(advice.cap_line(cap, result.units) for cap in caps),
    )


def _drawn(cap: Cap, longest: float, darker: bool, units: Units) -> tuple[str, ...]:
    """A ratio, its bar on a row of dots, the load, the rule, the load if it may brown."""
    shares = " : ".join(f"{100 * share:.0f}" for share in cap.shares.values())
    most = longest if cap.most is None else cap.most
    solid = round(BAR_LENGTH * most / longest) if longest else 0
    up_to = "any" if cap.most is None else say.of_oils(cap.most, units)
    brown = "any" if cap.darker is None else say.of_oils(cap.darker.load or 0.0, units)
    rule = cap.stops[0].rule if cap.stops else "nothing"
    return shares, (DRAWN * solid).ljust(BAR_LENGTH, FAINT), up_to, rule, *((brown,) if darker else ())
