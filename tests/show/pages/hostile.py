"""Books that strain a page: names that mean harm, and a plan as large as any."""

from __future__ import annotations

import json
import shutil
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from blendwise.answers.sheet.result import Sheet
from tests.show.pages.conftest import DEMO

SCRIPT = "<script>window.ran=1;alert(1)</script>"
QUOTES = "\"><img src=x onerror='window.ran=1'>"
HEBREW = "שלום עולם"
EMOJI = "🧼🫧 foam & co"
BRACES = "{{ 7 * 7 }} {% raw %} ${1} `x`"
LONG = "a" * 60 + " " + "b" * 59
HOSTILE = (SCRIPT, QUOTES, HEBREW, EMOJI, BRACES)
"""Names of four portions and of a plan."""


def typed(text: str) -> str:
    """A name as YAML takes it whatever is in it."""
    return json.dumps(text, ensure_ascii=False)


def hostile_book(folder: Path) -> Path:
    """The demo with a plan whose every name means harm."""
    book = folder / "book"
    shutil.copytree(DEMO, book)
    scents = (book / "scents.yaml").read_text("utf-8")
    oil = scents.split("\nlinen-line:\n")[1].split("\n\n")[0].replace("lot: LL-88", f"lot: {typed(QUOTES)}")
    (book / "scents.yaml").write_text(f"{scents}\n{typed(SCRIPT)}:\n{oil}\n", "utf-8")
    portions = "\n".join(
        f"  - {{name: {typed(name)}, share: {share}, colourants: {{charcoal: 0.2 % of portion oils}}}}"
        for name, share in zip(
            (SCRIPT, QUOTES, HEBREW, EMOJI, LONG), ("30 %", "20 %", "20 %", "20 %", "the rest"), strict=True
        )
    )
    plan = (
        f"plan: {typed(BRACES)}\nfor: sale\n"
        "process: {batter at split: 33 °C, room: 20 °C, gel: avoid, stays fluid: 30 min}\n"
        f"pour: column\nportions:\n{portions}\n"
        f"scents:\n  blend: {{{typed(SCRIPT)}: 2, cedar: 1}}\n  load: 4 % of batch oils\n"
    )
    (book / "plans" / "hostile.yaml").write_text(plan, "utf-8")
    return book


def renamed(sheet: Sheet, names: Sequence[str]) -> Sheet:
    """A sheet with other names for its portions, for the plan and for the first oil."""
    new = dict(zip((cup.portion for cup in sheet.portions), names, strict=True))
    cups = tuple(replace(cup, portion=new[cup.portion]) for cup in sheet.portions)
    assert sheet.clock is not None
    turns = tuple(replace(turn, portion=new[turn.portion]) for turn in sheet.clock.turns)
    assert sheet.pot is not None
    first, *rest = sheet.pot.oils
    return replace(
        sheet,
        plan=names[0],
        portions=cups,
        clock=replace(sheet.clock, turns=turns),
        colour_order=tuple(new[name] for name in sheet.colour_order),
        pot=replace(sheet.pot, oils=(replace(first, what=names[1]), *rest)),
    )


def large_book(folder: Path) -> Path:
    """The demo with a plan of eight portions, eight scents, twelve oils, held-back and mixed-in oil."""
    book = folder / "book"
    shutil.copytree(DEMO, book)
    colours = ("titanium-dioxide", "green-clay", "red-oxide", "charcoal", "ultramarine-blue", "kaolin")
    portions = "\n".join(
        f"  - {{name: portion-{p}, share: {'the rest' if p == 7 else '12 %'}, "
        f"colourants: {{{colours[p % 6]}: 1 % of portion oils}}, mixed in: {{sunflower: 5 g}}}}"
        for p in range(8)
    )
    oils = (
        "olive: 20 %, coconut: 15 %, rapeseed: 10 %, shea: 5 %, castor: 5 %, palm: 10 %, sunflower: 10 %, "
        "babassu: 5 %, sweet-almond: 5 %, cocoa-butter: 5 %, high-oleic-sunflower: 10 %"
    )
    plan = (
        f"plan: large\nfor: sale\nrecipe:\n  oils: {{{oils}}}\n  amount: {{oils: 3000 g}}\n"
        "  lye: {concentration: 31 %, superfat: 6 %}\n"
        "  additives: {sugar: 20 g, citric acid: 6 g, salt: 10 g, oats: 5 g}\n"
        "  held back: {olive: {portion-1: 10 g, portion-2: 10 g}}\n"
        "process: {batter at split: 34 °C, room: 20 °C, gel: avoid, stays fluid: 40 min}\n"
        f"pour: column\nportions:\n{portions}\n"
        "scents:\n  blend: {tonka-milk: 1, lime: 1, cedar: 1, lavender: 1, sea-glass: 1, linen-line: 1, "
        "patchouli: 1, orange-five-fold: 1}\n  load: 4 % of batch oils\n"
    )
    (book / "plans" / "large.yaml").write_text(plan, "utf-8")
    return book
