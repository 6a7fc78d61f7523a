"""Whether a scent lasts: on whose word, what is left by when, what of the blend or the shelf may hold it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import AskResult
from blendwise.answers.check.result import CheckResult
from blendwise.beliefs.contents import FOLDED
from blendwise.show.ask import words as say
from blendwise.show.ask.about import about
from blendwise.show.ask.facts import of_measure
from blendwise.show.ask.own_notes import told_of
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount
from blendwise.show.pair import words as pair_words
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE

if TYPE_CHECKING:
    from blendwise.answers.pair.result import PairResult

Lines = Iterator[Line]
FADING: Final = ("fair", "faint", "gone")
MONTHS: Final = re.compile(r"\b(?:months?|years?|christmas|spring|summer|autumn|winter)\b", re.IGNORECASE)
"""Words by which a question looks past the six weeks that are judged."""


def _on_word(evidence: str) -> str:
    return f", by {EVIDENCE.get(evidence, evidence)}" if evidence else ", by what stands on your shelf"


def later(words: Mapping[str, str | None], asked: str) -> Lines:
    """What of a scent to expect months on, where the question looks so far: by the word at week six."""
    if not MONTHS.search(asked):
        return
    for name, word in words.items():
        if said := say.MONTHS_ON.get(word or ""):
            yield Line("", said.format(oil=name))


def lasting(words: Mapping[str, str | None]) -> Lines:
    """Of which oil the bar will smell once the others have gone."""
    strong = [name for name, word in words.items() if word in ("strong", "fair")]
    faint = [name for name, word in words.items() if word in ("faint", "gone")]
    if faint:
        rest = f": it will smell of {joined(strong)}" if strong else ""
        verb = "is" if len(faint) == 1 else "are"
        yield Line("", f"{joined(faint)} {verb} faint by six weeks{rest}")


def lasts(result: AskResult, found: PairResult) -> Lines:
    """Whether oils last, on whose word, until when; what of the shelf may hold them."""
    from blendwise.show.pair import brief as pairs

    by = pair_words.day(found.together.judge_by)
    for oil in found.sides:
        source = _on_word(oil.after_six_weeks_by) if oil.after_six_weeks else ""
        yield Line("", f"{say.fades(oil.name, oil.after_six_weeks)}{source} (poured today: {by})")
    yield from later({oil.name: oil.after_six_weeks for oil in found.sides}, result.asked)
    yield from _not_in_plan(result, found)
    yield from _citrus(result.tags or {}, result.asked)
    if any(oil.after_six_weeks in (*FADING, None) for oil in found.sides):
        yield from (line for line in pairs.ways(found.helps) if "may hold" in line.text)
        yield Line("", say.TO_HOLD)
    named = set(result.named.oils)
    alone = [look for look in result.looks_of_oils if set(look.doses) <= named]
    yield from told_of(alone, "strength")
    blends = [look for look in result.looks_of_oils if look not in alone]
    yield from told_of(blends, "strength", of=f"all scents of the cup, not {joined(list(found.oils))} alone")


def _not_in_plan(result: AskResult, found: PairResult) -> Lines:
    """That a plan was named which does not hold the oil: else its figures would be taken for the plan's."""
    if result.plan:
        yield Line("", say.NOT_IN_PLAN.format(oil=joined(list(found.oils))))


CITRUS: Final = re.compile(r"citrus|lemon|\blimes?\b|\boranges?\b|grapefruit|\blitsea\b", re.IGNORECASE)


def _citrus(kinds: Mapping[str, str], asked: str) -> Lines:
    """How long citrus lasts as a rule: folded and cold-pressed apart, by the oil it is.

    ``kinds``: oil → its tags and name.
    """
    citrus = [name for name, kind in kinds.items() if CITRUS.search(kind)]
    folded = [name for name in citrus if FOLDED.search(kinds[name].replace("-", " "))]
    if folded:
        yield Line("", say.FOLDED.format(oil=joined(folded)))
    if len(citrus) > len(folded) or (not citrus and CITRUS.search(asked)):
        yield Line("", say.CITRUS)


def lasts_in(result: AskResult, found: CheckResult) -> Lines:
    """How each oil of a plan lasts, on whose word; what lies under it there; what was smelled of it.

    Where citrus is asked of, the citrus oils of the plan come before the others.
    """
    facts = {n: fact for n, fact in of_measure(found, "after six weeks").items() if " in " not in n}
    tags = of_measure(found, "tags")
    citrus = [name for name in facts if name in tags and "citrus" in str(tags[name].low)]
    named = [name for name in facts if name in result.named.oils]
    of_citrus = not named and CITRUS.search(result.asked) is not None
    asked = named or (citrus if of_citrus else []) or list(facts)
    words = {name: fact.low if isinstance(fact.low, str) else None for name, fact in facts.items()}
    if of_citrus and not citrus:
        yield Line("", say.NO_CITRUS)
    for name in asked:
        yield Line(
            "", f"{say.fades(name, words[name])}{_on_word(facts[name].evidence) if words[name] else ''}"
        )
    yield from later({name: words[name] for name in asked}, result.asked)
    yield from _under_it(found, words, asked)
    yield from _citrus({name: f"{tags[name].low} {name}" for name in asked if name in tags}, result.asked)
    yield from told_of([look for look in result.looks if set(look.doses) & set(asked)], "strength")
    yield from about(result.question, found)
    if any(words[name] in (*FADING, None) for name in asked):
        yield Line("", say.TO_HOLD)


def _under_it(found: CheckResult, words: Mapping[str, str | None], asked: list[str]) -> Lines:
    """What lasts beside the oils that fade, cup by cup: what lies in another cup holds nothing."""
    fading = [name for name in asked if words[name] in (*FADING, None)]
    held: dict[str, list[str]] = {}
    for row in found.grams:
        oils = {name: mass for name, mass in row.scents.items() if mass}
        if not oils.keys() & set(fading):
            continue
        whole = math.fsum(oils.values())
        told = [
            f"{name} ({amount(float(f'{100 * mass / whole:.2g}') / 100, '%')} of its scent, lasts)"
            for name, mass in oils.items()
            if words.get(name) == "strong" and name not in asked
        ]
        held.setdefault(joined(told) if told else "nothing that is known to last", []).append(row.portion)
    if held:
        under = "; ".join(f"in {joined(cups)} {what}" for what, cups in held.items())
        yield Line("", f"Under {joined(fading)} lies: {under}")
