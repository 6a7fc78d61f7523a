"""A taught rule on one screen: as understood, what it would have said, how to keep it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from blendwise.answers.rules.taught import NotRead, Taught, Tried
from blendwise.show.blocks import Block, Line, Raw, Title
from blendwise.show.numbers import counted
from blendwise.show.text import command, joined, quoted, sentence

UNDERSTOOD, WOULD, NOT_READ = "Understood", "It would have spoken of", "Not understood"
AS_MANY = "Understood as {}"
WIDTH = 76
MOST = 6
ASKS = "Of what? Say it in the sentence, or add `--basis` with one of: {}."
EITHER = "{} may mean two things. Say {}."
ONLY_WHY = "{} may be a reason or more. If it is only why, say {}."
FIGURE = "{} is no figure: say how much, such as {}."
ASIDE = "Taken as your reason, and no part of the rule: {}."
ALONE = "These are two rules; say each by itself:"
LIKE = "The nearest that I can read is like: {}"
ALWAYS = (
    "Any rule can be said as `each GRAIN, when …, must …, else LEVEL`; `blendwise rules words` has the words."
)
NOT_KEPT = "Not kept yet: add `--yes`, and it is written to {}."
NOT_KEPT_EACH = "Not kept yet: add `--yes`, and they are written to {}."
KEPT = "Kept in {} as {}; it counts from now on. Take it out there whenever you like."
KEPT_EACH = "Kept in {} as {}; they count from now on. Take them out there whenever you like."
TROUBLE = "Mind"
SILENT = "Of your plans it would have said nothing."
TIGHT = "It would have called it tight in {}."
NO_PLANS = "There are no plans yet to try it on."
OPEN = "It could not tell of {}: a fact is missing there."
MEANS = {
    "lies": "as the pour has it, or as the plan says with `lies:`",
    "order": "no cup without it is scented after a cup with it",
}
LEVELS = {
    "hint": "a hint",
    "caution": "a caution",
    "conflict": "a conflict: a plan that breaks it does not pass",
    "stop": "a stop: do not pour",
}


def taught_blocks(result: Taught, asking: bool = False) -> list[Block]:
    """The whole screen; ``asking``: whether to keep it is asked below."""
    if not result.rules:
        return [*_not_understood(result)]
    told = _all_understood(result) if result.each else _understood(result, UNDERSTOOD)
    end = [] if result.asks or asking else [Line("", kept(result) if result.written else _not_kept(result))]
    return [*told, *end]


def kept(result: Taught) -> str:
    """That it was kept, where, and under what name."""
    said = KEPT_EACH if result.each else KEPT
    return said.format(result.to, joined([one.rule for one in result.rules]))


def _not_kept(result: Taught) -> str:
    return (NOT_KEPT_EACH if result.each else NOT_KEPT).format(result.to)


def _all_understood(result: Taught) -> Iterator[Block]:
    """Each of the rules that one sentence says, numbered."""
    yield Title(f"{sentence(AS_MANY.format(counted(len(result.each), 'rule')))}", "")
    yield from _aside(result)
    for number, one in enumerate(result.each, 1):
        yield from _understood(replace(one, aside=()), str(number))


def _understood(result: Taught, before: str) -> Iterator[Block]:
    yield Title(f"{before}: {sentence(result.reads_as)}", sentence(f"It counts as {LEVELS[result.level]}"))
    yield from _aside(result)
    for each in result.counts:
        yield Line("", f"  {sentence(f'{each.word.capitalize()}: {MEANS.get(each.means, each.means)}')}")
    for trouble in result.trouble:
        yield Line(TROUBLE, trouble)
    if result.asks:
        yield Line("", ASKS.format(", ".join(f'"{basis}"' for basis in result.asks)))
        return
    yield from _tried(result)


def _aside(result: Taught) -> Iterator[Block]:
    if result.aside:
        yield Line("", ASIDE.format(joined([f'"{each}"' for each in result.aside])))


def _tried(result: Taught) -> Iterator[Block]:
    spoken = [each for each in result.tried if each.broken]
    if spoken:
        more = len(spoken) - MOST
        told = [_spoken(each) for each in spoken[:MOST]]
        told += [f"{counted(more, 'more plan')}"] if more > 0 else []
        of = f"{counted(len(spoken), 'plan')} of {len(result.tried)}"
        yield Line("", sentence(f"{WOULD} {of}: {'; '.join(told)}"))
    tight = [each.plan for each in result.tried if each.tight and not each.broken]
    if tight:
        yield Line("", TIGHT.format(joined(tight[:MOST])))
    if not spoken and not tight:
        yield Line("", SILENT if result.tried else NO_PLANS)
    open_ = [each.plan for each in result.tried if each.undecided and not each.broken]
    if open_:
        yield Line("", OPEN.format(joined(open_[:MOST])))


def _spoken(tried: Tried) -> str:
    day = f" (poured {_day(tried.poured)})" if tried.poured else ""
    subjects = [subject for subject in tried.broken if subject != tried.plan]
    return f"{tried.plan}{day}{': ' if subjects else ''}{joined(subjects[:4])}"


def _day(text: str) -> str:
    day = date.fromisoformat(text)
    return f"{day.day} {day:%B %Y}"


def _not_understood(result: Taught) -> Iterator[Block]:
    if result.alone:
        yield Title("Not one rule.", ALONE)
        yield from _aside(result)
        for each in result.alone:
            yield Line("", f"  {command('rules', 'new', each)}")
        return
    yield Title(f"{NOT_READ}.", sentence(_why(result)))
    yield Raw(tuple(underlined(result.sentence, result.unread)))
    if result.either:
        said = f'"{result.unread[0].text}"' if result.unread else "The sentence"
        asked = EITHER if len(result.either) > 1 else ONLY_WHY
        yield Line("", asked.format(said, joined([f'"{each}"' for each in result.either], "or")))
    if result.figures:
        vague = joined([f'"{each.text}"' for each in result.unread])
        yield Line("", FIGURE.format(vague, joined([f'"{each}"' for each in result.figures], "or")))
        return
    if result.example:
        yield Line("", LIKE.format(f'"{result.example}"'))
    yield Line("", ALWAYS)


def _why(result: Taught) -> str:
    if result.figures:
        return "No rule was made yet: it wants a figure"
    if result.unread and not result.either:
        words = joined([quoted(each.text) for each in result.unread])
        return f"No rule was made: {words} {'has' if len(result.unread) == 1 else 'have'} no part in one here"
    return "No rule was made: the words are known, but not put together so"


def underlined(text: str, spans: tuple[NotRead, ...]) -> Iterator[str]:
    """A sentence in lines, with marks under what was not understood."""
    at = 0
    for line in textwrap.wrap(text, WIDTH, drop_whitespace=False, break_long_words=True):
        yield f"  {line.rstrip()}"
        marks = "".join(
            "^" if any(s.start <= i < s.end for s in spans) else " " for i in range(at, at + len(line))
        )
        if marks.strip():
            yield f"  {marks.rstrip()}"
        at += len(line)
