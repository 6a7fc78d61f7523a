"""The law of printed amounts: what any command prints of a plan can be typed back, and is the same plan.

Every amount that is printed, on the sheet too, is read by the tool's own door and printed again letter by
letter; the doses that are printed of a split, written into the plan in their place, leave every verdict as
it was (those of a premix are weighed together: its parts are told, and never weighed alone).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import yaml

from blendwise.quantity import Basis, Dimension, QuantityError, ShownIn, parse_amount
from blendwise.quantity.show import in_units
from tests.strangers.chain import spoken
from tests.strangers.runs import ran

D = Dimension
AMOUNT = re.compile(
    r"(?<![\w.,#×-])(?P<low>-?\d+(?:\.\d+)?)(?: to (?P<high>-?\d+(?:\.\d+)?))? "
    r"(?P<unit>fl oz|oz ppo|oz|lb|g|kg|mL|cm|mm|in|°C|°F|%|min|days?|weeks?)"
    r"(?P<of> of (?:portion|batch) oils)?(?![\w/³]| (?:a|apart)\b"
    r"| of (?:what (?:the|its) certificates allow|it\b))"
)
UNREADABLE = re.compile(r"<(style|svg|script)\b.*?</\1>", re.DOTALL)
TAG = re.compile(r"<[^>]+>")
OF_OILS = (Basis.BATCH_OILS, Basis.PORTION_OILS, Basis.OILS)
KINDS = {
    **dict.fromkeys(("oz", "lb", "g", "kg"), D.MASS),
    **dict.fromkeys(("mL", "fl oz"), D.VOLUME),
    **dict.fromkeys(("cm", "mm", "in"), D.LENGTH),
    **dict.fromkeys(("°C", "°F"), D.TEMPERATURE),
    **dict.fromkeys(("%", "oz ppo"), D.FRACTION),
    **dict.fromkeys(("min", "day", "days", "week", "weeks"), D.TIME),
}
SHOWN = {"oz": "oz", "fl oz": "oz", "in": "oz", "°F": "F", "oz ppo": "ppo"}


def answers(plan: Path) -> Iterator[tuple[str, str]]:
    """What is printed of a plan and of its book, by command."""
    names = [str(name) for name in yaml.safe_load((plan.parents[1] / "scents.yaml").read_text("utf-8"))]
    book = ("--book", plan.parents[1])
    split = ("assign", plan, "--seconds", "2")
    asked: list[tuple[object, ...]] = [("check", plan), ("check", plan, "--more"), split]
    asked += [("again", plan.stem, *book), ("pair", *names[:2], *book), ("pair", *names[:2], *book, "--more")]
    asked += [("cup", names[0], "--plan", plan), ("label", plan)]
    for words in asked:
        yield str(words[0]), " ".join(ran(*words, "--plain").out.split())
    yield "sheet", on_the_sheet(plan)


def on_the_sheet(plan: Path) -> str:
    """What can be read on a plan's sheet, in one line; empty where there is none."""
    page = plan.parents[1] / "sheet.html"
    ran("sheet", plan, "--seconds", "2", "--out", page)
    if not page.exists():
        return ""
    shown = UNREADABLE.sub(" ", page.read_text("utf-8"))
    return " ".join(unescape(TAG.sub(" ", shown)).split())


def apart_in_a_mix(plan: Path) -> Iterator[str]:
    """Parts of the premixes on a plan's sheet that are no whole step, or not in the ratio of the doses."""
    sheet, check = ran("sheet", plan, "--json"), ran("check", plan, "--json")
    if not sheet.out or "mixes" not in sheet.document:
        return
    doses: dict[str, float] = {}
    for portion in check.document["grams"]:
        for oil, grams in portion["scents"].items():
            doses[oil] = doses.get(oil, 0.0) + grams
    for mix in sheet.document["mixes"]:
        parts = {each["what"]: each for each in mix["scents"]}
        whole, dosed = (
            sum(held) for held in ([p["grams"] for p in parts.values()], [doses[o] for o in parts])
        )
        for oil, part in parts.items():
            step, wanted = part["step"], whole * doses[oil] / dosed
            steps = part["grams"] / step
            if abs(steps - round(steps)) > 1e-6 or abs(part["grams"] - wanted) > len(parts) * step / 2 + 1e-9:
                yield f"{oil} in {mix['name']}: {part['grams']} g, {wanted} g by its doses"


def unread(said: str) -> Iterator[str]:
    """Amounts of a text that cannot be typed back, or that are another amount when they are."""
    for found in AMOUNT.finditer(said):
        text, unit = found[0], found["unit"]
        try:
            read = parse_amount(text, KINDS[unit], bases=OF_OILS, default_basis=Basis.WHOLE)
        except QuantityError as error:
            if not found["low"].startswith("-") and "absurd" not in error.message:
                yield f"{text}: {error.message}"
            continue
        for end, value in ((found["low"], read.low), (found["high"] or found["low"], read.high)):
            if unit in SHOWN or unit in ("g", "mL", "cm", "°C", "%", "min"):
                back, shown = in_units(value, KINDS[unit], _units(unit), read.basis)
                if shown != unit or abs(back - float(end)) > 1e-9 * max(1.0, abs(back)):
                    yield f"{text} is read as {back} {shown}"


def _units(unit: str) -> ShownIn:
    told = SHOWN.get(unit, "")
    return ShownIn(
        "oz" if told == "oz" else "g", "F" if told == "F" else "C", "ppo" if told == "ppo" else "percent"
    )


def doses_printed(said: str, document: Any) -> dict[str, dict[str, str]]:
    """The doses in a check's lines of a plan, by portion and oil; none of a plan without scent."""
    if "scents" not in document:
        return {}
    portions = [str(each["name"]) for each in document["portions"]]
    oils = "|".join(sorted(map(re.escape, map(str, document["scents"]["blend"])), key=len, reverse=True))
    dose = re.compile(rf"(?:^|, )(?P<oil>{oils}) (?P<mass>[\d.]+ (?:oz|g))(?=,| \()")
    unfolded = re.sub(r"\n {4,}", " ", said).splitlines()
    found: dict[str, dict[str, str]] = {}
    for portion in portions:
        row = re.compile(rf" *{re.escape(portion)} [\d.]+ (?:oz|g): (.*)")
        for line in filter(None, map(row.fullmatch, unfolded)):
            found[portion] = {each["oil"]: each["mass"] for each in dose.finditer(line[1])}
    return {portion: doses for portion, doses in found.items() if doses}


def otherwise(plan: Path) -> Iterator[str]:
    """What is wrong once the printed doses of a split are typed into it; nothing where all is well."""
    written = plan.with_name("typed.yaml")
    ran("assign", plan, "--write", written, "--seconds", "5")
    if not written.exists():
        return
    document = yaml.load(written.read_text("utf-8"), yaml.BaseLoader)
    before = ran("check", written, "--json")
    printed = doses_printed(ran("check", written, "--plain").out, document)
    if not printed:
        return
    together = {str(oil) for premix in document.get("weigh together", ()) for oil in premix}
    for portion, held in printed.items():
        alone = [str(oil) for oil in document["scents"]["blend"] if str(oil) not in together]
        typed = {oil: held.get(oil, "none") for oil in alone}
        document.setdefault("doses", {}).setdefault(portion, {}).update(typed)
    again = plan.with_name("typed again.yaml")
    document["plan"] = again.stem
    again.write_text(yaml.safe_dump(document, allow_unicode=True, sort_keys=False), "utf-8")
    after = ran("check", again, "--json")
    if after.code not in (0, 1):
        yield f"typed back it is refused: {after.err[-300:]}"
    elif apart := spoken(before.document) ^ spoken(after.document):
        yield f"typed back it is another plan: {sorted(apart)[:4]}"
