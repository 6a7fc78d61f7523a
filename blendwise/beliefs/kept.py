"""What the notes of a book teach, worked out once and kept in the user's cache folder.

The kept answer is found by a fingerprint of everything that it hangs on (every note's bytes, the oils,
the scales, the day): where anything differs it is worked out again from the files.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from blendwise.beliefs.believe import Believing
from blendwise.beliefs.lessons import Belief, Grains, Learned, Lessons, Pace, Told
from blendwise.beliefs.traits import USUAL_BATTER_TO_OILS, USUAL_DOSE, traits_of
from blendwise.records.as_of import AsOf
from blendwise.records.book import BookFiles
from blendwise.records.notes.note_files import notes_fingerprint
from blendwise.records.writing.cache import cached, code_state, keep
from blendwise.version import __version__

if TYPE_CHECKING:
    from blendwise.beliefs.learning.learn import Shelf
    from blendwise.records.notes.notebook import Notebook

LEARNING: Final = Path(__file__).with_name("learning")
FORMAT: Final = "lessons/10"


def lessons_of(book: BookFiles, today: date) -> Lessons:
    """The lessons of all notes up to a day."""
    key = fingerprint(book, today, notes_fingerprint(book.folder))
    found = _kept(book, key)
    if found is not None:
        return found
    from blendwise.records.notes.notebook import read_notebook

    return learned_of(book, today, read_notebook(book.folder))


def learned_of(book: BookFiles, today: date, notebook: Notebook) -> Lessons:
    """The lessons of a notebook that was read already."""
    key = fingerprint(book, today, notebook.fingerprint)
    found = _kept(book, key)
    if found is None:
        from blendwise.beliefs.learning.learn import learn
        from blendwise.records.notes.batches import batches_of

        aside = len({fault.place.file for fault in notebook.faults})
        batches, _ = batches_of(notebook, book.folder, today)
        found = replace(learn(batches, shelf_of(book)), set_aside=aside)
        keep(_name(book), {"key": key, "lessons": asdict(found)})
    return found


def _name(book: BookFiles) -> str:
    return f"{hashlib.sha256(str(book.folder.resolve()).encode()).hexdigest()[:24]}-lessons.json"


def _kept(book: BookFiles, key: str) -> Lessons | None:
    with suppress(KeyError):
        return _read(_name(book), key)
    return None


@lru_cache(maxsize=8)
def _read(name: str, key: str) -> Lessons:
    """The lessons kept under a name for a key; KeyError where there are none (asked for anew then)."""
    kept = cached(name)
    found = _from_plain(kept.get("lessons")) if isinstance(kept, dict) and kept.get("key") == key else None
    if found is None:
        raise KeyError(key)
    return found


def believing(book: BookFiles, on: AsOf) -> Believing:
    """How the oils are to be believed; as written, the notes say only which lots were used."""
    lessons = lessons_of(book, on.today)
    return Believing(replace(lessons, oils={}, pours={}, grains={}) if on.as_written else lessons, on.careful)


def fingerprint(book: BookFiles, today: date, notes: str) -> str:
    """A name for everything the lessons hang on: ``notes`` is the notebook's own fingerprint."""
    said = [FORMAT, __version__, *code_state(LEARNING), today.isoformat(), notes]
    said += [book.docs[name].fingerprint for name in ("scents.yaml", "scales.yaml") if name in book.docs]
    return hashlib.sha256("\n".join(said).encode()).hexdigest()


def shelf_of(book: BookFiles) -> Shelf:
    """The catalogue as the regressions need it."""
    from blendwise.beliefs.learning.learn import Shelf

    traits = {
        name: traits_of(scent, book.scales, USUAL_DOSE, USUAL_BATTER_TO_OILS)
        for name, scent in book.scents.items()
    }
    return Shelf(book.scents, traits, book.scales, USUAL_DOSE, USUAL_BATTER_TO_OILS)


def _from_plain(plain: Any) -> Lessons | None:
    try:
        oils = {name: Learned(**_beliefs(each)) for name, each in plain["oils"].items()}
        pours = {style: Pace(**each) for style, each in plain["pours"].items()}
        grains = {oil: Grains(**each) for oil, each in plain["grains"].items()}
        return Lessons(**{**plain, "oils": oils, "pours": pours, "grains": grains})
    except (TypeError, KeyError, AttributeError):
        return None


def _beliefs(plain: Mapping[str, Any]) -> dict[str, Belief | None]:
    return {
        trait: None
        if each is None
        else Belief(
            **{**each, "told": tuple(Told(**told) for told in each["told"]), "lots": tuple(each["lots"])}
        )
        for trait, each in plain.items()
    }
