"""What a printed page holds: pages, types, rows and overlaps, read from the PDF and from the browser."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.show.pages.conftest import Watched

MM = 25.4 / 72
INSIDE = """() => {
  const mm = e => e.getBoundingClientRect().height / 96 * 25.4;
  const all = s => [...document.querySelectorAll(s)].filter(e => e.getClientRects().length);
  const size = e => parseFloat(getComputedStyle(e).fontSize) * .75;
  const words = e => e.innerText.trim();
  return {
    boxes: all('.front input').map(mm),
    amounts: all('.front .amount').map(size),
    steps: all('.steps .tick > span').map(size),
    minutes: all('.turn:not(.all) b').map(size),
    write: [...all('.turn:not(.heads) .real'), ...all('.blanks tbody td')].map(mm),
    cut: all('.side *').filter(e => e.scrollWidth > e.clientWidth + 2
      && getComputedStyle(e).overflowX == 'hidden'
      && !e.closest("h2") && words(e)).map(words),
    wide: all('.side *').filter(e => !e.closest('svg') && e.getBoundingClientRect().right >
      document.querySelector('.side').getBoundingClientRect().right + 2).map(words),
  };
}"""


@dataclass(frozen=True)
class Printed:
    """A printed file: the text of each page, its least type in pt, overlaps, what the browser laid out."""

    pages: tuple[str, ...]
    least: float
    overlaps: tuple[str, ...]
    inside: dict[str, Any]


def printed(screen: Watched, file: Path, paper: str) -> Printed:
    """Print a file and read it."""
    screen.at(file)
    pdf = screen.page.pdf(format=paper, print_background=True, prefer_css_page_size=True)
    import pdfplumber  # of the extra `web`: only where the pages are tried in a browser

    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        words = [page.extract_words(extra_attrs=["size"], x_tolerance=1.5) for page in opened.pages]
    screen.page.emulate_media(media="print")
    screen.page.set_viewport_size({"width": round(194 / 25.4 * 96), "height": 1000})
    inside = screen.page.evaluate(INSIDE)
    screen.page.emulate_media(media="null")
    return Printed(
        tuple(" ".join(word["text"] for word in page) for page in words),
        min(word["size"] for page in words for word in page),
        tuple(told for page in words for told in overlapping(page)),
        inside,
    )


def overlapping(words: list[dict[str, Any]]) -> Iterator[str]:
    """Words of a page that cover one another by more than a hair."""
    placed = sorted(words, key=lambda word: word["top"])
    for number, one in enumerate(placed):
        for other in placed[number + 1 :]:
            if other["top"] >= one["bottom"] - 2.5:
                break
            across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            if across > 1.5 and min(one["bottom"], other["bottom"]) - other["top"] > 2.5:
                yield f"{one['text']} on {other['text']}"
