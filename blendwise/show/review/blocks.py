"""A review in blocks, by what was asked."""

from __future__ import annotations

from collections.abc import Iterator

from blendwise.answers.review.result import AdoptResult, ReviewResult
from blendwise.records.kinds.scales import Scales
from blendwise.show.blocks import Block, Note, Raw, Rows, Section, Title
from blendwise.show.check.blocks import own_dose
from blendwise.show.numbers import counted
from blendwise.show.poured import poured_blocks
from blendwise.show.review import words
from blendwise.show.text import sentence


def review_blocks(result: ReviewResult, scales: Scales, numbers: bool = False) -> list[Block]:
    """The whole answer."""
    parts = {
        "review": _review,
        "rules": _rules,
        "variations": _variations,
        "against": _against,
    }
    body = _scent(result, scales, numbers) if result.asked == "scent" else parts[result.asked](result)
    return [*body, *_aside(result), Note(words.CAUTION)]


def _review(result: ReviewResult) -> Iterator[Block]:
    yield Title(f"Review of {result.subject or 'all batches'} on {result.today}", words.verdict(result))
    quiet = []
    for line in result.batches:
        if line.past is not None:
            yield from poured_blocks(line.past, result.units, line.batch)
        own = [row for row in result.compared if row.batch == line.batch]
        otherwise = [row for row in own if row.verdict not in ("as expected", "")]
        rows = own if result.subject else otherwise
        if rows:
            yield from _lines(words.batch_line(line), [words.shown(row) for row in rows])
        else:
            quiet.append(words.batch_line(line))
    yield from _lines("Nothing to tell apart", quiet)
    yield from _lines("What your batches say of the catalogue", [words.proposal(c) for c in result.proposals])
    if result.proposals:
        yield Note(f"To take such an edit: {words.how_to_adopt(result.proposals[0])}")
    yield from _lines("Your pours", [words.pace(each) for each in result.pours])
    if result.repeat is not None:
        yield from _lines("Repeat", [words.repeat(result.repeat)])
    if result.change is not None:
        yield from _lines("Change one thing", [words.change(result.change)])


def _rules(result: ReviewResult) -> Iterator[Block]:
    spoke = [each for each in result.rules if each.flagged + each.open]
    missed = [each for each in result.rules if each not in spoke and each.seen_and_not_flagged]
    silent = len(result.rules) - len(spoke) - len(missed)
    yield Title(
        f"Rules beside what was seen, on {result.today}",
        "A portion of a version of a batch counts once; only rules that a look can prove are here.",
    )
    yield from _lines("Records", [words.record(each) for each in spoke])
    yield from _lines(
        "Never spoke, where something of the kind was seen", [words.missed(each) for each in missed]
    )
    if silent:
        yield Note(words.upper(f"{counted(silent, 'rule')} neither spoke nor missed anything."))


def _scent(result: ReviewResult, scales: Scales, numbers: bool) -> Iterator[Block]:
    said = len(result.looks)
    told = f"{counted(said, 'look')} at portions that held it." if said else "No look speaks of it yet."
    yield Title(f"{result.subject}, by your own looks", words.upper(told))
    yield from _lines("What they say", [words.belief(each, scales, numbers) for each in result.beliefs])
    yield from _lines("Counted by batches", [words.tally(each, result.units) for each in result.tallies])
    yield from _lines("What could be written down", [words.proposal(each) for each in result.proposals])
    if result.proposals:
        yield Note(f"To take it: {words.how_to_adopt(result.proposals[0])}")
    yield from _lines(
        "Looks",
        [
            f"{look.on} {look.batch}, {look.look}: {look.portion}"
            + (f" with {own_dose(look.dose, result.units)} of it" if look.dose is not None else "")
            + f": {look.seen}"
            for look in result.looks
        ],
    )


def _variations(result: ReviewResult) -> Iterator[Block]:
    many = counted(len(result.contests), "plan")
    yield Title("Versions side by side", words.upper(f"{many} of which more than one version was poured."))
    yield from _lines("Votes", [words.contest(each) for each in result.contests])


def _against(result: ReviewResult) -> Iterator[Block]:
    poured = [each for each in result.differences if each.kind == "poured"]
    bars = [each for each in result.differences if each.kind == "bars"]
    if not bars:
        told = "The bars did not differ in anything that was looked for in both."
    elif len(poured) == 1:
        told = "One thing was done otherwise, so what differs in the bars may well come from it."
    else:
        told = (
            "Several things were done otherwise: two batches cannot tell which of them made the difference."
        )
    yield Title(result.subject, told)
    for heading, rows in (("What was done", poured), ("What came of it", bars)):
        yield from _lines(heading, [f"{each.what}: {each.one} against {each.other}" for each in rows])


def _lines(heading: str, lines: list[str]) -> Iterator[Block]:
    if lines:
        yield Section(heading)
        yield Rows((), (), tuple(lines))


def _aside(result: ReviewResult) -> Iterator[Block]:
    lines = [sentence(f"{each.file}: {each.message} {each.remedy}".strip()) for each in result.set_aside]
    yield from _lines("Set aside", lines)


def adopt_blocks(result: AdoptResult) -> list[Block]:
    """What was changed, byte for byte."""
    done = f"{result.file} was changed." if result.written else "Nothing was written; this is what would be."
    return [
        Title(f"{result.oil}: its entry by your own batches", done),
        Rows((), (), tuple(words.proposal(each) for each in result.changes)),
        Section("The change"),
        Raw(tuple(result.diff.splitlines())),
        Note(words.CAUTION),
    ]
