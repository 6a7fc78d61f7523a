"""The whole chain of a batch at the command line, each output the next one's input."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from tests.strangers.books import TODAY
from tests.strangers.runs import Ran, ran

WRITTEN, NEXT = "The written one", "Zwölf – ещё"


def spoken(document: Any) -> set[tuple[str, str, str]]:
    """(level, rule, subject) of what speaks against a plan, whatever its name."""
    return {
        (
            each["level"],
            each["rule"],
            ", ".join("*" if part == document["plan"] else part for part in each["subject"]),
        )
        for each in document["findings"]
    }


def faults(plan: Path) -> Iterator[str]:
    """What goes wrong on the way from a plan to the next one's split; nothing where all is sound."""
    folder = plan.parent
    written, following = (folder / f"{name}.yaml" for name in (WRITTEN, NEXT))
    split = ran("assign", plan, "--write", written, "--json", "--seconds", "5")
    if crashed(split) and "there is no split to write" not in split.out:
        yield f"assign: {split}"
    if not written.exists():
        return
    yield from _written(written, split)
    sheet = ran("sheet", written, "--out", folder.parent / "sheet.html")
    told = ran("check", written, "--json").document["findings"]
    if sheet.code != int(any(map(_speaks_of_all, told))):
        yield f"the sheet says otherwise than check: exit {sheet.code} {sheet.err}"
    names = [str(each["name"]) for each in yaml.load(written.read_text("utf-8"), yaml.BaseLoader)["portions"]]
    day = ("--poured", TODAY, "--on", TODAY)
    saw = [f"{name}: minutes to thick {5 + place}" for place, name in enumerate(names)]
    for look, seen in (("at the pot", saw), ("at the cut", [f"{name}: colour tan" for name in names])):
        noted = ran(
            "note", written, "--look", look, *day, *(word for each in seen for word in ("--saw", each))
        )
        if noted.code != 0:
            yield f"note: {noted.err}"
            return
    if ran("review", WRITTEN, "--book", folder.parent).code != 0:
        yield "review does not know the written plan's name"
    yield from _again(folder.parent, following)


def _speaks_of_all(finding: dict[str, Any]) -> bool:
    """Whether a finding stands against the plan itself: a version has a sheet of its own."""
    stands = finding["status"] != "accepted" and not finding["open"]
    return finding["level"] in ("conflict", "stop") and stands and not finding["version"]


def _written(written: Path, split: Ran) -> Iterator[str]:
    """The written plan has its file's name and no other verdict than the split had."""
    if yaml.safe_load(written.read_text("utf-8"))["plan"] != WRITTEN:
        yield "the written plan has another name than its file"
    checked = ran("check", written, "--json")
    if checked.code not in (0, 1):
        yield f"check of the written plan: exit {checked.code} {checked.err}"
        return
    judged = split.document["check"]
    if judged is not None and (other := spoken(checked.document) ^ spoken(judged)):
        yield f"check of the written plan differs from assign's: {sorted(other)}"


def _again(book: Path, following: Path) -> Iterator[str]:
    again = ran("again", WRITTEN, "--write", following, "--json", "--book", book)
    if crashed(again):
        yield f"again: {again.err}"
    if not following.exists():
        return
    if yaml.safe_load(following.read_text("utf-8"))["plan"] != NEXT:
        yield "the next plan has another name than its file"
    checked = ran("check", following, "--json")
    if other := spoken(checked.document) ^ spoken(again.document["check"]):
        yield f"check of the next plan differs from again's: {sorted(other)}"
    split = ran("assign", following, "--json", "--seconds", "5")
    if crashed(split):
        yield f"assign of the next plan: {split}"
    elif split.document["status"] == "nothing fits" and any(
        each["kind"] == "plan" and each["name"] == "doses" for each in split.document["conflicts"]
    ):
        yield f"nothing fits in the next plan: {split.document['conflicts']}"


def crashed(run: Ran) -> bool:
    """Whether a run ended otherwise than a command may that could read its files."""
    return run.code not in (0, 1, 3) or "Traceback" in run.out + run.err
