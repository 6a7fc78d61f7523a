"""The generated pages of DEVELOPERS.md: every measure, and every model of the sciences.

    python -m blendwise.facts.manual DEVELOPERS.md

writes both between their marks.  A test compares the file with what would be written.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import blendwise.science
from blendwise.facts.columns import Word
from blendwise.facts.tables import vocabulary

FORMS = {
    "constant": "constant: no dose moves it",
    "fraction": "fraction: (a·x + a₀) ÷ (d·x + d₀), a row for the solver",
    "inverted": "inverted: a bound on it is a bound on a fraction, a cap",
    "clock": "clock: slots and ends, an either-or on portion and slot",
    "presence": "presence: whether anything is dosed, a binary",
    "afterwards": "afterwards: the judge looks at what was found",
}
SIDES = ("one ", "other ", "lighter ", "darker ")
LABELS = ("Formula", "Source", "Check", "Limits")
HELPERS = frozenset({"__init__", "checks", "guards", "tables"})
BEGIN, END = "<!-- {0}: written by python -m blendwise.facts.manual -->", "<!-- {0}: end -->"


def measures_page() -> str:
    """Every measure by theme: grain, where it may be used, unit, meaning, formula, form."""
    words = [word for word in vocabulary().values() if not word.name.startswith(SIDES)]
    themes = list(dict.fromkeys(word.theme for word in words))
    return "\n\n".join([_how_to_read(), *(_theme(name, words) for name in themes)])


def _how_to_read() -> str:
    forms = "\n".join(f"- {text}" for text in FORMS.values())
    return (
        "A pair reads the measures of scents and doses as `one …` and `other …`; an edge reads those of\n"
        "portions so, and as `lighter …` and `darker …` by planned lightness.  To the solver a measure is\n\n"
        + forms
    )


def _theme(name: str, words: Sequence[Word]) -> str:
    mine = [word for word in words if word.theme == name]
    rows = [_row("measure", "grain", "also at", "unit", "meaning", "formula", "form"), _row(*["---"] * 7)]
    rows += [_measure(word) for word in mine]
    return f"**{name}** ({mine[0].source})\n\n" + "\n".join(rows)


def _measure(word: Word) -> str:
    also = ", ".join(grain for grain in word.grains if grain != word.grain)
    unit = word.unit or (", ".join(word.scale) if word.kind == "word" and word.scale else word.kind)
    return _row(f"`{word.name}`", word.grain, also, unit, word.meaning, word.formula, word.form)


def _row(*cells: str) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


@dataclass(frozen=True, slots=True)
class Model:
    """One module of the sciences: what it is, and what its docstring says under each of ``LABELS``."""

    name: str
    what: str
    said: dict[str, str]


def models() -> Iterator[Model]:
    """Every model, from the docstrings of its module (not imported for it)."""
    folder = Path(str(blendwise.science.__file__)).parent
    for path in sorted(folder.glob("*.py")):
        if path.stem not in HELPERS:
            text = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
            yield Model(path.stem, text.partition("\n\n")[0].replace("\n", " "), dict(_labelled(text)))


def _labelled(docstring: str) -> Iterator[tuple[str, str]]:
    """What follows each label, up to the next label or an empty line."""
    found = re.finditer(rf"^({'|'.join(LABELS)}): (.+?)(?=^\w+: |^$|\Z)", docstring, re.MULTILINE | re.DOTALL)
    for match in found:
        yield match[1], " ".join(match[2].split())


def models_page() -> str:
    """Every model: formula, source, check, known limits."""
    return "\n\n".join(_model(model) for model in models())


def _model(model: Model) -> str:
    lines = [f"- {label}: {model.said.get(label, '')}" for label in LABELS]
    return "\n".join([f"**`science/{model.name}.py`** {model.what}", "", *lines])


PAGES = {"measures": measures_page, "models": models_page}


def written(text: str) -> str:
    """The text with both pages renewed between their marks.  ValueError where a mark is missing."""
    for name, page in PAGES.items():
        begin, end = BEGIN.format(name), END.format(name)
        if begin not in text or end not in text:
            raise ValueError(f"the marks of the page of {name} are not there")
        before, rest = text.split(begin, 1)
        text = f"{before}{begin}\n\n{page()}\n\n{end}{rest.split(end, 1)[1]}"
    return text


def main(paths: Sequence[str]) -> int:
    """Renew the pages in each file."""
    for path in map(Path, paths):
        path.write_text(written(path.read_text(encoding="utf-8")), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:] or ["DEVELOPERS.md"]))
