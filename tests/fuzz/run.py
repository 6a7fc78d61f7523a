"""One bent input by its number, and many of them: what each did, and what none may do.

No traceback, no fault of ours, no warning, no hang; and a figure, a unit or a key that was bent is taken
(what is read is another), refused or told, never passed over in silence.
"""

from __future__ import annotations

import json
import signal
import tempfile
import time
import traceback
import warnings
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from datetime import date
from pathlib import Path
from random import Random
from typing import Any, Final

from blendwise import Book
from blendwise.answers.spreadsheet.result import ImportResult
from blendwise.answers.spreadsheet.shelved import ON_THE_SHELF
from blendwise.records import RecordError
from blendwise.records.as_of import AsOf
from tests.fuzz.bend import bent
from tests.fuzz.lines import bent_line, lines
from tests.fuzz.sheets import FORMS, BentSheet, Grid, bent_grid, grid, written
from tests.fuzz.shelves import Shelf, shelves, weighted
from tests.strangers.books import TODAY
from tests.strangers.runs import Ran, here

HANG: Final = 20
SOUND_CODES: Final = (0, 1, 2, 3)


class Hung(BaseException):
    """A run took longer than a maker waits; no Exception, so that nothing of ours catches it."""


@dataclass
class Find:
    """Something that must not be: of which kind, and all that it takes to see it again."""

    number: int
    kind: str
    what: str
    told: str


@dataclass
class Fuzz:
    """The bent inputs of some books: a number stands for the same one whenever it is asked."""

    folder: Path
    few: bool = False
    share_run: float = 0.08
    counts: Counter[str] = field(default_factory=Counter)
    finds: list[Find] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.books = shelves(self.folder / "books", self.few)
        self.scratch = self.folder / "scratch"
        self.scratch.mkdir(exist_ok=True)
        self.sound: dict[Path, str] = {}
        self.sheets: dict[str, ImportResult | None] = {}

    def one(self, number: int) -> None:
        """Bend the input of this number, try it, and keep what must not be."""
        rng = Random(f"fuzz {number}")
        kind = rng.choices((self._file, self._sheet, self._line), (100, 14, 5))[0]
        self.counts["inputs"] += 1
        with within(HANG):
            try:
                kind(number, rng)
            except Hung:
                self._found(number, "hang", kind.__name__, f"over {HANG} s")
            except Exception as error:
                told = "".join(traceback.format_exception(error)[-3:])
                self._found(number, "traceback", kind.__name__, told)

    def _found(self, number: int, kind: str, what: str, told: str) -> None:
        self.counts[kind] += 1
        self.finds.append(Find(number, kind, what, told))

    def _file(self, number: int, rng: Random) -> None:
        shelf = rng.choice(self.books)
        file = weighted(rng, shelf)
        change = bent(rng, file.read_text("utf-8"))
        must_show, text = change.must_show, change.text
        while rng.random() < 0.15:
            text, must_show = bent(rng, text).text, False
        what = f"{file.relative_to(self.folder)}: {change.how} {change.before[:80]!r} -> {change.now[:80]!r}"
        sound = self._sound(shelf, file) if must_show else ""
        with shelf.bent(file, text.encode("utf-8", "surrogatepass")) as before:
            try:
                said = shelf.reading(file)
            except RecordError as error:
                self.counts["refused"] += 1
                said = ""
                self._unplaced(number, what, error)
            if must_show:
                self.counts["figures"] += 1
                if said == sound:
                    self._silent(number, shelf, file, before, what)
            if rng.random() < self.share_run:
                self._run(number, lines(rng, shelf, file), what)

    def _unplaced(self, number: int, what: str, error: RecordError) -> None:
        if not error.faults or not all(fault.message and fault.place.line > 0 for fault in error.faults):
            self._found(number, "no place", what, str(error))

    def _sound(self, shelf: Shelf, file: Path) -> str:
        """What is read from a file that is not bent."""
        if file not in self.sound:
            try:
                self.sound[file] = shelf.reading(file)
            except RecordError:  # one of the plans that strangers left cannot be read
                self.sound[file] = "refused"
        return self.sound[file]

    def _silent(self, number: int, shelf: Shelf, file: Path, unbent: bytes, what: str) -> None:
        """What is read is what it was: then the doctor has to tell it."""
        line = ["doctor", "--book", str(shelf.folder), "--json", "--today", TODAY]
        after = here(line).out
        with shelf.bent(file, unbent):
            before = here(line).out
        if before == after:
            self._found(number, "silent", what, "")

    def _sheet(self, number: int, rng: Random) -> None:
        rows, form = grid(rng), rng.choice(FORMS)
        change = bent_grid(rng, rows)
        data = written(change.grid, form)
        if data is None:
            self.counts["unwritable"] += 1
            return
        what = f"{form}: {change.how} {change.before[:80]!r} -> {change.now[:80]!r}"
        book, file = rng.choice(self.books).book, self.scratch / f"oils.{form}"
        after = self._imported(book, file, data)
        if change.must_show:
            self.counts["figures"] += 1
            if (
                after is not None
                and not _told(after, change)
                and after == self._sound_sheet(book, file, rows, form)
            ):
                self._found(number, "silent", what, "")
        if rng.random() < 4 * self.share_run:
            file.write_bytes(data)
            line = ["scents", "import", str(file), "--book", str(book.folder), "--json", "--today", TODAY]
            self._run(number, line, what)

    def _imported(self, book: Book, file: Path, data: bytes) -> ImportResult | None:
        """What is understood of a sheet; None where it is refused."""
        file.write_bytes(data)
        try:
            return book.read_scents(file, on=AsOf(date.fromisoformat(TODAY)))
        except RecordError:
            self.counts["refused"] += 1
            return None

    def _sound_sheet(self, book: Book, file: Path, rows: Grid, form: str) -> ImportResult | None:
        """What is understood of it while nothing is bent."""
        key = f"{book.folder} {form} {rows}"
        if key not in self.sheets:
            data = written(rows, form)
            assert data is not None
            self.sheets[key] = self._imported(book, file, data)
        return self.sheets[key]

    def _line(self, number: int, rng: Random) -> None:
        line = bent_line(rng, rng.choice(self.books))
        what = f"{line.before[:80]!r} -> {line.now[:80]!r}"
        after = self._run(number, line.bent, what)
        if line.must_show and after is not None and not _refuses(after):
            self.counts["figures"] += 1
            if after.out == here(line.sound).out:
                self._found(number, "silent", " ".join(line.sound), what)

    def _run(self, number: int, line: list[str], what: str) -> Ran | None:
        self.counts["runs"] += 1
        ran = here(line)
        self.counts[f"exit {ran.code}"] += 1
        if ran.code not in SOUND_CODES or "Traceback" in ran.out + ran.err or "Warning" in ran.err:
            self._found(number, "fault", f"{' '.join(line)} | {what}", ran.err[-600:])
        elif "--json" in line and "--help" not in line and not _is_json(ran.out):
            self._found(number, "no json", f"{' '.join(line)} | {what}", ran.out[:200] + ran.err[:200])
        elif ran.code == 2 and not (ran.out + ran.err).strip():
            self._found(number, "no word", f"{' '.join(line)} | {what}", "")
        return ran


def _told(result: ImportResult, change: BentSheet) -> bool:
    """Whether it is said that the cell counts for nothing: its row is left out.

    Of an oil on the shelf only a remark may go: its facts are held against what stands there.
    """
    why_not = next((row.why_not for row in result.rows if row.row == change.row + 1), "")
    remarks = {column.heading for column in result.columns if column.field is None}
    heads = [row[change.column] for row in change.grid[:3] if change.column < len(row)]
    return bool(why_not) and (why_not != ON_THE_SHELF or not remarks.isdisjoint(heads))


def _refuses(ran: Ran) -> bool:
    """Whether nothing is answered: the line is refused, or a stop withholds what was asked for."""
    return ran.code == 2 or any(said in ran.out for said in ('"refused": true', '"text": ""'))


def _is_json(text: str) -> bool:
    try:
        json.loads(text)
    except ValueError:
        return False
    return True


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """Raise ``Hung`` where it takes longer of a processor: the machine may be somebody else's too."""

    def late(*_: object) -> None:
        raise Hung

    before = signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def long_run(inputs: int) -> bool:
    """Inputs up to this number, from where the last run was broken off; True where nothing was found."""
    state = Path(tempfile.gettempdir(), "blendwise-fuzz.json")
    kept: dict[str, Any] = {"next": 0, "counts": {}, "finds": []}
    if state.exists():
        kept = json.loads(state.read_text("utf-8"))
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("error")
        fuzz = Fuzz(
            Path(folder), counts=Counter(kept["counts"]), finds=[Find(**each) for each in kept["finds"]]
        )
        for number in range(kept["next"], inputs):
            fuzz.one(number)
            if number % 100 == 99 or number == inputs - 1:
                kept = {"next": number + 1, "counts": fuzz.counts, "finds": list(map(asdict, fuzz.finds))}
                state.write_text(json.dumps(kept), "utf-8")
    for find in fuzz.finds:
        print(f"{find.number}: {find.kind}: {find.what}\n    {find.told}")
    print(f"{dict(fuzz.counts)}; {time.monotonic() - began:.0f} s; {len(fuzz.finds)} found; kept in {state}")
    return not fuzz.finds
