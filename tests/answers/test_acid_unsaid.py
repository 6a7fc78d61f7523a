"""A recipe worked out with an acid and written without it: the acid is asked for, in both units."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.strangers.runs import ran

OILS = "olive: {saponification: 184 to 196, hardness: liquid}\n"
PLAN = """\
plan: it
for: home
recipe: {{oils: {{olive: {oils}}}, lye: {{NaOH: {lye}, water: {water}}}{acid}}}
portions: [{{name: white, share: 100 %}}]
"""


def findings(folder: Path, **words: str) -> set[str]:
    """The rules that speak of a plan at the command line."""
    (folder / "plans").mkdir(parents=True)
    (folder / "oils.yaml").write_text(OILS, "utf-8")
    (folder / "scents.yaml").write_text("{}\n", "utf-8")
    (folder / "plans" / "it.yaml").write_text(PLAN.format(**words), "utf-8")
    said = ran("check", folder / "plans" / "it.yaml", "--json").document
    return {finding["rule"] for finding in said["findings"]}


@pytest.mark.parametrize(
    ("oils", "lye", "water", "acid"),
    [("1000 g", "141.1 g", "290 g", "20 g"), ("35 oz", "4.94 oz", "10 oz", "0.7 oz")],
)
def test_an_acid_that_is_not_written_is_asked_for(
    tmp_path: Path, oils: str, lye: str, water: str, acid: str
) -> None:
    """Lye for 2 % of citric acid: asked for where it is not written, at peace where it is."""
    unsaid = findings(tmp_path / "unsaid", oils=oils, lye=lye, water=water, acid="")
    said = findings(
        tmp_path / "said", oils=oils, lye=lye, water=water, acid=f", additives: {{citric acid: {acid}}}"
    )
    assert {"acid-left-unsaid", "lye-heavy-portion"} <= unsaid
    assert not {"acid-left-unsaid", "lye-heavy-portion", "thin-margin-of-lye"} & said
