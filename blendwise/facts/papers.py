"""What an oil's papers answer on a day: its certificate, and the supplier's statement on the law.

A certificate is a paper: a bare figure is none, nor is one of another category than soap's, one dated on a
day to come, or one known by hearsay alone.
"""

from __future__ import annotations

from datetime import date
from typing import Final, Literal

from blendwise.beliefs.contents import WHOLE_OILS, contents_of
from blendwise.records.certificates import SOAP, is_another_paper
from blendwise.records.kinds.scent import Scent
from blendwise.science.law_tables import last_change
from blendwise.science.plants import Carried, carried_by

Standing = Literal["good", "none", "no paper", "to come", "another category", "hearsay"]
PLANT_TAG: Final = "plant"


def standing(scent: Scent, today: date) -> Standing:
    """How an oil's certificate stands on a day."""
    limit = scent.limit_in_bar
    if limit is None:
        return "none"
    if limit.certificate is None and limit.dated is None:
        return "no paper"
    if limit.dated is not None and limit.dated > today:
        return "to come"
    if limit.categories and SOAP not in limit.categories:
        return "another category"
    named = limit.certificate
    if named is not None and SOAP not in limit.categories and is_another_paper(named):
        return "no paper"
    if scent.evidence == "hearsay" and (limit.certificate is None or limit.dated is None):
        return "hearsay"
    return "good"


def certified(scent: Scent, today: date) -> bool:
    """Whether a certificate for soap is on file on a day."""
    return standing(scent, today) == "good"


def settles_standards(scent: Scent, today: date) -> bool:
    """Whether a dated certificate of soap's own category answers for what the industry's standards limit."""
    limit = scent.limit_in_bar
    return (
        limit is not None and certified(scent, today) and limit.dated is not None and SOAP in limit.categories
    )


def stated(scent: Scent, today: date) -> bool:
    """Whether the supplier's statement answers for bans and maxima of the law as it stands on a day."""
    statement = scent.supplier_statement
    return statement is not None and last_change(today) <= statement.dated <= today


def carries(scent: Scent, today: date) -> tuple[Carried, ...]:
    """What the plant of an oil is known to carry and no paper answers for: to be asked."""
    if settles_standards(scent, today):
        return ()
    named = contents_of(scent)
    return tuple(each for each in plant_of(scent) if not named.is_named(each.constituent))


def plant_of(scent: Scent) -> tuple[Carried, ...]:
    """What the plant of an oil carries: by a tag such as `plant: clove`, or by the name of a plant's oil."""
    for tag in scent.tags:
        head, _, plant = tag.partition(":") if ":" in tag else tag.partition(" ")
        if head.strip().casefold() == PLANT_TAG and plant.strip():
            return carried_by(plant.strip())
    if scent.kind in (*WHOLE_OILS, None):
        names = (scent.label_name or "", scent.name)
        found = [carried_by(name, scent.kind is None) for name in names]
        return next((each for each in found if each), ())
    return ()
