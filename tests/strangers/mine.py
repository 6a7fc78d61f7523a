"""Own rules of a generated book: valid ones, of every kind of subject, and changes to the starter's."""

from __future__ import annotations

from random import Random

from tests.strangers.words import some

Doc = dict[str, object]


def own_rules(rng: Random, scents: list[str]) -> list[Doc]:
    """One to four entries for ``rules/mine``."""
    one, other, third = some(rng, scents, 3)
    entries: list[Doc] = [
        _rule(
            f"never {one} with {other}",
            "pair",
            {"one scent": one, "other scent": other},
            {"together": "is no"},
            {"together": "yes"},
            {"other scent": third, "together": "yes"},
            "conflict",
        ),
        _rule(
            "cap in white",
            "dose",
            {"scent": one, "planned lightness": "at least 80"},
            {"dose": "at most 0.5 % of portion oils"},
            {"dose": "limit + 0.1 % of portion oils"},
            {"dose": "limit"},
        ),
        _rule(
            "citrus flashes off",
            "dose",
            {"tags": "citrus", "batter temperature": "above 90 °F"},
            {"dose": "at most 2 % of portion oils"},
            {"dose": "limit + 0.1 % of portion oils"},
            {"dose": "limit"},
        ),
        _rule(
            "old bottle",
            "scent",
            {"scent": other},
            {"bottle age": "at most 1"},
            {"bottle age": "limit + 1"},
            {"bottle age": "limit"},
        ),
        _rule(
            "half citrus at most",
            "portion",
            {},
            {"citrus": "at most 50 %"},
            {"citrus": "limit + 1 %"},
            {"citrus": "limit"},
            "conflict",
        ),
        {"adjust": "contrast-thin", "to": "conflict", "because": "Mine are sold by their lines."},
        {"off": "rivers", "because": "I like them."},
    ]
    return some_of(rng, entries)


def some_of(rng: Random, entries: list[Doc]) -> list[Doc]:
    """One to four of them."""
    return rng.sample(entries, rng.randint(1, 4))


_HELD = {"at least 80": "90", "above 90 °F": "95 °F"}


def _rule(name: str, looks_at: str, when: Doc, must: Doc, hit: Doc, miss: Doc, level: str = "caution") -> Doc:
    """A rule with a hit and a miss of its own."""
    facts = {key: _HELD.get(str(value), value) for key, value in when.items()}
    found: Doc = {"rule": name, "looks at": looks_at, "when": when, "must": must, "else": level}
    if not when:
        del found["when"]
    return found | {
        "because": "It went wrong twice.",
        "try": "Do it another way.",
        "basis": "own batches",
        "hits": [{**facts, **hit}],
        "misses": [{**facts, **miss}],
    }
