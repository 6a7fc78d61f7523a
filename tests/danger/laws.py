"""Changes of a book under which a dangerous plan may not get a better verdict.

Each law changes the text files of one book and gives whether there was anything to change.  `same` leaves
pot, portions and bar as they are (names, units, spellings, own rules, acceptances, notes, versions, what the
plan does not use); `worse` makes them worse by a stated order: more lye, more scent, less known, stricter.
`by_text` laws do not read the file as YAML and so keep what only the text has (a key written twice).
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from tests.danger.harness import HERE, TODAY, read, write


@dataclass
class Book:
    """A book as built from a case; ``today`` is the day that will be asked for."""

    folder: Path
    plan: Path
    today: str = TODAY

    def file(self, name: str) -> Path:
        return self.plan if name == "plan" else self.folder / name

    def text(self, name: str, change: Callable[[str], str]) -> bool:
        """Change a file as text; whether that changed anything."""
        file = self.file(name)
        if not file.exists():
            return False
        before = file.read_text("utf-8")
        file.write_text(change(before), "utf-8", newline="")
        return change(before) != before

    def data(self, name: str, change: Callable[[Any], object]) -> bool:
        """Change a file as data in place; whether that changed anything."""
        file = self.file(name)
        data, before = read(file), repr(read(file))
        if not isinstance(data, dict):
            return False
        change(data)
        if repr(data) == before:
            return False
        write(file, data)
        return True

    def add(self, name: str, text: str) -> bool:
        """A new file; nothing where there is one."""
        file = self.file(name)
        if file.exists():
            return False
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, "utf-8")
        return True


@dataclass(frozen=True)
class Law:
    """One change: ``order`` is `same`, or what it makes worse."""

    name: str
    order: str
    by_text: bool
    change: Callable[[Book], bool]


LAWS: dict[str, Law] = {}


def law(
    order: str = "same", by_text: bool = False
) -> Callable[[Callable[[Book], bool]], Callable[[Book], bool]]:
    """Enter a change under its function's name."""

    def enter(change: Callable[[Book], bool]) -> Callable[[Book], bool]:
        LAWS[change.__name__] = Law(change.__name__, order, by_text, change)
        return change

    return enter


def every_scent(book: Book, change: Callable[[dict[str, Any]], object]) -> bool:
    """Change every described scent of the shelf in place."""
    return book.data(
        "scents.yaml", lambda data: [change(scent) for scent in data.values() if isinstance(scent, dict)]
    )


def rule(name: str, level: str, must: str, at: str = "batch", hit: str = "limit - 1 %") -> str:
    """The text of an own rule on one measure."""
    measure = must.partition(":")[0]
    return (
        f"- rule: {name}\n  looks at: {at}\n  must: {{{must}}}\n  else: {level}\n  because: Mine.\n"
        f"  basis: judgement\n  hits: [{{{measure}: {hit}}}]\n  misses: [{{{measure}: limit}}]\n"
    )


# --- own rules and the book's copy of the shipped ones --------------------


@law(by_text=True)
def own_hint(book: Book) -> bool:
    return book.add("rules/mine/l1.yaml", rule("own-hint", "hint", "superfat: at least -90 %"))


@law("stricter", by_text=True)
def own_stop(book: Book) -> bool:
    return book.add("rules/mine/l2.yaml", rule("own-stop", "stop", "superfat: at least 1 %"))


@law(by_text=True)
def own_loose_twin_of_a_stop(book: Book) -> bool:
    text = rule("lye-is-fine", "stop", "portion superfat: at least -90 %", "portion")
    return book.add("rules/mine/l3.yaml", text)


@law(by_text=True)
def own_loose_twin_of_a_limit(book: Book) -> bool:
    return book.add(
        "rules/mine/l4.yaml", rule("limits-are-fine", "hint", "limit used: at most 99 %", hit="limit + 1 %")
    )


@law(by_text=True)
def unlocked_rule_off(book: Book) -> bool:
    return book.add("rules/mine/l5.yaml", "- off: much-carrier-oil\n  because: I like it.\n")


@law(by_text=True)
def unlocked_rule_adjusted(book: Book) -> bool:
    text = "- adjust: much-held-back\n  to: {held back: at most 30 %}\n  because: I like it.\n"
    return book.add("rules/mine/l6.yaml", text)


@law(by_text=True)
def unlocked_rule_lowered(book: Book) -> bool:
    return book.add("rules/mine/l7.yaml", "- adjust: very-fat-portion\n  to: hint\n  because: I like it.\n")


@law("stricter", by_text=True)
def locked_rule_tightened(book: Book) -> bool:
    text = "- adjust: lye-heavy-portion\n  to: {portion superfat: at least 1 %}\n  because: Careful.\n"
    return book.add("rules/mine/l8.yaml", text)


@law("stricter", by_text=True)
def conflict_raised_to_stop(book: Book) -> bool:
    return book.add("rules/mine/l9.yaml", "- adjust: thin-margin-of-lye\n  to: stop\n  because: Careful.\n")


@law(by_text=True)
def remarks_in_mine(book: Book) -> bool:
    return book.add("rules/mine/l10.yaml", "# Nothing yet.\n[]\n")


@law(by_text=True)
def copy_of_the_released_rules(book: Book) -> bool:
    if (book.folder / "rules" / "lye.yaml").exists() or (book.folder / "rules" / "scales.yaml").exists():
        return False
    shutil.copytree(HERE / "bases" / "rules_0_1_0", book.folder / "rules", dirs_exist_ok=True)
    return True


@law(by_text=True)
def copy_without_lye_and_limits(book: Book) -> bool:
    copied = copy_of_the_released_rules(book)
    for name in ("lye.yaml", "limits.yaml"):
        (book.folder / "rules" / name).unlink(missing_ok=True)
    return copied


@law(by_text=True)
def copy_with_every_stop_a_hint(book: Book) -> bool:
    copied = copy_of_the_released_rules(book)
    for name in ("lye.yaml", "limits.yaml") if copied else ():
        book.text(f"rules/{name}", lambda text: re.sub("  protects: .*\n", "", text).replace("stop", "hint"))
    return copied


@law(by_text=True)
def copy_with_looser_numbers(book: Book) -> bool:
    copied = copy_of_the_released_rules(book)
    if copied:
        book.text("rules/lye.yaml", lambda text: text.replace("at least 0 %", "at least -95 %"))
    return copied


@law(by_text=True)
def stray_file_beside_the_rules(book: Book) -> bool:
    return book.add("rules/mine/old.yaml.bak", "- off: lye-heavy-portion\n  because: Once.\n")


# --- acceptances --------------------


def accepts(book: Book, *entries: tuple[str, str]) -> bool:
    """Add acceptances of a rule for a subject to the plan."""
    more = [{"rule": name, "for": subject, "because": "I know it."} for name, subject in entries]
    return book.data("plan", lambda plan: plan.update(accept=[*plan.get("accept", []), *more]))


@law()
def lye_accepted(book: Book) -> bool:
    names = [portion["name"] for portion in read(book.plan)["portions"]]
    return accepts(book, *(("lye-heavy-portion", name) for name in names))


@law()
def limits_accepted(book: Book) -> bool:
    plan = str(read(book.plan)["plan"])
    rules = ("over-the-certificates", "figure-for-the-other-lye", "over-a-published-maximum")
    return accepts(book, *((name, plan) for name in rules))


@law()
def bans_accepted(book: Book) -> bool:
    scents = read(book.plan)["scents"]["blend"]
    rules = ("not-for-skin", "banned-constituent", "no-certificate-for-sale")
    return accepts(book, *((name, scent) for name in rules for scent in scents))


@law()
def cautions_accepted(book: Book) -> bool:
    return accepts(book, ("overheating", str(read(book.plan)["plan"])))


# --- names --------------------

FILES = ("plan", "scents.yaml", "colourants.yaml", "oils.yaml", "usual.yaml")


def renamed(book: Book, old: str, new: str, files: tuple[str, ...] = FILES) -> bool:
    """One name for another, as a whole word, wherever it stands; not where another spelling leans on it."""
    found = [book.text(name, lambda text: re.sub(rf"(?<![\w-]){old}(?![\w-])", new, text)) for name in files]
    return any(found)


@law(by_text=True)
def plan_renamed(book: Book) -> bool:
    return book.text("plan", lambda text: re.sub(r"(?m)^plan: .*$", "plan: another name", text, count=1))


@law(by_text=True)
def plan_file_renamed(book: Book) -> bool:
    book.plan = book.plan.rename(book.plan.with_name("a-plan-of-mine.yaml"))
    return True


@law(by_text=True)
def book_folder_renamed(book: Book) -> bool:
    moved = book.folder.rename(book.folder.with_name("shelf of mine"))
    book.folder, book.plan = moved, moved / "plans" / book.plan.name
    return True


@law(by_text=True)
def portion_renamed(book: Book) -> bool:
    first = read(book.plan)["portions"][0]["name"]
    return renamed(book, re.escape(first), "first-cup", ("plan",))


@law(by_text=True)
def portion_named_safe(book: Book) -> bool:
    last = read(book.plan)["portions"][-1]["name"]
    return renamed(book, re.escape(last), "safe for skin", ("plan",))


@law(by_text=True)
def scent_renamed(book: Book) -> bool:
    said = (book.plan.read_text("utf-8") + book.file("oils.yaml").read_text("utf-8")).lower()
    if "quiet linen" in said or "quiet-linnen" in said:
        return False
    return renamed(book, "quiet-linen", "harbour-linen")


@law(by_text=True)
def second_scent_renamed(book: Book) -> bool:
    return renamed(book, "meadow-rain", "rain-on-grass")


@law(by_text=True)
def colour_renamed(book: Book) -> bool:
    return renamed(book, "titanium-dioxide", "my-white", ("plan", "colourants.yaml"))


# --- units and spellings --------------------


def in_other_unit(book: Book, unit: str, other: str, change: Callable[[float], float]) -> bool:
    """Every plain figure of a unit in the plan, in another unit."""

    def said(found: re.Match[str]) -> str:
        return f"{change(float(found[1])):.12g} {other}"

    figure = rf"(?<![\w./½¼¾-])(?<!\d )(-?\d+(?:\.\d+)?) {re.escape(unit)}(?![\w/])(?! ppo)"
    return book.text("plan", lambda text: re.sub(figure, said, text))


@law(by_text=True)
def grams_as_kilograms(book: Book) -> bool:
    return in_other_unit(book, "g", "kg", lambda grams: grams / 1000)


@law(by_text=True)
def kilograms_as_grams(book: Book) -> bool:
    return in_other_unit(book, "kg", "g", lambda kilograms: kilograms * 1000)


@law(by_text=True)
def ounces_as_grams(book: Book) -> bool:
    return in_other_unit(book, "oz", "g", lambda ounces: ounces * 28.349523125)


@law(by_text=True)
def grams_as_ounces(book: Book) -> bool:
    return in_other_unit(book, "g", "oz", lambda grams: grams / 28.349523125)


@law(by_text=True)
def pounds_as_ounces(book: Book) -> bool:
    return in_other_unit(book, "lb", "oz", lambda pounds: pounds * 16)


@law(by_text=True)
def celsius_as_fahrenheit(book: Book) -> bool:
    return in_other_unit(book, "°C", "°F", lambda celsius: celsius * 1.8 + 32)


@law(by_text=True)
def fahrenheit_as_celsius(book: Book) -> bool:
    return in_other_unit(book, "°F", "°C", lambda fahrenheit: (fahrenheit - 32) / 1.8)


@law(by_text=True)
def no_space_before_the_unit(book: Book) -> bool:
    return book.text("plan", lambda text: re.sub(r"(\d) (%|g\b(?!/))", r"\1\2", text))


@law(by_text=True)
def shown_in_the_other_units(book: Book) -> bool:
    return book.text(
        "usual.yaml",
        lambda text: re.sub(r"(?m)^units: .*$", "units: {mass: oz, temperature: F, rates: ppo}", text),
    )


@law()
def parts_times_ten(book: Book) -> bool:
    def more(plan: dict[str, Any]) -> None:
        blend = plan["scents"]["blend"]
        if all(re.fullmatch(r"[\d.]+", part) for part in blend.values()):
            plan["scents"]["blend"] = {name: f"{10 * float(part):.12g}" for name, part in blend.items()}

    return book.data("plan", more)


# --- the same text written otherwise --------------------


@law(by_text=True)
def remarks_added(book: Book) -> bool:
    return book.text("plan", lambda text: f"# lye-heavy-portion: off\n{text}# accept everything\n")


@law(by_text=True)
def line_ends_of_another_system(book: Book) -> bool:
    return book.text("plan", lambda text: text.replace("\n", "\r\n"))


@law(by_text=True)
def blank_lines_added(book: Book) -> bool:
    return book.text("plan", lambda text: re.sub(r"(?m)^(?=\w)", "\n", text))


@law()
def written_as_blocks(book: Book) -> bool:
    write(book.plan, read(book.plan))
    write(book.file("scents.yaml"), read(book.file("scents.yaml")))
    return True


def day_after(day: str, days: int) -> str:
    """The day so many days later, as it is typed."""
    return str(date.fromisoformat(day) + timedelta(days=days))
