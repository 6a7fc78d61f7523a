"""Thousands of looks for tests and benches: the demo's plans poured again and again by a seeded maker."""

from __future__ import annotations

import random
import shutil
from datetime import date, timedelta
from pathlib import Path

from blendwise import Book
from blendwise.answers.note.frozen import Day, freeze
from blendwise.answers.note.text import Field, note_text
from blendwise.records.as_of import AsOf
from blendwise.records.kinds.scent import BANDS

ROOT = Path(__file__).resolve().parents[3]
FIRST = date(2016, 1, 4)
STAGES = (
    ("at the pot", 0), ("at the cut", 1), ("later", 3), ("week 1", 7), ("week 2", 14), ("later", 21),
    ("week 4", 28), ("later", 35), ("week 6", 42), ("later", 60),
)  # fmt: skip


def big_book(folder: Path, batches: int, seed: int = 7) -> Path:
    """A copy of the demo with so many batches, ten looks each, in place of its notes."""
    shutil.copytree(ROOT / "demo_catalog", folder, ignore=shutil.ignore_patterns("notes", "rules"))
    (folder / "notes").mkdir()
    book, chance = Book(folder), random.Random(seed)
    days = {path.stem: _frozen(book, path.stem) for path in book.files.plan_paths()}
    for number in range(batches):
        plan = sorted(days)[number % len(days)]
        _batch(folder / "notes", number, plan, days[plan], chance)
    return folder


def _frozen(book: Book, plan: str) -> Day:
    return freeze(book.situation(plan, AsOf(FIRST, as_written=True)), book.rulebook)


def _batch(notes: Path, number: int, plan: str, day: Day, chance: random.Random) -> None:
    poured = FIRST + timedelta(days=7 * number)
    after = ""
    for stage, (look, days) in enumerate(STAGES):
        name = f"{number:04d}-{stage}-{plan}"
        fields: dict[str, Field] = {
            "note": name,
            "plan": plan,
            "look": look,
            "on": (poured + timedelta(days=days)).isoformat(),
            "batch": f"B-{number:04d}",
            "after": after,
            "poured": poured.isoformat(),
            "portions": {portion: _seen(look, days, chance) for portion in day.portions},
        }
        text = note_text(fields, day if stage == 0 else None)
        (notes / f"{name}.yaml").write_text(text, "utf-8")
        after = name


def _seen(look: str, days: int, chance: random.Random) -> dict[str, str]:
    if look == "at the pot":
        minutes = f"{chance.uniform(3, 22):.1f} min"
        timed = {"minutes to thick": minutes} if chance.random() < 0.6 else {"still fluid at": minutes}
        return {**timed, "ricing": chance.choice(["none", "none", "slight"])}
    hexed = f"#{chance.randrange(0x404040, 0xF0F0F0):06x}"
    colour = hexed if chance.random() < 0.2 else chance.choice(BANDS[:4])
    strength = chance.choice(["strong", "fair", "faint"] if days > 20 else ["strong", "fair"])
    return {"colour": colour, "edge": chance.choice(["clean", "soft"]), "strength": strength}
