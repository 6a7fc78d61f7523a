"""Which part of the sheet stands on which side, and what its clock and its bar look like."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Sheet, Turn
from blendwise.show.charts import clock as chart
from blendwise.show.charts import cut
from blendwise.show.numbers import halves_left
from blendwise.show.sheet import front, paper, words
from blendwise.show.sheet.matrix import Matrix, matrices

if TYPE_CHECKING:
    from markupsafe import Markup

    Findings = Sequence[tuple[str, Markup]]
    Fixes = Sequence[tuple[str, list[Markup]]]

PICTURE = 40.0  # mm of the picture of the bar with what is said of it
TITLE, TITLED = 17.0, 86.0  # pt of the title, mm that it has
CURE = 560  # characters of the lines about cutting and cure


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the clock: the cup's number and name, its minutes as told, its bar."""

    number: int
    portion: str
    scented: bool
    scent_at: str
    by: str
    verb: str
    thick: words.Thick
    drawn: Markup
    tall: float


@dataclass(frozen=True, slots=True)
class ClockFace:
    """The clock: its axis, a line a cup; ``long``: names over the bars."""

    axis: Markup
    verb: str
    long: bool
    rows: tuple[Row, ...]
    key: tuple[tuple[str, str], ...] = ()


def clock_face(sheet: Sheet) -> ClockFace | None:
    """None where the plan names no pour."""
    told = sheet.clock
    if told is None:
        return None
    on = chart.scale(told.end, told.turns)
    smells = [bool(sheet.portions[turn.number - 1].scents) for turn in told.turns]
    poured = chart.poured_from(told.family, told.turns, smells)
    last = len(told.turns) - 1
    spooned = told.family == "sequential"
    already = chart.shared(on, told.split_by, told.coloured_from, told.first_scenting)
    rows = []
    for place, turn in enumerate(told.turns):
        thick = words.thick(turn, told)
        piped = told.family == "thick" and place == last
        verb = "piped" if piped else "spooned" if spooned and not turn.must_run else "poured"
        at, by = halves_left(turn.scented_at), halves_left(turn.needed_until)
        label = (
            f"cup {turn.number}, {turn.portion}: split by minute {halves_left(told.split_by)}, coloured by "
            f"{halves_left(told.first_scenting)}, from minute {at}, {verb} by {by}, thick at {thick.at}"
        )
        drawn = chart.bar(
            *(on, turn, poured[place], told.first_scenting, told.end, label),
            smells=smells[place],
            already=already,
        )
        tall = row_mm(sheet, turn)
        rows.append(Row(turn.number, turn.portion, smells[place], at, by, verb, thick, drawn, tall))
    axis = chart.axis(on, "minutes from emulsion")
    key = words.drawn_keys(chart.shown(told.turns, smells, poured))
    return ClockFace(axis, _verb(rows), long_names(sheet), tuple(rows), tuple(key))


def long_names(sheet: Sheet) -> bool:
    """Whether a name takes more than two lines beside its bar, and stands over it then."""
    return any(paper.lines(cup.portion, paper.NAME, paper.WHO - 8) > 2 for cup in sheet.portions)


def row_mm(sheet: Sheet, turn: Turn) -> float:
    """mm of a cup's line on the clock."""
    if not long_names(sheet):
        return paper.CLOCK
    return paper.CLOCK + max(paper.tall(turn.portion, paper.NAME * paper.BOLD, paper.INNER - 10), 6.0) + 0.5


def _verb(rows: Sequence[Row]) -> str:
    """What is done with most cups; the one that differs says so in its row."""
    verbs = [row.verb for row in rows]
    return max(dict.fromkeys(verbs), key=verbs.count)


def picture(sheet: Sheet) -> tuple[str, Markup | str]:
    """How the portions lie, with what it shows; empty where the tool cannot say."""
    clock = sheet.clock
    kind = cut.kind_of(
        clock.pour if clock else None, clock.family if clock else None, sheet.touching, len(sheet.portions)
    )
    if kind == "swatches":
        return "", ""
    order = (
        [t.number for t in clock.turns] if clock and kind == "layers" else range(1, len(sheet.portions) + 1)
    )
    row = [
        cut.Part(cup.number, cup.share, cup.fresh, cup.cured or "")
        for cup in (sheet.portions[number - 1] for number in order)
    ]
    return words.LIES[kind], cut.cut(kind, row, words.LIES[kind])


@dataclass(frozen=True, slots=True)
class Layout:
    """The parts on each front and on each back, and how the cups are set."""

    fronts: list[tuple[str, ...]]
    backs: list[tuple[str, ...]]
    matrix: Matrix
    pot: paper.Columns


def layout(sheet: Sheet, findings: Findings, fixes: Fixes) -> Layout:
    """Counted in mm: see ``paper``.  Of the ways to set pot and cups the easiest with the fewest fronts."""
    backs = paper.sides(_back_parts(sheet, findings, fixes), paper.BACK, paper.LATER)
    groups, found = front.groups(sheet), list[Layout]()
    cups = matrices(front.cup_rows(sheet), front.columns(sheet))
    for torn in (paper.TORN, paper.TEARS):
        pot, high = paper.pot_columns(groups, torn)
        found += [Layout(_fronts(sheet, findings, each, high), backs, each, pot) for each in cups]
        best = min(found, key=lambda each: len(each.fronts))
        if len(best.fronts) == 1 or _many(sheet):
            break
    return best


def _many(sheet: Sheet) -> bool:
    """Whether it has two fronts on purpose."""
    return len(sheet.portions) > MOST_CUPS or len(front.columns(sheet)) > paper.MOST_SCENTS


def _fronts(sheet: Sheet, findings: Findings, matrix: Matrix, pot: float) -> list[tuple[str, ...]]:
    parts = _front_parts(sheet, findings, matrix, pot)
    order = [key for part in paper.FRONT for key in parts if key.partition(":")[0] == part]
    whole = paper.sides(parts, order, _head(sheet, findings), "lye")
    if len(whole) == 1 and _many(sheet):
        return [tuple(p for p in whole[0] if p in WEIGH), tuple(p for p in whole[0] if p not in WEIGH)]
    return whole


MOST_CUPS = 5
WEIGH = ("before", "pot", "cups", "colours")


def _head(sheet: Sheet, findings: Findings) -> float:
    title = paper.tall(f"{sheet.plan} {sheet.variation or ''}", TITLE * paper.BOLD, TITLED, 1.1 / paper.BOLD)
    if told := front.counts(findings):
        title += paper.tall(f"Check: {told}", paper.SMALL, TITLED)
    right = paper.WIDTH - TITLED - 5
    batch = paper.tall(f"Batch {sheet.batch}; {front.superfat(sheet)}", paper.BODY * paper.BOLD, right) + 5
    return max(paper.HEAD, title + 0.8, batch + 2) + _banner(sheet)


def _banner(sheet: Sheet) -> float:
    text = words.banner(sheet)
    return 3 + paper.tall(text, 11, paper.WIDTH - 8) if text else 0.0


def _front_parts(sheet: Sheet, findings: Findings, matrix: Matrix, pot: float) -> dict[str, float]:
    plain = front.plain
    before = [" ".join(plain(line) for line in front.before(sheet))]
    steps = [f"{text}{'_' * 8}{more}" if more else text for text, more in front.steps(sheet)]
    notes = [" ".join(plain(line) for line in front.notes(sheet, matrix.apart))]
    powders = [" ".join(plain(line) for line in front.of_colours(sheet))]
    said = [" ".join(plain(line) for line in front.turn_of_events(sheet))]
    poured = " ".join(plain(line) for line in front.poured(sheet))
    helps = [f"{what} {plain(line)}" for what, line in front.help_lines(sheet)]
    return {
        "before": paper.texts(before) + 0.8,
        "pot": pot + 0.6,
        "colours": paper.texts(powders) + matrix.dyes if matrix.dyes else 0.0,
        **_cups(matrix, paper.texts(notes) + 1),
        "lye": 0.6
        + sum(max(paper.ROW + 0.2, paper.tall(step, paper.STEP, paper.INNER - 9) + 0.5) for step in steps),
        "clock": paper.texts(said) + _clock(sheet),
        "clean": max(paper.ROW, paper.texts([poured], paper.BODY, paper.INNER - 9)) + 0.6,
        "help": paper.texts(helps, 10.5) + 1,
    }


def _cups(matrix: Matrix, notes: float) -> dict[str, float]:
    """The cups, in as many parts ("cups:0-4") as there are sides that they need."""
    room = paper.HEIGHT - paper.LATER - 2
    parts: dict[str, float] = {}
    first, high = 0, notes + matrix.head
    for number, row in enumerate(matrix.rows):
        if high + row > room:
            parts[f"cups:{first}-{number}"] = high
            first, high = number, matrix.head + 1
        high += row
    parts["cups" if not parts else f"cups:{first}-{len(matrix.rows)}"] = high
    return parts


def _clock(sheet: Sheet) -> float:
    if sheet.clock is None:
        return 0.0
    rows = (row_mm(sheet, turn) for turn in sheet.clock.turns)
    return 6.0 + paper.AXIS + sum(rows)


def _back_parts(sheet: Sheet, findings: Findings, fixes: Fixes) -> dict[str, float]:
    plain, half = front.plain, paper.WIDTH / 2 - 4
    told = paper.texts([f"{tag} {plain(text)}" for tag, text in findings], paper.BODY, half) / 2
    wrong = (
        paper.texts([f"{what}: {' '.join(map(plain, lines))}" for what, lines in fixes], paper.BODY, half) / 2
    )
    rows = (max(paper.WRITE, paper.tall(cup.portion, paper.BODY, 34)) for cup in sheet.portions)
    lots = "; ".join(f"{scent} {lot or '_' * 12}" for scent, lot in sheet.lots)
    purpose = [front.plain(words.purpose(sheet))]
    due = [*purpose, " ".join(sheet.label_names), " ".join(sheet.label_names_not_known_of), lots + "_" * 40]
    return {
        "check": 12 + told,
        "trouble": 18 + wrong,
        "record": 16.5 + sum(rows) + paper.WRITE,
        "after": 8 + 4.1 * -(-CURE // 103),
        "label": paper.FOOT
        + max(14 + paper.texts(due, width=paper.WIDTH - 50), PICTURE if picture(sheet)[0] else 0.0),
    }
