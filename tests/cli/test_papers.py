"""What papers say, at the command line: books made here, one fact changed at a time."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.danger.harness import build, in_process

Change = tuple[Any, ...]
SHEET = "quiet-linen/allergen sheet"
PAPER = "limit in bar/certificate"
LIMIT = "quiet-linen/limit in bar"
OILS = ("quiet-linen", "meadow-rain")


def asked(to: Path, *change: Change, day: str = "2026-11-28") -> tuple[int, dict[str, Any]]:
    """Exit code and answer of a check on a sound book with some changes."""
    ran = in_process(["check", str(build("loaf", change, to)), "--json", "--today", day])
    found: dict[str, Any] = json.loads(ran.said)
    return ran.code, found


def of_rule(answer: dict[str, Any], rule: str) -> dict[str, Any] | None:
    return next((f for f in answer.get("findings", ()) if f["rule"] == rule), None)


@pytest.mark.parametrize(
    "name", ["Lilial", "CAS 80-54-6", "EC 201-289-8", "2-(4-tert-butylbenzyl)propionaldehyde", "Musk xylol"]
)
def test_banned_by_any_name(name: str, tmp_path: Path) -> None:
    code, answer = asked(tmp_path, ("set", "scents.yaml", f"{SHEET}/{name}", "1 %"))
    assert code == 1
    assert (found := of_rule(answer, "banned-constituent")) is not None
    assert (found["level"], found["status"]) == ("stop", "broken")
    assert "EU" in found["evidence"]


def test_without_any_sheet_nothing_is_all_clear(tmp_path: Path) -> None:
    """Of an oil without a sheet nothing says that nothing banned is in it, nor that no maximum is used."""
    drops = [("drop", "scents.yaml", f"{oil}/allergen sheet") for oil in OILS]
    plan = build("loaf", drops, tmp_path)
    said = in_process(["check", str(plan), "--json", "--working", "--today", "2026-11-28"]).said
    facts = json.loads(said)["working"]
    assert facts
    named = [f["measure"] for f in facts]
    assert "for skin" in named
    assert "banned constituent" not in named
    assert "published maximum used" not in named


def test_one_grouped_caution_and_what_closes_it(tmp_path: Path) -> None:
    _, open_ = asked(tmp_path / "a")
    found = of_rule(open_, "law-not-answered-for-sale")
    assert found is not None
    assert {each["subject"] for each in found["missing"]} == {"quiet-linen", "meadow-rain"}
    stated = [("set", "scents.yaml", f"{oil}/supplier statement", "2026-06-01") for oil in OILS]
    _, closed = asked(tmp_path / "b", *stated)
    assert of_rule(closed, "law-not-answered-for-sale") is None
    old = [("set", "scents.yaml", f"{oil}/supplier statement", "2026-04-01") for oil in OILS]
    _, older = asked(tmp_path / "c", *old)
    assert of_rule(older, "law-not-answered-for-sale") is not None


def test_at_home_a_hint(tmp_path: Path) -> None:
    _, answer = asked(tmp_path, ("set", "plan", "for", "home"))
    assert (found := of_rule(answer, "law-not-answered-at-home")) is not None
    assert found["level"] == "hint"


def test_a_name_nobody_knows_is_told_with_the_nearest(tmp_path: Path) -> None:
    code, answer = asked(tmp_path, ("set", "scents.yaml", f"{SHEET}/linaluul", "1 %"))
    assert code == 0
    assert (found := of_rule(answer, "name-that-nobody-knows")) is not None
    assert "nearest: linalo" in found["evidence"].lower()
    assert of_rule(answer, "label-names-not-known") is not None
    assert "quiet-linen" in answer["label"]["not_known"]


def test_wrong_check_digit_is_refused(tmp_path: Path) -> None:
    code, answer = asked(tmp_path, ("set", "scents.yaml", f"{SHEET}/lily (80-54-5)", "1 %"))
    assert code == 2
    assert "80-54-5" in answer["faults"][0]["message"]


def test_two_names_of_one_substance_are_summed_and_told(tmp_path: Path) -> None:
    """1.2 % under each of two names of isoeugenol pass its maximum; either alone does not."""
    one = ("set", "scents.yaml", f"{SHEET}/isoeugenol", "1.2 %")
    other = ("set", "scents.yaml", f"{SHEET}/(E)-isoeugenol", "1.2 %")
    assert asked(tmp_path / "a", one)[0] == asked(tmp_path / "b", other)[0] == 0
    code, answer = asked(tmp_path / "c", one, other)
    told = of_rule(answer, "one-substance-named-twice")
    assert told is not None
    assert code == 1
    assert of_rule(answer, "over-a-published-maximum") is not None


@pytest.mark.parametrize(
    "limit", [{"most": "8 %"}, {"most": "100 %"}, {"most": "8 %", "dated": "2027-01-01"}]
)
def test_what_is_no_certificate(limit: dict[str, str], tmp_path: Path) -> None:
    code, answer = asked(tmp_path, ("set", "scents.yaml", LIMIT, limit))
    assert code == 1
    assert (found := of_rule(answer, "no-certificate-for-sale")) is not None
    assert "limit in bar" in found["evidence"]


def test_another_category_is_no_certificate(tmp_path: Path) -> None:
    limit = {"most": "90 %", "certificate": "51st amendment", "category": "12", "dated": "2025-03-10"}
    code, answer = asked(tmp_path, ("set", "scents.yaml", LIMIT, limit))
    assert code == 1
    assert "category 12" in (of_rule(answer, "no-certificate-for-sale") or {})["evidence"]


def test_hearsay_is_no_certificate(tmp_path: Path) -> None:
    change = [("set", "scents.yaml", LIMIT, {"most": "100 %", "certificate": "they say"})]
    assert asked(tmp_path / "a", *change)[0] == 0
    code, _ = asked(tmp_path / "b", *change, ("set", "scents.yaml", "quiet-linen/evidence", "hearsay"))
    assert code == 1


def test_category_that_contradicts_the_paper_is_refused(tmp_path: Path) -> None:
    code, _ = asked(tmp_path, ("set", "scents.yaml", f"{LIMIT}/category", "12"))
    assert code == 2


def test_industry_maximum_by_the_category(tmp_path: Path) -> None:
    """Estragole has no maximum in law; a certificate of category 9 binds the bar to the industry's."""
    sheet = ("set", "scents.yaml", f"{SHEET}/estragole", "5 %")
    bound, answer = asked(tmp_path / "a", sheet)
    assert bound == 1
    assert "Estragole" in (of_rule(answer, "over-a-published-maximum") or {})["evidence"]
    bare = [("set", "scents.yaml", f"{oil}/{PAPER}", "51st amendment") for oil in OILS]
    assert of_rule(asked(tmp_path / "b", sheet, *bare)[1], "over-a-published-maximum") is None


def test_plants_are_asked_until_a_certificate_answers(tmp_path: Path) -> None:
    """Rose carries methyl eugenol: open without category 9, settled with it."""
    oil = {"kind": "absolute", "for skin": "yes", "vanillin": "0 %", "allergen sheet": {"complete": "yes"}}
    limit = {"most": "3 %", "certificate": "51st amendment", "dated": "2025-03-10"}
    for name, category, wanted in (("a", {}, 1), ("b", {"category": "9"}, 0)):
        added = [
            ("set", "scents.yaml", "rose absolute", {**oil, "limit in bar": {**limit, **category}}),
            ("set", "plan", "scents/blend", {"quiet-linen": "9", "rose absolute": "1"}),
        ]
        _, answer = asked(tmp_path / name, *added)
        found = of_rule(answer, "over-a-published-maximum")
        assert (found is not None) == bool(wanted), name
        if found is not None:
            assert found["status"] == "undecided"
            assert found["missing"][0] == {"subject": "rose absolute", "fact": "Methyl eugenol"}


def test_ethyl_vanillin_on_the_sheet_browns(tmp_path: Path) -> None:
    sheet = ("set", "scents.yaml", SHEET, {"ethylvanillin": "9 %", "complete": "yes"})
    _, answer = asked(tmp_path, sheet, ("drop", "scents.yaml", "quiet-linen/browns to"))
    assert any("brown" in found["rule"] for found in answer["findings"])


def test_a_draft_of_the_law_is_told_and_is_no_law(tmp_path: Path) -> None:
    """From its day a draft stands in the hint on the tables' age; nothing says that the law has changed."""
    for name, day, told in (("a", "2026-12-31", False), ("b", "2027-01-01", True)):
        answer = asked(tmp_path / name, day=day)[1]
        assert of_rule(answer, "law-tables-overtaken") is None
        old = of_rule(answer, "law-tables-old")
        assert old is not None
        assert ("draft" in json.dumps(old)) is told
    assert of_rule(asked(tmp_path / "c", day="2026-11-28")[1], "law-tables-old") is None


def test_the_tables_say_their_day(tmp_path: Path) -> None:
    plan = build("loaf", (), tmp_path)
    doctor = json.loads(
        in_process(["doctor", "--book", str(plan.parents[1]), "--json", "--today", "2026-11-28"]).said
    )
    assert doctor["tables_of"] == "2025-12-08"
    assert asked(tmp_path / "x")[1]["label"]["tables_of"] == "2025-12-08"
