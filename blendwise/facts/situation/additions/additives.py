"""Additives as they stand in the pot: what each is known to be, and by whom.

Every additive of a recipe is looked up once, by the maker's own additives.yaml over the shipped table, then
by its kind (the last word of its name); what none of them knows is unknown, which is never neutral.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Final, Literal

from blendwise.records import BookFiles, OwnAdditive
from blendwise.science import substance_names
from blendwise.science.lye import NAOH_MOLAR_MASS
from blendwise.science.substances import (
    Substance,
    dry_of,
    lye_brought,
    lye_eaten,
    sugar_of,
    water_of,
)

Standing = Literal["table", "kind", "own", "unknown"]
BY_OWN_WORD: Final = 0.1
"""The most of an additive that only its maker knows, over oils, that counts as part of a bar."""
_BLANK: Final = Substance(
    name="", also=(), kind="other", water=0, sugar_reducing=0, sugar_other=0, acid=0, alkali=0, alcohol=0,
    salt=0, fat=0, fresh=False, plausible=BY_OWN_WORD, belongs="", standing="unknown", source="", note="",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Added:
    """One additive of the pot, in grams.

    ``what``: what a gram of it holds (nothing where it is unknown), by ``own``, the maker's entry if there is
    one, over ``row``, the shipped table's row or kind if there is one.
    """

    name: str
    grams: float
    standing: Standing
    what: Substance
    own: OwnAdditive | None = None
    row: Substance | None = None

    @property
    def known(self) -> bool:
        """Whether anybody has said what it does to the lye."""
        return self.standing != "unknown"

    @property
    def eaten(self) -> float:
        """Grams of NaOH that it eats, less those that it brings."""
        return float(lye_eaten(self.grams, self.what) - lye_brought(self.grams, self.what))

    @property
    def credited(self) -> float:
        """Grams of NaOH that it eats on its maker's word alone, beyond what the shipped table says."""
        if self.standing != "own" or self.own is None or self.eaten <= 0:
            return 0.0
        row = self.row if self.own.same_as is None else known(self.name)
        return max(0.0, self.eaten - (float(lye_eaten(self.grams, row)) if row else 0.0))

    @property
    def on_its_makers_word(self) -> str:
        """What its maker alone says that it does to the lye, as written; empty where the table says it."""
        if self.own is None or self.standing != "own":
            return ""
        if self.own.lye is not None:
            return str(self.own.lye)
        return f"same as {self.own.same_as}" if self.credited else ""

    @property
    def water(self) -> float:
        """Grams of water in it."""
        return float(water_of(self.grams, self.what))

    @property
    def sugar(self) -> float:
        """Grams of sugars in it, reducing or not."""
        return float(sugar_of(self.grams, self.what))

    @property
    def reducing_sugar(self) -> float:
        """Grams of sugars in it that lye browns."""
        return self.grams * self.what.sugar_reducing

    @property
    def alcohol(self) -> float:
        """Grams of alcohol in it."""
        return self.grams * self.what.alcohol

    @property
    def dry(self) -> float:
        """Grams that stay in a dried bar; none of what is unknown, for nobody knows that it stays."""
        return float(dry_of(self.grams, self.what)) if self.known else 0.0


def added(masses: Mapping[str, float], book: BookFiles) -> tuple[Added, ...]:
    """Each additive looked up; ``masses`` in grams."""
    own = {words_of(name): entry for name, entry in book.additives.items()}
    return tuple(_look_up(name, grams, own.get(words_of(name))) for name, grams in masses.items())


def _look_up(name: str, grams: float, own: OwnAdditive | None) -> Added:
    row = known(name)
    standing: Standing = "table" if row is not None else "unknown"
    if row is None:
        row = family(name) if own is None or own.same_as is None else meant(own.same_as)
        standing = "kind" if row is not None else "unknown"
    what = row or _BLANK
    if own is None:
        return Added(name, grams, standing, what, row=row)
    if own.lye is not None or standing != "unknown":
        standing = "own"
    return Added(name, grams, standing, _with_own(what, own), own, row)


def _with_own(what: Substance, own: OwnAdditive) -> Substance:
    stated: dict[str, Any] = {name: amount.value for name, amount in own.contents.items()}
    sugars = {"reducing_sugar": "sugar_reducing", "other_sugar": "sugar_other"}
    found = replace(what, **{sugars.get(name, name): value for name, value in stated.items()})
    if own.fresh is not None:
        found = replace(found, fresh=own.fresh)
    if own.lye is not None:
        mols = own.lye.grams / NAOH_MOLAR_MASS * 1000
        found = replace(found, acid=max(mols, 0.0), alkali=max(-mols, 0.0))
    return found


def unknown(additives: Sequence[Added]) -> tuple[Added, ...]:
    """Those of which nobody has said what they do to the lye."""
    return tuple(each for each in additives if not each.known and each.grams > 0)


def meant(name: str) -> Substance | None:
    """The row or the kind that a name means; None where neither does."""
    return known(name) or family(name)


@lru_cache(maxsize=4096)
def known(name: str) -> Substance | None:
    """As `substance_names.known`, looked up once a name."""
    return substance_names.known(name)


@lru_cache(maxsize=4096)
def family(name: str) -> Substance | None:
    """As `substance_names.family`, looked up once a name."""
    return substance_names.family(name)


@lru_cache(maxsize=4096)
def as_alkali(name: str) -> Substance | None:
    """As `substance_names.as_alkali`, looked up once a name."""
    return substance_names.as_alkali(name)


@lru_cache(maxsize=4096)
def words_of(name: str) -> tuple[str, ...]:
    """The words of a name in any order and spelling, for telling whether two names are one."""
    return tuple(sorted(substance_names.words_of(name)))
