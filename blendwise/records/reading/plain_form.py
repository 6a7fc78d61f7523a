"""A short way to what a file says where it is written in the plainest form of YAML, as our own notes are.

Whatever is not of that form, to the letter, is None here and is read the long way (``nodes.py``), with
all its places and faults; what is of it is read as the long way reads it, every scalar a text.  Plainest
is: mappings in blocks; values, names and flow collections each on one line; no remark, no sign that
could be read in two ways; a text of several lines only under ``|``.
"""

from __future__ import annotations

import re
from typing import Any, Final

Plain = dict[str, Any]
LONGEST: Final = 60_000
"""Signs: so short a text passes none of the long way's bounds on entries and depth."""
DEEPEST: Final = 6
_NAME: Final = r"[^\W_][\w.-]*(?: [\w.-]+){0,12}"
_LINE: Final = re.compile(rf"( *)({_NAME}):(?: (.+))?")
_WORD: Final = r"[^\W_][\w.%°/+-]*(?: [\w.%°/+-]+)*"
_SAFE: Final = re.compile(_WORD)
_QUOTED: Final = re.compile(r"\"[^\"\\]*\"|'[^']*'")
_PART: Final = rf"(?:{_WORD}|\"[^\"\\]*\")"
_PAIRS: Final = re.compile(rf"{{{_NAME}: {_PART}(?:, {_NAME}: {_PART})*}}")
_PAIR: Final = re.compile(rf"({_NAME}): ({_PART})")
_ITEMS: Final = re.compile(rf"\[{_PART}(?:, {_PART})*\]")
_ITEM: Final = re.compile(_PART)
_LONGEST_NAME: Final = 100


class _OtherFormError(Exception):
    """Raised inside where a text is not of the plainest form."""


def in_plain_form(text: str) -> Plain | None:
    """What a file's text says, every scalar a text; None where it is not of the plainest form."""
    if len(text) > LONGEST or not text.endswith("\n") or not text.replace("\n", "").isprintable():
        return None
    try:
        return _Lines(text.split("\n")[:-1]).mapping(0, 0)
    except _OtherFormError:
        return None


class _Lines:
    """The lines of a text, taken from the top; ``at`` is the next of them."""

    def __init__(self, lines: list[str]) -> None:
        self.lines = lines
        self.at = 0

    def mapping(self, indent: int, depth: int) -> Plain:
        """The mapping whose names stand so far in; the line after it stands less far in, or is none."""
        found: Plain = {}
        while self.at < len(self.lines):
            told = _LINE.fullmatch(self.lines[self.at])
            if told is None:
                raise _OtherFormError
            there = len(told[1])
            if there < indent and found:
                break
            name = told[2]
            if there != indent or name in found or len(name) > _LONGEST_NAME:
                raise _OtherFormError
            self.at += 1
            found[name] = self._value(told[3], indent, depth)
        if not found:
            raise _OtherFormError
        return found

    def _value(self, said: str | None, indent: int, depth: int) -> Any:
        if said is None:
            return self._below(indent, depth)
        if _SAFE.fullmatch(said):
            return said
        if said in ("|", "|-", "|+"):
            return self._block(said[1:], indent)
        if said[0] == "{" and _PAIRS.fullmatch(said):
            pairs = _PAIR.findall(said)
            found = {name: _scalar(value) for name, value in pairs}
            if len(found) < len(pairs) or max(map(len, found)) > _LONGEST_NAME:
                raise _OtherFormError
            return found
        if said[0] == "[" and _ITEMS.fullmatch(said):
            return [_scalar(value) for value in _ITEM.findall(said)]
        if _QUOTED.fullmatch(said):
            return said[1:-1]
        raise _OtherFormError

    def _below(self, indent: int, depth: int) -> Plain:
        """A mapping further in, under a name that stands alone on its line."""
        if self.at == len(self.lines) or depth == DEEPEST:
            raise _OtherFormError
        line = self.lines[self.at]
        further = len(line) - len(line.lstrip(" "))
        if further <= indent:
            raise _OtherFormError
        return self.mapping(further, depth + 1)

    def _block(self, end: str, indent: int) -> str:
        """The text under ``|``: as far in as its first line, which is not empty."""
        first = self.lines[self.at] if self.at < len(self.lines) else ""
        further = len(first) - len(first.lstrip(" "))
        if not first.strip() or further <= indent:
            raise _OtherFormError
        begun, before = self.at, " " * further
        while self.at < len(self.lines):
            line = self.lines[self.at]
            if line.strip(" ") and not line.startswith(before):
                if len(line) - len(line.lstrip(" ")) > indent:
                    raise _OtherFormError
                break
            self.at += 1
        body = "".join(f"{line[further:]}\n" for line in self.lines[begun : self.at])
        return body if end == "+" else body.rstrip("\n") + ("" if end else "\n")


def _scalar(written: str) -> str:
    return written[1:-1] if written[0] == '"' else written
