"""The bench sheet as a page: fronts for the bench, a back for trouble, record, cure and label."""

from __future__ import annotations

from blendwise.answers.sheet.result import Sheet
from blendwise.show.charts.clock import hatching, sample
from blendwise.show.check.levers import said
from blendwise.show.pages.render import page
from blendwise.show.sheet import front, paper, stopped, words
from blendwise.show.sheet.findings import findings
from blendwise.show.sheet.layout import clock_face, layout, picture
from blendwise.show.sheet.trouble import trouble
from blendwise.show.text import sentence
from blendwise.show.words import conflicts

PAPERS = ("A4", "Letter")
MOST_WAYS = 3  # ways out that are told where nothing fits
SIZES = {"row": paper.ROW, "cup": paper.CUP, "clock": paper.CLOCK, "write": paper.WRITE, "box": paper.BOX}
WIDTHS = {"who": paper.WHO, "gutter": paper.GUTTER}


def sheet_page(sheet: Sheet, paper: str = "") -> str:
    """The whole HTML file; ``paper`` (A4 or Letter) fixes the paper, else the printer's own counts.

    Where it is not to be poured it is another page: "Do not pour", and what to mend.
    """
    if sheet.pot is None or conflicts(sheet.check):
        return stopped_page(sheet, paper)
    told, fixes = list(findings(sheet)), list(trouble(sheet))
    lies, drawn = picture(sheet)
    return page(
        "sheet.html",
        sheet.units,
        sheet=sheet,
        words=words,
        front=front,
        paper=paper,
        mm={f"{key}": f"{value:g}mm" for key, value in (SIZES | WIDTHS).items()},
        layout=layout(sheet, told, fixes),
        face=clock_face(sheet),
        key=sample,
        hatching=hatching(),
        columns=front.columns(sheet),
        part_of=part_of,
        lies=lies,
        drawn=drawn,
        findings=told,
        trouble=fixes,
    )


def part_of(side: str, count: int) -> tuple[str, int, int]:
    """What a key of the layout names: "cups:0-4" is the part cups, from the first cup to before the fifth."""
    part, _, span = side.partition(":")
    first, _, last = span.partition("-")
    return part, int(first or 0), int(last or count)


def stopped_page(sheet: Sheet, paper: str = "") -> str:
    """The page of a plan that is not to be poured: nothing to tick and nothing to weigh."""
    return page(
        "stopped.html",
        sheet.units,
        levers=[sentence(said(lever, sheet.units)) for lever in sheet.levers[:MOST_WAYS]],
        across=stopped.DO_NOT_POUR if sheet.check.harm else stopped.NOT_YET,
        sheet=sheet,
        words=stopped,
        paper=paper,
        mend=list(stopped.to_mend(sheet.check, sheet.units)),
    )


__all__ = ["PAPERS", "sheet_page"]
