"""What a draft writes is what was said, whatever names and figures were said."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.answers.draft.compute import Draft
from blendwise.api import Book
from blendwise.quantity import THE_REST, Amount
from blendwise.records.book import read_plan
from tests.few import few

BOOK = Book(Path(__file__).resolve().parents[2] / "demo_catalog")
NAMES = st.text(
    st.characters(codec="utf-8", categories=["L", "N", "P", "S", "Zs"]), min_size=1, max_size=12
).filter(lambda name: name.strip().lower() not in ("", "none", "no") and name.strip().isprintable())


@few(15)
@given(
    names=st.lists(NAMES, min_size=2, max_size=4, unique_by=lambda name: name.strip()),
    share=st.integers(5, 30),
    colour=st.sampled_from(["", "charcoal 0.5 %", "green-clay, titanium-dioxide 1 %"]),
    scents=st.lists(st.sampled_from(sorted(BOOK.files.scents)), max_size=3, unique=True),
    parts=st.integers(1, 9),
)
def test_what_is_written_is_what_was_said(
    names: list[str], share: int, colour: str, scents: list[str], parts: int
) -> None:
    """Names with any signs in them, shares, colours and parts come back from the file as they were said."""
    draft = Draft("law", Path("law.yaml"), BOOK.files, BOOK.rulebook, date(2026, 11, 25))
    said = {"load": "3 %" if scents else ""}
    for number, name in enumerate(names, 1):
        last = number == len(names)
        said |= {f"portion {number} name": name, f"portion {number} colours": colour}
        said[f"portion {number} share"] = THE_REST if last else f"{share} %"
    for number, name in enumerate(scents, 1):
        said |= {f"scent {number} name": name, f"scent {number} parts": str(parts)}
    while (question := draft.question()) is not None:
        draft.answer(question, said.get(question.key, ""))
    plan = read_plan(draft.finished().text, BOOK.files)
    assert [name.strip() for name in names] == [portion.name for portion in plan.portions]
    shares = [each.share.value if isinstance(each.share, Amount) else each.share for each in plan.portions]
    assert [*[pytest.approx(share / 100)] * (len(names) - 1), THE_REST] == shares
    assert {len(colour.split(",")) if colour else 0} == {len(p.colourants) for p in plan.portions}
    assert scents == list(plan.scents.blend if plan.scents else [])
