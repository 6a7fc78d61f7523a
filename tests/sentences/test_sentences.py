"""Sentences of makers become the rules that are meant, and every rule is printed as a sentence that is it."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from blendwise.answers.rules.sentences.alike import alike, rule_of
from blendwise.answers.rules.sentences.draft import Draft, Unread
from blendwise.answers.rules.sentences.fitting.nearest import examples, of_the_book
from blendwise.answers.rules.sentences.printing import sentence_of
from blendwise.answers.rules.sentences.reading import read_sentence
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.records.kinds.rule import RuleRecord, load_rule_files
from blendwise.records.place import RecordError
from tests.sentences.score import RIGHT, book, draft_of, meant, sentences, verdict

HERE = Path(__file__).parent
SIXTY, LATER = sentences(HERE / "sentences.yaml"), sentences(HERE / "later.yaml")
OTHERS, THREE = sentences(HERE / "others.yaml"), sentences(HERE / "three_makers.yaml")
MORE = sentences(HERE / "thirty_more.yaml")
VOICES = [sentences(HERE / "sixty_first.yaml"), sentences(HERE / "sixty_second.yaml")]
HUNDRED, FRESH = sentences(HERE / "a_hundred.yaml"), sentences(HERE / "fresh_sixty.yaml")
FOUR = [*sentences(HERE / "four_hands.yaml"), *sentences(HERE / "four_voices.yaml")]
EVERY = [*HUNDRED, *FRESH, *SIXTY, *LATER, *OTHERS, *THREE, *MORE, *VOICES[0], *VOICES[1]]
RULES = HERE.parents[1] / "rules"


def test_at_least_fifty_of_sixty_are_understood_as_meant() -> None:
    """Sixty sentences, written before anything read them."""
    assert 60 == len({entry["said"] for entry in SIXTY})
    assert sum(verdict(entry) == "as meant" for entry in SIXTY) >= 50


def test_of_forty_later_ones_most_are() -> None:
    """Forty written once the reader stood, and committed before they were run: 24 at first."""
    assert sum(verdict(entry) == "as meant" for entry in LATER) >= 33


def test_of_three_makers_nearly_all_are() -> None:
    """Sixty of three makers in books of their own, committed before they were run: 21 at first."""
    assert 60 == len(THREE)
    assert sum(verdict(entry) in RIGHT for entry in THREE) >= 58
    assert sum(verdict(entry) in RIGHT for entry in MORE) >= 25


@pytest.mark.parametrize(("voices", "least"), [(VOICES[0], 60), (VOICES[1], 55)])
def test_of_other_voices_nearly_all_are(voices: list[dict[str, Any]], least: int) -> None:
    """Twice sixty of very different voices, committed before they were run: 21 and 40 right at first."""
    assert 60 == len({entry["said"] for entry in voices})
    assert sum(verdict(entry) in RIGHT for entry in voices) >= least


@pytest.mark.parametrize(("voices", "count", "least"), [(HUNDRED, 100, 88), (FRESH, 60, 48)])
def test_of_single_clear_rules_nearly_all_are(voices: list[dict[str, Any]], count: int, least: int) -> None:
    """In four voices, committed before they were run: 44 of 100, then 30 of 60 fresh ones, right at first."""
    assert count == len({entry["said"] for entry in voices})
    assert sum(verdict(entry) in RIGHT for entry in voices) >= least


@pytest.mark.parametrize("entry", [*EVERY, *FOUR], ids=lambda entry: entry["said"][:50])
def test_none_is_understood_otherwise_than_meant(entry: dict[str, Any]) -> None:
    """What is not understood as meant is not understood."""
    assert "otherwise" != verdict(entry)


@pytest.mark.parametrize(
    "said",
    [
        "lime only by the end of October",
        "lime only in late October",
        "lime only until October",
        "if lime is used, sell the bars within 3 months",
        "no lime older than 3 months after the pour",
        "lime may go in the top layer and must not go in the top layer",
        "lime at least half of all scent in the batch",
        "white from titanium-dioxide never with lime",
    ],
)
def test_what_no_rule_holds_is_not_left_out(said: str) -> None:
    """A part of a month, when bars are sold, an age from the pour, all scent of a batch: no rule is made."""
    assert isinstance(read_sentence(said, book()), Unread)


def test_a_figure_that_may_be_of_either_of_two_is_not_split() -> None:
    """ "Lime needs litsea, a fifth at least": of which is not said."""
    found = read_sentence("lime wants litsea with it, a fifth at least", book())
    assert isinstance(found, Unread)
    assert not found.alone


@pytest.mark.parametrize(
    "said", ["lime only in embeds", "lime in embeds only", "lime exclusively in the embeds"]
)
def test_an_oil_of_embeds_alone_is_in_no_portion(said: str) -> None:
    """It is not allowed in every cup of a batch that has embeds; what is printed is read back."""
    found = read_sentence(said, book())
    assert isinstance(found, Draft)
    assert ("portion", {}, {"holds": {"none of": ["lime"]}}) == (found.looks_at, found.when, found.must)
    rule = rule_of(found)
    assert rule is not None
    assert "lime only in embeds" == sentence_of(rule, book())
    round_trip(rule)


def test_those_of_another_hand_are() -> None:
    """Sentences of one who had not seen what can be read."""
    assert [] == [entry["said"] for entry in OTHERS if verdict(entry) != "as meant"]


@pytest.mark.parametrize(
    ("said", "alone"),
    [
        (
            "tonka-milk no more than 2 % of all the oils and never in the top layer.",
            ("tonka-milk no more than 2 % of all the oils", "tonka-milk never in the top layer"),
        ),
        (
            "Fast oils go in the last portion and no white portion takes more than 0.4 oz ppo of scent.",
            ("Fast oils go in the last portion", "no white portion takes more than 0.4 oz ppo of scent"),
        ),
    ],
)
def test_two_demands_are_told_apart(said: str, alone: tuple[str, str]) -> None:
    """A sentence that is two rules is handed back as two sentences, the second with its subject."""
    found = read_sentence(said, book())
    assert isinstance(found, Unread)
    assert alone == found.alone


def test_a_rate_of_the_oils_is_asked_of_which() -> None:
    """ "Of the oils" is of all base oils where one of them is meant, and unsure of a scent."""
    scent, fat = (read_sentence(f"{of} at most 2 % of the oils", book()) for of in ("lime", "castor"))
    assert isinstance(scent, Draft)
    assert scent.asks
    assert isinstance(fat, Draft)
    assert not fat.asks


@pytest.mark.parametrize("figure", ["1,000", "1.5.2", "2,500"])
def test_a_figure_that_may_be_two_is_none(figure: str) -> None:
    """A comma before three figures is a thousand to some and a decimal to others: it is not read."""
    assert isinstance(read_sentence(f"lime at most {figure} g in a batch", book()), Unread)


def round_trip(rule: Rule, of: str = "") -> None:
    """Print a rule and read it back."""
    said = sentence_of(rule, book(of))
    found = read_sentence(said, book(of))
    assert isinstance(found, Draft), said
    back = rule_of(found)
    assert back is not None, said
    assert alike(back, rule), said
    assert not found.asks


SHIPPED = [
    compile_rule(entry, vocabulary()) for entry in load_rule_files(RULES) if isinstance(entry, RuleRecord)
]


@pytest.mark.parametrize("rule", SHIPPED, ids=lambda rule: rule.name)
def test_every_shipped_rule_is_read_back(rule: Rule) -> None:
    """The sentence of a rule of the rulebook is read back as that rule."""
    round_trip(rule)


@pytest.mark.parametrize(
    "entry", [entry for entry in EVERY if "means" in entry], ids=lambda entry: entry["said"][:50]
)
def test_every_rule_that_is_meant_has_a_shape_and_is_read_back(entry: dict[str, Any]) -> None:
    """What makers say can be said back to them without `when … must …`, and is the same rule."""
    rule = rule_of(meant(entry))
    assert rule is not None
    own = entry.get("book", "")
    round_trip(rule, own)
    shaped = not sentence_of(rule, book(own)).startswith(tuple(f"each {grain}, " for grain in GRAINS))
    plain = (
        entry in HUNDRED or entry in FRESH
    )  # what they mean and no shape says is printed as `when … must …`
    assert plain or shaped or any(not plainly(body, own) for body in entry.get("also", ()))


def plainly(body: dict[str, Any], own: str) -> bool:
    """Whether a rule is printed as `each …, must …` alone."""
    rule = rule_of(draft_of(body))
    assert rule is not None
    return sentence_of(rule, book(own)).startswith(tuple(f"each {grain}, " for grain in GRAINS))


WHEN: list[tuple[str, Any]] = [
    ("scent", "lime"), ("tags", ["citrus", "spice"]), ("acceleration", "at least fast"), ("place", "outer"),
    ("planned lightness", "at least 80"), ("planned lightness", "between 30 and 55"), ("pour", "column"),
    ("gel", "force"), ("month", "May to August"), ("batter temperature", "above 90 °F"), ("embeds", "yes"),
    ("holds", {"none of": ["fast", "lavender"]}), ("scent rate", "at least 1.2 × scent of batch oils"),
    ("lye concentration", "below 29 %"), ("for skin", "unknown"), ("purpose", "is not home"),
]  # fmt: skip
MUST: list[tuple[str, Any]] = [
    ("dose", "at most 2 % of portion oils"), ("dose of [lime, cedar]", "below 0.25 oz ppo"),
    ("share of [citrus]", "at most 50 %"), ("batch dose of [fast]", "at most 1.5 % of batch oils"),
    ("scented at", "at least 12 min"), ("portions with [browner]", "at most 2"),
    ("with", ["cedar", "fixative"]),
    ("bottle age", "at most 18 months"), ("certificate", "yes"), ("citral in bar", "below 0.1 %"),
    ("grams of [lime]", "at most 2 oz"), ("place", {"none of": ["inner", "bottom"]}), ("month", ["June"]),
    ("batter temperature", "between 30 °C and 38 °C"), ("colourants", {"none of": ["charcoal"]}),
    ("acceleration", "at most fastest the pour bears"),
]  # fmt: skip
MUST += [
    ("superfat", "between 4 % and 7 %"), ("oil share of [castor]", "between 5 % and 8 %"),
    ("portion mass", "at least 80 g"), ("portions coloured with [charcoal]", "at most 1"),
    ("embeds", "is no"), ("gel", "is not force"), ("room temperature", "below 20 °C"), ("scent", "lime"),
    ("oil share of [olive]", "at most 0 %"), ("vanillin in portion", "at most 0 % of portion oils"),
    ("minutes fluid", "at least 8 min"), ("purpose", "is not sale"), ("planned lightness", "below 80"),
    ("dose of [cedar]", "between 0.2 oz ppo and 0.5 oz ppo"), ("certificate age", "at most 3 years"),
]  # fmt: skip
WHEN += [
    ("holds", ["lime"]), ("portion", {"none of": ["snow"]}), ("pour", {"none of": ["column", "thin lines"]}),
    ("room temperature", "between 15 °C and 20 °C"), ("gel", "is not force"), ("colourants", ["charcoal"]),
    ("place", {"none of": ["top"]}), ("month", {"none of": ["December"]}),
]  # fmt: skip
WHEN += [
    ("additives", ["goat milk"]), ("pour family", "interleaved"), ("salt", "at least 25 %"),
    ("milk", "above 0 %"), ("colourant kinds", ["mica"]),
    ("kind", "essential oil"), ("ricing", "at least slight"),
]  # fmt: skip
MUST += [
    ("gel", "is avoid"), ("salt", "at most 0 %"), ("white rate", "at most 0 % of portion oils"),
    ("scents in batch of [fast]", "at most 2"), ("scents in portion of [citrus]", "at most 1"),
    ("portions", "at most 4"), ("colour bleeds", "is no"), ("colourant kinds", {"none of": ["clay"]}),
    ("colourants", {"none of": ["indigo"]}), ("pour family", "is not interleaved"),
]  # fmt: skip
GRAINS = ("batch", "portion", "scent", "dose")


def random_rule(seed: int) -> Rule | None:
    """A rule of lines drawn at random; None where they do not go together at its grain."""
    rng = random.Random(seed)
    drawn = {
        part: dict(rng.sample(lines, rng.randint(low, 2)))
        for part, lines, low in (("when", WHEN, 0), ("must", MUST, 1))
    }
    for part, lines in drawn.items():
        if rng.random() < 0.25:
            (measure, said), other = rng.choice(WHEN), rng.choice(MUST)
            if measure not in lines and other[0] not in lines:
                drawn[part] = {**lines, "any of": [{measure: said}, dict([other])]}
    body = {key: lines for key, lines in drawn.items() if lines}
    grain, level = rng.choice(GRAINS), rng.choice(("hint", "caution", "conflict", "stop"))
    try:
        record = RuleRecord.model_validate({"rule": "drawn", "looks at": grain, "else": level, **body})
        return compile_rule(record, vocabulary())
    except RecordError:
        return None


def test_rules_drawn_at_random_are_read_back() -> None:
    """Rules of all sorts of lines, with any-ofs, at every level: each sentence is the rule again."""
    drawn = [rule for rule in map(random_rule, range(1500)) if rule is not None]
    assert len(drawn) > 150
    for rule in drawn:
        round_trip(rule)


BEHIND = (
    " in white", " when gel forced", " for sale", " in a column", " in summer", " unless for home",
    " with goat milk", " when the lye is above 31 %", " in a swirl",
)  # fmt: skip


@pytest.mark.parametrize("name", ["", "ten-years"])
def test_every_shape_is_read_back_under_every_condition(name: str) -> None:
    """Each example with each condition behind it, where that is a rule: its sentence is that rule again."""
    own, read = book(name), 0
    for at, (_, said) in enumerate(examples()):
        for behind in ("", *BEHIND[at % 3 :: 3]):
            for level in ("", "stop: ") if not behind else ("",):
                found = read_sentence(f"{level}{of_the_book(said, own)}{behind}", own)
                rule = rule_of(found) if isinstance(found, Draft) and not found.asks else None
                if rule is not None:
                    round_trip(rule, name)
                    read += 1
    assert read > 120


@pytest.mark.parametrize(
    ("said", "word"),
    [
        ("no tonka-milk in the moonlight", "moonlight"),
        ("what shall I cook tonight", "what"),
        ("never lime with glue", "glue"),
        ("each dose, when moonlight above 3, must dose at most 2 %, else caution", "moonlight above 3"),
    ],
)
def test_what_is_not_understood_is_pointed_at(said: str, word: str) -> None:
    """The very word, with the nearest shape and an example of it."""
    found = read_sentence(said, book())
    assert isinstance(found, Unread)
    assert word in [said[start:end] for start, end in found.spans]
    assert isinstance(read_sentence(found.example, book()), Draft)


def test_a_word_that_may_be_two_things_is_asked_about() -> None:
    """Honey is a tag of the shelf and an additive: neither is guessed."""
    found = read_sentence("honey not over 1 % of batch oils", book())
    assert isinstance(found, Unread)
    assert ("honey oils", "additive honey") == found.either
    for said in found.either:
        assert isinstance(read_sentence(f"{said} not over 1 % of batch oils", book()), Draft)


@pytest.mark.parametrize(
    "said", ["", "   ", "%", "never", "lime", "x" * 5000, "é" * 400, "at most 2 %", "[]{};:"]
)
def test_nonsense_is_no_rule(said: str) -> None:
    """Nothing, signs and endless letters are not understood, and break nothing."""
    assert isinstance(read_sentence(said, book()), Unread)


@pytest.mark.parametrize(
    ("said", "when", "must"),
    [
        ("Stop me if lime is over 0.5 % of the bar", {"scent": "is lime"}, {"share in bar": "at most 0.5 %"}),
        ("No columns in summer", {"month": "summer"}, {"pour": "none of column"}),
        (
            "Keep charcoal below 0.6 % or the lather goes grey",
            {},
            {"colour rate of [charcoal]": "below 0.6 %"},
        ),
        ("Let me know when a bottle is older than two years", {}, {"bottle age": "at most 2 years"}),
        ("Coconut should never be more than 30 % of my oils", {}, {"oil share of [coconut]": "at most 30 %"}),
    ],
)
def test_more_that_makers_say(said: str, when: dict[str, str], must: dict[str, str]) -> None:
    """A limit of one oil in the bar, a pour out of season, a reason behind "or", a per cent of base oils."""
    found = read_sentence(said, book())
    assert isinstance(found, Draft), found
    assert set(when) <= set(found.when)
    assert list(must) == list(found.must)
    ((measure, bound),) = must.items()
    if isinstance(found.must[measure], str):
        assert str(found.must[measure]).startswith(bound)
    rule = rule_of(found)
    assert rule is not None
    round_trip(rule)


@pytest.mark.parametrize(
    "said", ["lime at most 2 % or the top layer is at least 3 %", "lime at most 0.5 % of the bar in white"]
)
def test_what_holds_a_second_demand_is_not_lost(said: str) -> None:
    """A figure behind "or" is no reason, and a bar is no cup: neither is read for half of what it says."""
    assert isinstance(read_sentence(said, book()), Unread)


@pytest.mark.parametrize(
    "said",
    [
        "not all of the lime in white",
        "lime is not only for white",
        "lime may go in white",
        "lime can go in the top layer",
        "superfat at most 7 % and at least 31 % lye",
        "no columns or lye over 33 %",
        "no lime in white unless below 30 °C",
        "10 minutes between lime and cedar",
        "lime goes with cedar and nothing else",
        "cedar fixes lime so use both or neither",
        "does lime go in white?",
        "lime 1-200 times in white",
        "lime usually not in white",
        "lime only goes in the top layer and never above 30 °C",
    ],
)
def test_no_word_is_dropped(said: str) -> None:
    """What hedges, allows, asks, or joins a second demand makes no rule of the rest."""
    assert isinstance(read_sentence(said, book()), Unread)


def test_a_bound_on_each_oil_is_no_sum() -> None:
    """ "Each" bounds every oil by itself, "together" their sum."""
    each = read_sentence("lime and litsea each at most 1 % of portion oils", book())
    total = read_sentence("lime and litsea together at most 1 % of portion oils", book())
    assert isinstance(each, Draft)
    assert isinstance(total, Draft)
    assert ("dose", ["dose"]) == (each.looks_at, list(each.must))
    assert ("portion", ["dose of [lime, litsea]"]) == (total.looks_at, list(total.must))


@pytest.mark.parametrize(
    ("said", "name", "must"),
    [
        ("lime below 30 degrees", "", "below 30 °C"),
        ("Lavender Hill below 95 degrees", "ten-years", "below 95 °F"),
        ("no column when the room is over 80", "ten-years", "none of"),
    ],
)
def test_degrees_are_those_of_the_book(said: str, name: str, must: str) -> None:
    """Degrees alone are °C in a book of °C and °F in one of °F."""
    found = read_sentence(said, book(name))
    assert isinstance(found, Draft)
    assert must in str(next(iter(found.must.values())))
    assert "80" not in str(found.when) or "above 80 °F" == found.when["room temperature"]


@pytest.mark.parametrize(("said", "name"), [("lime below 95°", ""), ("Lavender Hill below 35°", "ten-years")])
def test_degrees_that_are_hardly_the_books_are_none(said: str, name: str) -> None:
    """95° is no warmth of batter in °C, and 35° none in °F: neither is turned into the other."""
    assert isinstance(read_sentence(said, book(name)), Unread)


@pytest.mark.parametrize("said", ["keep milk soap cool", "just a touch of lime", "not too much lime"])
def test_a_word_that_is_no_figure_is_asked_for_one(said: str) -> None:
    """Cool, a touch and too much are no figures; what to say is told."""
    found = read_sentence(said, book())
    assert isinstance(found, Unread)
    assert found.figures


@pytest.mark.parametrize("name", ["", "seller", "beginner", "ten-years"])
def test_every_example_is_read_in_the_makers_own_words(name: str) -> None:
    """What is shown as an example has the book's own names and units, and is a rule of its shape there."""
    own = book(name)
    for shape, said in examples():
        shown = of_the_book(said, own)
        found = read_sentence(shown, own)
        assert isinstance(found, Draft) or found.either, shown
        assert isinstance(found, Unread) or shape == found.shape, shown
        assert "°C" not in shown or own.usual.units.temperature == "C"
        assert name == "" or not {"tonka-milk", "clove-leaf", "litsea"} & set(shown.split())


@pytest.mark.parametrize(
    ("said", "word"),
    [
        ("embeds must be cold", "embed"),
        ("superfat somewhere around whatever", "superfat"),
        ("Rye Meadow before Christmas only", "Rye Meadow"),
        ("nothing dodgy next to white", "next to white"),
        ("column wobbly in a warm room", "column"),
    ],
)
def test_the_nearest_example_speaks_of_the_same(said: str, word: str) -> None:
    """Where a sentence is not read, the example shown shares what it speaks of."""
    found = read_sentence(said, book("seller"))
    assert isinstance(found, Unread)
    assert word in found.example


def test_a_demand_behind_a_reason_is_not_lost() -> None:
    """ "Because it browns, and at most 1 % in dark": the second demand is handed back with its subject."""
    found = read_sentence(
        "no lime in white because it browns, and at most 1 % of portion oils in dark", book()
    )
    assert isinstance(found, Unread)
    assert ("no lime in white", "lime at most 1 % of portion oils in dark") == found.alone
