"""The bar as limits see it, against numbers worked by hand; and what is refused as no part of a bar."""

from __future__ import annotations

import pytest

from blendwise.facts.situation.worked_out import Situation
from blendwise.records import RecordError
from tests.facts.small import value, values, worked

# 1000 g of oils, 140 g of NaOH, 284 g of water (33 % lye); 40 g of lime, whose limit is 3.42 % of the bar.
TEXT = """\
plan: hand
recipe:
  oils: {{olive: 1000 g}}
  lye: {{NaOH: 140 g, water: {water} g}}
  additives: {{{additives}}}
process: {{cure loss: {loss}}}
portions:
  - {{name: a, share: 60 %}}
  - {{name: b, share: 40 %}}
{more}
scents: {{blend: {{lime: 1}}, load: 4 % of batch oils}}
"""


def hand(additives: str = "", loss: str = "0 %", water: int = 284, more: str = "") -> Situation:
    """The recipe above with one thing changed."""
    return worked(TEXT.format(additives=additives, loss=loss, water=water, more=more))


def test_the_dried_bar_by_hand() -> None:
    """(1000 + 140 + 40) ÷ 0.94 = 1255.32 g; 40 g are 3.186 % of it, 93.17 % of the limit (derived)."""
    s = hand()
    assert value(s, "dried mass") == pytest.approx(1255.32, abs=0.005)
    assert value(s, "limit used") == pytest.approx(0.9317, abs=0.0001)
    assert values(s, "limit used in portion") == pytest.approx([0.9317] * 2, abs=0.0001)


@pytest.mark.parametrize("additives", ["milk: 300 g", "water: 300 g", "green tea: 45 %", "fairy dust: 3 kg"])
def test_water_and_what_is_unknown_dilute_next_to_nothing(additives: str) -> None:
    """Milk leaves its 12 % of solids, tea its trace; what the table does not know leaves nothing."""
    assert value(hand(additives), "limit used") > 0.9317 * 1180 / (1180 + 0.13 * 300) - 0.0001


def test_salt_counts_as_far_as_a_bar_can_hold_it() -> None:
    """500 g of salt are 500 g more solids: 40 ÷ ((1180 + 500) ÷ 0.94) (derived)."""
    assert value(hand("salt: 500 g"), "scent in bar") == pytest.approx(40 * 0.94 / 1680)


def test_a_stated_cure_loss_only_makes_it_stricter() -> None:
    """None and 12 % leave it; 18 % of 1424 g leave 27.7 g of water: 40 ÷ (1180 + 27.68) (derived)."""
    usual = value(hand(), "scent in bar")
    assert value(hand(loss="12 %"), "scent in bar") == pytest.approx(usual)
    assert value(hand(loss="18 %"), "scent in bar") == pytest.approx(40 / (1180 + 284 - 0.18 * 1424))
    assert value(hand(loss="0 to 18 %"), "scent in bar") > usual


def test_more_water_in_the_lye_changes_no_limit() -> None:
    """It all leaves down to 6 %."""
    assert value(hand(water=420), "limit used") == pytest.approx(value(hand(), "limit used"))


@pytest.mark.parametrize(
    ("additives", "more", "said"),
    [("salt: 3 kg", "", "salt: 3000 g are 300 %"), ("kaolin clay: 20 %", "", "more than 10 %"),
     ("", "embeds: [{what: cubes, mass: 3 kg, scents: {}}]", "All embeds")],
)  # fmt: skip
def test_heaps_are_refused(additives: str, more: str, said: str) -> None:
    """Beyond a plausible share it is a slip, and said at its line."""
    with pytest.raises(RecordError, match=said):
        hand(additives, more=more)


def test_oil_mixed_in_is_a_part_of_its_portion() -> None:
    """5 kg of it are refused; 120 g in 600 g of oils count for 15 %, 90 g."""
    with pytest.raises(RecordError, match="Oil mixed in"):
        worked(TEXT.format(additives="", loss="0 %", water=284, more="").replace(
            "share: 60 %}", "share: 60 %, mixed in: {olive: 5 kg}}"))  # fmt: skip
    s = worked(TEXT.format(additives="", loss="0 %", water=284, more="").replace(
        "share: 60 %}", "share: 60 %, mixed in: {olive: 120 g}}"))  # fmt: skip
    assert value(s, "dried mass") == pytest.approx((1180 + 90) / 0.94)


@pytest.mark.parametrize("amount", ["", "{mould: cavities, cavities: 6}", "{bars: 6}"])
def test_a_cavity_is_asked_however_its_oils_are_given(amount: str) -> None:
    """The pour that lets nothing touch makes each portion a bar, by mass as well."""
    text = TEXT.format(additives="", loss="0 %", water=284, more="pour: single colour")
    s = worked(text.replace("  lye:", f"  amount: {amount}\n  lye:", 1) if amount else text)
    assert value(s, "portions are bars") == 1
