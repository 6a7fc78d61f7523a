"""The draft of a label at the command line: lists, names due on the day, weight; bad input."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.danger.harness import build, in_process

Change = tuple[Any, ...]
TEN = ", ".join(f"{112 + k} g" for k in range(10))
CLAIMS = (
    "natural",
    "organic",
    "moistur",
    "gentle",
    "sensitive",
    "hypoallergenic",
    "heal",
    "antibacterial",
    "safe for",
)


def drafted(to: Path, *change: Change, base: str = "loaf", weights: str = "", day: str = "2026-11-28") -> Any:
    said = [*(["--weights", weights] if weights else []), "--json", "--today", day]
    ran = in_process(["label", str(build(base, change, to)), *said])
    return ran.code, json.loads(ran.said)


def names(entries: list[dict[str, Any]], key: str = "name") -> list[str]:
    return [each[key] for each in entries]


def test_both_customs_in_descending_order(tmp_path: Path) -> None:
    code, draft = drafted(tmp_path)
    assert code == 0
    put_in, made = draft["as_put_in"], draft["as_saponified"]
    assert (
        names(put_in)[:2] == ["Olea Europaea Fruit Oil", "Cocos Nucifera Oil"] or "Aqua" in names(put_in)[:3]
    )
    assert {"Sodium Hydroxide", "Aqua", "Parfum"} <= set(names(put_in))
    assert "Sodium Hydroxide" not in names(made)
    assert {"Sodium Olivate", "Sodium Cocoate", "Glycerin", "Aqua", "Parfum"} <= set(names(made))
    assert "Cocos Nucifera (Coconut) Oil" in names(put_in, "name_us")
    assert {"Fragrance", "Water"} <= set(names(put_in, "name_us"))
    for entries in (put_in, made):
        shares = [e["share"] for e in entries if not e["name"].startswith("CI ") and e["known"]]
        assert shares == sorted(shares, reverse=True)
    assert sum(e["share"] for e in put_in) == pytest.approx(1)


def test_allergens_by_the_day_of_sale(tmp_path: Path) -> None:
    """Before 2026-08-01 the new names of (EU) 2023/1545 are not due; the UK's old names stay."""
    sheet = [("set", "scents.yaml", "quiet-linen/allergen sheet/Menthol", "9 %")]
    _, before = drafted(tmp_path / "a", *sheet, day="2026-07-31")
    _, after = drafted(tmp_path / "b", *sheet, day="2026-08-01")
    eu = [next(m for m in d["markets"] if m["market"] == "EU") for d in (before, after)]
    assert "Menthol" not in eu[0]["allergens"]
    assert "Menthol" in eu[1]["allergens"]
    assert eu[1]["since"] == "2026-08-01"
    uk = next(m for m in after["markets"] if m["market"] == "UK")
    assert "Menthol" not in uk["allergens"]
    assert "Linalool" in uk["allergens"]


@pytest.mark.parametrize("base", ["loaf", "pounds"])
def test_the_weight_of_the_lightest(base: str, tmp_path: Path) -> None:
    weights = TEN if base == "loaf" else ", ".join(f"{4 + k / 10:.1f} oz" for k in range(10))
    _, draft = drafted(tmp_path, base=base, weights=weights)
    weight = draft["weight"]
    least = min(weight["weighed"]) * (1 - weight["still_to_lose"])
    assert least - 1 < weight["net"] <= least
    assert weight["net_ounces"] * 28.349523125 <= least
    assert not {"weight", "few bars"} & set(draft["open"])
    assert {"custom", "free oil", "assessor"} <= set(draft["open"])


def test_past_a_harm_there_is_no_list(tmp_path: Path) -> None:
    change = [("set", "plan", "recipe/amount", {"oils": "1000 g"})]
    change += [("set", "plan", "recipe/lye", {"NaOH": "160 g", "water": "320 g"})]
    code, draft = drafted(tmp_path, *change)
    assert code == 1
    assert draft["as_put_in"] == draft["as_saponified"] == []
    assert "harm" in draft["open"]


def test_a_missing_paper_is_told(tmp_path: Path) -> None:
    code, draft = drafted(tmp_path, ("drop", "scents.yaml", "quiet-linen/limit in bar"))
    assert code == 1
    assert "papers" in draft["open"]
    assert draft["as_put_in"]


def test_nothing_is_claimed(tmp_path: Path) -> None:
    ran = in_process(["label", str(build("loaf", (), tmp_path)), "--plain", "--today", "2026-11-28"])
    assert [word for word in CLAIMS if word in ran.said.casefold()] == []
    assert "draft to take to your assessor" in " ".join(ran.said.split())


@pytest.mark.parametrize(
    "weights", ["112", "112 mL", "0 g", "-3 g", "110 to 112 g", "112 g, 11.2 g", "heavy"]
)
def test_weights_that_are_none_are_refused(weights: str, tmp_path: Path) -> None:
    code, answer = drafted(tmp_path, weights=weights)
    assert code == 2
    assert answer["faults"][0]["remedy"]


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        ({"linalool": "70 %", "limonene": "60 %", "complete": "yes"}, "look for a slip"),
        ({"linalool": "1 %", "78-70-7": "1 %", "complete": "yes"}, "78-70-7"),
        ({"geraniol": "2 %", "106-24-1": "3 %", "complete": "yes"}, "106-24-1"),
    ],
    ids=["sums over 100 %", "a wrong check digit", "two names of one substance"],
)
def test_sheets_that_cannot_be_right_are_told(sheet: dict[str, str], told: str, tmp_path: Path) -> None:
    plan = build("loaf", [("set", "scents.yaml", "quiet-linen/allergen sheet", sheet)], tmp_path)
    ran = in_process(["check", str(plan), "--json", "--today", "2026-11-28"])
    assert told in ran.said
    assert ran.code in (0, 2)
