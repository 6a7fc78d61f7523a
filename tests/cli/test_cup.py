"""``blendwise cup`` beside the demo: what it refuses and keeps, its notes, and advice that names it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
import yaml

from tests.strangers.books import DEMO
from tests.strangers.runs import Ran, ran

DAY, POT, WEEK = "2026-11-25", "2026-11-28", "2027-01-04"


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """A copy of the demo."""
    shutil.copytree(DEMO, tmp_path / "demo")
    return tmp_path / "demo"


def cup(book: Path, *words: str, day: str = DAY) -> Ran:
    """One run of the command on the day."""
    return ran("cup", *words, "--book", book, "--today", day)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("nobody-has-it",), "nobody-has-it"),
        ((), "No oil is named"),
        (("tonka-milk", "lime", "--lots", "A, B"), "for one oil"),
        (("tonka-milk", "--size", "5 g"), "no test cup"),
        (("tonka-milk", "--size", "2 kg"), "no test cup"),
        (("tonka-milk", "--doses", "40 %"), "not one that soap is made with"),
        (("tonka-milk", "--doses", "1%,2%,3%,4%,5%,6%,7%"), "at most 6"),
        (("tonka-milk", "--coloured"), "A portion belongs to a plan"),
        (("tonka-milk", "--portion", "milk"), "A portion belongs to a plan"),
        (("tonka-milk", "--colour", "plaid"), "plaid"),
        (("tonka-milk", "--plan", "greenhouse-morning", "--portion", "attic"), "attic"),
        (("burnt-sugar", "--plan", "greenhouse-morning"), "No burnt-sugar goes into any portion"),
        (("burnt-sugar", "--plan", "greenhouse-morning", "--portion", "milk"), "goes into milk"),
        (("--plan", "greenhouse-morning"), "Neither an oil nor a portion"),
        (("tonka-milk", "--ratio", "2:1"), "2 parts for 1 oil"),
    ],
)
def test_what_cannot_be_understood_is_said(demo: Path, words: tuple[str, ...], told: str) -> None:
    """Exit 2, one sentence that names the slip, and nothing written."""
    run = cup(demo, *words, "--keep")
    assert run.code == 2
    assert told in run.err
    assert not list((demo / "notes").glob("*cup*"))


def test_nothing_is_written_unless_it_is_kept(demo: Path, tmp_path: Path) -> None:
    """Asking leaves the book as it is; --keep and --page keep one record, the same cup twice only once."""
    before = sorted((demo / "notes").iterdir())
    assert cup(demo, "tonka-milk").code == 0
    assert before == sorted((demo / "notes").iterdir())
    assert "Kept in notes/2026-11-25-cup-tonka-milk.yaml" in cup(demo, "tonka-milk", "--keep").out
    assert "Kept in" in cup(demo, "tonka-milk", "--page", str(tmp_path / "cup.html")).out
    assert len(list((demo / "notes").glob("*cup*"))) == 1
    cup(demo, "tonka-milk", "--doses", "2 %", "--keep")
    assert len(list((demo / "notes").glob("*cup*"))) == 2


def test_a_cup_is_poured_on_the_day_of_its_first_look(demo: Path) -> None:
    """Set out one day and poured three days later, its looks count from the pour; no look is taken twice."""
    cup(demo, "tonka-milk", "--keep")
    where = ("--book", demo, "--today", POT)
    assert "cup-tonka-milk" not in ran("note", "--due", *where).out
    saw = (
        "note",
        "cup-tonka-milk",
        "--saw",
        "control: thick at 24",
        "--saw",
        "cup 1: thick at 6, ricing none",
    )
    told = ran(*saw, *where)
    assert "4 times as fast" in " ".join(told.out.split())
    note = yaml.safe_load((demo / "notes" / f"{POT}-cup-tonka-milk-pot.yaml").read_text("utf-8"))
    assert (str(note["poured"]), note["test cup"], note["batch"]) == (POT, True, "cup-tonka-milk 2026-11-25")
    assert ran(*saw, *where).code == 2
    assert "cup-tonka-milk" in ran("note", "--due", "--book", demo, "--today", "2026-12-06").out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("cup-tonka", "--saw", "cup 1: colour tan"), 'nearest test cup is "cup-tonka-milk"'),
        (("cup-tonka-milk",), "Nothing was said"),
        (("cup-tonka-milk", "--saw", "cup 9: colour tan"), 'No portion "cup 9"'),
        (("cup-tonka-milk", "--dose", "cup 1: tonka-milk 9 g"), "noted already"),
        (("cup-tonka-milk", "--saw", "cup 1: colour plaid"), "plaid"),
        (("cup-tonka-milk", "--saw", "cup 1: colour tan", "--on", "2027-05-01"), "future"),
        (("cup-tonka-milk", "--saw", "cup 1: colour tan", "--lot", "tonka-milk=B-9"), "as it was set out"),
    ],
)
def test_a_note_that_cannot_be_true_is_refused(demo: Path, words: tuple[str, ...], told: str) -> None:
    """What was not set out, a day to come, other doses than those kept: exit 2 and no note."""
    cup(demo, "tonka-milk", "--keep")
    run = ran("note", *words, "--book", demo, "--today", POT)
    assert (run.code, len(list((demo / "notes").glob("*cup*")))) == (2, 1)
    assert told in run.err


def test_lots_in_a_row_are_each_their_own(demo: Path) -> None:
    """Two lots of one oil side by side: what the slow one showed is not believed of the quick one."""
    told = cup(demo, "linen-line", "--lots", "LL-88, LL-99", "--keep")
    assert "LL-99" in told.out
    where = ("--book", demo, "--today", POT)
    saw = ("--saw", "control: thick at 24", "--saw", "cup 1: thick at 23", "--saw", "cup 2: thick at 4")
    assert ran("note", "cup-linen-line", *saw, *where).code == 0

    def minutes() -> float:
        side = ran("pair", "linen-line", *where, "--json").document["sides"][0]
        return float(side["thickening"]["high"])

    first = minutes()
    shelf = demo / "scents.yaml"
    shelf.write_text(shelf.read_text("utf-8").replace("lot: LL-88", "lot: LL-99"), "utf-8")
    assert minutes() > first


def test_a_cup_of_the_new_lot_answers_the_caution(demo: Path) -> None:
    """Advice that ends in a cup names the command; once the cup is noted the caution is gone."""
    plan = demo / "plans" / "greenhouse-morning.yaml"
    asked = ("check", plan, "--today", DAY)
    flat = " ".join(ran(*asked).out.split())
    assert "comes from another lot" in flat
    assert "`blendwise cup tonka-milk --plan greenhouse-morning`" in flat
    kept = cup(demo, "tonka-milk", "--plan", str(plan), "--keep", "--json").document
    assert "comes from another lot" in " ".join(ran(*asked).out.split())
    saw = ("--saw", "control: thick at 24", "--saw", "cup 1: thick at 20")
    assert ran("note", kept["name"], *saw, "--book", demo, "--today", DAY).code == 0
    assert "comes from another lot" not in " ".join(ran(*asked).out.split())


def test_a_cup_describes_an_oil_of_which_nothing_was_known(demo: Path) -> None:
    """An oil with a certificate and no more: the cup closes how it thickens, rices and browns."""
    shelf = demo / "scents.yaml"
    paper = "{most: 9 %, category: 9, certificate: 51st amendment, dated: 2026-01-10}"
    entry = f"new-oil:\n  kind: fragrance oil\n  for skin: yes\n  limit in bar: {paper}\n  lot: N-1\n"
    shelf.write_text(f"{shelf.read_text('utf-8')}\n{entry}", "utf-8")
    where = ("--book", demo)
    before = ran("pair", "new-oil", *where, "--today", DAY, "--json").document
    assert {"acceleration", "ricing", "after six weeks"} <= set(before["sides"][0]["not_known"])
    assert "nobody-has-described-it" in {each["rule"] for each in before["check"]["findings"]}
    cup(demo, "new-oil", "--keep")
    pot = ("--saw", "control: thick at 24", "--saw", "cup 1: thick at 20, ricing none")
    assert ran("note", "cup-new-oil", *pot, *where, "--today", DAY).code == 0
    assert (
        ran(
            "note", "cup-new-oil", "--saw", "cup 1: colour cream, strength fair", *where, "--today", WEEK
        ).code
        == 0
    )
    after = ran("pair", "new-oil", *where, "--today", WEEK, "--json").document
    side = after["sides"][0]
    assert not {"acceleration", "ricing", "after six weeks"} & set(side["not_known"])
    assert (side["ricing"], side["acceleration_by"], side["browning_by"]) == ("none", "own cup", "own cup")
    assert "nobody-has-described-it" not in {each["rule"] for each in after["check"]["findings"]}
    assert "own cup" in {each["evidence"] for each in after["sides"]}


def test_each_by_itself_is_dosed_as_where_it_is_strongest(demo: Path) -> None:
    """--apart sets a cup for each oil, at its own greatest dose in the plan and not at the sum of theirs."""
    rows = ran("check", demo / "plans" / "milk-and-toffee.yaml", "--json", "--today", DAY).document["grams"]
    oils = ("burnt-sugar", "benzoin")
    most = {oil: max(row["scents"].get(oil, 0.0) / row["oils"] for row in rows) for oil in oils}
    document = cup(demo, *oils, "--apart", "--plan", "milk-and-toffee", "--json").document
    assert [tuple(each["what"] for each in one["scents"]) for one in document["cups"]] == [
        (),
        ("burnt-sugar",),
        ("benzoin",),
    ]
    for one in document["cups"][1:]:
        assert one["dose"] == pytest.approx(
            most[one["scents"][0]["what"]], abs=0.0008
        )  # half a step of 0.1 g


def test_a_cup_is_no_batch(demo: Path) -> None:
    """The review counts batches, the record of the rules too; a cup is reviewed by its own name."""
    before = [ran("review", *more, "--book", demo, "--today", WEEK).out for more in ((), ("--rules",))]
    cup(demo, "tonka-milk", "--keep")
    saw = ("--saw", "control: thick at 24", "--saw", "cup 1: thick at 20, ricing none")
    ran("note", "cup-tonka-milk", *saw, "--book", demo, "--today", DAY)
    after = [ran("review", *more, "--book", demo, "--today", WEEK).out for more in ((), ("--rules",))]
    assert before == after
    assert "cup-tonka-milk" in ran("review", "cup-tonka-milk", "--book", demo, "--today", WEEK).out
    assert "cup-tonka-milk" not in ran("doctor", "--book", demo, "--today", DAY).out
