"""Where the system forces its colours: words and drawings stand out from the ground, none is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.show.pages.conftest import Axe, Watched
from tests.show.pages.test_other_pages import KINDS, others

pytestmark = pytest.mark.browser
__all__ = ["others"]
# WCAG 2.2, 1.4.11 (drawings 3:1) and 1.4.3 (words 4.5:1); relative luminance by its own definition.
FAINT = """() => {
  const part = v => v <= .04045 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4;
  const light = c => c.match(/[\\d.]+/g).slice(0, 3).map(v => part(v / 255))
    .reduce((sum, v, n) => sum + v * [.2126, .7152, .0722][n], 0);
  const ground = light(getComputedStyle(document.documentElement).backgroundColor);
  const apart = l => (Math.max(l, ground) + .05) / (Math.min(l, ground) + .05);
  const ratio = c => apart(light(c));
  const seen = c => c.startsWith('rgb') && !/^rgba.*, 0\\)$/.test(c) ? ratio(c) : 0;
  const drawn = [...document.querySelectorAll('svg.bar *, svg.sample *, svg.chart *')]
    .filter(e => ['line', 'rect', 'path', 'circle', 'text'].includes(e.localName) && !e.closest('defs')
      && parseFloat(getComputedStyle(e).strokeOpacity) > .5 && !e.classList.contains('hue'));
  return {
    drawn: drawn.length,
    faint: drawn.filter(e => {
      const style = getComputedStyle(e);
      const most = Math.max(e.localName == 'line' ? 0 : seen(style.fill), seen(style.stroke));
      return most < (e.localName == 'text' ? 4.5 : 3);
    }).map(e => e.outerHTML),
  };
}"""
DRAWN = ("check", "assign", "pair", "review")


def faint(screen: Watched, file: Path) -> dict[str, object]:
    """How much is drawn, and what of it does not stand out from the ground."""
    found: dict[str, object] = screen.at(file).evaluate(FAINT)
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_drawings_stand_out(screen: Watched, others: dict[str, Path], kind: str) -> None:
    """Every line, box and figure of a chart has three times the ground's contrast, every word 4.5 times."""
    for scheme in ("light", "dark"):
        screen.page.emulate_media(forced_colors="active", color_scheme=scheme)
        found = faint(screen, others[kind])
        assert [] == found["faint"]
        assert (kind in DRAWN) <= bool(found["drawn"])


@pytest.mark.parametrize("name", ["harbour-morning", "honey-crown"])
def test_the_sheet_stands_out(screen: Watched, pages: dict[str, Path], name: str) -> None:
    """So do the clock and its key on the bench sheet."""
    for scheme in ("light", "dark"):
        screen.page.emulate_media(forced_colors="active", color_scheme=scheme)
        found = faint(screen, pages[name])
        assert found["drawn"]
        assert [] == found["faint"]


def test_what_is_too_faint_is_found(screen: Watched, pages: dict[str, Path]) -> None:
    """The test can fail: a line in the ground's own colour is told."""
    page = screen.at(pages["harbour-morning"])
    page.evaluate("document.querySelector('svg.axis line').setAttribute('stroke', 'var(--ground)')")
    assert page.evaluate(FAINT)["faint"]


@pytest.mark.parametrize("kind", KINDS)
def test_words_stand_out(axe: Axe, others: dict[str, Path], kind: str) -> None:
    """axe-core finds no word too faint in forced colours, by day and by night."""
    assert [] == axe(others[kind], "forced", 1440)
