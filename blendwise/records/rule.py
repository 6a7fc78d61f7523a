"""The entries of a rule file: a rule, a replacement, an adjustment, a rule switched off.

Layers: files in ``rules/`` are the starter's; files in ``rules/mine/`` are the maker's.  The maker's
entries come after the starter's whatever the files are called, and change them only by a verb:

    - replace: contrast-thin          # a whole new body under the old name
      looks at: edge
      ...
    - adjust: contrast-thin           # one number of what it must, or its level
      to: {contrast: at least 8}
    - adjust: ash-likely
      to: caution
    - off: ash-likely                 # with a reason
      because: I plane every bar.
"""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag, WithJsonSchema

from blendwise.records.fields import FieldError, Name, OneOf, Text
from blendwise.records.nearest import nearest
from blendwise.records.record import Record

Grain = Literal["batch", "portion", "scent", "dose", "pair", "edge"]
Level = Literal["hint", "caution", "conflict", "stop"]
Protects = Literal["limits", "lye", "ban", "label", "flammability"]
LEVEL_WORDS: Final = ("hint", "caution", "conflict", "stop")
MINE: Final = "mine"
MOST_ROWS: Final = 50

_WORDS = {"type": "array", "items": {"type": "string"}, "minItems": 1}
_SAID = {
    "anyOf": [
        {
            "type": "string",
            "maxLength": 200,
            "examples": ["at least 70", "at most planned band", "is ivory", "known"],
        },
        _WORDS,
        {"type": "object", "properties": {"one of": _WORDS, "none of": _WORDS}, "maxProperties": 1},
    ]
}
_SAYS = {"type": "object", "minProperties": 1, "additionalProperties": _SAID}
_CONDITION = {**_SAYS, "properties": {"any of": {"type": "array", "items": _SAYS, "minItems": 1}}}
_ROWS = {
    "type": "array",
    "items": {"type": "object", "additionalProperties": {"anyOf": [{"type": "string"}, _WORDS]}},
}
_TO = {"anyOf": [{"enum": list(LEVEL_WORDS)}, {**_SAYS, "maxProperties": 1}]}


def _condition(value: object) -> object:
    if not isinstance(value, dict) or not value:
        raise FieldError(
            "Here must stand measures, each with what it should be.", "Like `{browning band: at most tan}`."
        )
    return value


def _rows(value: object) -> object:
    if not isinstance(value, list) or not all(isinstance(row, dict) and row for row in value):
        raise FieldError("Here must stand a list of rows of facts.", "Like `[{browning band: limit + 1}]`.")
    if len(value) > MOST_ROWS:
        raise FieldError(f"More than {MOST_ROWS} rows.", "Keep those nearest to the limit.")
    return value


def _to(value: object) -> object:
    if value in LEVEL_WORDS or (isinstance(value, dict) and len(value) == 1):
        return value
    near = nearest(value, LEVEL_WORDS) if isinstance(value, str) else None
    like = f'The nearest level is "{near}". ' if near else ""
    raise FieldError(
        "An adjustment is to a level or to one number.",
        f"{like}Write `to: caution` or `to: {{contrast: at least 8}}`.",
    )


Conditions = Annotated[dict[str, Any], BeforeValidator(_condition), WithJsonSchema(_CONDITION)]
"""Measure → what is said of it, as typed; read against the vocabulary by ``judge.reading``."""
Rows = Annotated[list[dict[str, Any]], BeforeValidator(_rows), WithJsonSchema(_ROWS)]
To = Annotated[Any, BeforeValidator(_to), WithJsonSchema(_TO)]


class RuleEntry(Record):
    """What all entries share: which rule they speak of, and in which layer they stand."""

    @property
    def name(self) -> str:
        """The rule that is spoken of."""
        raise NotImplementedError

    @property
    def is_mine(self) -> bool:
        """Whether it stands in the maker's own layer, ``rules/mine/``."""
        return self.place is not None and self.place.file.parent.name == MINE


class RuleRecord(RuleEntry):
    """A rule as typed; ``replace`` in place of ``rule`` puts it in the place of an earlier one.

    ``because``, ``try``, ``basis``, ``hits`` and ``misses`` may be empty here: a maker's note of last
    night works at once, and ``rules lint`` asks for the rest.
    """

    rule: Name | None = None
    replace: Name | None = None
    looks_at: Annotated[Grain, OneOf()]
    when: Conditions = Field(default_factory=dict)
    must: Conditions
    else_: Annotated[Level, OneOf()]
    because: Text = ""
    try_: Text = ""
    basis: Text = ""
    hits: Rows = Field(default_factory=list)
    misses: Rows = Field(default_factory=list)
    topic: Name | None = None
    protects: Annotated[Protects, OneOf()] | None = None

    @property
    def name(self) -> str:
        return self.rule or self.replace or ""


class AdjustRecord(RuleEntry):
    """A new level, or one new number, for a rule that stands."""

    adjust: Name
    to: To
    because: Text = ""

    @property
    def name(self) -> str:
        return self.adjust


class OffRecord(RuleEntry):
    """A rule switched off, with the reason."""

    off: Name
    because: Text

    @property
    def name(self) -> str:
        return self.off


VERBS: Final = ("rule", "replace", "adjust", "off")


def _verb(value: object) -> str:
    if isinstance(value, RuleEntry):
        return next(verb for verb in VERBS if getattr(value, verb, None) is not None)
    verbs = [verb for verb in VERBS if isinstance(value, dict) and verb in value]
    if len(verbs) != 1:
        what = "two verbs" if verbs else "no verb"
        raise FieldError(
            f"This entry has {what}.", "It begins with one of `rule:`, `replace:`, `adjust:`, `off:`."
        )
    return verbs[0]


AnyRuleEntry = Annotated[
    Annotated[RuleRecord, Tag("rule")]
    | Annotated[RuleRecord, Tag("replace")]
    | Annotated[AdjustRecord, Tag("adjust")]
    | Annotated[OffRecord, Tag("off")],
    Discriminator(_verb),
]
"""One entry of a rule file, told by its verb."""


def entry_class(value: object) -> type[RuleEntry]:
    """The record class for one entry's tree; FieldError where it has no verb or two."""
    match _verb(value):
        case "adjust":
            return AdjustRecord
        case "off":
            return OffRecord
        case _:
            return RuleRecord
