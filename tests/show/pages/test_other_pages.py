"""The pages of the rulebook, of a pairing and of the notebook, in a real browser and as text."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.cup.question import Asked
from blendwise.answers.review.compute import read
from blendwise.answers.review.result import ReviewResult
from blendwise.beliefs.kept import shelf_of
from blendwise.beliefs.learning.learn import learn_one
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.quantity import METRIC
from blendwise.records.as_of import AsOf
from blendwise.show.assign.blocks import assign_blocks
from blendwise.show.check.brief import brief_blocks
from blendwise.show.check.figures import figures
from blendwise.show.cup.page import cup_page
from blendwise.show.pages.answer import answer_page
from blendwise.show.pages.render import plainly
from blendwise.show.pair.advice import honest, whole_shares
from blendwise.show.pair.page import axis_top, pair_page
from blendwise.show.review.asked import figures as asked_figures
from blendwise.show.review.asked import heading
from blendwise.show.review.blocks import review_blocks
from blendwise.show.review.page import review_page
from blendwise.show.rules.page import rules_page
from blendwise.show.shelf.brief import shelf_brief
from blendwise.show.shelf.figures import figures as shelf_figures
from tests.cli.conftest import Run, run
from tests.show.pages.conftest import DAY, DEMO, Axe, Watched
from tests.show.pages.hostile import QUOTES, SCRIPT, hostile_book
from tests.show.pages.paper import printed

__all__ = ["run"]
KINDS = (
    "check",
    "shelf",
    "assign",
    "rules",
    "pair",
    "pair of three",
    "review",
    "review of hostile names",
    "review of rules",
    "review of an oil",
    "review of versions",
    "cup",
    "cup of hostile names",
)


LEAST_TYPE, LEAST_BOX = 8.95, 6.45  # pt, mm: those of the bench sheet, less a hair


def asked_page(book: Book, result: ReviewResult) -> str:
    """The page of a review of which a part was asked for, as the command writes it."""
    blocks = review_blocks(result, book.files.scales)
    return answer_page(heading(blocks, result), blocks, result.units, list(asked_figures(result)))


@pytest.fixture(scope="module")
def others(demo: Book, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A file of each kind of page, with harmful names where a book can have them."""
    folder = tmp_path_factory.mktemp("others")
    hostile = Book(hostile_book(folder))
    check, assign = demo.check("orchard-wall", on=AsOf(DAY)), demo.assign("honey-crown", on=AsOf(DAY))
    shelf = demo.shelf("lime", on=AsOf(DAY))
    assert assign.check is not None
    made = {
        "check": answer_page("check", brief_blocks(check), check.units, list(figures(check))),
        "assign": answer_page("split", assign_blocks(assign), assign.units, list(figures(assign.check))),
        "shelf": answer_page("shelf", shelf_brief(shelf), shelf.units, list(shelf_figures(shelf))),
        "rules": rules_page(
            demo.rules(), demo.files.pours, records=demo.review(on=AsOf(DAY), rules=True).rules
        ),
        "review of rules": asked_page(demo, demo.review(on=AsOf(DAY), rules=True)),
        "review of an oil": asked_page(demo, demo.review(on=AsOf(DAY), scent="tonka-milk")),
        "review of versions": asked_page(demo, demo.review(on=AsOf(DAY), variations=True)),
        "pair": pair_page(demo.pair("tonka-milk", "lime", on=AsOf(DAY))),
        "pair of three": pair_page(hostile.pair(SCRIPT, "market-find", "cedar", on=AsOf(DAY))),
        "review": review_page(demo.whole_review(on=AsOf(DAY)), demo.files.scales),
        "review of hostile names": review_page(hostile.whole_review(on=AsOf(DAY)), hostile.files.scales),
        "cup": cup_page(demo.cup(Asked(["tonka-milk"], doses="2 %, 4 %, 6 %"), on=AsOf(DAY))),
        "cup of hostile names": cup_page(hostile.cup(Asked(portion=SCRIPT), "hostile", on=AsOf(DAY))),
    }
    files = {kind: folder / f"{kind}.html" for kind in made}
    for kind, html in made.items():
        files[kind].write_text(html, "utf-8")
    return files


@pytest.mark.browser
@pytest.mark.parametrize("kind", KINDS)
def test_a_page_holds_in_the_browser(screen: Watched, axe: Axe, others: dict[str, Path], kind: str) -> None:
    """Nothing is asked for, said, run or cut off, and axe-core finds nothing amiss, wide and narrow."""
    file = others[kind]
    for width in (360, 768, 1440):
        page = screen.at(file, width)
        assert width >= page.evaluate("document.documentElement.scrollWidth")
        assert page.evaluate("window.ran === undefined && document.scripts.length === 0")
    assert [] == screen.said
    assert {file.as_uri()} == {url for url in screen.asked if not url.startswith("data:")}
    for width in (360, 1440):
        assert [] == axe(file, "screen", width)
    assert [] == axe(file, "print", 760)


@pytest.mark.browser
def test_a_cup_prints_on_one_page_as_large_as_the_bench_sheet(
    screen: Watched, others: dict[str, Path]
) -> None:
    """Three doses beside their control stand on one page, with first aid and the bench's boxes and type."""
    file = others["cup"]
    for paper in ("A4", "Letter"):
        shown = printed(screen, file, paper)
        assert 1 == len(shown.pages)
        assert shown.least >= LEAST_TYPE
        assert "In eyes:" in shown.pages[0]
        assert "On skin:" in shown.pages[0]
    screen.page.emulate_media(media="print")
    boxes = "[...document.querySelectorAll('input')].map(e => e.getBoundingClientRect().height / 96 * 25.4)"
    assert min(screen.page.evaluate(boxes)) >= LEAST_BOX


@pytest.mark.parametrize("kind", KINDS)
def test_a_page_is_small_and_alone(others: dict[str, Path], kind: str) -> None:
    """Each file is below 300 KB, names no other file, and carries no script."""
    html = others[kind].read_text("utf-8")
    assert len(html.encode()) < 300_000
    assert "<script" not in html
    assert "http" not in html.replace("http-equiv", "")
    assert QUOTES not in html


def test_the_booklet_holds_every_rule_and_every_pour(demo: Book, others: dict[str, Path]) -> None:
    """Each rule that counts is there by name with its reason, and each pour with what it asks."""
    html = others["rules"].read_text("utf-8")
    rules = demo.rules().rules
    assert len(rules) == html.count('aria-labelledby="rule-')
    assert [] == [name for name in demo.files.pours if f"<bdi>{name}</bdi>" not in html]


def test_a_pairing_shows_every_ratio_and_colour(demo: Book) -> None:
    """Each ratio has its bar within the axis, each colourant its colour before and after, in words too."""
    result = demo.pair("tonka-milk", "lime", on=AsOf(DAY))
    html = pair_page(result)
    assert len(result.region) + len(result.pours) == html.count('<svg class="bar"')
    assert len(result.colours) == html.count('<svg class="swatch"')
    assert max(cap.most or 0.0 for cap in result.region) <= axis_top(result)
    assert all(f'fill="{fit.cured[1]}"' in html for fit in result.colours)


def test_the_notebook_shows_every_expectation(demo: Book) -> None:
    """Each thing expected stands beside what was seen; colours by swatch and word; each oil has its looks."""
    whole = demo.whole_review(on=AsOf(DAY))
    html = review_page(whole, demo.files.scales)
    assert len(whole.reviewed.compared) == html.count('<th scope="row"')
    assert len(whole.oils) == html.count("<details>") > 0
    assert [oil.subject for oil in whole.oils if not oil.looks] == []


def test_the_notebook_begins_with_what_surprised(demo: Book) -> None:
    """Surprises stand before the log, each once and drawn; every belief has its bar."""
    whole = demo.whole_review(on=AsOf(DAY))
    html = review_page(whole, demo.files.scales)
    odd = [row for row in whole.reviewed.compared if row.verdict not in ("", "as expected")]
    first, log = html.split("Every batch, look by look")
    assert len(odd) == first.count('class="turn odd"') > 0
    assert len(odd) == len(re.findall(r'aria-label="[^"]+ expected, [^"]+ seen"', first))
    told = html.split("Every belief, before and now")[1]
    beliefs = [belief for oil in whole.oils for belief in oil.beliefs]
    assert len(beliefs) == told.count("less doubt</b>") + told.count("no surer yet")
    sure = max(1 - belief.sd / belief.prior_sd for belief in beliefs)
    assert f"{round(100 * sure)} % less doubt" in first
    assert "<table" in log


def test_beliefs_narrow_over_time_to_what_is_believed_now(demo: Book) -> None:
    """A story begins with the prior, ends with today's belief, and the band does not widen by a look."""
    whole = demo.whole_review(on=AsOf(DAY))
    assert 6 == len(whole.stories)
    html = review_page(whole, demo.files.scales)
    assert len(whole.stories) == html.count('class="bar narrowing"')
    for story in whole.stories:
        change, first, last = story.change, story.moments[0], story.moments[-1]
        spread = 1.2816 * change.prior_sd  # Φ⁻¹(0.9), of a normal distribution
        assert first.high - first.low == pytest.approx(2 * spread, rel=1e-3)
        assert (change.low, change.mean, change.high) == (last.low, last.middle, last.high)
        widths = [moment.high - moment.low for moment in story.moments]
        assert all(b <= a + 1e-6 for a, b in pairwise(widths))
        assert [moment.since for moment in story.moments] == sorted(moment.since for moment in story.moments)


def test_one_belief_by_itself_is_that_of_all(demo: Book) -> None:
    """What one regression learns of an oil is what the whole shelf's says of it on the same day."""
    reading = read(demo.files, DAY)
    shelf = shelf_of(demo.files)
    for oil, learned in list(reading.lessons.oils.items())[:6]:
        found = learn_one("browning", oil, reading.batches, shelf)
        if learned.browning is None:
            assert found is None
        else:
            assert found is not None
            assert (found.mean, found.sd) == pytest.approx((learned.browning.mean, learned.browning.sd))


def test_every_look_at_a_colour_has_its_patch(demo: Book) -> None:
    """Colours through the weeks: a patch a look at its day, its word beside it, the expected band below."""
    whole = demo.whole_review(on=AsOf(DAY))
    html = review_page(whole, demo.files.scales)
    looks = sum(len(each.shades) for each in whole.weeks)
    bands = sum(bool(each.expected) for each in whole.weeks)
    chart = html[html.index("Colours through the weeks") : html.index("Every batch, look by look")]
    assert looks + bands == chart.count('class="hue"') > len(whole.weeks)
    assert [] == [s.word for each in whole.weeks for s in each.shades if f">{s.word}</b>" not in chart]


def test_every_option_of_a_review_makes_its_own_page(run: Run, tmp_path: Path) -> None:
    """What is asked of rules, an oil, versions or numbers stands on the page; no two pages are the same."""
    made = set()
    for number, option in enumerate(([], ["--rules"], ["--scent", "lime"], ["--variations"], ["--numbers"])):
        file = tmp_path / f"{number}.html"
        ran = run("review", *option, "--page", str(file), "--book", str(DEMO), "--today", "2026-11-25")
        assert CLEAN == ran.code, ran.err
        made.add(file.read_text("utf-8"))
    assert 5 == len(made)


def test_shares_of_six_oils_sum_to_a_hundred() -> None:
    """Equal parts of six are 17 and 16, never six times 17; a colour that changes its name does not stay."""
    assert [17, 17, 17, 17, 16, 16] == whole_shares([1 / 6] * 6)
    assert 100 == sum(whole_shares([0.335, 0.335, 0.33]))


def test_a_colour_that_changes_its_name_does_not_stay(demo: Book) -> None:
    """Under "stay" and "keep their name" every colour is called cured what it was called as planned."""
    result = demo.pair("tonka-milk", "lime", on=AsOf(DAY))
    kept = [fit for fit in result.colours if honest(fit) in ("stays", "warms")]
    assert kept
    assert all(set(fit.cured_words) == {fit.planned_word} for fit in kept)
    assert any(honest(fit) == "renamed" for fit in result.colours)


@pytest.mark.parametrize("command", ["check", "assign"])
def test_a_plan_is_a_picture_with_its_words(run: Run, tmp_path: Path, command: str) -> None:
    """A page of check and assign: how the cups lie, fresh and cured, their minutes, the terminal's words."""
    file = tmp_path / "plan.html"
    plan = str(DEMO / "plans" / "orchard-wall.yaml")
    ran = run(command, plan, "--page", str(file), "--today", "2026-11-25")
    html = file.read_text("utf-8")
    assert FINDINGS == ran.code
    words = run(command, plan, "--plain", "--today", "2026-11-25").out
    verdict = words.split("\n")[1]
    assert verdict.split(":")[0] in html
    if command == "check":  # assign found no split, so that it has nothing to draw
        assert 'class="cut"' in html
        assert 5 == html.count('class="swatch"')
        assert "too short" in html


def test_a_page_of_a_pairing_says_no_rules_name(demo: Book) -> None:
    """What stops a ratio and what the rules say stand in the maker's words, with the unit on the axis."""
    html = pair_page(demo.pair("tonka-milk", "lime", on=AsOf(DAY)))
    assert [] == [each.rule for each in demo.rules().rules if "-" in each.rule and each.rule in html]
    assert "browning shows in light" in html
    assert "browning band" not in html
    assert '<span class="small">% of batch oils</span>' in html


def test_the_shelf_is_a_chart(demo: Book) -> None:
    """Each oil with a bound has its bar under its verdict, and the load asked for is drawn."""
    result = demo.shelf("lime", on=AsOf(DAY))
    (figure,) = shelf_figures(result)
    bounded = [row for row in result.rows if row.most]
    assert len(bounded) == str(figure.drawn).count(": up to ") > 10
    assert "4 % of batch oils asked for" in figure.said


def test_doses_are_drawn_to_one_axis(demo: Book) -> None:
    """Each cup's bar is as long as its dose, its parts as the grams of each oil; none past a harm."""
    check = demo.check("harbour-morning", on=AsOf(DAY))
    drawn = {figure.heading: str(figure.drawn) for figure in figures(check)}
    for row in check.grams:
        held = [mass for mass in row.scents.values() if mass]
        label = f'aria-label="{row.portion}: '
        bar = drawn["Scent in each cup"].split(label)[1].split("</svg>")[0]
        wide = [float(each) for each in re.findall(r'<rect x="[\d.]+%" width="([\d.]+)%"', bar)]
        assert len(held) == len(wide)
        top = 1.1 * max(each.dose for each in check.grams)
        assert sum(wide) == pytest.approx(100 * row.dose / top, abs=0.05)
    harm = demo.check("clove-hearth", on=AsOf(DAY))
    assert harm.not_to_be_made
    assert "Scent in each cup" not in [figure.heading for figure in figures(harm)]


@pytest.mark.parametrize("name", ["greenhouse-morning", "honey-crown"])
def test_the_clock_of_a_check_is_that_of_the_sheet(demo: Book, name: str) -> None:
    """Splitting, colouring, stirring and the quick day are the sheet's minutes for the same doses."""
    sheet = demo.sheet(name, on=AsOf(DAY), evenly=True)
    drawn = demo.check(name, on=AsOf(DAY)).drawn
    assert drawn is not None
    assert sheet.clock is not None
    assert (sheet.clock.split_by, sheet.clock.coloured_from) == (drawn.split_by, drawn.coloured_from)
    for turn in sheet.clock.turns:
        cup = drawn.cups[turn.number - 1]
        assert (turn.must_run, turn.portion) == (cup.must_run, cup.portion)
        assert cup.stirred_by == pytest.approx(turn.stirred_by, abs=0.1)
        assert cup.quick_day == pytest.approx(turn.quick_day, abs=0.3)


def test_what_is_piped_is_not_too_late(demo: Book) -> None:
    """The top of a piped pour is wanted thick: no minute of it is told as too short."""
    page = answer_page("x", [], METRIC, list(figures(demo.check("honey-crown", on=AsOf(DAY)))))
    row = page.split("<bdi>crown</bdi></strong></div><div class=face>")[-1]
    assert "may be thick: it is spooned or piped" in row.split("class='turn")[0]


def test_a_number_is_never_parted_and_no_backtick_shows(others: dict[str, Path]) -> None:
    """What a terminal types in backticks is code on a page; "8 %" breaks nowhere; markup stays text."""
    told = str(plainly("ask `blendwise cup <x>`: 8 % at 30 °C"))
    assert told == "ask <code>blendwise cup &lt;x&gt;</code>: 8\u00a0% at 30\u00a0°C"
    for kind in ("check", "assign", "shelf"):
        body = others[kind].read_text("utf-8").split("</style>")[1]
        assert "`" not in body, kind


def test_a_check_says_which_version_is_drawn(demo: Book) -> None:
    """Where it speaks of a version, the picture of doses says that it is not that one's."""
    check = demo.check("greenhouse-morning", on=AsOf(DAY))
    assert "deep" in {each.version for each in check.findings}
    said = [each.said for each in figures(check)]
    assert "Drawn as the plan is written, not version deep." in said
    plain = demo.check("rain-jar", on=AsOf(DAY))
    assert not [each for each in figures(plain) if "Drawn as" in each.said]


def test_what_came_out_and_what_surprised_are_all_that_was_expected(demo: Book) -> None:
    """The counts of the verdict and of the pictures add up to one total."""
    whole = demo.whole_review(on=AsOf(DAY))
    good = sum(line.as_expected for line in whole.reviewed.batches)
    page = review_page(whole, demo.files.scales)
    told = re.search(r"(\d+) of (\d+) things of which", page)
    assert told is not None
    assert int(told[1]) + good == int(told[2])


def test_a_flammable_oil_stands_at_the_top_of_its_pair(demo: Book) -> None:
    """Rosemary flashes at 45 °C in the catalogue: said before the first chart."""
    page = pair_page(demo.pair("rosemary", "cedar", on=AsOf(DAY)))
    top = page.split("<section")[0]
    assert '<span class="tag">flammable</span>' in top
    assert "rosemary" in top.partition("flammable</span>")[2]
