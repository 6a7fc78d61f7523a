"""The law of scaling over generated plans: by k, then by 1/k, gives it back; who may change its mind.

In memory the factor is exact; as written a mass lies within half a step of the book's finest scale.
Only a rule that reads a measure registered as following the size of the batch (`Use.of_size`) may change
its verdict.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from blendwise import Book
from blendwise.answers.plan_text.scaling import scale_step, scaled, with_own_recipe
from blendwise.answers.refusals import NotAskable
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.quantity import Dimension, QuantityError, parse_amount
from blendwise.quantity.exact import exact_grams
from blendwise.records.as_of import AsOf
from blendwise.records.book import plan_of
from blendwise.records.kinds.plan import Plan
from blendwise.records.place import RecordError
from blendwise.records.reading.document import Document
from blendwise.records.reading.walk import masses_written
from tests.strangers.books import a_book
from tests.strangers.runs import ran

FACTORS = (Fraction(5, 2), Fraction(2), Fraction(3, 7), Fraction(1, 3))
Verdict = frozenset[tuple[str, ...]]


def masses(doc: Document) -> dict[tuple[str | int, ...], Fraction]:
    """Every mass of a plan's text, in grams."""
    found = {}
    for path, text in masses_written(Plan, doc.root.plain):
        try:
            if parse_amount(text, Dimension.MASS).dimension is Dimension.MASS:
                found[path] = exact_grams(text)
        except QuantityError:
            continue  # a rate, a spoon
    return found


def situation(plan: Path) -> Situation | None:
    """The plan worked out; None where it is refused."""
    try:
        return Book(plan.parents[1]).situation(plan, AsOf())
    except (RecordError, NotAskable):
        return None


def there_and_back(s: Situation, factor: Fraction) -> Iterator[str]:
    """What is wrong with the plan scaled by a factor and back; nothing where all is well."""
    begun = with_own_recipe(s)
    there = scaled(s, begun, factor)
    other = work_out(plan_of(there, s.book), s.book, s.today)
    back = scaled(other, there, 1 / factor)
    half = scale_step(s) / 2
    first, larger, again = masses(begun), masses(there), masses(back)
    for path, grams in first.items():
        if abs(larger[path] - grams * factor) > half:
            yield f"{path}: {float(grams)} g times {factor} is written {float(larger[path])} g"
        if abs(again[path] - grams) > half:
            yield f"{path}: {float(grams)} g came back as {float(again[path])} g"
        if factor.denominator == 1 and again[path] != grams:
            yield f"{path}: {float(grams)} g did not come back exactly: {float(again[path])} g"
    ratio = other.pot.oils_total / s.pot.oils_total
    if abs(ratio / float(factor) - 1) > float(half) / s.pot.oils_total + 1e-5:
        yield f"all oils are {ratio} times as much, not {float(factor)}"


def verdict(plan: Path) -> Verdict:
    """What a check says: rule, subject, level and status of every finding, but for what was accepted."""
    said = json.loads(ran("check", plan, "--json").out)
    return frozenset(
        (each["rule"], str(each["subject"]), each["level"], each["status"]) for each in said["findings"]
    )


def changed_by_scaling(s: Situation, plan: Path, factor: Fraction) -> set[str]:
    """The rules whose verdict is another one on the scaled plan."""
    first = verdict(plan)
    new = plan.with_name(f"{plan.stem}-scaled.yaml")
    new.write_text(scaled(s, with_own_recipe(s), factor).text, "utf-8")
    return {each[0] for each in first ^ verdict(new)}


def unregistered(plan: Path, rules: set[str]) -> set[str]:
    """Those of these rules that read nothing which follows the size."""
    standing = Book(plan.parents[1]).rulebook.rules
    return rules - {rule.name for rule in standing if rule.of_size}


def proof(seeds: range, every: int = 4) -> bool:
    """Two plans of so many books by every factor there and back, every fourth judged; what does not hold."""
    scaled_, judged, wrong = 0, 0, []
    for seed in seeds:
        with tempfile.TemporaryDirectory() as folder:
            for plan in a_book(Path(folder, "book"), seed, plans=2, looks=False).plans:
                s = situation(plan)
                if s is None:
                    continue
                for factor in FACTORS:
                    scaled_ += 1
                    wrong += [f"{seed} {plan.stem} {factor}: {each}" for each in there_and_back(s, factor)]
                    if scaled_ % every == seed % every:
                        judged += 1
                        changed = changed_by_scaling(s, plan, factor)
                        odd = unregistered(plan, changed)
                        wrong += [f"{seed} {plan.stem} {factor}: not of size: {each}" for each in odd]
    print(f"scaled {scaled_} times there and back, {judged} judged; {len(wrong)} do not hold")
    print("\n".join(wrong))
    return not wrong
