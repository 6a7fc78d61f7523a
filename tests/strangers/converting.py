"""The law of units: a book written in the other system of units has the same verdicts and the same levers.

Every mass, temperature, length and rate of the oils in every file of a book is written anew, to twelve
digits, and so are the units that it is shown in.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.strangers.runs import Ran, ran

OUNCE, POUND, INCH, FLUID = 28.349523125, 453.59237, 2.54, 29.5735295625
TO_AMERICAN = {
    "g": (1 / OUNCE, 0.0, "oz"), "kg": (1000 / POUND, 0.0, "lb"), "°C": (1.8, 32.0, "°F"),
    "cm": (1 / INCH, 0.0, "in"), "mm": (0.1 / INCH, 0.0, "in"), "mL": (1 / FLUID, 0.0, "fl oz"),
}  # fmt: skip
TO_METRIC = {
    "oz": (OUNCE, 0.0, "g"), "lb": (POUND, 0.0, "g"), "°F": (1 / 1.8, -32 / 1.8, "°C"),
    "in": (INCH, 0.0, "cm"), "fl oz": (FLUID, 0.0, "mL"),
}  # fmt: skip
NUMBER = r"\d+(?:\.\d+)?"
AMOUNT = re.compile(
    rf"(?<![\w.])(?P<low>{NUMBER})(?: to (?P<high>{NUMBER}))? ?(?P<unit>fl oz|kg|mm|cm|mL|oz|lb|°C|°F|in|g)"
    r"(?! ppo|\w|/| per|³)"
)
RATE = re.compile(rf"(?<![\w.])(?P<rate>{NUMBER}) %(?= of batch oils)")
BY_THE_POUND = re.compile(rf"(?<![\w.])(?P<rate>{NUMBER}) oz ppo(?P<of> of \w+(?: oils)?)?")
INSIDE = re.compile(rf"({NUMBER}) x ({NUMBER}) x ({NUMBER}) (cm|in)")
UNITS = re.compile(r"^units: .*$", re.M)
FILES = ("usual.yaml", "oils.yaml", "scents.yaml", "colourants.yaml", "additives.yaml")


def convert(book: Path, american: bool) -> None:
    """The files of a book in the other system, in place."""
    for file in [*(book / name for name in FILES), *book.glob("plans/*.yaml")]:
        if file.exists():
            file.write_text(converted(file.read_text("utf-8"), american), "utf-8")


def converted(text: str, american: bool) -> str:
    """A file's text in the other system; names and remarks are left alone as far as amounts can be told."""
    ways = TO_AMERICAN if american else TO_METRIC
    text = INSIDE.sub(r"\1 \4 x \2 \4 x \3 \4", text)
    text = AMOUNT.sub(lambda found: _amount(found, ways), text)
    if american:
        text = RATE.sub(lambda found: f"{_figure(float(found['rate']) * 0.16)} oz ppo", text)
    else:
        text = BY_THE_POUND.sub(
            lambda found: f"{_figure(float(found['rate']) / 0.16)} %{found['of'] or ' of oils'}", text
        )
    told = (
        "{mass: oz, temperature: F, rates: ppo}" if american else "{mass: g, temperature: C, rates: percent}"
    )
    return UNITS.sub(f"units: {told}", text)


def _amount(found: re.Match[str], ways: dict[str, tuple[float, float, str]]) -> str:
    if found["unit"] not in ways:
        return found.group()
    factor, shift, unit = ways[found["unit"]]
    ends = [_figure(float(end) * factor + shift) for end in (found["low"], found["high"]) if end is not None]
    return f"{' to '.join(ends)} {unit}"


def _figure(value: float) -> str:
    return f"{value:.12f}".rstrip("0").rstrip(".") or "0"


def spoken(run: Ran) -> dict[str, Any]:
    """What a check says that hangs on no unit: its findings, and the kind and subject of every lever."""
    if run.code not in (0, 1):
        return {"refused": (run.err or run.out)[-300:]}
    said = json.loads(run.out)
    return {
        "findings": sorted(
            (each["level"], each["status"], each["rule"], str(each["subject"])) for each in said["findings"]
        ),
        "levers": sorted((each["kind"], str(each.get("target"))) for each in _levers(said)),
    }


def _levers(document: Any) -> Iterator[dict[str, Any]]:
    """Every lever wherever it stands."""
    for each in document.get("levers") or ():
        yield from each.get("levers", [each])


def broken(plan: Path) -> Iterator[str]:
    """What a plan's check says otherwise once its book is converted, either way."""
    book = plan.parents[1]
    before = spoken(ran("check", plan, "--json"))
    usual = (book / "usual.yaml").read_text("utf-8")
    american = "mass: oz" not in usual
    convert(book, american)
    after = spoken(ran("check", plan, "--json"))
    for part in before.keys() | after.keys():
        if before.get(part) != after.get(part):
            yield f"{part} {'in ounces' if american else 'in grams'}: {_apart(before, after, part)}"


def _apart(before: dict[str, Any], after: dict[str, Any], part: str) -> str:
    one, other = before.get(part), after.get(part)
    if not isinstance(one, list) or not isinstance(other, list):
        return f"{str(one)[:60]} before, {str(other)[:300]} after"
    gone = [each for each in one if each not in other]
    new = [each for each in other if each not in one]
    return f"gone {gone[:3]}, new {new[:3]}"
