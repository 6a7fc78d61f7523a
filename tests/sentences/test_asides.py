"""Clauses beside a demand are set aside only where nothing of a rule is in them, and never change one."""

from __future__ import annotations

import pytest

from blendwise.answers.rules.sentences.alike import alike, rule_of
from blendwise.answers.rules.sentences.draft import Draft, Unread
from blendwise.answers.rules.sentences.lexicon import lexicon_of
from blendwise.answers.rules.sentences.printing import sentence_of
from blendwise.answers.rules.sentences.reading import read_sentence, reason_in
from blendwise.answers.rules.sentences.reasons.asides import GUARDED, SUFFERS, is_aside, is_unclear
from blendwise.answers.rules.sentences.reasons.effects import HAPPENS, NEGATED, TELLING, without_effects
from blendwise.answers.rules.sentences.terms import FILLERS
from blendwise.judge.rulebook.compile import Rule
from tests.sentences.score import FILES, HERE, RIGHT, book, sentences, verdict

EVERY = [entry for file in FILES for entry in sentences(file) if len(entry["said"]) < 220]


def _rule(said: str, of: str, basis: str = "") -> Rule | None:
    found = read_sentence(said, book(of), basis)
    return rule_of(found) if isinstance(found, Draft) else None


@pytest.mark.parametrize(
    "beside",
    ["{}. smelled like the dentist", "{}; my hand gets sore", "Whilst I remember, {}", "{}, bless it"],
)
def test_a_clause_beside_a_rule_never_changes_it(beside: str) -> None:
    """Added to any sentence that is read, a clause of no rule leaves the very same rule."""
    read = 0
    for entry in EVERY:
        said, of, basis = entry["said"].rstrip(" ."), entry.get("book", ""), entry.get("basis", "")
        rule = _rule(said, of, basis)
        if rule is not None:
            other = _rule(beside.format(said), of, basis)
            assert other is not None, beside.format(said)
            assert alike(rule, other), beside.format(said)
            read += 1
    assert read > 250


@pytest.mark.parametrize("of", ["", "seller", "ten-years"])
def test_a_clause_with_a_word_of_rules_is_never_set_aside(of: str) -> None:
    """Names of the book, words of the language, guarded words, and figures bind a clause to the demand."""
    lexicon = lexicon_of(book(of))
    assert is_aside("it smelled like the dentist", lexicon)
    told = FILLERS | TELLING | SUFFERS | HAPPENS | {"and"}
    words = (lexicon.words | lexicon.named | GUARDED) - told
    bound = {word for word in words if is_aside(f"it smelled {word}", lexicon)}
    assert set() == {word for word in bound if len(lexicon.at((word,))) and not _how(word)}
    assert set() == {word for word in bound & GUARDED if not _how(word)}
    assert not is_aside("it stays fluid for 3 minutes", lexicon)
    assert not is_aside("it smelled above 3 %", lexicon)
    assert not is_aside("it smelled 3", lexicon)


def _how(word: str) -> bool:
    """Whether a word only tells how it happened, as in "it smelled strong", or that it did not."""
    return not without_effects(f"it smelled {word}")[10:].strip() or NEGATED.search(word) is not None


@pytest.mark.parametrize(
    "clause",
    [
        "it smelled at last", "it goes in the brown", "they live in the brown", "it goes in after 3 minutes",
        "they are used within 3 months", "it is for the fast ones", "it stays cool", "I keep it under",
        "it goes last", "it comes first", "it wants company", "that goes for white", "it rices above 95",
        "they go together", "it isn't for embeds", "the white first", "the dark is better", "wear gloves",
        "it belongs in a dark cup", "they are kept apart", "it needs a week", "only the dark ones",
    ],
)  # fmt: skip
def test_a_clause_that_may_demand_is_no_reason(clause: str) -> None:
    """Where, when, with whom: a clause that puts something somewhere is never set aside."""
    for of in ("", "seller", "ten-years", "beginner"):
        assert not is_aside(clause, lexicon_of(book(of)))


@pytest.mark.parametrize(
    "clause",
    [
        "it goes flat", "the headache is certain", "more makes no foam", "it is too strong", "makes it ugly",
        "you do not see the difference", "it bleeds something terrible", "it seizes after 3 minutes",
        "goes to brown in a week", "it turned my white brown", "they both discolor", "it went yellow",
        "it goes up like a volcano", "is too warm and becomes stone",
    ],
)  # fmt: skip
def test_a_clause_that_tells_is_a_reason(clause: str) -> None:
    """What happens, how soon and to what colour."""
    assert is_aside(clause, lexicon_of(book("ten-years")))


def test_what_may_be_a_reason_is_asked() -> None:
    """A clause without a verb that tells is never dropped in silence: it is underlined and asked."""
    said = "never clove with litsea, sad nose"
    assert is_unclear("sad nose", lexicon_of(book("ten-years")))
    found = read_sentence(said, book("ten-years"))
    assert isinstance(found, Unread)
    assert [said.index("sad")] == [start for start, _ in found.spans]
    assert ("never clove with litsea because sad nose",) == found.either
    assert isinstance(read_sentence(found.either[0], book("ten-years")), Draft)


@pytest.mark.parametrize(
    "said",
    [
        "For my mother: never clove with litsea",
        "At Yule, never clove with litsea",
        "Yule ones: never clove with litsea",
        "my mother's ones: never clove with litsea",
        "never clove with litsea or bay rum",
        "never clove with litsea, iced tea",
        "never clove with litsea, hand stir it",
        "never clove with litsea, my kids smelled",
        "never clove with litsea. pumpkin smelled like the dentist",
    ],
)
def test_what_may_bind_a_demand_refuses_it(said: str) -> None:
    """For whom, when, another name, another demand: none of it is a reason."""
    assert isinstance(read_sentence(said, book("ten-years")), Unread)


def test_what_is_set_aside_is_kept_as_the_reason_and_told() -> None:
    """It stands in the draft, and is the reason that is written."""
    said = "never put clove with litsea. smelled like the dentist"
    found = read_sentence(said, book("ten-years"))
    assert isinstance(found, Draft)
    assert ("smelled like the dentist",) == found.aside
    assert "smelled like the dentist" == reason_in(said, book("ten-years"))


def test_a_condition_before_two_demands_is_of_both() -> None:
    """Neither of two sentences handed back loses it; where it may be of one or both, none is."""
    said = "For hanger swirls superfat at no more than five, and lye concentration at most 31 %"
    found = read_sentence(said, book("ten-years"))
    assert isinstance(found, Unread)
    assert ["For hanger swirls"] * 2 == [each[:17] for each in found.alone]
    rules = [_rule(each, "ten-years") for each in found.alone]
    assert all(rule is not None and "hanger" in str(rule.when) for rule in rules)
    unsure = read_sentence("superfat at most 5 and lye at most 31 % in hanger swirls", book("ten-years"))
    assert isinstance(unsure, Unread)
    assert not unsure.alone


def test_a_colourant_of_the_book_is_no_additive_unless_it_is_said() -> None:
    """The book's own name decides."""
    found = read_sentence("no titanium-dioxide in cream", book("seller"))
    assert isinstance(found, Draft)
    assert "additives" not in str(found.body())
    assert isinstance(read_sentence("no titanium-dioxide in summer", book("seller")), Draft)
    assert "additives" not in str(read_sentence("no vanillin with titanium-dioxide", book("seller")))


def test_any_of_several_additives_is_printed_as_or() -> None:
    """A list of additives holds where any of them is in, and says so."""
    rule = _rule("with honey or goat milk below 95 F", "ten-years")
    assert rule is not None
    assert "honey or goat milk" in sentence_of(rule, book("ten-years"))


@pytest.mark.parametrize(
    ("of", "said", "as_if"),
    [
        ("ten-years", "never put clove w litsea", "never put clove with litsea"),
        ("ten-years", "sea glass not for sale", "Sea Glass Cove not for sale"),
        ("ten-years", "blood orange gets tossed after a fortnight", "no Blood Orange 5x older than 2 weeks"),
        ("ten-years", "superfat at most twenty-one per cent", "superfat at most 21 %"),
        ("seller", "The fast ones go to the end", "fast ones last"),
        ("seller", "Drop swirls: no fast scent", "no fast oils in a drop swirl"),
        ("seller", "Amber Hearth and Amber Märchen may not share a bar",
         "never Amber Hearth with Amber Märchen in one bar"),
        ("seller", "A portion under 8 % of the batter is not worth a cup",
         "no portion under 8 % of the batter"),
    ],
)  # fmt: skip
def test_small_words_say_the_same(of: str, said: str, as_if: str) -> None:
    """Slang, short forms and the beginning of one name stand for what they are short for."""
    one, other = _rule(said, of), _rule(as_if, of)
    assert one is not None
    assert other is not None
    assert alike(one, other)


def test_a_cup_is_poured_last_and_a_spoon_is_no_amount() -> None:
    """A cup of that name in the book is that very cup; a spoon is asked to be weighed."""
    rule = _rule("The black cup must always be poured last", "seller")
    assert rule is not None
    assert ("portion", "place") == (rule.when.atoms[0].measure, rule.must.atoms[0].measure)
    asked = read_sentence("soot half tsp tops", book("ten-years"))
    assert isinstance(asked, Unread)
    assert asked.figures


def test_of_four_hands_none_is_understood_otherwise() -> None:
    """Sixty of hands that had not seen what is read: 12 right at first; those mended since stay so."""
    found = [verdict(entry) for entry in sentences(HERE / "four_hands.yaml")]
    assert 60 == len(found)
    assert "otherwise" not in found
    assert sum(each in RIGHT for each in found) >= 26


def test_of_four_voices_no_more_are_understood_otherwise() -> None:
    """Sixty of voices that had not seen what is read, as they were first counted: 19 right, 6 otherwise."""
    found = [verdict(entry) for entry in sentences(HERE / "four_voices.yaml")]
    assert 60 == len(found)
    assert found.count("otherwise") <= 6
    assert sum(each in RIGHT for each in found) >= 19


@pytest.mark.parametrize(
    "said",
    [
        "no Barn Cedar in the snow, use Patch Dark instead",
        "at most 2 % Neroli Dream of the cup's oils, less in winter",
        "never lime in white, it belongs in the heart with cedar",
        "no Patch Dark in white except at Christmas",
        "Lilac Lane usually goes last",
        "Lilac Lane needs to be added before Cotton Line",
        "superfat at least 5 %, it may be 3 % with lard",
        "batter around 95 F at most",
        "it goes brown, so no brown cups",
        "Lilac Lane max 2 % of cup oils in dark, Cotton Line 3 %",
        "white is poured first unless Lilac Lane is in it",
    ],
)
def test_half_a_sentence_is_no_rule(said: str) -> None:
    """An exception, a second demand, a "usually" that cannot be said is never dropped to read the rest."""
    assert isinstance(read_sentence(said, book("ten-years")), Unread)


@pytest.mark.parametrize(
    ("of", "said", "as_if"),
    [
        ("ten-years", "Lilac Lane and Cotton Line never above 2 % of the cup oils each",
         "Lilac Lane and Cotton Line each at most 2 % of the cup oils"),
        ("ten-years", "keep Patch Dark to the dark cups", "Patch Dark only in dark cups"),
        ("ten-years", "only brown cups get Lilac Lane", "Lilac Lane only in anything brown"),
        ("seller", "Oat Hearth and Oat Rain are the same, never use both", "never Oat Hearth with Oat Rain"),
        ("", "Water content of the batter not above 30 %", "water in batter at most 30 %"),
        ("", "Without fixative no citrus", "citrus only with fixative"),
    ],
)  # fmt: skip
def test_another_order_says_the_same(of: str, said: str, as_if: str) -> None:
    """What comes first, and a reason before the demand, change nothing."""
    one, other = _rule(said, of), _rule(as_if, of)
    assert one is not None
    assert other is not None
    assert alike(one, other)
