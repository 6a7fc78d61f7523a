"""Names for the label: thresholds, dates and whole oils of the EU's list, through whole plans.

Source of the checks: Regulation (EC) 1223/2009, Annex III, as amended by (EU) 2023/1545, seen in the
European Commission's export: a name is due above 0.01 % of a rinse-off product; new names are due on soap
placed on the market from 2026-08-01, on all soap on sale from 2028-08-01.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import jsonschema
import pytest

from blendwise.answers.check.compute import check_situation
from blendwise.answers.check.label import label_of
from blendwise.answers.check.result import Label
from blendwise.facts.situation.dried import dried_portions
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.quantity import METRIC
from blendwise.show.check.blocks import check_blocks
from blendwise.show.check.label import label_blocks
from blendwise.show.plain import plain
from blendwise.show.schemas import schema_of
from tests.facts.small import book, rulebook, value, worked

PLAN = """\
plan: label
recipe: {oils: {olive: 1000 g}, lye: {concentration: 31 %, superfat: 5 %}}
portions: [{name: a, share: 50 %}, {name: b, share: 50 %}]
scents: {blend: {BLEND}, load: 3 % of batch oils}
"""
NO_RULES = Rulebook((), ())


def labelled(scents: str, blend: str = "oil: 1", more: str = "", today: date | None = None) -> Label:
    """The label of a plan with a shelf of its own."""
    s = situation(scents, blend, more)
    return label_of(replace(s, today=today) if today else s)


def situation(scents: str, blend: str = "oil: 1", more: str = "") -> Situation:
    """The plan worked out."""
    return worked(PLAN.replace("BLEND", blend) + more, book(scents=scents))


def names(label: Label) -> list[str]:
    """The names due."""
    return [line.name for line in label.due]


@pytest.mark.parametrize(("factor", "due"), [(0.9999, []), (1.0, []), (1.0001, ["Linalool"])])
def test_a_name_is_due_above_its_threshold(factor: float, due: list[str]) -> None:
    """Just under and exactly at 0.01 % of the finished bar no name is due, just over it is (published)."""
    share = value(situation("oil: {allergen sheet: {linalool: 1 %}}"), "scent in bar")
    content = f"{100 * 0.0001 / share * factor:.14f}"
    assert due == names(labelled(f"oil: {{allergen sheet: {{linalool: {content} %, complete: yes}}}}"))


@pytest.mark.parametrize(
    ("today", "due", "later"),
    [
        (date(2026, 7, 31), ["Linalool"], ["Linalyl Acetate"]),
        (date(2026, 8, 1), ["Linalyl Acetate", "Linalool"], []),
    ],
)
def test_new_names_have_their_dates(today: date, due: list[str], later: list[str]) -> None:
    """Linalool has long been due; linalyl acetate is from the first of August 2026 (published)."""
    sheet = "oil: {allergen sheet: {linalool: 10 %, linalyl acetate: 20 %, complete: yes}}"
    found = labelled(sheet, today=today)
    assert due == names(found)
    assert later == [line.name for line in found.later]
    dated = next(line for line in (*found.due, *found.later) if line.name == "Linalyl Acetate")
    assert (date(2026, 8, 1), date(2028, 8, 1)) == (dated.placed_from, dated.on_sale_from)


@pytest.mark.parametrize(
    ("oil", "due"),
    [
        ("lavender: {kind: essential oil, SHEET}", ["Lavandula Oil/Extract"]),
        ("lavender: {kind: fragrance oil, SHEET}", []),
        ("lavender: {kind: fragrance oil, label name: lavender oil, SHEET}", ["Lavandula Oil/Extract"]),
        ("attic: {kind: essential oil, label name: lavender, SHEET}", ["Lavandula Oil/Extract"]),
        ("amyris: {kind: essential oil, SHEET}", []),
    ],
)
def test_whole_oils_that_are_entries_themselves(oil: str, due: list[str]) -> None:
    """An essential oil by its plain name, any oil by its `label name`; a fragrance's name is only a name."""
    name = oil.partition(":")[0]
    sheet = "allergen sheet: {geraniol: 0 %, complete: yes}"
    assert due == names(labelled(oil.replace("SHEET", sheet), f"{name}: 1"))


def test_a_range_counts_by_its_top() -> None:
    """A content of nothing to 5 % is 5 % here."""
    (line,) = labelled("oil: {allergen sheet: {linalool: 0 to 5 %, complete: yes}}").due
    whole = value(situation("oil: {allergen sheet: {linalool: 0 to 5 %}}"), "scent in bar")
    assert line.share == pytest.approx(0.05 * whole)


def test_names_add_up_over_oils_and_embeds() -> None:
    """Each oil and the embed stay under the threshold, together they pass it; all three are named."""
    sheet = "allergen sheet: {linalool: 0.17 %, complete: yes}"
    shelf = (
        f"one: {{{sheet}}}\nother: {{{sheet}}}\ncube: {{allergen sheet: {{linalool: 5 %, complete: yes}}}}\n"
    )
    embeds = "embeds: [{what: cubes, mass: 40 g, scents: {cube: 2 g}}]\n"
    assert [] == names(labelled(shelf, "one: 1, other: 1"))
    (line,) = labelled(shelf, "one: 1, other: 1", embeds).due
    assert ("Linalool", ("cube", "one", "other")) == (
        line.name,
        (line.carriers[0], *sorted(line.carriers[1:])),
    )


def test_what_stands_under_one_entry_counts_together() -> None:
    """Geranial and neral are both citral: each alone stays below the threshold, both together do not."""
    half = 100 * 0.6 * 0.0001 / value(situation("oil: {vanillin: 0 %}"), "scent in bar")
    sheet = "oil: {{allergen sheet: {{{0}, complete: yes}}}}"
    both = sheet.format(f"geranial: {half:.6f} %, neral: {half:.6f} %")
    assert [] == names(labelled(sheet.format(f"geranial: {half:.6f} %")))
    assert ["Citral"] == names(labelled(both))


def test_vanillin_is_a_listed_name_wherever_it_is_written() -> None:
    """An oil's `vanillin:` counts though its sheet does not name it; the higher of both counts."""
    found = labelled("oil: {vanillin: 4 to 5 %, allergen sheet: {vanillin: 3 %, complete: yes}}")
    (line,) = found.due
    assert "Vanillin" == line.name
    assert line.share == pytest.approx(0.05 * value(situation("oil: {vanillin: 5 %}"), "scent in bar"))


def test_oils_without_a_complete_sheet_are_named() -> None:
    """No sheet or a partial one: names not known; an oil that is not poured does not matter."""
    shelf = (
        "whole: {allergen sheet: {linalool: 1 %, complete: yes}}\npart: {allergen sheet: {linalool: 1 %}}\n"
    )
    shelf += "none: {vanillin: 0 %}\nabsent: {vanillin: 0 %}\n"
    never = "never: [{scent: absent, in: [a, b]}]\n"
    assert ("part", "none") == labelled(shelf, "whole: 1, part: 1, none: 1, absent: 1", never).not_known


def test_a_bar_of_one_portion_has_its_own_share() -> None:
    """Cavities filled from one portion each: the strongest bar's share counts."""
    mould = "{olive: 100 %}, amount: {mould: cavities, volume: 100 mL, cavities: 8}"
    text = PLAN.replace("BLEND", "oil: 1").replace("{olive: 1000 g}", mould)
    text += "pour: single colour\nonly: [{scent: oil, in: a}]\n"
    s = worked(text, book(scents="oil: {allergen sheet: {linalool: 1 %, complete: yes}}"))
    (line,) = label_of(s).due
    assert value(s, "portions are bars") == 1
    assert line.share == pytest.approx(0.01 * s.x.max() / dried_portions(s)[0])


def test_an_unscented_bar_needs_no_name() -> None:
    """Nothing due, nothing not known, and it says so."""
    plan = "plan: plain\nrecipe: {oils: {olive: 1000 g}, lye: {concentration: 31 %, superfat: 5 %}}\n"
    found = label_of(worked(plan + "portions: [{name: all, share: 100 %}]\n"))
    assert ((), (), ()) == (found.due, found.later, found.not_known)
    assert "no listed name passes 0.01 %" in plain(list(label_blocks(found, METRIC)))


def test_the_label_is_in_the_document_and_on_the_page() -> None:
    """The check's document holds it under its schema; for sale it is shown with what it is not."""
    s = situation("oil: {allergen sheet: {linalool: 10 %}}")
    result = check_situation(s, NO_RULES)
    written = result.to_json()
    jsonschema.Draft202012Validator(schema_of("check")).validate(written)
    assert written["label"] is not None
    assert ["Linalool"] == [line["name"] for line in written["label"]["due"]]
    text = " ".join(plain(check_blocks(result), 80).split())
    for part in ("Names for the label", "Linalool: ", "names not known: oil has no complete sheet",
                 "A help for the label, not a safety assessment"):  # fmt: skip
        assert part in text
    home = replace(result, purpose="home")
    assert "Names for the label" not in plain(check_blocks(home), 80)


SPICY = "oil: {allergen sheet: {isoeugenol: PART %, complete: yes}}"


@pytest.mark.parametrize(("factor", "broken"), [(0.9999, False), (1.0, False), (1.0001, True)])
def test_a_maximum_that_is_passed_names_its_constituent(factor: float, broken: bool) -> None:
    """Isoeugenol above 0.02 % of the bar (EU III/73, seen) is a stop that names it, its figure and source."""
    share = value(situation("oil: {vanillin: 0 %}"), "scent in bar")
    s = situation(SPICY.replace("PART", f"{100 * 0.0002 / share * factor:.14f}"))
    result = check_situation(s, rulebook())
    found = [f for f in result.findings if f.rule == "over-a-published-maximum" and f.status == "broken"]
    assert broken == bool(found)
    named = "Isoeugenol, at most 0.02 % of the finished bar (EU III/73; CosIng export of Annex III"
    assert all(f.level == "stop" and f.evidence.startswith(named) for f in found)
    text = " ".join(plain(check_blocks(result), 80).split())
    assert broken == (f"; {named}" in text)


def test_cavities_are_bars_of_their_own_before_the_law() -> None:
    """The whole batch keeps the maximum, the cavity that holds all of the scent does not: a stop."""
    mould = "{olive: 100 %}, amount: {mould: cavities, volume: 100 mL, cavities: 8}"
    share = value(situation("oil: {vanillin: 0 %}"), "scent in bar")
    scents = book(scents=SPICY.replace("PART", f"{100 * 0.0002 / share * 0.9:.8f}"))
    text = PLAN.replace("BLEND", "oil: 1").replace("{olive: 1000 g}", mould) + "only: [{scent: oil, in: a}]\n"
    stops = {}
    for pour in ("single colour", "column"):
        findings = check_situation(worked(f"{text}pour: {pour}\n", scents), rulebook()).findings
        stops[pour] = {f.rule for f in findings if f.level == "stop" and "maximum" in f.rule}
    assert stops == {"single colour": {"over-a-published-maximum-in-its-own-bar"}, "column": set()}
