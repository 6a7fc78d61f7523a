"""What ``pair`` answers: data only; sentences are made in ``show``.

Fractions, grams, minutes and °C as everywhere; a value nobody knows is None.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

from blendwise.answers.answer import Answer, Range, cells, hidden, told
from blendwise.answers.check.result import CheckResult
from blendwise.facts.assumed import Assumed
from blendwise.quantity import METRIC, Units

if TYPE_CHECKING:
    import pandas as pd

Part = Literal["region", "sides", "pours", "colours"]
PourWord = Literal["time enough", "with care", "no time", "not known"]
ColourWord = Literal["stays", "warms", "turns", "lost", "not known"]


@dataclass(frozen=True, slots=True)
class Words:
    """From one word of a scale to another; None where that end is open."""

    low: str | None
    high: str | None


OPEN = Range(None, None)


@dataclass(frozen=True, slots=True)
class Side:
    """One oil beside the others: what it would do alone at the load, and what the book says of it.

    ``tints``: hues besides the browns, each with what brings it; ``colour_seen``: whether somebody saw the
    colour of a bar, which is else reckoned from its sheet; ``left``: share of the smell that somebody told;
    ``alone_at``: the most that its own papers allow (g per g of oils), where that is less than the load.
    """

    name: str
    share: float
    grams: float
    kind: str | None
    note: str | None
    bands: Words
    browning_by: str
    acceleration: str | None
    acceleration_by: str
    thickening: Range
    ricing: str | None
    after_six_weeks: str | None
    volatility: str | None
    flash_point: Range
    flammable: int | None
    limit: float | None
    certificate: str
    dated: date | None
    evidence: str | None
    lot: str | None
    on_hand: float | None
    price: str | None
    browners: Mapping[str, float | None]
    not_known: tuple[str, ...]
    tints: Mapping[str, str]
    colour_seen: bool
    after_six_weeks_by: str
    left: Range
    alone_at: float | None


@dataclass(frozen=True, slots=True)
class Shared:
    """A constituent that more than one oil brings, or that is summed against a published maximum.

    ``in_bar``: fraction of the finished bar by the tops of the sheets; ``maximum``: None where none was read.
    """

    name: str
    oils: tuple[str, ...]
    in_bar: float
    on_label: bool
    maximum: float | None = None


@dataclass(frozen=True, slots=True)
class Noted:
    """What the maker has noted of two oils together."""

    one: str
    other: str
    word: Literal["good", "bad", "unsaid"]


@dataclass(frozen=True, slots=True)
class Together:
    """The blend in one portion at the asked load.

    ``limit_used``: of what the certificates allow in the bar; ``most_in_bar``: the sum rule's greatest share
    of the bar; ``most_on_oils``: the same as a load; ``tightest``: the oil whose limit counts most;
    ``uncertified``: oils that the sum leaves out.  ``minutes``: fluid from scenting at ``scented_at``.
    ``stabilised``: oils with a vanilla stabiliser, and their grams in the batch.
    """

    scent_in_bar: float
    limit_used: float
    most_in_bar: float | None
    most_on_oils: float | None
    tightest: str | None
    uncertified: tuple[str, ...]
    shared: tuple[Shared, ...]
    label_names: tuple[str, ...]
    label_unknown: tuple[str, ...]
    noted: tuple[Noted, ...]
    pair_colour: tuple[tuple[str, str], ...]
    bands: Words
    load_of_browners: Range
    planned_colour: str
    cured_colours: Words
    judge_from: date
    judge_by: date
    unscented: Range
    unscented_from: str
    thickening: Range
    scented_at: float
    minutes: Range
    stabilised: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Stop:
    """A rule that bounds the load from above; ``load`` is None where it never does.

    ``browning``: whether it holds what the bar browns to against what it is planned to become; ``waits``:
    whether it is a fact nobody knows that leaves no load sure.
    """

    rule: str
    subject: str
    level: str
    load: float | None
    browning: bool = False
    waits: bool = False


@dataclass(frozen=True, slots=True)
class Cap:
    """One ratio: the greatest load under all stops and conflicts, what stops it, and the cautions before."""

    shares: Mapping[str, float]
    most: float | None
    least: float
    stops: tuple[Stop, ...]
    cautions: tuple[Stop, ...]

    @property
    def darker(self) -> Stop | None:
        """What stops it where the portion may brown (None: nothing)."""
        return next((stop for stop in self.stops if not stop.browning), None)


@dataclass(frozen=True, slots=True)
class PourFit:
    """One pour style with three portions scented alike: what the clock says, by which rule, minutes to spare.

    ``batter_alone``: minutes to spare without any scent, by the low end of the batter's time.
    """

    pour: str
    word: PourWord
    minutes: float
    spare: Range
    batter_alone: float | None
    portions: int
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ColourFit:
    """One colourant with the blend in it: planned and cured, the difference, what the rules say.

    ``cured``, ``cured_words``: by the least and the most browning that is known; ``besides``: what lye and
    light do to the colourant itself.
    """

    colourant: str
    rate: float
    planned: str
    planned_word: str
    cured: tuple[str, str]
    cured_words: tuple[str, str]
    shift: Range
    word: ColourWord
    besides: tuple[str, ...]
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Help:
    """Something that would help; ``kind`` names its sentence in ``show``, ``details`` fill it in."""

    kind: str
    details: Mapping[str, str | float]


@dataclass(frozen=True, slots=True)
class PairResult(Answer):
    """Do these get on?  Side by side, together, and what could be done."""

    SCHEMA = "blendwise/pair/2"

    oils: tuple[str, ...]
    shares: Mapping[str, float]
    load: float
    batch_oils: float
    colour: str | None
    pour: str | None
    sides: tuple[Side, ...]
    together: Together
    region: tuple[Cap, ...]
    pours: tuple[PourFit, ...]
    colours: tuple[ColourFit, ...]
    helps: tuple[Help, ...]
    said: tuple[Assumed, ...]
    check: CheckResult
    units: Units = hidden(METRIC)

    @told
    def sound(self) -> bool:
        """Whether nothing worse than a caution stands against the blend as asked."""
        return self.check.sound

    def frame_rows(self, what: Part = "region") -> Iterator[dict[str, object]]:
        """A part of the answer: a row a ratio, oil, pour or colourant."""
        match what:
            case "region":
                return map(_ratio, self.region)
            case "sides":
                return map(_oil, self.sides)
            case "pours":
                return map(flat, self.pours)
            case "colours":
                return map(flat, self.colours)

    def to_frame(self, what: Part = "region") -> pd.DataFrame:
        """A part of the answer as a frame."""
        import pandas as pd

        return pd.DataFrame(list(self.frame_rows(what)))


def _ratio(cap: Cap) -> dict[str, object]:
    return {
        **cap.shares,
        "most": cap.most,
        "least": cap.least,
        "stopped_by": cap.stops[0].rule if cap.stops else "",
        "without_caution": cap.cautions[0].load if cap.cautions else None,
    }


def _oil(side: Side) -> dict[str, object]:
    browners = ", ".join(str(each) for each in side.browners.items())
    return {**flat(side), "browners": browners, "dated": side.dated}


def flat(row: object) -> dict[str, object]:
    """A row of a frame, both ends of a range in columns of their own."""
    found: dict[str, object] = {}
    for key, value in cells(row).items():
        if isinstance(value, (Range, Words)):
            found |= {f"{key}_low": value.low, f"{key}_high": value.high}
        else:
            found[key] = value
    return found
