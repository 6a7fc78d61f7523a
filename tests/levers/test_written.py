"""What a lever writes into a plan: remarks stay beside what is changed, and the sentence is true."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.danger.harness import build, in_process

TODAY = "2026-11-28"
HOME = "plan: own\nfor: home\n"
FATS = {"weighed": "{olive: 500 g, coconut: 300 g}", "pounds": "{olive: 1 lb, coconut: 8 oz}"}
TOO_MUCH = {"weighed": ("150 g", "260 g"), "pounds": ("5 oz", "9 oz")}


def own_plan(base: str, text: str, to: Path) -> Path:
    """A plan of this text in a sound book."""
    plan = build(base, (), to)
    plan.write_text(text, "utf-8")
    return plan


@pytest.mark.parametrize("base", ["weighed", "pounds"])
@pytest.mark.parametrize("flow", [True, False])
def test_a_remark_beside_the_lye_stays(base: str, flow: bool, tmp_path: Path) -> None:
    naoh, water = TOO_MUCH[base]
    lye = (
        f"  lye: {{NaOH: {naoh}, water: {water}, purity: 98 %}}   # from the blue tin\n"
        if flow
        else f"  # mixed outside\n  lye:\n    purity: 98 %   # from the blue tin\n    NaOH: {naoh}\n"
        f"    water: {water}\n"
    )
    text = f"{HOME}recipe:\n  oils: {FATS[base]}\n{lye}portions:\n  - {{name: all, share: 100 %}}\n"
    plan = own_plan(base, text, tmp_path)
    new = tmp_path / "new.yaml"
    told = in_process(["check", str(plan), "--write", str(new), "--today", TODAY])
    assert "lye-heavy" in told.said
    assert new.exists(), told.said
    wrote = new.read_text("utf-8")
    assert [mark for mark in text.split("\n") if "#" in mark and mark.split("#")[1] not in wrote] == []
    assert "purity: 98 %" in wrote
    assert "superfat: 5 %" in wrote
    assert naoh not in wrote
    assert water not in wrote


@pytest.mark.parametrize("base", ["weighed", "pounds"])
def test_no_cup_takes_what_every_cup_holds_less(base: str, tmp_path: Path) -> None:
    change = ("set", "scents.yaml", "clove bud", {"kind": "essential oil", "for skin": "yes"})
    plan = build(base, (change,), tmp_path)
    plan.write_text(
        f"{HOME}recipe:\n  oils: {FATS[base]}\n  lye: {{concentration: 33 %, superfat: 5 %}}\n"
        "portions:\n  - {name: first, share: 50 %}\n  - {name: last, share: the rest}\n"
        "scents:\n  blend: {clove bud: 1}\n"
        "  load: 0.8 % of batch oils\n  dosing: same dose in each scented portion\n",
        "utf-8",
    )
    told = " ".join(in_process(["check", str(plan), "--more", "--today", TODAY]).said.split())
    assert "that you mean to into" in told, told
    assert "the other cups take the rest" not in told


@pytest.mark.parametrize("base", ["weighed", "pounds"])
def test_a_value_on_its_limit_is_told_as_the_limit(base: str, tmp_path: Path) -> None:
    text = (
        f"{HOME}recipe:\n  oils: {FATS[base]}\n  lye: {{concentration: 33 %, superfat: 2 %}}\nportions:\n"
        "  - {name: one, share: 50 %}\n  - {name: two, share: the rest}\n"
    )
    told = " ".join(in_process(["check", str(own_plan(base, text, tmp_path)), "--today", TODAY]).said.split())
    assert "would have 2 % superfat, too little to be safe" in told, told


def test_a_pour_that_is_not_named_is_asked_for_as_the_pour(tmp_path: Path) -> None:
    text = (
        f"{HOME}recipe:\n  oils: {FATS['pounds']}\n  lye: {{concentration: 33 %, superfat: 5 %}}\n"
        "portions:\n  - {name: all, share: 100 %}\n"
    )
    told = " ".join(
        in_process(["check", str(own_plan("pounds", text, tmp_path)), "--today", TODAY]).said.split()
    )
    assert "as far as is known; open: the pour." in told, told


@pytest.mark.parametrize("base", ["weighed", "pounds"])
def test_a_version_asked_for_by_name_is_mended_itself(base: str, tmp_path: Path) -> None:
    """Sound as written, past the guard in one version: the change is told, and stands in that version."""
    change = ("set", "scents.yaml", "clove bud", {"kind": "essential oil", "for skin": "yes"})
    plan = build(base, (change,), tmp_path)
    much = {"weighed": "6 g", "pounds": "0.2 oz"}[base]
    plan.write_text(
        f"{HOME}recipe:\n  oils: {FATS[base]}\n  lye: {{concentration: 33 %, superfat: 5 %}}\nportions:\n"
        "  - {name: first, share: 50 %}\n  - {name: last, share: the rest}\n"
        "scents:\n  blend: {clove bud: 1}\n  load: 0.3 % of batch oils\n"
        "  dosing: same dose in each scented portion\n"
        f"variations:\n  hot: {{doses: {{last: {{clove bud: {much}}}}}}}\n",
        "utf-8",
    )
    new = tmp_path / "new.yaml"
    told = in_process(["check", str(plan), "--variation", "hot", "--write", str(new), "--today", TODAY])
    assert told.code == 1, told.said
    assert new.exists(), told.said
    wrote = new.read_text("utf-8")
    assert much not in wrote
    assert "load: 0.3 % of batch oils" in wrote
