"""What a maker says of a portion in one line, and of doses and lots, as fields of a note.

milk: colour ivory, edge clean, strength fair, remarks Nobody could name the lime.
all: ricing none
soil: thick at 11 min
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from blendwise.answers.note.plain_words import (
    NAMES,
    VALUES,
    colour_meant,
    days_in,
    meant,
    meant_loosely,
    value_meant,
)
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import Units
from blendwise.quantity.typed import name_and_amount, with_unit
from blendwise.records.nearest import hint, nearest
from blendwise.records.notes.note import LOOKS, Look, Note
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document, validated
from blendwise.records.reading.trade_words import SPELLING as _ALL_SPELLINGS
from blendwise.records.writing.edit import flow

EVERY: Final = "all"
FIELDS: Final = (
    "minutes to thick", "still fluid at", "ricing", "colour", "edge", "halo", "strength", "gel", "ash",
    "rivers", "spots", "remarks",
)  # fmt: skip
SPELLING: Final = {said: read for said, read in _ALL_SPELLINGS.items() if read in FIELDS}
OTHER_WORDS: Final = {"thick at": "minutes to thick", "fluid at": "still fluid at", "smell": "strength"}
OF_BATCH: Final = frozenset({"gel", "ash", "rivers", "spots"})
_CLAUSES: Final = re.compile(r"[,;]|\bbut\b")
Field = tuple[str, str, str]
"""What was typed, the field, its value."""
_ANY_NOTE: Final = f"note: any\nplan: any\nlook: {LOOKS[0]}\non: 2026-01-01\n"
MINUTES: Final = ("minutes to thick", "still fluid at")


def looks_said(texts: Sequence[str], portions: Sequence[str]) -> dict[str, dict[str, str]]:
    """Portion → field → value for every ``--saw``; NotAskable where one cannot be read."""
    found: dict[str, dict[str, str]] = {}
    for each in read_as(texts, portions):
        fields = found.setdefault(each.portion, {})
        before = fields.get(each.field, "") if each.field == "remarks" else ""
        fields[each.field] = f"{before}; {each.value}" if before else each.value
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
        for names, said in _split(text, portions)
        for part, field, value in _said_once(_own_edge(list(said)), names)
        for name in _portions(names, portions)
    )


def _said_once(said: list[Field], names: str) -> list[Field]:
    """The fields of one breath; NotAskable where two of them are of one kind and differ ("beige, tan")."""
    first: dict[str, Field] = {}
    for each in said:
        before = first.setdefault(each[1], each)
        if before[2] != each[2] and each[1] != "remarks":
            raise NotAskable(
                f'"{before[0]}" and "{each[0]}" are two words for the {each[1]} of {names}.',
                "Note one of them; what else was seen is remarks.",
            )
    return said


def _own_edge(said: list[tuple[str, str, str]]) -> list[tuple[str, str, str]]:
    """A halo speaks of the edge too, unless that is said by itself."""
    halos = {part for part, field, _ in said if field == "halo"}
    told = any(field == "edge" and part not in halos for part, field, _ in said)
    return [each for each in said if not (told and each[1] == "edge" and each[0] in halos)]


def _split(text: str, portions: Sequence[str]) -> Iterator[tuple[str, Iterator[Field]]]:
    """(portions, what was seen of them) of a line: before its colon, else where it names them."""
    names, colon, said = text.partition(":")
    if not said.strip() and names.strip() in ("", EVERY, *portions):
        raise NotAskable(
            f'"{text}" does not say what was seen.', 'Write it like --saw "milk: colour ivory, edge clean".'
        )
    listed = {name.strip() for name in names.replace(" and ", ",").split(",")} <= {*portions, EVERY}
    if colon and said.strip() and (listed or names.strip() in portions or not _named(text, portions)):
        yield names.strip(), _fields(said.strip())
        return
    if len(set(days_in(text))) > 1:
        raise NotAskable(f'"{text}" tells of more than one day.', "Note each day's look by itself.")
    clauses = [clause.strip() for clause in _CLAUSES.split(text) if clause.strip(" .!")]
    found = [_named(clause, portions) for clause in clauses]
    last = next((names for names in found if names), ())
    if not last and not all(_of_batch(clause) for clause in clauses):
        raise NotAskable(
            f'"{text}" does not say what was seen of which portion.',
            'Write it like --saw "milk: colour ivory, edge clean". There are '
            f"{', '.join(portions)}; what is of the whole batch is --remarks.",
        )
    for clause, named in zip(clauses, found, strict=True):
        last = named or last
        yield ", ".join(last) or EVERY, _of_clause(clause, last)


def _named(clause: str, portions: Sequence[str]) -> tuple[str, ...]:
    """The portions that a clause is about, the longest name first; not those that something went into."""
    about = re.sub(r"\b(?:where (?:it|they)|into)\b.*", "", clause)
    found = []
    for name in sorted(portions, key=len, reverse=True):
        pattern = rf"(?<![\w-]){re.escape(name)}(?![\w-])"
        if re.search(pattern, about, re.IGNORECASE):
            found.append(name)
            about = re.sub(pattern, " ", about, flags=re.IGNORECASE)
    return tuple(name for name in portions if name in found)


def _of_batch(clause: str) -> bool:
    """Whether it is of the whole batch: gel, ash, rivers, spots."""
    fields = {field for field, _ in meant_loosely(clause)}
    return bool(fields) and fields <= OF_BATCH


def _of_clause(clause: str, names: Sequence[str]) -> Iterator[Field]:
    """The fields of a clause without its portions' names; what is more than fields is a remark too."""
    core = clause
    for name in sorted(names, key=len, reverse=True):
        core = re.sub(
            rf"(?:\bin )?(?:\bthe )?(?<![\w-]){re.escape(name)}(?![\w-])(?: (?:cup|portion|layer|batter)\b)?",
            " ", core, flags=re.IGNORECASE,
        )  # fmt: skip
    core = " ".join(core.split()).strip(" .!:")
    if not core:
        return
    plain = meant(core)
    for field, value in plain or meant_loosely(core):
        yield clause, field, checked(field, value)
    if not plain:
        yield clause, "remarks", clause


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


def _fields(said: str) -> Iterator[Field]:
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
    for name in (*FIELDS, *OTHER_WORDS, *SPELLING):
        plain = part.casefold()
        if plain == name or plain.startswith((f"{name} ", f"{name}:", f"{name}=")):
            value = part[len(name) :].lstrip(" :=").strip()
            field = OTHER_WORDS.get(name, SPELLING.get(name, name))
            if not value and not meant(part):
                raise _of_what(part, field)
            return ((field in ("halo", "edge") or not value) and meant(part)) or [(field, value)]
    if found := meant(part):
        return found
    if not _in_form(part):
        return [*meant_loosely(part), ("remarks", part)]
    near = nearest(part.split(" ")[0], (*FIELDS, *OTHER_WORDS))
    remedy = f'The nearest is "{near}"; it' if near else "It"
    raise NotAskable(
        f'"{part}" is not something that can be noted of a portion.',
        f"{remedy} may be {', '.join(FIELDS)}, or a colour; what has no field is remarks.",
    )


def _of_what(part: str, field: str) -> NotAskable:
    """A field that was named without a word for it: what it may be."""
    may = [f"`{part} {word}`" for word in VALUES.get(field, {})]
    return NotAskable(
        f'"{part}" does not say how much, or what.',
        f"Write {', '.join(may[:-1])} or {may[-1]}." if len(may) > 1 else "Write what was seen after it.",
    )


def _in_form(part: str) -> bool:
    """Whether words are written as a field and its value, though the field is unknown or misspelt."""
    from rapidfuzz.distance import OSA

    word, *rest = part.casefold().split()
    if meant(word) or any(word in names for names in NAMES.values()):
        return False
    known = {name.split()[0] for name in (*FIELDS, *OTHER_WORDS, *SPELLING)} - {"ash"}
    values = {
        value for words in VALUES.values() for each, others in words.items() for value in (each, *others)
    }
    slip = any(OSA.distance(word, each, score_cutoff=2) <= 1 + (len(each) > len("edges")) for each in known)
    return not rest or slip or " ".join(rest) in values


def checked(field: str, value: str) -> str:
    """A value as it will stand in the note; NotAskable with the words that may stand there."""
    value = colour_meant(value) if field == "colour" else value_meant(field, value)
    value = with_unit(value, "min") if field in MINUTES else value
    try:
        validated(Look, text_document(f"{field}: {flow(value)}\n"))
    except RecordError as error:
        raise NotAskable(error.faults[0].message, error.faults[0].remedy) from None
    return value


def of_pour(field: str, text: str, units: Units) -> str:
    """Temperature or minutes of a pour as they will stand in the note; NotAskable where they cannot."""
    value = with_unit(text, "min" if field == "pour took" else f"°{units.temperature}")
    try:
        validated(Note, text_document(f"{_ANY_NOTE}{field}: {flow(value)}\n"))
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
