"""The band with its doubt: a content is read to about half a band, a band that was seen as all of it."""

from __future__ import annotations

import pytest

from blendwise.beliefs.believe import believed
from blendwise.beliefs.lessons import Belief as Trait
from blendwise.beliefs.lessons import Learned
from blendwise.beliefs.traits import READING_DOUBT, USUAL_BATTER_TO_OILS, USUAL_DOSE, traits_of
from blendwise.facts.tables import table, vocabulary
from blendwise.judge.conditions import logic
from blendwise.judge.conditions.conditions import Atom, Limit
from blendwise.judge.findings.evaluate import Facts, truth
from tests.beliefs.makers import make_scent, scales
from tests.facts.small import bent, column, worked

SCALES = scales()
EDGES = [step.up_to.high for step in SCALES.bands if step.up_to is not None]


def browner(**fields: object) -> tuple[float, float, float]:
    """(least, middle, most) of what an oil is believed to brown by."""
    found = traits_of(make_scent("a", **fields), SCALES, USUAL_DOSE, USUAL_BATTER_TO_OILS).browner
    return found.ends[0], found.low, found.ends[1]


def test_a_stated_content_is_read_to_half_a_band() -> None:
    """Two per cent of vanillin may look like 1.4 or like 2.8; none at all looks like none."""
    found = browner(vanillin="2 %", **{"browns by": {}})
    assert found == pytest.approx((0.02 / READING_DOUBT, 0.02, 0.02 * READING_DOUBT))
    assert browner(vanillin="0 %", **{"browns by": {}}) == (0, 0, 0)


@pytest.mark.parametrize(("evidence", "wider"), [("own batch", 1.0), ("supplier", READING_DOUBT)])
def test_a_band_that_was_seen_is_any_load_of_it(evidence: str, wider: float) -> None:
    """Tan, seen at 4 % of oils: from where beige ends to where brown begins; hearsay a little further."""
    least, middle, most = browner(**{"browns to": {"band": "tan", "at": "4 % of oils", "evidence": evidence}})
    per_load = (USUAL_BATTER_TO_OILS + 0.04) / 0.04
    assert least == pytest.approx(EDGES[2] * per_load / wider)
    assert most == pytest.approx(EDGES[3] * per_load * wider)
    assert least < middle < most


def test_own_looks_narrow_it() -> None:
    """What looks have taught gives its own ends, nearer than the reading of a bottle's label."""
    scent = make_scent("a", vanillin="2 %", **{"browns by": {}})
    traits = traits_of(scent, SCALES, USUAL_DOSE, USUAL_BATTER_TO_OILS)
    learned = Learned(browning=Trait(-3.9, 0.05, -3.9, 0.5, 4, 4))
    after = believed(traits, scent, learned, SCALES, USUAL_DOSE, USUAL_BATTER_TO_OILS, careful=False)
    wide, narrow = (each.browner.ends[1] / each.browner.ends[0] for each in (traits, after))
    assert 1 < narrow < wide


def test_the_band_carries_its_ends_and_what_would_narrow_them() -> None:
    """A portion near an edge is in its band, and perhaps in the next; an own look would settle it."""
    for parts in (1, 2, 3, 5, 9):
        s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", f"{{tonka: 1, lime: {parts}, cedar: 1}}")))
        band, load = column(s, "browning band"), column(s, "browning load")
        assert (load.outer[0] < load.low).any()
        assert (band.outer[0] <= band.low).all()
        assert (band.outer[1] >= band.high).all()
        facts = {(m.subject, m.fact) for told in band.narrowed_by.values() for m in told}
        assert ("tonka", "browns to") in facts


def test_an_edge_is_tight_and_what_is_far_past_it_is_broken() -> None:
    """Held to a band: a load that only its doubt brings past the edge is tight, one far beyond is broken."""
    seen = set()
    for share in (1, 2, 4, 8, 16, 40, 100):
        s = worked(bent(("{tonka: 1, lime: 2, cedar: 1}", f"{{tonka: 1, lime: {share}, cedar: 1}}")))
        facts = Facts(table(s, "portion"))
        atom = Atom(vocabulary()["browning band"], "at most", (Limit(1.0, text="cream"),))
        when = truth(atom, facts) * 0 + 2
        inner, outer = (logic.outcome(when, truth(atom, facts, outer=each)) for each in (False, True))
        seen |= {int(each) for each in logic.doubted(inner, outer, harsh=False)}
    assert {logic.HOLDS, logic.TIGHT, logic.BROKEN} <= seen
