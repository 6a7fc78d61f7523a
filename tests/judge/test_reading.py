"""What can be said in a rule, and how what cannot be read is refused."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise.facts.scales import MONTHS
from blendwise.facts.tables import vocabulary
from blendwise.judge.conditions.conditions import RELATIONS, Atom
from blendwise.judge.conditions.limits import ConditionError
from blendwise.judge.conditions.reading import read_atom
from blendwise.judge.rulebook.compile import faults_of, read_rule
from blendwise.records.kinds.rule import RuleRecord, rules_in
from blendwise.records.place import Fault, RecordError
from blendwise.records.reading.document import text_document
from tests.judge.words import VOCABULARY, rule


def read(measure: str, text: object) -> Atom:
    word = VOCABULARY[measure]
    return read_atom(word, text, VOCABULARY, word.grain)


def faults(**fields: Any) -> tuple[Fault, ...]:
    with pytest.raises(RecordError) as caught:
        rule(**fields)
    return caught.value.faults


@pytest.mark.parametrize(
    ("measure", "text", "limit"),
    [
        ("scent load", "at most 4 %", 0.04),
        ("scent load", "at most 4 % of portion oils", 0.04),
        ("scent load", "at most 0.7 oz ppo", 0.04375),
        ("portion mass", "at least 2 oz", 56.69904625),
        ("room", "above 68 °F", 20.0),
        ("superfat", "at least -2 %", -0.02),
        ("minutes left", "below  1   hour", 60.0),
        ("browning band", "at most tan", 3.0),
        ("for skin", "is yes", 1.0),
    ],
)
def test_amounts_are_read_with_their_units(measure: str, text: str, limit: float) -> None:
    """Limits come out in canonical units (exact factors: 1 lb = 453.59237 g, °F by definition)."""
    (found,) = read(measure, text).limits
    assert found.value == pytest.approx(limit, rel=1e-12)


@pytest.mark.parametrize("sign", ["×", "x", "*", " x ", " × "])
def test_a_factor_may_be_written_in_three_ways(sign: str) -> None:
    """1.2 times another measure, with any of the usual signs."""
    (found,) = read("minutes left", f"at least 1.2{sign}minutes needed").limits
    assert (1.2, "minutes needed") == (found.factor, found.measure)


@pytest.mark.parametrize(
    "text",
    [
        ["amine", "mint"],
        "one of amine, mint",
        "one of [amine, mint]",
        "one of amine or mint",
        {"one of": ["amine", "mint"]},
    ],
)
def test_lists_of_words(text: object) -> None:
    """A list stands for ``one of``, however it is written."""
    found = read("tags", text)
    assert ("one of", ("amine", "mint")) == (found.relation, found.words)


def test_between_may_name_its_unit_once() -> None:
    """``between 10 and 20 min`` gives both ends in minutes."""
    assert [10.0, 20.0] == [limit.value for limit in read("minutes left", "between 10 and 20 min").limits]


@pytest.mark.parametrize(
    ("measure", "text", "says", "helps"),
    [
        ("scent load", "atmost 4 %", "does not say how", "at least, at most"),
        ("scent load", "at most 4 g", "is a mass", "4 % of portion oils"),
        ("scent load", "at most 4 % of finished bar", "cannot stand here", "4 % of portion oils"),
        ("scent load", "at most bar share", '"bar share" (a rate of finished bar)', ""),
        ("scent load", "at most load cpa", "not an amount", '"load cap"'),
        ("scent load", "at most scent load", "held against itself", ""),
        ("scent load", "at most", "Nothing follows", "at least"),
        ("scent load", "at most 4,5 %", "decimal comma", "4.5 %"),
        ("scent load", "at most 1e9 %", "exponent", ""),
        ("scent load", "is amine", "not an amount", "4 %"),
        ("scent load", "one of 3 %, 4 %", "cannot be said", "at most"),
        ("minutes left", "at least 12", "no unit", "10 min"),
        ("minutes left", "at least 0 x minutes needed", "above zero", ""),
        ("minutes left", "at least 1.2 x minutes needde", "not a measure", "minutes needed"),
        ("minutes left", "between 20 and 10 min", "runs backwards", "lower end first"),
        ("minutes left", "between 20 min", "two ends", "between"),
        ("browning band", "at most taupe", "not a word", "tan"),
        ("browning band", "at most 2 x planned band", "factor", ""),
        ("browning band", "one of", "No word follows", ""),
        ("for skin", "at least yes", "cannot be said", "is, is not"),
        ("tags", "at most amine", "cannot be said", "one of"),
        ("tags", "is", "No word follows", "one of"),
        ("room", "known to be warm", "stands alone", "only `known`"),
        ("room", ["1 °C", "2 °C"], "cannot be said", ""),
        ("room", {"at least": ["1 °C"]}, "not a text", ""),
        ("room", "at least __import__('os')", "not an amount", ""),
        ("room", "at least " + "9" * 300, "characters long", "200"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_may_stand(
    measure: str, text: object, says: str, helps: str
) -> None:
    """Every slip has a message that names it and a remedy that shows the way."""
    with pytest.raises(ConditionError) as caught:
        read(measure, text)
    assert says in caught.value.message
    assert helps in caught.value.remedy


def test_an_unknown_measure_names_the_nearest() -> None:
    """A slip in a measure's name is met with the nearest one of that grain and the allowed words."""
    (fault,) = faults(must={"planned lihgtness": "at least 70"})
    assert '"planned lihgtness" is not a measure' in fault.message
    assert 'The nearest is "planned lightness"' in fault.remedy


def test_a_bound_at_the_wrong_grain_says_where_it_belongs() -> None:
    """A measure of an edge cannot be asked of a portion."""
    (fault,) = faults(must={"contrast": "at least 8"})
    assert '"contrast" belongs to an edge and cannot be asked of a portion' in fault.message
    assert "edge" in fault.remedy


def test_ignorance_cannot_be_demanded() -> None:
    """``must: {x: unknown}`` would let a missing fact mend a rule."""
    (fault,) = faults(must={"room": "unknown"})
    assert "cannot demand" in fault.message


@pytest.mark.parametrize(
    ("branches", "says"),
    [
        ("tags", "needs a list"),
        ([], "needs a list"),
        ([{"any of": []}], "inside"),
        ([["x"]], "not a measure with"),
    ],
)
def test_any_of_is_one_level_of_mappings(branches: object, says: str) -> None:
    """``any of`` is a list of measures with what they must be, and holds no other ``any of``."""
    (fault,) = faults(when={"any of": branches}, must={"room": "at least 20 °C"})
    assert says in fault.message


def test_both_spellings_of_a_measure() -> None:
    """A measure may be spelt either way, as fields may."""
    vocabulary = {"colour in mould": VOCABULARY["room"]}
    atom = read_atom(vocabulary["colour in mould"], "known", vocabulary, "portion")
    assert atom.relation == "known"


def test_all_faults_come_at_once_each_at_its_own_line() -> None:
    """Every condition that cannot be read is told with its line, its typed words and its rule."""
    text = """\
- rule: late
  looks at: portion
  when:
    planned lightness: at leest 70
    any of:
      - {tags: amine}
      - {sparkle: yes}
  must: {browning band: at most planned band}
  else: hint
- {rule: thin, looks at: portion, must: {contrast: at least 8}, else: hint}
"""
    records = [entry for entry in rules_in(text_document(text)) if isinstance(entry, RuleRecord)]
    faults = [fault for each in records for fault in faults_of(each, read_rule(each, VOCABULARY)[1])]
    assert [4, 7, 10] == [fault.place.line for fault in faults]
    assert "`when: {planned lightness: at leest 70}`" in faults[0].message
    assert records[1].text == "{rule: thin, looks at: portion, must: {contrast: at least 8}, else: hint}"


@given(st.text(max_size=60), st.sampled_from(sorted(VOCABULARY)))
def test_no_text_does_anything_but_be_read_or_refused(text: str, measure: str) -> None:
    """Whatever is typed is either one of the known relations or a ConditionError; nothing else happens."""
    try:
        found = read(measure, text)
    except ConditionError as error:
        outcome = error.message
    else:
        outcome = found.relation if found.relation in RELATIONS else ""
    assert outcome


@pytest.mark.parametrize(
    ("said", "months"),
    [
        ("November to February", ("November", "December", "January", "February")),
        ("March to March", ("March",)),
        ("May to June", ("May", "June")),
    ],
)
def test_months_go_on_over_the_turn_of_the_year(said: str, months: tuple[str, ...]) -> None:
    """From one month to another both are meant, and those between as the year goes."""
    words = vocabulary()
    word = next(each for each in words.values() if each.scale == MONTHS)
    assert months == read_atom(word, said, words, word.grain).words
