"""Every lever that is shown, written into its plan at the command line and checked again, against an oracle.

The oracle knows nothing of the search: it compares two documents of ``blendwise check --json``.  Who shows
them and how they are written stands in ``doors.py``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

LEVELS: Final = ("hint", "caution", "conflict", "stop")
STATUS: Final = ("accepted", "tight", "undecided", "broken")
SAME: Final = 0.001
"""What a stop's figure may move by rounding to the scale, as a share of it."""
BELOW: Final = {
    "overheating": ("far-too-hot",),
    "shapes-want-it-cool": ("embeds-melt",),
    "false-trace": ("fats-have-set",),
    "little-time-left": ("pour-outruns-the-batter", "layer-thick-before-its-pour"),
    "local-dose-far-above-the-load": ("far-too-much-scent",),
    "more-than-is-usual": ("far-too-much-scent",),
}
"""Rule → those of the same matter that are heavier: to come down to it from one of them is no worse."""
Key = tuple[str, tuple[str, ...]]


@dataclass
class Score:
    """What a proof looked at, and every lever that was not as told."""

    plans: int = 0
    unsound: int = 0
    helped: int = 0
    shown: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)

    @property
    def levers(self) -> int:
        """How many levers were written and checked again."""
        return self.shown.total()

    def line(self) -> str:
        """The score in one line."""
        return (
            f"{self.plans} plans, {self.unsound} with a stop or conflict broken, {self.helped} with a "
            f"lever; {self.levers} levers written {dict(self.shown)}, {len(self.wrong)} not as told"
        )


def counts(finding: Mapping[str, Any]) -> bool:
    """Whether a finding stands, at caution or above, and is shown."""
    hidden = finding["status"] == "tight" and finding["middle"] != "broken"
    return finding["status"] != "accepted" and not hidden and finding["level"] != "hint"


def stands(finding: Mapping[str, Any]) -> bool:
    """Whether it counts against the plan: what is only an open question does not."""
    return counts(finding) and not finding["open"]


def bad(document: Mapping[str, Any], least: str = "caution") -> dict[Key, tuple[int, int]]:
    """Rule and subject → level and status, the worst over the plan and its versions."""
    found: dict[Key, tuple[int, int]] = {}
    for each in filter(stands, document["findings"]):
        if LEVELS.index(each["level"]) < LEVELS.index(least):
            continue
        key = _key(each)
        found[key] = max(found.get(key, (0, 0)), (LEVELS.index(each["level"]), STATUS.index(each["status"])))
    return found


def faults(
    before: Mapping[str, Any], after: Mapping[str, Any], lever: Mapping[str, Any], least: str = "caution"
) -> Iterator[str]:
    """What is not as told: a finding that is still there, something worse, a verdict that differs.

    ``least``: the lightest level at which nothing may be worse.
    """
    first, then = bad(before, least), bad(after, least)
    told = [(each["rule"], each["subject"]) for each in lever["mends"]]
    texts = {f"{key[0]} on {key[1]}" for key in told}
    left = {f"{e['rule']} on {_text(e)}" for e in filter(counts, after["findings"]) if _mine(e, first)}
    yield from (f"still there: {each}" for each in sorted(texts & left))
    yield from (f"worse: {key}" for key, how in then.items() if how > _before(key, first))
    yield from _grown(beyond(before), beyond(after))
    if lever["sound"] != after["sound"]:
        yield f"told sound {lever['sound']}, is {after['sound']}"


def _before(key: Key, first: Mapping[Key, tuple[int, int]]) -> tuple[int, int]:
    """How bad it was, by the rule itself or by a heavier one of the same matter."""
    rules = (key[0], *BELOW.get(key[0], ()))
    return max(first.get((rule, key[1]), (-1, -1)) for rule in rules)


def beyond(document: Mapping[str, Any]) -> dict[Key, float]:
    """How far each broken stop is beyond its limit, as a share of it (in its unit, where that is 0)."""
    found: dict[Key, float] = {}
    for each in filter(stands, document["findings"]):
        side = {"at most": 1, "below": 1, "at least": -1, "above": -1}.get(each["relation"], 0)
        value, limit = each["value"], each["limit"]
        figures = isinstance(value, int | float) and isinstance(limit, int | float)
        if each["level"] == "stop" and side and figures:
            how = side * (value - limit) / (abs(limit) or 1.0)
            found[_key(each)] = max(found.get(_key(each), 0.0), how)
    return found


def _grown(before: Mapping[Key, float], after: Mapping[Key, float]) -> Iterator[str]:
    for key, how in after.items():
        if key in before and how > before[key] + SAME * (1 + before[key]):
            yield f"a stop that stands grew: {key} from {before[key]:.4g} to {how:.4g}"


def _mine(finding: Mapping[str, Any], first: Mapping[Key, tuple[int, int]]) -> bool:
    return _key(finding) in first


def _key(finding: Mapping[str, Any]) -> Key:
    """Rule and subject; a batch's subject is its plan's name, and what is written has one of its own."""
    return finding["rule"], () if finding["looks_at"] == "batch" else tuple(finding["subject"])


def _text(finding: Mapping[str, Any]) -> str:
    from blendwise.facts.columns import Subject

    said = str(Subject(finding["looks_at"], tuple(finding["subject"])))
    return f"{said} (version {finding['version']})" if finding["version"] else said
