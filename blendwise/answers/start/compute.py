"""A new book: every file made beside its place, tried as a whole, and only then given its name."""

from __future__ import annotations

import datetime
import os
import re
import secrets
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from string import Template
from typing import TYPE_CHECKING, Final

from blendwise.answers.draft.checks import amount
from blendwise.answers.start.questions import QUESTIONS, answered, default_of
from blendwise.answers.start.result import FIRST_PLAN, StartResult
from blendwise.records.book import load_book, load_plan
from blendwise.records.place import read_fault
from blendwise.records.reading.document import text_document
from blendwise.records.shipped import starter_folder
from blendwise.records.writing.edit import flow
from blendwise.records.writing.editors import FOLDER, with_schema_line, write_schemas
from blendwise.records.writing.write import abandoned, write_new

if TYPE_CHECKING:
    from blendwise.answers.spreadsheet.answers import Answers
    from blendwise.answers.spreadsheet.result import ImportResult

DEMO_BLEND: Final = {"sea-glass": 2, "lavender": 1, "cedar": 1}
_OWN: Final = re.compile(
    r"  (?:lot saponification|certificate|price|on hand|evidence|grams per teaspoon|lot|bought):"
)
"""Lines of the demo that speak of its maker's own bottles, spoon and experience."""
_HERE: Final = Path(__file__).parent


CATALOGUES: Final = ("oils.yaml", "colourants.yaml", "scents.yaml", "usual.yaml")
STAGED: Final = {"rules", "plans", "notes", FOLDER, *CATALOGUES}
"""All that a new book holds before it has its name."""


def settled(given: Mapping[str, str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Answers by question, as given, else what is usual, and the questions nobody answered.

    NotAskable for an answer that is none.
    """
    answers: dict[str, str] = {}
    taken = []
    for question in QUESTIONS:
        if question.key in given:
            answers[question.key] = answered(question, given[question.key], answers)
        else:
            answers[question.key] = default_of(question, answers)
            taken.append(question.key)
    return answers, tuple(taken)


def refuse_taken(folder: Path) -> None:
    """RecordError where anything stands in the way: nothing is ever written over."""
    if folder.is_symlink() and not folder.exists():
        raise read_fault(folder, "This is a link to nowhere.", "Choose another name.")
    if folder.exists() and not folder.is_dir():
        raise read_fault(folder, "There is a file of this name already.", "Choose another name.")
    if folder.is_dir() and (held := sorted(each.name for each in folder.iterdir())):
        more = f" and {len(held) - 1} more" if held[1:] else ""
        message = f'The folder is not empty: it holds "{held[0]}"{more}.'
        raise read_fault(folder, message, "Nothing is written over; choose a new folder.")


def start_book(
    folder: Path,
    given: Mapping[str, str],
    *,
    demo: bool = False,
    shelf: Path | None = None,
    sheet_answers: Answers | None = None,
    today: datetime.date | None = None,
    dry_run: bool = False,
) -> StartResult:
    """Make a book in a folder that is new or empty; ``shelf``: a spreadsheet of oils to begin with.

    ``sheet_answers``: what a maker answered about it; RecordError while anything about it is still open.

    ``dry_run``: the whole book is made and tried, and not kept.

    RecordError where the folder holds anything; the folder is as it was unless the whole book is sound.
    """
    refuse_taken(folder)
    answers, taken = settled(given)
    day = today or datetime.date.today()
    with _staged(folder) as staging:
        read = None if shelf is None else _settled(shelf, sheet_of(shelf, answers, day, sheet_answers))
        _write(staging, answers, _shelf(demo) if read is None else read.text, demo)
        oils, sound = _tried(staging, day)
        files = tuple(sorted(p.relative_to(staging).as_posix() for p in staging.rglob("*") if p.is_file()))
        if not dry_run:
            _move(staging, folder)
    result = StartResult(str(folder), files, answers, taken, oils, sound, kept=not dry_run)
    if read is None:
        return result
    return replace(result, sheet_answers=read.answers, unread_columns=read.unread)


@contextmanager
def _staged(folder: Path) -> Iterator[Path]:
    """A folder beside the wanted one, gone afterwards whatever happens."""
    parent = folder.absolute().parent
    try:
        parent.mkdir(parents=True, exist_ok=True)
        _sweep(parent)
        staging = parent / f".{secrets.token_hex(8)}.tmp"
        staging.mkdir()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise read_fault(folder, f"The folder cannot be made: {reason}.") from None
    try:
        yield staging
    finally:
        shutil.rmtree(staging, ignore_errors=True)


def _sweep(parent: Path) -> None:
    """Remove what a killed run left here an hour ago: folders of a passing name with a book's files."""
    for left in abandoned(parent):
        with suppress(OSError):
            if {each.name for each in left.iterdir()} <= STAGED:
                shutil.rmtree(left, ignore_errors=True)


def _move(staging: Path, folder: Path) -> None:
    """Give the finished book its name; into an empty folder its files go one by one, the catalogue last."""
    refuse_taken(folder)
    if not folder.exists():
        os.rename(staging, folder)
        return
    for path in sorted(staging.iterdir(), key=lambda each: each.name == "scents.yaml"):
        os.rename(path, folder / path.name)


def _write(staging: Path, answers: Mapping[str, str], scents: str, demo: bool) -> None:
    for name in ("rules/mine", "plans", "notes"):
        (staging / name).mkdir(parents=True)
    write_schemas(staging / FOLDER)
    write_new(staging / "rules" / "mine" / "own.yaml", with_schema_line(_template("mine"), "rules", 2))
    catalog = starter_folder("demo_catalog")
    for name in ("oils", "colourants"):
        text = common_ground((catalog / f"{name}.yaml").read_text("utf-8"), name)
        write_new(staging / f"{name}.yaml", with_schema_line(text, name))
    write_new(staging / "scents.yaml", with_schema_line(scents, "scents"))
    write_new(staging / "usual.yaml", with_schema_line(_usual(answers), "usual"))
    plan = Template(_template("plan")).substitute(scents=_scents(demo, scents, flow(answers["load"])))
    write_new(staging / FIRST_PLAN, with_schema_line(plan, "plan", 1))


def _template(name: str) -> str:
    return (_HERE / f"{name}.txt").read_text("utf-8")


HEADS: Final = {
    "oils": (
        "# Base oils to begin with: saponification values are the RANGE of the kind of oil, mg KOH per g.\n"
        "# Write beside it what your bottle's certificate says (`lot saponification:`, `certificate:`):\n"
        "# a stop for the lye goes by that.  Hardness, speed and where it melts are common practice."
    ),
    "colourants": (
        "# Common colourants to begin with.  `hex` is how cured, un-gelled soap of a usual recipe may look\n"
        "# at the rate `at`, judged by eye: yours will differ, so write what you see.  Weigh a teaspoon of\n"
        "# yours and write `grams per teaspoon:`.  Powders: do not breathe the dust."
    ),
}


def common_ground(text: str, name: str) -> str:
    """The demo's entries without what is its maker's own; whose word the rest is: hearsay."""
    lines: list[str] = []
    looks = False
    for line in text[re.search(r"^(?:# ---|\w)", text, re.M).start() :].splitlines():  # type: ignore[union-attr]
        looks = line.startswith("  seen:") or (looks and line.startswith("    "))
        if looks or _OWN.match(line):
            continue
        if not line.strip() and lines and lines[-1].startswith("  "):
            lines.append("  evidence: hearsay")
        lines.append(line)
    if lines and lines[-1].startswith("  "):
        lines.append("  evidence: hearsay")
    sources = (
        re.search(r"^#   seen.*?(?=^#\n|^# A lot|^\w|^$)", text, re.M | re.S) if name == "oils" else None
    )
    told = f"\n# Where the ranges come from:\n{sources.group().rstrip()}" if sources else ""
    return f"{HEADS[name]}{told}\n\n" + "\n".join(lines) + "\n"


def _settled(shelf: Path, read: ImportResult) -> ImportResult:
    """A sheet of which nothing is open; RecordError where it leaves questions that nobody answered."""
    if read.questions:
        open_ = read.questions[0]
        message = f"{len(read.questions)} questions about the sheet are open, the first about "
        message += f'"{open_.heading or open_.cell}": {open_.why}.'
        raise read_fault(shelf, message, f"Answer them in {read.answers}.")
    return read


def _shelf(demo: bool) -> str:
    """The text of scents.yaml where no sheet gives it."""
    return (
        (starter_folder("demo_catalog") / "scents.yaml").read_text("utf-8") if demo else _template("scents")
    )


def sheet_of(
    shelf: Path, answers: Mapping[str, str], today: datetime.date, sheet_answers: Answers | None = None
) -> ImportResult:
    """What a spreadsheet says, in the units of the new book; RecordError where it cannot be read."""
    from blendwise.answers.spreadsheet.importing import import_sheet
    from blendwise.quantity import ShownIn

    units = ShownIn(answers["mass"], answers["temperature"], answers["rates"])
    return import_sheet(shelf, Path("scents.yaml"), today=today, units=units, answers=sheet_answers)


def _usual(answers: Mapping[str, str]) -> str:
    values = {key.replace(" ", "_"): flow(text) if text else "" for key, text in answers.items()}
    values["oils"] = flow(amount(answers["oils"]))
    values["currency"] = f"currency: {values['currency']}" if values["currency"] else "# currency: crowns"
    return Template(_template("usual")).substitute(values)


def _scents(demo: bool, shelf: str, load: str) -> str:
    """The blend of the first plan: the demo's, else a remark: oils of the shelf at the book's own load."""
    if demo:
        blend = ", ".join(f"{name}: {parts}" for name, parts in DEMO_BLEND.items())
        together = ", ".join(DEMO_BLEND)
        return (
            f"scents:\n  blend: {{{blend}}}   # parts by mass; the load is the usual one\n"
            f"weigh together: [[{together}]]   # mixed first, then weighed into each portion"
        )
    one, other = [*(flow(name) for name in _oils_in(shelf)), "one-oil", "other-oil"][:2]
    return (
        "# No scent yet.  When your oils stand in scents.yaml, take the signs away and name them:\n"
        "# scents:\n"
        f"#   blend: {{{one}: 2, {other}: 1}}   # parts by mass, for the bar as a whole\n"
        f"#   load: {load}\n"
        f"# never: [{{scent: {one}, in: white}}]"
    )


def _oils_in(shelf: str) -> list[str]:
    """The first oils of the new shelf by name; none of an empty one."""
    plain = {} if shelf == _template("scents") else text_document(shelf).root.plain
    return list(plain)[:2] if isinstance(plain, dict) else []


def _tried(staging: Path, today: datetime.date) -> tuple[int, bool]:
    """The new book is read and its first plan judged, as any other would be: (oils on the shelf, sound)."""
    from blendwise.answers.check.compute import check_situation
    from blendwise.facts.situation.worked_out import work_out
    from blendwise.facts.tables import vocabulary
    from blendwise.judge.rulebook.standing import standing

    book = load_book(staging)
    plan = load_plan(staging / FIRST_PLAN, book)
    situation = work_out(plan, book, today, None)
    return len(book.scents), check_situation(situation, standing(book, vocabulary())).sound
