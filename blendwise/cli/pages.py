"""Pages to files: written, opened, printed to PDF by a browser of this machine, or told how to print."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blendwise.cli.output import write
from blendwise.quantity import Units
from blendwise.records.place import Fault, Place, RecordError
from blendwise.records.writing.write import put_whole

if TYPE_CHECKING:
    from blendwise.show.blocks import Blocks
    from blendwise.show.pages.answer import Figure

LOOK = "Open it in a browser."
PAPERS = ("A4", "Letter")
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
BROWSER = "BLENDWISE_BROWSER"
OURS = '<meta name="generator" content="Blendwise '
PRINTED = b"Skia/PDF"
"""What makes a PDF in a browser of the kind that prints here: an older print of the page is printed over."""
HEAD = 2000  # characters of a page in which its generator stands
PATIENCE = 60.0  # s until a browser that does not print is given up
TO_STDOUT = Path("-")
HOW_TO_PRINT = (
    "Open {file} in a browser and print it, A4 or Letter, both sides, at 100 %, with background graphics."
)


def paper(word: str) -> str:
    """The paper meant by ``--paper``, or "" where nothing was said."""
    found = next((each for each in PAPERS if each.lower() == word.lower()), "")
    if word and not found:
        raise typer.BadParameter(f'"{word}" is no paper here. Write A4 or Letter.', param_hint="--paper")
    return found


def usual_paper(units: Units) -> str:
    """The paper of those who weigh in grams, and of those who weigh in ounces."""
    return "Letter" if units.mass == "oz" else "A4"


def deliver(html: str, target: Path, open_: bool = False, told: str = LOOK, aside: bool = False) -> Path:
    """Write a page to a new file or over an older page of ours, say so, and open it if asked.

    RecordError where another's file stands in the way.  "-" prints it.  ``aside``: standard output holds
    a document, so that it is said on standard error.
    """
    if target == TO_STDOUT:
        if aside:
            raise typer.BadParameter("--json prints too: name a file for the page.", param_hint="the page")
        write(html)
        return target
    if target.exists() and OURS not in _head(target):
        raise _of_another(target)
    put_whole(target, html.encode("utf-8"))
    _say(f"Written: {target.as_posix()}. {told}\n", aside)
    if open_:
        import webbrowser

        webbrowser.open(target.resolve().as_uri())
    return target


def deliver_answer(
    name: str,
    blocks: Blocks,
    units: Units,
    target: Path,
    pictures: Iterable[Figure] = (),
    aside: bool = False,
) -> None:
    """An answer's words, as the terminal would show them, with its pictures, as a page."""
    from blendwise.show.pages.answer import answer_page

    deliver(answer_page(name, blocks, units, list(pictures)), target, aside=aside)


def _of_another(file: Path) -> RecordError:
    fault = Fault(Place(file, 1, 1), "There is another file of this name.", "Name another file for the page.")
    return RecordError([fault])


def _say(text: str, aside: bool) -> None:
    if aside:
        sys.stderr.write(text)
    else:
        write(text)


def _head(file: Path) -> str:
    with file.open(encoding="utf-8", errors="replace") as opened:
        return opened.read(HEAD)


def browser() -> str | None:
    """A browser that prints: the one named by the environment, else the first on the path."""
    named = os.environ.get(BROWSER)
    return shutil.which(named) if named else next(filter(None, map(shutil.which, BROWSERS)), None)


def print_pdf(html: str, page: Path, aside: bool = False) -> bool:
    """Print a page to the PDF beside it; without a browser say how to print, and return False.

    ``aside``: see ``deliver``.
    """
    program = browser()
    target = Path("sheet.pdf") if page == TO_STDOUT else page.with_suffix(".pdf")
    if target.exists() and PRINTED not in target.read_bytes():
        raise _of_another(target)
    if program is None or not _printed(program, html, target):
        print(f"No browser here printed it. {HOW_TO_PRINT.format(file=page.as_posix())}", file=sys.stderr)
        return False
    _say(f"Printed: {target.as_posix()}.\n", aside)
    return True


def _printed(program: str, html: str, target: Path) -> bool:
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder, "page.html")
        source.write_text(html, "utf-8")
        made = Path(folder, "page.pdf")
        command = [program, *_switches(folder), f"--print-to-pdf={made}", source.as_uri()]
        try:
            subprocess.run(command, capture_output=True, timeout=PATIENCE, check=False)
        except (OSError, subprocess.TimeoutExpired):
            return False
        if not made.is_file():
            return False
        put_whole(target, made.read_bytes())
    return True


def _switches(folder: str) -> list[str]:
    """A browser of its own for one page: no network, no profile, no header and footer."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [
        *("--headless", "--disable-gpu", "--no-first-run", "--no-pdf-header-footer"),
        *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
        f"--user-data-dir={folder}/profile",
        *(["--no-sandbox"] if root else []),
    ]
