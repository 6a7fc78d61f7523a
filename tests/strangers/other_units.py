"""The law of a book's own units: in a book of ounces and °F no answer and no page speaks metric.

Only what the maker typed so in the book's own files, and the net weight that law asks for in both, may.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import yaml

from tests.strangers.runs import ran

METRIC = re.compile(r"(?:[\d.,]+ ?)?(?:°C|Celsius)|[\d.,]+ ?(?:g|kg|mL|ml|cm|mm|litres?)\b(?! a )|\bgrams?\b")
BY_LAW = ("the net weight, in ounces and grams", "Net weight: ")
MARKUP = re.compile(r"<(style|svg|head).*?</\1>|<[^>]+>", re.DOTALL)
SYMPTOMS = (
    *("white spots", "soda ash", "dark ring", "seized", "soft and sticky", "false trace", "it rices"),
    *("cracked on top", "ran together", "smell is gone", "brown creeps into the white", "lye heavy"),
)
QUESTIONS = (
    *("how warm should i soap", "should i gel", "how much lye", "how much will fit in my mould"),
    *("how thin can my white lines be", "can i sell it", "how big a batch should i make"),
)


def american(book: Path) -> bool:
    """Whether a book is in ounces and °F."""
    usual = (book / "usual.yaml").read_text("utf-8")
    return "mass: oz" in usual and "temperature: F" in usual


def commands(plan: Path, page: Path) -> Iterator[tuple[object, ...]]:
    """What a maker asks of a plan and its book, short and whole, on screen and on paper."""
    book = ("--book", plan.parents[1])
    names = [str(name) for name in yaml.safe_load((plan.parents[1] / "scents.yaml").read_text("utf-8"))]
    split = ("assign", plan, "--seconds", "2")
    pairing = ("pair", names[0], names[1], *book)
    yield from (("check", plan), ("check", plan, "--more"), split)
    yield from ((*split, "--more"), ("label", plan), pairing, (*pairing, "--more"))
    yield from (("again", plan.stem, *book), ("review", *book, "--more"), ("doctor", *book))
    yield from (("scents", "list", *book), ("scents", "show", names[0], *book))
    yield ("cup", names[0], "--plan", plan)
    yield from (("sheet", plan, "--out", page), ("check", plan, "--page", page), (*pairing, "--page", page))
    yield from (("why", each, plan, "--more") for each in SYMPTOMS)
    yield from (("ask", each, plan) for each in QUESTIONS)


def metric(plan: Path, page: Path) -> Iterator[str]:
    """Every line in metric units that the book's files do not hold."""
    typed = " ".join(file.read_text("utf-8") for file in plan.parents[1].rglob("*.yaml"))
    for words in commands(plan, page):
        page.unlink(missing_ok=True)
        run = ran(*words)
        paper = html.unescape(MARKUP.sub(" ", page.read_text("utf-8"))) if page.exists() else ""
        for line in f"{run.out}\n{run.err}\n{paper}".splitlines():
            wrong = [each[0] for each in METRIC.finditer(line) if each[0] not in typed]
            if wrong and not any(each in line for each in BY_LAW):
                yield f"{' '.join(map(str, words[:2]))}: {wrong[0]} in {line.strip()}"
