"""The rulebook as a booklet: chapters by topic, a rule a paragraph, the pours with what they ask."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from blendwise.answers.review.rule_record import Record
from blendwise.answers.rules.result import RulesResult, RuleView, said
from blendwise.quantity import METRIC, Units
from blendwise.records.kinds.pour import PourStyle
from blendwise.show.pages.render import page
from blendwise.show.review.asked import of_rules
from blendwise.show.rules.blocks import VERBS

LEVELS = {
    "stop": "Stop: do not pour, do not sell; nothing relaxes it.",
    "conflict": "Conflict: the plan will not come out as meant.",
    "caution": "Caution: it may go well; know it before.",
    "hint": "Hint: worth a thought.",
}
READING = (
    "A rule is asked wherever its “when” holds, of each batch, portion, scent, dose, pair of scents or "
    "edge between portions. What nobody has written down leaves it open, and never counts as passed."
)


def rules_page(
    result: RulesResult,
    pours: Mapping[str, PourStyle],
    units: Units = METRIC,
    records: Sequence[Record] = (),
) -> str:
    """The whole HTML file; ``records``: what the maker's notes say of the rules."""
    return page(
        "rules.html",
        units,
        chapters=chapters(result.rules),
        changes=result.changes,
        pours=list(pours.values()),
        levels=LEVELS,
        reading=READING,
        pictures=list(of_rules(records)),
        verbs=VERBS,
        said=said,
        count=len(result.rules),
    )


def chapters(rules: Iterable[RuleView]) -> dict[str, list[RuleView]]:
    """Rules by topic, topics and rules in the order of the rulebook."""
    found: dict[str, list[RuleView]] = {}
    for rule in rules:
        found.setdefault(rule.topic, []).append(rule)
    return found
