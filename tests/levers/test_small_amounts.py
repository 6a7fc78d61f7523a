"""What the scale cannot weigh well is told with its ways; nothing is rounded up to a step."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
import yaml

from blendwise.answers.small_amounts import GOOD, POOR, error_of
from blendwise.quantity.units import GRAMS_PER_OUNCE
from tests.levers.two_faults import sound, write_book
from tests.strangers.runs import ran

ROOT = Path(__file__).parents[2]


def tiny(folder: Path, seed: int) -> tuple[Path, float]:
    """A plan with an accent of some 60 g, half in ounces, on a coarse scale; and the pigment's grams."""
    rng, ounces = Random(f"tiny {seed}"), seed % 2 == 1
    write_book(folder, ounces)
    usual = folder / "usual.yaml"
    said = yaml.safe_load(usual.read_text("utf-8")) | {"scale step": "0.1 oz" if ounces else "1 g"}
    said["lye scale step"] = said["scale step"]
    usual.write_text(yaml.safe_dump(said), "utf-8")
    plan = sound(ounces)
    rate = rng.choice([0.3, 0.6, 0.9])
    plan["portions"][0]["share"] = "60 %"
    line = {"name": "line", "share": "3.5 %", "colourants": {"rust": f"{rate} % of portion oils"}}
    plan["portions"].insert(1, line | {"may become": "brown"})
    file = folder / "plans" / "tiny.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False), "utf-8")
    oils = 42 * GRAMS_PER_OUNCE if ounces else 1200
    return file, oils * 0.035 * rate / 100


@pytest.mark.parametrize("seed", range(6))
def test_a_pigment_below_the_step_is_told_as_it_is(seed: int, tmp_path: Path) -> None:
    """Its grams stand on the sheet to the last digit shown, with a way and what it is off by."""
    file, grams = tiny(tmp_path, seed)
    sheet = ran("sheet", file, "--evenly", "--json").document
    dye = next(each for each in sheet["weighed"] if (each["what"], each["into"]) == ("rust", "line"))
    assert dye["grams"] == pytest.approx(grams, abs=0.0006 * GRAMS_PER_OUNCE)
    told = next(each for each in sheet["small"] if each["what"] == "rust" and each["into"] == "line")
    assert told["error"] == pytest.approx(told["step"] / 2 / told["grams"])
    assert min(way["error"] for way in told["ways"]) <= 0.2
    said = " ".join(ran("check", file, "--more").out.split())
    assert "of rust in line is little for steps of" in said


@pytest.mark.parametrize("seed", range(4))
def test_a_dose_too_little_for_the_scale_has_its_ways_with_their_errors(seed: int, tmp_path: Path) -> None:
    """The pot scented once, a mix to keep, a solution, a finer scale: what is more exact."""
    file, _ = tiny(tmp_path, seed)
    check = ran("check", file, "--more", "--json").document
    of_line = [
        f for f in check["findings"] if f["measure"] == "steps of the scale" and f["status"] == "broken"
    ]
    assert of_line
    ways = {each["way"]: each["details"]["error"] for each in check["levers"] if "error" in each["details"]}
    assert {"pot once", "weigh finer"} <= set(ways)
    assert all(0 < error < 0.5 for error in ways.values())
    said = " ".join(ran("check", file, "--more").out.split())
    assert "% off at most" in said


@pytest.mark.parametrize(("rule", "error"), [("little-to-weigh", GOOD), ("too-little-to-weigh", POOR)])
def test_errors_are_those_of_the_rules(rule: str, error: float) -> None:
    """An error that is told is that of the fewest steps that the rulebook bears."""
    rules = yaml.safe_load((ROOT / "rules" / "rates.yaml").read_text("utf-8"))
    must = next(each["must"]["steps of the scale"] for each in rules if each["rule"] == rule)
    assert error == pytest.approx(error_of(float(must.removeprefix("at least ")), 1.0))


@pytest.mark.parametrize("carrier", ["oil", "water", "glycerin"])
@pytest.mark.parametrize("seed", [0, 1])
def test_a_colour_is_dissolved_in_what_it_is_stirred_into(carrier: str, seed: int, tmp_path: Path) -> None:
    """Water for what goes into water: in oil it would stay in specks."""
    file, _ = tiny(tmp_path, seed)
    colours = tmp_path / "colourants.yaml"
    text = colours.read_text("utf-8").replace("rust: {", f"rust: {{dispersed in: {carrier}, ")
    colours.write_text(text, "utf-8")
    sheet = ran("sheet", file, "--evenly", "--json").document
    told = next(each for each in sheet["small"] if each["what"] == "rust")
    into = {way["details"]["oil"] for way in told["ways"] if way["way"] == "solution"}
    assert into <= {{"oil": "a liquid oil of the recipe"}.get(carrier, carrier)}
    assert into or all(way["way"] == "weigh finer" for way in told["ways"])
