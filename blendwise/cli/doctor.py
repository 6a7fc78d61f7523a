"""``blendwise doctor``."""

from __future__ import annotations

from pathlib import Path

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, PlainOption, TodayOption, day

app = command_app()


@app.command()
def doctor(
    book: BookOption = None, json: JsonOption = False, plain: PlainOption = False, today: TodayOption = ""
) -> int:
    """A whole book examined; nothing in it is changed.

    Broken files with all their faults, names that nothing bears, oils never described, certificates missing
    or old, plans that no longer pass since a rule changed, looks that are due, rules that never speak. Exit
    code 0: cautions and hints at most. 1: something is wrong. 2: there is no book.
    """
    from blendwise.answers.doctor.compute import examine
    from blendwise.cli.books import tell_once
    from blendwise.cli.output import show
    from blendwise.records.book import find_book
    from blendwise.show.doctor.blocks import doctor_blocks

    folder = _folder(book) if book is not None else find_book(Path())
    tell_once(folder)
    result = examine(folder, day(today))
    show(result, lambda: doctor_blocks(result), json, plain)
    return CLEAN if result.sound else FINDINGS


def _folder(book: Path) -> Path:
    """A folder that was named must hold a book, however broken."""
    from blendwise.records.place import read_fault

    if not (book / "scents.yaml").is_file():
        remedy = "A book is a folder with `scents.yaml`; begin one with `blendwise start`."
        raise read_fault(book, "This is no book: it has no scents.yaml.", remedy)
    return book
