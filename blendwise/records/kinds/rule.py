"""The entries of a rule file: a rule, a replacement, an adjustment, a rule switched off.

Layers: the starter's rules are the package's; files in a book's ``rules/mine/`` are the maker's.  They come
after the starter's whatever the files are called, and change them only by a verb:

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

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Field, PrivateAttr, WithJsonSchema

from blendwise.records.nearest import nearest
from blendwise.records.place import Fault, Place, RecordError, read_fault
from blendwise.records.reading.document import Document, read_document, validated
from blendwise.records.reading.fields import FieldError, Name, OneOf, Text
from blendwise.records.reading.record import Record, listing, mapping, maybe

Grain = Literal["batch", "additive", "embed", "portion", "scent", "dose", "pair", "edge"]
Level = Literal["hint", "caution", "conflict", "stop"]
Protects = Literal["limits", "lye", "ban", "label", "flammability"]
KindOfStop = Literal["harm", "paper"]
LEVEL_WORDS: Final = ("hint", "caution", "conflict", "stop")
MINE: Final = "mine"
NOT_RULES: Final = frozenset({"pours.yaml", "scales.yaml", "symptoms.yaml"})
IN_MEMORY: Final = Place(Path("in memory"))
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
SAYS_OF_A_MEASURE: Final = _SAID
"""The schema of what may be said of one measure."""
_SAYS = {"type": "object", "minProperties": 1, "additionalProperties": _SAID}
_CONDITION = {**_SAYS, "properties": {"any of": {"type": "array", "items": _SAYS, "minItems": 1}}}
_ROWS = {
    "type": "array",
    "items": {"type": "object", "additionalProperties": {"anyOf": [{"type": ["string", "number"]}, _WORDS]}},
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
    """What all entries share: which rule they speak of, in which layer they stand, and their own lines."""

    _doc: Document | None = PrivateAttr(default=None)
    _index: int = PrivateAttr(default=0)
    _mine: bool = PrivateAttr(default=False)

    @property
    def name(self) -> str:
        """The rule that is spoken of."""
        raise NotImplementedError

    @property
    def is_mine(self) -> bool:
        """Whether it stands in the maker's own layer, ``rules/mine/``."""
        return self._mine or (self.place is not None and self.place.file.parent.name == MINE)

    @property
    def text(self) -> str:
        """The entry as it stands in its file ("" where it was made in memory)."""
        if self._doc is None:
            return ""
        node = self._doc.node(self._index)
        return self._doc.text[node.start : node.end].rstrip()

    def at(self, *path: str | int) -> Place:
        """Where a name inside the entry is written, or the nearest thing above it."""
        return IN_MEMORY if self._doc is None else self._doc.key_place(self._index, *path)


class RuleRecord(RuleEntry):
    """A rule as typed; ``replace`` instead of ``rule`` puts it in the place of an earlier one.

    ``says``, ``because``, ``try``, ``basis``, ``hits`` and ``misses`` may be empty here: a maker's note of
    last night works at once, and ``rules lint`` asks for the rest.
    """

    rule: Name | None = maybe("the rule's name, used once")
    replace: Name | None = maybe("the rule in whose place this one stands")
    looks_at: Annotated[Grain, OneOf()] = Field(description="what it is asked of, one by one")
    when: Conditions = mapping("where it applies; everywhere if left out")
    must: Conditions = Field(description="what must then be so")
    else_: Annotated[Level, OneOf()] = Field(alias="else", description="how bad it is where it is not so")
    says: Text = Field(default="", description="what it tells a maker, with {portion}, {oil}, {value} …")
    because: Text = Field(default="", description="the reason, in one sentence")
    try_: Text = Field(default="", alias="try", description="what to do about it")
    basis: Text = Field(default="", description="common practice, a publication, or your own batches")
    hits: Rows = listing("rows of facts that it must find broken; `limit + 1` is one past the limit")
    misses: Rows = listing("rows of facts on which it must stay silent")
    topic: Name | None = maybe("a word to list rules by")
    protects: Annotated[Protects, OneOf()] | None = maybe("what it guards; such a rule is never loosened")
    kind_of_stop: Annotated[KindOfStop, OneOf()] | None = maybe(
        "of a stop: harm (do not pour; so too where it is left out) or paper (not for sale until it is there)"
    )

    @property
    def name(self) -> str:
        return self.rule or self.replace or ""


class AdjustRecord(RuleEntry):
    """A new level, or one new number, for a rule that stands."""

    adjust: Name = Field(description="the rule to adjust")
    to: To = Field(description="a level, or one measure with its new number")
    because: Text = Field(default="", description="the reason")

    @property
    def name(self) -> str:
        return self.adjust


class OffRecord(RuleEntry):
    """A rule switched off, with the reason."""

    off: Name = Field(description="the rule that no longer counts")
    because: Text = Field(description="the reason")

    @property
    def name(self) -> str:
        return self.off


AnyRuleEntry = RuleRecord | AdjustRecord | OffRecord
"""One entry of a rule file (for schemas)."""
VERBS: Final[dict[str, type[RuleEntry]]] = {
    "rule": RuleRecord,
    "replace": RuleRecord,
    "adjust": AdjustRecord,
    "off": OffRecord,
}


@dataclass(frozen=True, slots=True)
class BadEntry:
    """An entry that cannot be read: its tree as typed, and why."""

    tree: object
    faults: tuple[Fault, ...]


def rules_in(doc: Document) -> list[RuleEntry]:
    """The entries of one rule file, which is a list; RecordError with the faults of all of them."""
    entries, bad = entries_in(doc)
    if bad:
        raise RecordError([fault for each in bad for fault in each.faults])
    return entries


def entries_in(doc: Document) -> tuple[list[RuleEntry], list[BadEntry]]:
    """The entries that can be read and those that cannot; RecordError where the file is no list."""
    if doc.root.plain == {}:
        return [], []
    if not isinstance(doc.root.plain, list):
        raise read_fault(doc.file, "A rule file is a list of entries.", "Begin each with `- rule: its-name`.")
    entries: list[RuleEntry] = []
    bad: list[BadEntry] = []
    for index, tree in enumerate(doc.root.plain):
        try:
            entry = validated(_class_of(tree, doc.place(index)), doc, (index,))
            entry._doc, entry._index = doc, index
            entries.append(entry)
        except RecordError as error:
            bad.append(BadEntry(tree, error.faults))
    return entries, bad


def _class_of(tree: object, place: Place) -> type[RuleEntry]:
    verbs = [verb for verb in VERBS if isinstance(tree, dict) and verb in tree]
    if len(verbs) == 1:
        return VERBS[verbs[0]]
    what = f"has two verbs, `{verbs[0]}` and `{verbs[1]}`" if verbs else "does not say what it does"
    remedy = "It begins with one of `rule:`, `replace:`, `adjust:`, `off:`."
    raise RecordError([Fault(place, f"This entry {what}.", remedy)])


def load_rule_files(rules: Path) -> list[RuleEntry]:
    """All entries of the files of a folder, by name; RecordError with the faults of all files."""
    entries: list[RuleEntry] = []
    faults: list[Fault] = []
    for file in sorted(rules.glob("*.yaml")):
        if file.name not in NOT_RULES:
            try:
                entries += rules_in(read_document(file))
            except RecordError as error:
                faults += error.faults
    if faults:
        raise RecordError(faults)
    return entries
