"""From an installed Blendwise to advice on one's own two oils, in three commands after the install."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

SHEET = """Name;Type;Vanillin;Trace;Flash (F);IFRA max;Lot
Almond Orchard;fragrance oil;4,5 %;slight;200;5 %;A1
Sea Fig;fragrance oil;0;none;190;8 %;B2
"""


def blendwise(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """One real process of the installed program, in a folder of its own."""
    command = [sys.executable, "-m", "blendwise.cli.main", *words]
    return subprocess.run(command, cwd=folder, capture_output=True, encoding="utf-8", check=False)


def test_advice_on_ones_own_two_oils(tmp_path: Path) -> None:
    """A maker's own spreadsheet becomes a book, the two oils are checked, and a plan of them is judged."""
    (tmp_path / "bottles.csv").write_text(SHEET, encoding="utf-8")
    started = blendwise(tmp_path, "start", "my-book", "--defaults", "--shelf", "bottles.csv")
    assert started.returncode == 0, started.stderr
    paired = blendwise(tmp_path, "pair", "almond", "fig", "--book", "my-book")
    assert paired.returncode in (0, 1), paired.stderr
    assert "Almond Orchard and Sea Fig" in paired.stdout
    assert "vanillin 4.5 %" in " ".join(paired.stdout.split())
    checked = blendwise(tmp_path, "check", "my-book/plans/first.yaml")
    assert checked.returncode == 0, checked.stderr
