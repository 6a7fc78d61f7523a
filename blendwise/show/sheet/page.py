"""The bench sheet as a page."""

from __future__ import annotations

from blendwise.answers.sheet.result import Sheet
from blendwise.show.pages import fit
from blendwise.show.pages.figure import areas, axis_of, halves, kind_of
from blendwise.show.pages.render import page
from blendwise.show.sheet import stopped, words
from blendwise.show.sheet.findings import findings
from blendwise.show.sheet.trouble import trouble

PAPERS = ("A4", "Letter")


def sheet_page(sheet: Sheet, paper: str = "") -> str:
    """The whole HTML file; ``paper`` (A4 or Letter) fixes the paper, else the printer's own counts.

    Past a harm it is another page: "Do not pour", and what to mend.
    """
    if sheet.pot is None:
        return stopped_page(sheet, paper)
    clock, told, fixes = sheet.clock, list(findings(sheet)), list(trouble(sheet))
    kind = kind_of(
        clock.pour if clock else None, clock.family if clock else None, sheet.touching, len(sheet.portions)
    )
    return page(
        "sheet.html",
        sheet.units,
        sheet=sheet,
        words=words,
        paper=paper,
        size=fit.type_size(sheet, told, fixes, kind),
        kind=kind,
        areas=areas(kind, sheet.portions, lying_order(sheet, kind)),
        halves=halves(kind),
        axis=axis_of(clock) if clock else None,
        by_name={cup.portion: cup for cup in sheet.portions},
        findings=told,
        trouble=fixes,
    )


def stopped_page(sheet: Sheet, paper: str = "") -> str:
    """The page of a plan that is not to be poured: nothing to tick and nothing to weigh."""
    return page(
        "stopped.html",
        sheet.units,
        sheet=sheet,
        words=stopped,
        paper=paper,
        mend=list(stopped.to_mend(sheet.check, sheet.units)),
    )


def lying_order(sheet: Sheet, kind: str) -> list[int]:
    """Portion numbers from the bottom of layers (as they are poured), else as the plan sets them in a row."""
    if sheet.clock is None or kind != "layers":
        return [cup.number for cup in sheet.portions]
    return [turn.number for turn in sheet.clock.turns]


__all__ = ["PAPERS", "sheet_page"]
