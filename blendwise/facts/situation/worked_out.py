"""A situation: one plan (or one variation of it) worked out against a book, ready for the measures.

Everything here is constant but ``x``, the doses: the judge looks at ``x`` as it stands, the solver asks
the fractions for any ``x``.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, wraps
from types import MappingProxyType
from typing import Any, Generic, TypeVar

import numpy as np

from blendwise.beliefs.believe import AS_WRITTEN, Believing, believed
from blendwise.beliefs.traits import USUAL_BATTER_TO_OILS, USUAL_DOSE, Traits, ricing_of, traits_of
from blendwise.facts.columns import AnyColumn, Bools, Floats
from blendwise.facts.forms import AffineFraction
from blendwise.facts.registry import REGISTRY
from blendwise.facts.situation.additions.heaps import check_heaps
from blendwise.facts.situation.doses import Scenting, make_doses
from blendwise.facts.situation.impossible import check_cure, check_sense, most_cure_loss
from blendwise.facts.situation.pot import Pot, fill_pot
from blendwise.facts.situation.problems import Problems
from blendwise.facts.situation.split import Split, make_split
from blendwise.quantity import Dimension
from blendwise.records import BookFiles, Colourant, Plan, PourStyle, Scales, Scent
from blendwise.records.kinds.scent import RicingWord
from blendwise.science import mass as mass_science

WEIGHED = "steps of the scale"  # the one fraction that asks what is weighed together
USUAL_CURE_LOSS = 0.12  # common practice: a bar at the end of cure weighs about 88 % of its batter

T = TypeVar("T")


class unmoved(Generic[T]):  # noqa: N801 - a decorator, as cached_property is
    """A property of a situation that no dose moves: worked out once for all that differ in doses alone."""

    def __init__(self, make: Callable[[Any], T]) -> None:
        self.make = make
        self.name = make.__name__
        self.__doc__ = make.__doc__

    def __get__(self, s: Any, owner: type | None = None) -> T:
        if self.name not in s.alike:
            s.alike[self.name] = self.make(s)
        found: T = s.alike[self.name]
        return found


ALIKE = 1e-4  # parts of a mix that agree to this share count as equal: doses are written in six digits


def _same_parts(x: Floats) -> bool:
    totals = x.sum(axis=0)
    parts = x[:, totals > 0] / totals[totals > 0]
    return bool(parts.size) and bool((np.ptp(parts, axis=1) <= ALIKE).all())


@dataclass(frozen=True, eq=False)
class Situation:
    """A plan worked out.  ``x``: doses in grams, (scents, portions).

    What is worked out is kept with it: columns and fractions by name, ``views`` (see ``once``), and
    ``alike``, the views that no dose moves, which situations that differ in doses alone share.
    """

    book: BookFiles
    plan: Plan
    pot: Pot
    split: Split
    scenting: Scenting
    x: Floats
    today: datetime.date
    variation: str | None = None
    believing: Believing = AS_WRITTEN
    premixes: tuple[tuple[int, ...], ...] = ()
    kept: dict[str, AnyColumn] = field(default_factory=dict)
    kept_fractions: dict[str, AffineFraction] = field(default_factory=dict)
    views: dict[str, Any] = field(default_factory=dict, init=False)
    alike: dict[str, Any] = field(default_factory=dict, init=False)

    def with_doses(self, x: Floats, premixes: tuple[tuple[int, ...], ...] | None = None) -> Situation:
        """The same plan with other doses; what does not depend on them is shared, not worked out again."""
        constant = {name: column for name, column in self.kept.items() if not depends_on_doses(name)}
        together = self.premixes if premixes is None else premixes
        fractions = {
            k: v for k, v in self.kept_fractions.items() if k != WEIGHED or not (together or self.premixes)
        }
        doses = np.asarray(x, dtype=float)
        found = replace(self, x=doses, premixes=together, kept=constant, kept_fractions=fractions)
        found.alike.update(self.alike)
        return found

    @property
    def mixes(self) -> list[tuple[int, ...]]:
        """Scents weighed together whose parts are the same in every portion: one mix serves them all."""
        if "mixes" not in self.views:
            groups = (group for group in self.premixes if len(group) > 1)
            self.views["mixes"] = [group for group in groups if _same_parts(self.x[list(group)])]
        found: list[tuple[int, ...]] = self.views["mixes"]
        return found

    def weighed_together(self, one: int, other: int) -> bool:
        """Whether two scents are mixed before they are weighed into a portion."""
        return one == other or any(one in group and other in group for group in self.mixes)

    def fraction(self, name: str) -> AffineFraction:
        """The affine fraction of a measure, at its home grain."""
        if name not in self.kept_fractions:
            make = REGISTRY[name].fraction
            if make is None:
                raise KeyError(name)
            self.kept_fractions[name] = make(self)
        return self.kept_fractions[name]

    def home(self, name: str) -> AnyColumn:
        """The column of a measure at its home grain."""
        if name not in self.kept:
            self.kept[name] = REGISTRY[name].compute(self)
        return self.kept[name]

    @property
    def purpose(self) -> str:
        """For sale or for home: as the plan says, else as usual.yaml says, else for sale."""
        return self.plan.for_ or self.book.usual.for_ or "sale"

    @property
    def scents(self) -> tuple[str, ...]:
        """Names of the oils of the blend, in the order of the plan."""
        return self.scenting.scents

    @property
    def portions(self) -> tuple[str, ...]:
        """Names of the portions, in the order of the plan."""
        return self.split.names

    @property
    def shape(self) -> tuple[int, int]:
        """How many scents and portions: the shape of the doses."""
        return len(self.scents), len(self.portions)

    @unmoved
    def scent_records(self) -> list[Scent]:
        """The catalogue's entries of the scents."""
        return [self.book.scents[name] for name in self.scents]

    @unmoved
    def colourant_records(self) -> list[Colourant]:
        """The catalogue's entries of the colourants, in the order of the split."""
        return [self.book.colourants[name] for name in self.split.colourants]

    @property
    def scales(self) -> Scales:
        """The rulebook's words with their numbers."""
        return self.book.scales

    @unmoved
    def traits(self) -> list[Traits]:
        """What is believed of each oil: the catalogue, and the looks where they are to count."""
        return [
            believed(
                traits_of(scent, self.scales, USUAL_DOSE, USUAL_BATTER_TO_OILS),
                scent,
                self.believing.of(scent.name),
                self.scales,
                USUAL_DOSE,
                USUAL_BATTER_TO_OILS,
                self.believing.careful,
            )
            for scent in self.scent_records
        ]

    @unmoved
    def ricing(self) -> list[tuple[RicingWord | None, str]]:
        """Whether each oil rices, and who says so: the better evidence, the worse word where equal."""
        lessons = self.believing.lessons
        grains = lessons.grains if lessons else {}
        return [ricing_of(scent, grains.get(scent.name)) for scent in self.scent_records]

    @property
    def last_lots(self) -> Mapping[str, str]:
        """The lot of each material in the last batch that notes speak of."""
        lessons = self.believing.lessons
        return lessons.last_lots if lessons else MappingProxyType({})

    @unmoved
    def pour(self) -> PourStyle | None:
        """The style of pour; None where the plan names none."""
        return self.book.pour_named(self.plan.pour)

    @unmoved
    def embed_scents(self) -> dict[str, float]:
        """Grams of each scent that embeds bring into the bar."""
        grams: dict[str, float] = {}
        for embed in self.plan.embeds:
            for name, amount in embed.scents.items():
                own = amount.value if amount.dimension is Dimension.MASS else amount.value * embed.mass.value
                grams[name] = grams.get(name, 0.0) + own
        return grams

    @unmoved
    def embed_mass(self) -> float:
        """Grams of all embeds together."""
        return float(sum(embed.mass.value for embed in self.plan.embeds))

    @unmoved
    def cure_loss(self) -> float:
        """Share of oils, lye and water that leaves in cure, bounded by the water there is."""
        process = self.plan.process
        stated = (process.cure_loss if process else None) or self.book.usual.cure_loss
        loss = stated.value if stated is not None else USUAL_CURE_LOSS
        return min(loss, most_cure_loss(self.pot, self.split))

    @unmoved
    def bar_constant(self) -> float:
        """Grams of the whole batch after cure, as it is weighed, without its scents (limits: `dried`)."""
        split = self.split
        solids = split.mixed_in + split.colour.sum(axis=0)
        return float(
            self._cured_pot(1.0)
            + (1 - self.cure_loss) * split.returned.sum()
            + solids.sum()
            + self.embed_mass
        )

    @unmoved
    def portion_bar_constant(self) -> Floats:
        """Grams of each portion alone after cure, without its scents (portions,)."""
        split = self.split
        solids = split.mixed_in + split.colour.sum(axis=0)
        return np.asarray(self._cured_pot(split.share) + (1 - self.cure_loss) * split.returned + solids)

    def _cured_pot(self, share: Floats | float) -> Floats:
        """Grams that a share of the usable pot weighs after cure, what stays of its additives in it."""
        pot = self.pot
        usable = mass_science.usable(share, pot.loss)
        return mass_science.finished_bar(
            pot.pot_oils * usable,
            pot.naoh * usable,
            pot.water * usable,
            self.cure_loss,
            additives=pot.additives_dry * usable,
        )

    @cached_property
    def presence(self) -> Bools:
        """Which scents are in which portions, (scents, portions)."""
        return np.asarray(self.x > 0)

    def unit_of_portion(self) -> Floats:
        """(portions, scents, portions): 1 where the cell belongs to the portion."""
        scents, portions = self.shape
        return np.broadcast_to(np.eye(portions)[:, None, :], (portions, scents, portions))

    def unit_of_scent(self) -> Floats:
        """(scents, scents, portions): 1 where the cell belongs to the scent."""
        scents, portions = self.shape
        return np.broadcast_to(np.eye(scents)[:, :, None], (scents, scents, portions))


def once(view: Callable[[Situation], T]) -> Callable[[Situation], T]:
    """A view of a situation that is worked out when first asked for, and kept with it."""
    return _keeping(view, lambda s: s.views)


def once_for_all_doses(view: Callable[[Situation], T]) -> Callable[[Situation], T]:
    """A view that no dose moves: worked out once for all situations that differ in doses alone."""
    return _keeping(view, lambda s: s.alike)


def _keeping(
    view: Callable[[Situation], T], where: Callable[[Situation], dict[str, Any]]
) -> Callable[[Situation], T]:
    name = view.__name__

    @wraps(view)
    def kept(s: Situation) -> T:
        views = where(s)
        if name not in views:
            views[name] = view(s)
        found: T = views[name]
        return found

    return kept


def depends_on_doses(name: str) -> bool:
    """Whether a measure's column changes with the doses."""
    return REGISTRY[name].word.form != "constant"


NOWHERE = np.zeros((0, 0))
UNSCENTED = Scenting((), np.zeros(0), 0.0, 0.0, True, NOWHERE > 0, NOWHERE, NOWHERE)
"""What stands for the doses until they are worked out."""


def work_out(
    plan: Plan,
    book: BookFiles,
    today: datetime.date,
    variation: str | None = None,
    believing: Believing = AS_WRITTEN,
) -> Situation:
    """Work a plan out, its oils believed as ``believing`` says.

    RecordError with every reason, each at its line, where that cannot be done.
    """
    problems = Problems((*([plan.doc] if plan.doc else ()), *book.docs.values()))
    check_sense(plan, book, problems)
    pot = fill_pot(plan, book, problems)
    problems.raise_if_any()
    assert pot is not None
    split = make_split(plan, pot, book, problems)
    if split is not None:
        check_cure(plan, pot, split, problems)
        check_heaps(plan, pot, split, book, problems)
    problems.raise_if_any()
    assert split is not None
    return _scented(Situation(book, plan, pot, split, UNSCENTED, UNSCENTED.x, today, variation, believing))


def version_of(s: Situation, name: str) -> Situation:
    """A version of a plan that is worked out: the same pot and split; RecordError where its doses cannot be.

    Columns that no dose moves are taken over, where the version moves nothing but doses.
    """
    return taken_over(s, _scented(replace(s, variation=name, kept={}, kept_fractions={})))


def taken_over(s: Situation, other: Situation) -> Situation:
    """A situation with the columns of ``s`` that no dose moves, where nothing but doses parts the two."""
    if not only_doses_differ(s, other):
        return other
    alike = s.with_doses(other.x, other.premixes)
    found = replace(other, kept=alike.kept, kept_fractions=alike.kept_fractions)
    found.alike.update(alike.alike)
    return found


def versions_of(s: Situation) -> Iterator[Situation]:
    """Every version of a plan worked out; RecordError where one cannot be."""
    return (version_of(s, name) for name in s.plan.variations)


def only_doses_differ(one: Situation, other: Situation) -> bool:
    """Whether two situations of one plan have the same oils, blend and load, with the same places open."""
    a, b = one.scenting, other.scenting
    plain = (a.scents, a.load, a.total, a.same_total) == (b.scents, b.load, b.total, b.same_total)
    return plain and np.array_equal(a.blend, b.blend) and np.array_equal(a.allowed, b.allowed)


def _scented(s: Situation) -> Situation:
    """The situation with the doses of its plan, or of its version; RecordError with every reason."""
    problems = Problems((*([s.plan.doc] if s.plan.doc else ()), *s.book.docs.values()))
    scenting = make_doses(s.plan, s.pot, s.split, s.book, problems, s.variation)
    problems.raise_if_any()
    assert scenting is not None
    together = tuple(
        tuple(scenting.scents.index(n) for n in mix if n in scenting.scents) for mix in s.plan.weigh_together
    )
    return replace(s, scenting=scenting, x=scenting.x, premixes=together)
