"""The door of the long proofs: a proof runs by its name alone, and takes the number after its name."""

from __future__ import annotations

import pytest

from tests import long


def test_a_proof_runs_by_its_name_alone_and_with_a_number(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit 0 where all that was named holds, 1 where one does not, 2 where there is no such proof."""
    asked: list[str] = []

    def some(books: str = "300") -> bool:
        """Some books: all but seven hold."""
        asked.append(books)
        return books != "7"

    monkeypatch.setattr(long, "PROOFS", {"some": some})
    assert [long.main(["some"]), long.main(["some", "5"]), long.main(["some", "7"]), long.main(["none"])] == [
        0,
        0,
        1,
        2,
    ]
    assert asked == ["300", "5", "7"]
    assert "some: FAILS" in capsys.readouterr().out
