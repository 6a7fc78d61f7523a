"""The shelf's part of the Python door: list, search, show, compare, import, export, frames."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.scents.result import CompareResult, RenameResult, ScentResult, ScentsResult
    from blendwise.answers.shelf.compute import Filters
    from blendwise.answers.spreadsheet.answers import Answers
    from blendwise.answers.spreadsheet.result import ExportResult, ImportResult
    from blendwise.beliefs.believe import Believing


class ScentsDoor(Protocol):
    """What a ``Book`` answers about its shelf."""

    folder: Path
    files: BookFiles

    def believing(self, on: AsOf | None = None) -> Believing:
        """What is believed of the oils on a day."""
        ...

    def scents(self, *words: str, filters: Filters | None = None) -> ScentsResult:
        """The oils of the shelf that hold every word and pass the filters."""
        from blendwise.answers.scents.compute import scents
        from blendwise.answers.shelf.compute import Filters

        return scents(self.files, words, filters or Filters(), self.believing().lessons)

    def scent(self, name: str) -> ScentResult:
        """One oil whole: every statement with its evidence, what own looks say, and where it was used."""
        from blendwise.answers.scents.compute import one_scent

        return one_scent(self.files, name, self.believing().lessons)

    def compare(self, *names: str) -> CompareResult:
        """Two to eight oils side by side."""
        from blendwise.answers.scents.compute import compared

        return compared(self.files, names)

    def read_scents(
        self,
        file: str | Path,
        to: str | Path | None = None,
        *,
        on: AsOf | None = None,
        evidence: str = "",
        sheet: str = "",
        answers: Answers | None = None,
    ) -> ImportResult:
        """What a spreadsheet of oils says, and what is asked back of it (``answers``: what was answered).

        ``write_scents`` adds it to the book's shelf, or writes a new file (``to``).
        """
        from blendwise.answers.spreadsheet.importing import import_sheet

        return import_sheet(
            Path(file),
            Path(to) if to is not None else self.folder / "scents.yaml",
            today=(on or AsOf()).today,
            shelf=self.files.scents,
            units=self.files.usual.units,
            evidence=evidence,
            sheet=sheet,
            answers=answers,
            catalogue=None if to is not None else self.files.docs["scents.yaml"],
        )

    def write_scents(self, result: ImportResult) -> ImportResult:
        """Add what was read to the shelf, or write its new file; RecordError where one of the name is there,
        or the shelf has changed meanwhile."""
        from blendwise.answers.spreadsheet.importing import write_import

        return write_import(result, self.files.docs["scents.yaml"])

    def rename_scent(self, old: str, new: str) -> RenameResult:
        """Where an oil is spoken of by name; ``write_renamed`` changes it.  RecordError where it cannot."""
        from blendwise.answers.scents.rename import renamed

        return renamed(self.files, old, new)

    def write_renamed(self, result: RenameResult) -> RenameResult:
        """Give an oil its new name in every file, all or none; every other byte stays."""
        from blendwise.answers.scents.rename import write_renamed

        return write_renamed(self.files, result)

    def export_scents(self, to: str | Path) -> ExportResult:
        """The shelf as a new CSV, TSV or XLSX file."""
        from blendwise.answers.spreadsheet.export import export_scents

        return export_scents(self.files, Path(to))

    def scents_frame(self) -> pd.DataFrame:
        """The oils of the catalogue, a row each; see ``blendwise.answers.scents.columns``."""
        from blendwise.answers.scents.columns import scents_frame

        return scents_frame(self.files)

    def colourants_frame(self) -> pd.DataFrame:
        """The colourants, a row each; see ``blendwise.answers.scents.columns``."""
        from blendwise.answers.scents.columns import colourants_frame

        return colourants_frame(self.files)

    def oils_frame(self) -> pd.DataFrame:
        """The base oils, a row each; see ``blendwise.answers.scents.columns``."""
        from blendwise.answers.scents.columns import oils_frame

        return oils_frame(self.files)
