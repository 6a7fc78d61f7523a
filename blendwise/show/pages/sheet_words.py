"""The English of the bench sheet, said to somebody with wet gloves: short, in the order of doing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from blendwise.answers.sheet import Sheet
from blendwise.answers.sheet_parts import Clock, Dye, Look, Simpler, Trouble, Weighed
from blendwise.judge.finding import LEVELS, Finding
from blendwise.quantity import Units, format_number
from blendwise.show import words
from blendwise.show.numbers import counted
from blendwise.show.pages.render import grams, minute, name, names, warmth
from blendwise.show.text import sentence

if TYPE_CHECKING:
    from markupsafe import Markup

MOST_CAUTIONS, MOST_EXPLAINED = 3, 4
ALWAYS = (
    "Goggles and gloves on, sleeves down, before the lye is opened, until all is washed.",
    "Lye into water, slowly, never water into lye. It heats and fumes: fresh air, no aluminium.",
    "Batter burns for days. Skin: brush off, running water for 15 minutes or more, no vinegar. Eyes: the same, "
    "and urgent care.",
    "Children and pets out. Powders: do not breathe the dust.",
)
LAW = "Advice, not legal or safety advice; local rules differ. Screens and printers differ: judge by the soap."
DO_NOT_POUR = "Do not pour this as it stands"
SOURCES = {
    "the plan": "Doses as the plan writes them.",
    "the assignment": "Doses that the plan left open were placed by the tool.",
    "an even spread": "Doses that the plan leaves open are spread evenly.",
    "no scent": "Unscented.",
}
NOTHING_FITS = "No split of these oils fits: the open doses are spread evenly, only so that the weights can be seen."
DISPERSE = {
    "oil": "smooth into a little batter first",
    "water": "wet with {carrier} of water first",
    "glycerin": "wet with {carrier} of glycerin first",
    "batter": "smooth into a little batter first",
}
IN_WATER = ("sugar", "citric acid", "salt", "sodium citrate")
COVERS = {
    "avoid": "Do not cover. Stand it cool, with air around it; no gel is wanted.",
    "leave": "Cover it with a board, no more; gel may come or not.",
    "force": "Cover it and keep it warm{at} until it has gelled through; look in every half hour.",
    None: "The plan says nothing of gel: leave it uncovered and watch it for an hour.",
}
LIES = {
    "rings": "How they lie, from above; left half as poured, right half cured",
    "layers": "How they lie, cut; left half as poured, right half cured",
    "sides": "How they lie, from above; upper half as poured, lower half cured",
}
EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
HEATS = {
    "gel": "it is kept warm on purpose",
    "sugar": "there is sugar in it",
    "spice": "there is spice in it",
    "size": "it is a large batch",
}
BATTERS = {
    "thin": "thin, just past emulsion",
    "light": "light, like thin cream",
    "medium": "medium, like custard",
    "thick": "thick, like pudding",
}
CONDITION = {
    "thin": "Every cup must still run like thin cream.",
    "light": "Every cup must still pour by itself.",
    "medium": "A drizzle must leave a mark.",
    "thick": "It must hold a peak.",
}


def _said(template: str, **parts: object) -> Markup:
    from markupsafe import Markup

    return Markup(template).format(**parts)  # noqa: S704 - templates are our own; parts are escaped


def source(sheet: Sheet) -> str:
    """Whose doses these are, in a sentence."""
    if sheet.source == "an even spread" and sheet.status is not None:
        return NOTHING_FITS
    proven = {"proven": " No better split keeps the rules.", "best found": " It is the best found in the time."}
    return SOURCES[sheet.source] + proven.get(sheet.status or "", "")


def purpose(sheet: Sheet) -> Markup | str:
    """What it may be used for, and why not more."""
    lacking = sorted({f.subject[0] for f in sheet.check.findings if f.measure == "certificate"})
    if sheet.purpose == "home":
        why = _said(" No certificate: {names}.", names=names(lacking)) if lacking else ""
        return _said("<strong>For home. Not for sale.</strong>{why}", why=why)
    stops = {f.rule for f in sheet.check.findings if f.level == "stop" and f.status != "accepted"}
    if stops:
        why = _said(" No certificate: {names}.", names=names(lacking)) if lacking else ""
        return _said("<strong>Not for sale as it stands.</strong>{why}", why=why)
    return "For sale only where your own rules allow it: ask those who know them."


def findings(sheet: Sheet) -> Iterator[tuple[str, Markup]]:
    """What the check found, a tag and a text each: stops and conflicts first.

    Where the sheet says not to pour, cautions are told up to a few and the others counted.
    """
    broken = [f for f in sheet.check.findings if f.status != "accepted" and not f.missing]
    groups: dict[tuple[str, str], list[Finding]] = {}
    for finding in broken:
        if finding.level != "hint":
            groups.setdefault((finding.level, finding.rule), []).append(finding)
    brief = len(groups) > MOST_EXPLAINED
    for level in ("stop", "conflict"):
        told = (g for key, g in groups.items() if key[0] == level)
        yield from ((words.TAGS[level], _group(g, sheet.units, brief)) for g in told)
    yield from _not_known(sheet)
    cautions = [group for key, group in groups.items() if key[0] == "caution"]
    most = len(cautions) if sheet.sound else MOST_CAUTIONS
    yield from ((words.TAGS["caution"], _group(g, sheet.units, brief)) for g in cautions[:most])
    if len(cautions) > most:
        yield "more", _said("{more} besides: ask “check”.", more=counted(len(cautions) - most, "caution"))
    yield from (("flammable", _flammable(g, sheet.units)) for g in [_flash(broken)] if g)


def _group(group: Sequence[Finding], units: Units, brief: bool) -> Markup:
    """All subjects of one rule, the first one's numbers, and why unless there is too much to tell."""
    first = group[0]
    what = words.headline(first, units).removeprefix(f"{first.subject_text}: ")
    subjects = list(dict.fromkeys(f.subject_text for f in group))
    because = "" if brief else sentence(first.because)
    return _said(
        "<strong>{subjects}</strong>: <span dir=auto>{what}</span>. {because}",
        subjects=names(subjects),
        what=what,
        because=because,
    )


def _not_known(sheet: Sheet) -> Iterator[tuple[str, Markup]]:
    """Facts that rules above a hint wait on, by what they are facts of."""
    facts: dict[str, dict[str, None]] = {}
    heaviest: dict[str, int] = {}
    for finding in sheet.check.findings:
        if finding.status == "undecided" and finding.level != "hint":
            for missing in finding.missing:
                facts.setdefault(missing.subject, {})[missing.fact] = None
                rank = LEVELS.index(finding.level)
                heaviest[missing.subject] = max(rank, heaviest.get(missing.subject, 0))
    for subject, lacking in facts.items():
        level = LEVELS[heaviest[subject]]
        counts = f" Until then it counts as a {level}." if level in ("stop", "conflict") else ""
        yield (
            "not known",
            _said("<strong>{who}</strong>: {facts}.{counts}", who=name(subject), facts=", ".join(lacking), counts=counts),
        )


def _flash(broken: Sequence[Finding]) -> list[Finding]:
    return [f for f in broken if f.measure == "flash point"]


def _flammable(group: Sequence[Finding], units: Units) -> Markup:
    each = [_said("{who} ({at})", who=name(f.subject_text), at=words.measured(f, units)[0]) for f in group]
    from markupsafe import Markup

    return _said("{each}: keep the bottle from flame and oven.", each=Markup(", ").join(each))


def dispersion(dye: Dye, units: Units) -> Markup | str:
    """How a powder goes in."""
    if dye.carrier_from:
        return _said("smooth in the {oils} of this cup", oils=names(dye.carrier_from))
    template = DISPERSE.get(dye.dispersed_in or "", "smooth into a little batter first (nobody noted how)")
    low, high = (value for value in dye.carrier)
    step = 1.0 if high >= 10 else 0.1
    carrier = f"{grams(low, step, units).rsplit(' ', 1)[0]} to {grams(high, step, units)}"
    return template.format(carrier=carrier)


def ready(sheet: Sheet) -> str:
    """What stands ready before the lye meets the oils."""
    mould = sheet.mould
    size = ""
    if mould is not None and mould.inside is not None:
        size = f" ({' × '.join(format_number(side) for side in mould.inside)} cm inside)"
    elif mould is not None and mould.cavities is not None and mould.volume is not None:
        size = f" ({mould.cavities} cavities of {format_number(mould.volume)} mL)"
    return f"Ready before the lye meets the oils: mould lined{size}, a whisk a cup, spatula, stick blender, thermometer, clock."


def all_batter(sheet: Sheet) -> float:
    """Grams of batter in all cups."""
    return sum(cup.batter.grams for cup in sheet.cups)


def spoon(dye: Dye) -> str:
    """Teaspoons, as a help, where one has been weighed and there is enough to see."""
    if dye.teaspoons is None or dye.teaspoons < 0.12:
        return ""
    whole, eighths = divmod(round(dye.teaspoons * 8), 8)
    return f" (about {whole or ''}{EIGHTHS[eighths]} tsp)"


def additive(each: Weighed) -> str:
    """Where an additive goes."""
    return "dissolve in the water, before the lye" if each.what in IN_WATER else "where you always put it"


def cover(gel: str | None, at: float | None, units: Units) -> str:
    """What to do with the full mould."""
    return COVERS[gel].format(at=f" at {warmth(at, units)}" if at is not None else "")


def cured(look: Look) -> Markup | str:
    """The cured colour in words."""
    if look.cured_hex is None:
        lacking = ", ".join(dict.fromkeys(fact for _, fact in look.missing))
        return _said("not known ({lacking})", lacking=lacking or "browning")
    return " to ".join(look.cured_words)


def fluid(clock: Clock, place: int) -> Markup | str:
    """Until when the portion in a place of the order is fluid."""
    turn = clock.turns[place]
    if turn.unknown:
        return _said("not known ({who}): watch it", who=names(turn.unknown))
    low, high = (minute(value) for value in turn.fluid)
    until = low if low == high else f"{low} to {high}"
    if clock.family == "thick":
        return f"thick at about {until}"
    if turn.slack < 0:
        return f"{until}, {minute(-turn.slack)} too short"
    return f"{until}, {minute(turn.slack)} to spare"


def trouble(sheet: Sheet) -> Iterator[tuple[str, list[Markup]]]:
    """If it thickens, rices, seizes, separates or heats: what to do with these portions."""
    yield "Thickens", list(_thickens(sheet.trouble))
    yield "Rices (grains)", list(_rices(sheet.trouble))
    yield "Seizes (solid)", list(_seizes(sheet.trouble))
    yield "Separates", list(_separates(sheet))
    yield "Heats, cracks, rises", list(_heats(sheet.trouble))


def _thickens(t: Trouble) -> Iterator[Markup]:
    if t.quick:
        yield _said("Likeliest in {cups}.", cups=names(t.quick))
    yield from _of_unknown("Not known of", t.speed_unknown)
    if t.wanted_in:
        yield _said("Thick is wanted in {cup}, and only there.", cup=name(t.wanted_in))
    yield _said("Whisk only. Scent no more cups until the thick ones are in: thickest first, or kept for the top.")
    yield from _plan_b(t.simpler)


def _plan_b(simpler: Sequence[Simpler]) -> Iterator[Markup]:
    for other in simpler:
        if other.begin_by is None:
            yield _said("<b>Thick already: {pour}.</b> {how}", pour=name(other.pour), how=other.how)
        elif other.begin_by > 0:
            yield _said(
                "<b>Still runs, begun by minute {by}: {pour}.</b> {how}",
                by=minute(other.begin_by),
                pour=name(other.pour),
                how=other.how,
            )


def _of_unknown(words_: str, scents: Mapping[str, Sequence[str]]) -> Iterator[Markup]:
    if scents:
        yield _said("{words} {scents}.", words=words_, scents=names(list(scents)))


def _expected(scents: Mapping[str, Sequence[str]]) -> Iterator[Markup]:
    for scent, cups in scents.items():
        yield _said("Expect it of {scent} in {cups}.", scent=name(scent), cups=names(list(cups)))


def _rices(t: Trouble) -> Iterator[Markup]:
    yield from _expected(t.rices)
    yield from _of_unknown("Not known of", t.ricing_unknown)
    if t.fit_blender:
        yield _said("Stick blend it smooth where the blender fits: {cups}.", cups=names(t.fit_blender))
    else:
        yield _said("No cup here takes a stick blender.")
    yield _said("A small cup: tip it into a larger one of like colour, or into the pot. Not smooth: cook it.")


def _seizes(t: Trouble) -> Iterator[Markup]:
    yield from _expected(t.seizes)
    yield _said(
        "Hands out, do not lean over. Unplug the blender, then free it. Pack it into the mould with a spoon, "
        "or warm it gently and cook it."
    )


def _separates(sheet: Sheet) -> Iterator[Markup]:
    yield _said("The watery part is strong lye. Stick blend all of it again until it stays one.")
    if sheet.pot.clear_from is not None:
        yield _said("Cool and grainy, below {at}: warm it first.", at=warmth(sheet.pot.clear_from, sheet.units))
    yield _said("Parts in the mould: back into the pot and cook it. Weighing in doubt: throw it away.")


def _heats(t: Trouble) -> Iterator[Markup]:
    if t.heats:
        yield _said("It may: {why}.", why=", ".join(HEATS[reason] for reason in t.heats))
    yield _said("Stand back. Tray under it, uncover, fan or cool place. No stabbing, no alcohol spray.")
