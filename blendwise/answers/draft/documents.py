"""The published shape of ``draft``: keys never vanish, their order is fixed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blendwise.answers.documents import CheckBody, HeadDoc
from blendwise.answers.shapes import check_body, head

if TYPE_CHECKING:
    from blendwise.answers.draft.compute import DraftResult

DRAFT_SCHEMA = "blendwise/draft/1"


class DraftDoc(HeadDoc):
    """A drafted plan: its text, where it was written ("" where it was not), every answer, and the advice."""

    plan: str
    written: str
    text: str
    answers: dict[str, str]
    check: CheckBody


def draft_doc(result: DraftResult) -> DraftDoc:
    """The published document."""
    return {
        **head(DRAFT_SCHEMA),
        "plan": result.plan,
        "written": result.written,
        "text": result.text,
        "answers": dict(result.answers),
        "check": check_body(result.check),
    }
