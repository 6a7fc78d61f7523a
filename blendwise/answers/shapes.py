"""What folders whose results do not yet publish themselves still borrow of ``answer.py``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from blendwise.answers.answer import published
from blendwise.version import __version__

if TYPE_CHECKING:
    from blendwise.answers import documents as doc
    from blendwise.answers.check.result import CheckResult
    from blendwise.facts.columns import Missing
    from blendwise.judge.findings.finding import Finding
    from blendwise.records.place import Spot


def head(schema: str) -> doc.HeadDoc:
    """The first two keys of every document."""
    return {"schema": schema, "blendwise": __version__}


def finite(value: float | str | None) -> Any:
    """A value fit for JSON: infinite and undefined numbers become None."""
    return published(value)


def place_doc(place: Spot | None) -> Any:
    """A place as a document, None where there is none."""
    return published(place)


def missing_docs(missing: Iterable[Missing]) -> Any:
    """Missing facts as documents."""
    return published(tuple(missing))


def finding_doc(finding: Finding) -> Any:
    """A finding as the published document."""
    return published(finding)


def check_doc(result: CheckResult) -> Any:
    """The published document of a check."""
    return result.to_json()


def check_body(result: CheckResult) -> Any:
    """The document without its head, as it also stands inside other answers."""
    return published(result)
