"""The published shapes of ``pair``: keys never vanish, their order is fixed, numbers are finite."""

from __future__ import annotations

import math
from dataclasses import asdict, is_dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, cast

from typing_extensions import TypedDict

from blendwise.answers import documents as doc
from blendwise.answers import shapes

if TYPE_CHECKING:
    from blendwise.answers.pair.result import PairResult

PAIR_SCHEMA = "blendwise/pair/1"


class EndsDoc(TypedDict):
    """A value that is known, or known to lie between two ends."""

    low: float | str | None
    high: float | str | None


class SideDoc(TypedDict):
    """One oil by itself."""

    name: str
    share: float
    grams: float
    kind: str | None
    note: str | None
    bands: EndsDoc
    browning_by: str
    acceleration: str | None
    acceleration_by: str
    thickening: EndsDoc
    ricing: str | None
    after_six_weeks: str | None
    volatility: str | None
    flash_point: EndsDoc
    flammable: int | None
    limit: float | None
    certificate: str
    dated: str | None
    evidence: str | None
    lot: str | None
    on_hand: float | None
    price: str | None
    browners: dict[str, float | None]
    not_known: list[str]


class SharedDoc(TypedDict):
    """A constituent that several oils bring."""

    name: str
    oils: list[str]
    in_bar: float
    on_label: bool
    maximum: float | None


class NotedDoc(TypedDict):
    """The maker's own word on two oils."""

    one: str
    other: str
    word: str


class TogetherDoc(TypedDict):
    """The blend in one portion."""

    scent_in_bar: float
    limit_used: float
    most_in_bar: float | None
    most_on_oils: float | None
    tightest: str | None
    uncertified: list[str]
    shared: list[SharedDoc]
    label_names: list[str]
    label_unknown: list[str]
    noted: list[NotedDoc]
    pair_colour: list[list[str]]
    bands: EndsDoc
    load_of_browners: EndsDoc
    planned_colour: str
    cured_colours: EndsDoc
    judge_from: str
    judge_by: str
    unscented: EndsDoc
    unscented_from: str
    thickening: EndsDoc
    scented_at: float
    minutes: EndsDoc
    stabilised: dict[str, float]


class StopDoc(TypedDict):
    """A rule that bounds the load."""

    rule: str
    subject: str
    level: str
    load: float | None
    browning: bool
    waits: bool


class CapDoc(TypedDict):
    """One ratio of the region that works."""

    shares: dict[str, float]
    most: float | None
    least: float
    stops: list[StopDoc]
    cautions: list[StopDoc]


class PourFitDoc(TypedDict):
    """One pour style against the clock."""

    pour: str
    word: str
    minutes: float
    spare: EndsDoc
    batter_alone: float | None
    portions: int
    rules: list[str]


class ColourFitDoc(TypedDict):
    """One colourant with the blend in it."""

    colourant: str
    rate: float
    planned: str
    planned_word: str
    cured: list[str]
    cured_words: list[str]
    shift: EndsDoc
    word: str
    besides: list[str]
    rules: list[str]


class HelpDoc(TypedDict):
    """Something that would help."""

    kind: str
    details: dict[str, str | float]


class PairDoc(doc.HeadDoc):
    """The document of ``blendwise pair --json``."""

    oils: list[str]
    shares: dict[str, float]
    load: float
    batch_oils: float
    colour: str | None
    pour: str | None
    sound: bool
    sides: list[SideDoc]
    together: TogetherDoc
    region: list[CapDoc]
    pours: list[PourFitDoc]
    colours: list[ColourFitDoc]
    helps: list[HelpDoc]
    said: list[str]
    check: doc.CheckBody


ENDS = frozenset(
    {
        *("bands", "cured_colours", "flash_point", "load_of_browners", "minutes"),
        *("shift", "spare", "thickening", "unscented"),
    }
)
"""Fields that hold two ends of something."""


def plain(value: Any, name: str = "") -> Any:
    """Dataclasses, tuples, days and open ends as JSON has them."""
    if name in ENDS and isinstance(value, tuple):
        return {"low": plain(value[0]), "high": plain(value[1])}
    if is_dataclass(value) and not isinstance(value, type):
        return {key: plain(getattr(value, key), key) for key in value.__dataclass_fields__}
    if isinstance(value, (tuple, list)):
        return [plain(each) for each in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value.isoformat() if isinstance(value, date) else value


def pair_doc(result: PairResult) -> PairDoc:
    """A PairResult as the published document."""
    caps = [
        {**plain(cap), "shares": dict(zip(result.oils, cap.shares, strict=True))} for cap in result.region
    ]
    body = {
        "oils": list(result.oils),
        "shares": dict(zip(result.oils, result.shares, strict=True)),
        "load": result.load,
        "batch_oils": result.batch_oils,
        "colour": result.colour,
        "pour": result.pour,
        "sound": result.sound,
        "sides": [{**plain(side), "browners": dict(side.browners)} for side in result.sides],
        "together": {**plain(result.together), "stabilised": dict(result.together.stabilised)},
        "region": caps,
        "pours": plain(result.pours),
        "colours": plain(result.colours),
        "helps": [{"kind": each.kind, "details": dict(each.details)} for each in result.helps],
        "said": list(result.said),
        "check": shapes.check_body(result.check),
    }
    return cast(PairDoc, {**shapes.head(PAIR_SCHEMA), **body})


def rows_of(result: PairResult, what: str) -> list[dict[str, Any]]:
    """A part of the answer as flat rows for a frame."""
    if what == "region":
        return [
            {**dict(zip(result.oils, cap.shares, strict=True)), "most": cap.most, "least": cap.least,
             "stopped_by": cap.stops[0].rule if cap.stops else "",
             "without_caution": cap.cautions[0].load if cap.cautions else None}
            for cap in result.region
        ]  # fmt: skip
    return [flat(asdict(row)) for row in getattr(result, what)]


def flat(row: dict[str, Any]) -> dict[str, Any]:
    flat: dict[str, Any] = {}
    for key, value in row.items():
        if key in ENDS and isinstance(value, tuple):
            flat[f"{key}_low"], flat[f"{key}_high"] = value
        else:
            flat[key] = ", ".join(map(str, value)) if isinstance(value, (tuple, list)) else value
    return flat
