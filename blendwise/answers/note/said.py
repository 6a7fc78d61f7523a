"""What a maker says of a portion in one line, and of doses and lots, as fields of a note.

milk: colour ivory, edge clean, strength fair, remarks Nobody could name the lime.
all: ricing none
soil: thick at 11 min
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blendwise.answers.note.plain_words import colour_meant, meant, value_meant
from blendwise.answers.refusals import NotAskable
from blendwise.quantity.typed import name_and_amount, with_unit
from blendwise.records.nearest import hint, nearest
from blendwise.records.notes.note import Look
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document, validated
from blendwise.records.reading.record import spelt
from blendwise.records.writing.edit import flow

EVERY: Final = "all"
FIELDS: Final = (
    "minutes to thick", "still fluid at", "ricing", "colour", "edge", "halo", "strength", "gel", "ash",
    "rivers", "spots", "remarks",
)  # fmt: skip
OTHER_WORDS: Final = {"thick at": "minutes to thick", "fluid at": "still fluid at", "smell": "strength"}
MINUTES: Final = ("minutes to thick", "still fluid at")
SAW_LIKE: Final = 'Write it like --saw "milk: colour ivory, edge clean".'


def looks_said(texts: Sequence[str], portions: Sequence[str]) -> dict[str, dict[str, str]]:
    """Portion → field → value for every ``--saw``; NotAskable where one cannot be read."""
    found: dict[str, dict[str, str]] = {}
    for each in read_as(texts, portions):
        found.setdefault(each.portion, {})[each.field] = each.value
    return {name: found[name] for name in portions if name in found}


@dataclass(frozen=True, slots=True)
class ReadAs:
    """One thing that was said of a portion: in whose words, and as what it is noted."""

    portion: str
    said: str
    field: str
    value: str

    @property
    def in_own_words(self) -> bool:
        """Whether the words are not those of a note."""
        return self.field != "remarks" and self.value.casefold() not in self.said.casefold()


def read_as(texts: Sequence[str], portions: Sequence[str]) -> tuple[ReadAs, ...]:
    """Everything that ``--saw`` says, as it is understood; NotAskable where it cannot be read."""
    return tuple(
        ReadAs(name, part, field, value)
        for text in texts
        for names, said in [_split(text)]
        for part, field, value in _own_edge(list(_fields(said)))
        for name in _portions(names, portions)
    )


def _own_edge(said: list[tuple[str, str, str]]) -> list[tuple[str, str, str]]:
    """A halo speaks of the edge too, unless that is said by itself."""
    halos = {part for part, field, _ in said if field == "halo"}
    told = any(field == "edge" and part not in halos for part, field, _ in said)
    return [each for each in said if not (told and each[1] == "edge" and each[0] in halos)]


def _split(text: str) -> tuple[str, str]:
    names, colon, said = text.partition(":")
    if not colon or not said.strip():
        raise NotAskable(f'"{text}" does not say what was seen of which portion.', SAW_LIKE)
    return names.strip(), said.strip()


def _portions(names: str, portions: Sequence[str]) -> list[str]:
    if names in portions:
        return [names]
    if names == EVERY:
        return list(portions)
    found = [name.strip() for name in names.replace(" and ", ",").split(",")]
    for name in found:
        if name not in portions:
            raise NotAskable(f'No portion "{name}" was poured.', hint(name, portions, "The batch"))
    return found


def _fields(said: str) -> Iterator[tuple[str, str, str]]:
    """(what was typed, field, value) of each part of a line."""
    parts = said.split(",")
    while parts:
        part = parts.pop(0).strip()
        if not part:
            continue
        for field, value in _said(part):
            if field == "remarks":
                value = ",".join([value, *parts]).strip()
                parts = []
            yield part, field, checked(field, value)


def _said(part: str) -> list[tuple[str, str]]:
    """The fields that a part of a line gives: by the field's own name, else in a maker's words."""
    for name in (*FIELDS, *OTHER_WORDS, "color", "mold"):
        plain = part.casefold()
        if plain == name or plain.startswith((f"{name} ", f"{name}:", f"{name}=")):
            value = part[len(name) :].lstrip(" :=").strip()
            field = OTHER_WORDS.get(name, spelt(name))
            return (field in ("halo", "edge") and meant(part)) or [(field, value)]
    if found := meant(part):
        return found
    word = part.split(" ")[0]
    near = nearest(word, (*FIELDS, *OTHER_WORDS))
    remedy = f'The nearest is "{near}"; it' if near else "It"
    raise NotAskable(
        f'"{part}" is not something that can be noted of a portion.',
        f"{remedy} may be {', '.join(FIELDS)}, or a colour; what has no field is remarks.",
    )


def checked(field: str, value: str) -> str:
    """A value as it will stand in the note; NotAskable with the words that may stand there."""
    value = colour_meant(value) if field == "colour" else value_meant(field, value)
    value = with_unit(value, "min") if field in MINUTES else value
    try:
        validated(Look, text_document(f"{field}: {flow(value)}\n"))
    except RecordError as error:
        raise NotAskable(error.faults[0].message, error.faults[0].remedy) from None
    return value


def doses_said(texts: Sequence[str], portions: Sequence[str]) -> dict[str, dict[str, str]]:
    """``soil: tonka-milk 6.5 g, cedar 4.7 g`` → portion, scent, mass as typed."""
    found: dict[str, dict[str, str]] = {}
    for text in texts:
        name, colon, said = text.partition(":")
        if not colon or name.strip() not in portions:
            remedy = hint(name.strip(), portions, "The plan")
            raise NotAskable(f'"{text}" does not name a portion and its doses.', remedy)
        for part in said.split(","):
            scent, mass = name_and_amount(part)
            if not mass:
                raise NotAskable(f'"{part.strip()}" is not a dose.', 'Write it like "tonka-milk 6.5 g".')
            found.setdefault(name.strip(), {})[scent] = mass
    return found


def pairs_said(texts: Sequence[str], option: str) -> dict[str, str]:
    """``name=value`` for each text; NotAskable otherwise."""
    found = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign or not name.strip() or not value.strip():
            raise NotAskable(f'"{text}" is not a name with its value.', f"Write it like {option} NAME=VALUE.")
        found[name.strip()] = value.strip()
    return found


def inside(fields: Mapping[str, Mapping[str, str]]) -> bool:
    """Whether anything was said at all."""
    return any(fields.values())
