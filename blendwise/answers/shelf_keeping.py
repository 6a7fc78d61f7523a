"""The shelf's part of the Python door: list, search, show, compare, import, export, frames."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles

if TYPE_CHECKING:
    import pandas as pd

    from blendwise.answers.scents.result import CompareResult, ScentResult, ScentsResult
    from blendwise.answers.shelf.compute import Filters
    from blendwise.answers.spreadsheet.result import ExportResult, ImportResult


class ScentsDoor(Protocol):
    """What a ``Book`` answers about its shelf."""

    folder: Path
    files: BookFiles

    def scents(self, *words: str, filters: Filters | None = None) -> ScentsResult:
        """The oils of the shelf that hold every word and pass the filters."""
        from blendwise.answers.scents.compute import scents
        from blendwise.answers.shelf.compute import Filters

        return scents(self.files, words, filters or Filters())

    def scent(self, name: str) -> ScentResult:
        """One oil whole: every statement with its evidence, and where it was used."""
        from blendwise.answers.scents.compute import one_scent

        return one_scent(self.files, name)

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
    ) -> ImportResult:
        """What a spreadsheet of oils says; ``write_scents`` writes it: to ``to``, or beside the catalogue."""
        from blendwise.answers.spreadsheet.importing import import_sheet

        path = Path(file)
        return import_sheet(
            path,
            Path(to) if to is not None else self.folder / f"scents-from-{path.stem}.yaml",
            today=(on or AsOf()).today,
            shelf=self.files.scents,
            units=self.files.usual.units,
            evidence=evidence,
            sheet=sheet,
        )

    def write_scents(self, result: ImportResult) -> ImportResult:
        """Write what was read to its new file; RecordError where one of the name is there."""
        from blendwise.answers.spreadsheet.importing import write_import

        return write_import(result)

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
