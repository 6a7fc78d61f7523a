"""The common ground of all records: frozen, closed, spelt either way, and knowing their place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    PrivateAttr,
    model_validator,
)
from pydantic_core import CoreSchema, core_schema

from blendwise.records.place import Place
from blendwise.records.reading.fields import NOT_KNOWN, FieldError

SPELLINGS: dict[str, str] = {
    "mold": "mould",
    "color": "colour",
    "colorant": "colourant",
    "colorants": "colourants",
    "aluminum": "aluminium",
}


MAY_BE_UNKNOWN = "x-may-be-unknown"
"""A passing mark in schemas on fields that may say ``not known``."""


def spelt(key: str) -> str:
    """A field's name in the one spelling used inside (``mold`` → ``mould``)."""
    return SPELLINGS.get(key, key)


def field_alias(name: str) -> str:
    """The words in the files for an attribute: ``for_`` → ``for``, ``scent_note`` → ``scent note``."""
    return name.rstrip("_").replace("_", " ")


class Record(BaseModel):
    """A typed, frozen piece of a file; ``place`` says where it is written."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=field_alias,
        defer_build=True,
        arbitrary_types_allowed=True,
    )

    shorthand: ClassVar[str | None] = None
    """The field that a plain text stands for (``acceleration: moderate``)."""
    may_be_unknown: ClassVar[bool] = False
    """Whether a field may say ``not known``, which is the same as leaving it out."""

    _place: Place | None = PrivateAttr(default=None)

    @property
    def place(self) -> Place | None:
        """Where this record begins (None where it was made in memory)."""
        return self._place

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        whole = handler(core)
        found = handler.resolve_ref_schema(whole)
        if cls.may_be_unknown:
            for field in found.get("properties", {}).values():
                field[MAY_BE_UNKNOWN] = True
        if cls.shorthand is None:
            return whole
        short = dict(found["properties"][cls.shorthand])
        short.pop("title", None)
        return {"anyOf": [short, found], "description": found.get("description", "")}

    @model_validator(mode="before")
    @classmethod
    def _written(cls, data: Any) -> Any:
        if isinstance(data, str) and cls.shorthand is not None:
            return {cls.shorthand: data}
        if isinstance(data, dict):
            return cls._keys(data)
        return data

    @classmethod
    def _keys(cls, data: dict[str, Any]) -> dict[str, Any]:
        if not SPELLINGS.keys().isdisjoint(data):
            for key in data:
                if key in SPELLINGS and SPELLINGS[key] in data:
                    raise FieldError(
                        f'"{key}" and "{SPELLINGS[key]}" are the same field.', "Keep one.", (key,)
                    )
            data = {spelt(key): value for key, value in data.items()}
        if cls.may_be_unknown and NOT_KNOWN in data.values():
            words = {field.alias or name for name, field in cls.model_fields.items()}
            data = {key: value for key, value in data.items() if value != NOT_KNOWN or key not in words}
        return data


def maybe(description: str) -> Any:
    """A field that may be left out: it is None then, which means not known or not said."""
    return Field(default=None, description=description)


def mapping(description: str) -> Any:
    """A field of names and values that may be left out: it is empty then."""
    return Field(default_factory=_nothing_named, description=description)


def listing(description: str) -> Any:
    """A field of several entries that may be left out: it is empty then."""
    return Field(default_factory=_nothing_listed, description=description)


def _nothing_named() -> dict[str, Any]:
    """``dict`` itself takes pydantic longer: it reads the signature of a class out of its help text."""
    return {}


def _nothing_listed() -> list[Any]:
    return []


@dataclass(frozen=True, slots=True)
class _OneOrMore:
    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self._listed, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        several = handler(core)
        return {"anyOf": [several["items"], several]}

    @staticmethod
    def _listed(value: Any) -> Any:
        return [value] if isinstance(value, str) else value


OneOrMore = _OneOrMore()
"""Marker: a single text may stand for a list of one (``in: milk``)."""


def _unknown_is_none(value: Any) -> Any:
    return None if value == NOT_KNOWN else value


MayBeUnknown = BeforeValidator(_unknown_is_none)
"""Marker: ``not known`` is read as None."""
