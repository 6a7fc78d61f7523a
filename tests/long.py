"""Long proofs, apart from the suite: ``python tests/long.py`` lists them, with NAME it runs one.

A proof prints what it did and found, and returns whether all of it held.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

Proof = Callable[..., bool]
PROOFS: dict[str, Proof] = {}


def proof(run: Proof) -> Proof:
    """Enter a proof under its function's name."""
    PROOFS[run.__name__] = run
    return run


@proof
def books() -> bool:
    """300 generated plans in 60 books with looks are checked: no fault of ours, at least 95 % can be read."""
    from tests.strangers.books import a_book
    from tests.strangers.runs import ran

    codes: Counter[int] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(60):
            for plan in a_book(Path(folder, str(seed)), seed).plans:
                run = ran("check", plan, "--json")
                codes[run.code] += 1
                if run.code not in (0, 1, 2) or "Traceback" in run.out + run.err:
                    print(f"book {seed}, {plan.name}: exit {run.code}\n{run.err}")
    print(f"checked {codes.total()} plans; exit codes {dict(codes)}")
    return set(codes) <= {0, 1, 2} and codes[2] <= codes.total() // 20


@proof
def pairs() -> bool:
    """1,000 pairs of 50 generated books: the shelf's columns against plans in memory, field by field."""
    from tests.strangers.pairs import differences

    told = 0
    for seed in range(50):
        with tempfile.TemporaryDirectory() as folder:
            for each in differences(Path(folder, "book"), seed, 20):
                told += 1
                print(each)
    print(f"asked 1000 pairs; {told} fields differ")
    return told == 0


@proof
def danger() -> bool:
    """5,000 pairs of a dangerous plan and a change: no verdict is better for it; scaled and again as well."""
    from tests.danger import law, law_anew

    return all([law.main(), law_anew.main()])


@proof
def past_a_lye_stop() -> bool:
    """Every command of eight generated books with too much lye: none says the lye, or a split."""
    from tests.danger.test_past_a_lye_stop import COMMANDS, SEEDS, none_holds_its_lye_or_a_split

    for place, seed in enumerate(SEEDS):
        with tempfile.TemporaryDirectory() as folder:
            none_holds_its_lye_or_a_split(seed, COMMANDS, place, Path(folder))
    print(f"{len(SEEDS) * len(COMMANDS)} answers: none says it")
    return True


@proof
def answers() -> bool:
    """Twelve problems of each of six sizes: every answer of the solver keeps every rule, by another judge."""
    from tests.assignment.test_answers_hold import SEEDS, SIZES, every_answer_keeps_every_rule

    answered = [every_answer_keeps_every_rule(*size, SEEDS) for size in SIZES]
    print(f"{len(SEEDS)} problems a size; answered {answered}")
    return min(answered) >= 2


@proof
def laws() -> bool:
    """1,000 random examples for each law of facts, of the judge, of a pairing's edge and of drafts."""
    files = (
        "cli/test_draft_laws.py",
        "facts/test_laws.py",
        "judge/test_doubt.py",
        "judge/test_properties.py",
        "answers/pair/test_region.py",
    )
    words = [sys.executable, "-m", "pytest", "-n0", *(f"tests/{file}" for file in files)]
    return (
        subprocess.run(words, env={**os.environ, "BLENDWISE_EXAMPLES": "1000"}, check=False).returncode == 0
    )


@proof
def scaling() -> bool:
    """200 generated plans by four factors there and back; only what is registered changes its verdict."""
    from tests.strangers.scaling import proof as scaled

    return scaled(range(100))


@proof
def chain(books: str = "300") -> bool:
    """Plans of 300 books, from a split to the next batch's: each output the next one's input."""
    from tests.strangers.books import a_book
    from tests.strangers.chain import faults

    told = 0
    for seed in range(int(books)):
        with tempfile.TemporaryDirectory() as folder:
            book = a_book(Path(folder, "my book"), seed, plans=1, looks=False)
            for each in faults(book.plans[0]):
                told += 1
                print(f"book {seed}, {book.plans[0].name}: {each}", flush=True)
    print(f"{books} chains; {told} faults")
    return told == 0


@proof
def units(books: str = "300") -> bool:
    """300 generated books written in the other system of units: no verdict and no lever is another."""
    from tests.strangers.books import a_book
    from tests.strangers.converting import broken

    wrong = 0
    for seed in range(int(books)):
        with tempfile.TemporaryDirectory() as folder:
            plan = a_book(Path(folder, "book"), seed).plans[0]
            for each in broken(plan):
                wrong += 1
                print(f"book {seed}, {plan.name}: {each}", flush=True)
    print(f"{wrong} differences in {books} books")
    return wrong == 0


@proof
def typed() -> bool:
    """60 books: every printed amount is read back as itself, and the printed doses are the same plan."""
    from tests.strangers.books import a_book
    from tests.strangers.typed_back import AMOUNT, answers, apart_in_a_mix, otherwise, unread

    amounts = told = 0
    for seed in range(60):
        with tempfile.TemporaryDirectory() as folder:
            plan = a_book(Path(folder, "book"), seed).plans[0]
            said = [text for _, text in answers(plan)]
            amounts += sum(len(AMOUNT.findall(text)) for text in said)
            wrong = [each for text in said for each in unread(text)]
            for each in [*wrong, *otherwise(plan), *apart_in_a_mix(plan.with_name("typed.yaml"))]:
                told += 1
                print(f"book {seed}: {each}", flush=True)
    print(f"{amounts} amounts of 60 books; {told} are not what they were")
    return told == 0


@proof
def own_units() -> bool:
    """Books of ounces and °F among forty: no answer and no page speaks metric, but for what was typed so."""
    from tests.strangers.books import a_book
    from tests.strangers.other_units import american, metric

    asked = told = 0
    for seed in range(40):
        with tempfile.TemporaryDirectory() as folder:
            book = a_book(Path(folder, "book"), seed)
            for each in metric(book.plans[0], Path(folder, "page.html")) if american(book.folder) else ():
                told += 1
                print(f"book {seed}: {each}", flush=True)
            asked += american(book.folder)
    print(f"{asked} books of ounces and °F; {told} lines are metric")
    return told == 0


@proof
def levers() -> bool:
    """500 plans of 100 books and the strangers': every lever that any door shows, written, is as told."""
    from tests.levers.doors import over_books, over_strangers

    with tempfile.TemporaryDirectory() as folder:
        scores = [
            over_strangers(Path(folder)),
            over_books(Path(folder), range(2000, 2100), deep=range(2000, 2100, 4)),
        ]
    for score in scores:
        print("\n".join([score.line(), *score.wrong]), flush=True)
    return not any(score.wrong for score in scores) and scores[1].plans >= 450


@proof
def no_split() -> bool:
    """At least 60 plans that nothing fits: a way out in nine of ten of those that brute force mends."""
    from tests.levers.no_split import proof as without

    with tempfile.TemporaryDirectory() as folder:
        good, last, hopeless, missed = without(Path(folder), range(75))
    print(f"{good} with a way out, {len(missed)} missed, {hopeless} beyond force ({last} with a last one)")
    return good >= 9 * len(missed) and good + len(missed) + hopeless >= 60


@proof
def cores() -> bool:
    """200 narrow and generated plans: what is told as impossible forbids alone, and no part of it does."""
    from tests.levers.core_law import faults, plans

    found = members = told = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed, file in enumerate(plans(Path(folder), range(100, 200))):
            count, wrong = faults(file, seed)
            found, members, told = found + bool(count), members + count, told + bool(wrong)
            for each in wrong:
                print(f"{file.parents[1].name}: {each}", flush=True)
    print(f"{found} cores of {members} members; {told} not as told")
    return told == 0 and found >= 50


@proof
def splits() -> bool:
    """200 small plans, up to 2,000 splits each on the scale's grid: none better than "best", in no goal."""
    from tests.levers.split_oracle import better

    told = judged = 0
    for seed in range(100, 300):
        with tempfile.TemporaryDirectory() as folder:
            looked, wrong = better(Path(folder), seed, 2000)
        judged += looked
        if wrong:
            told += 1
            print(f"plan {seed}: {wrong}", flush=True)
    print(f"200 plans, {judged} splits judged; {told} better than best")
    return told == 0


@proof
def paper(books: str = "12") -> bool:
    """Demo, strangers, straining names, so many generated books: sheets in both systems, on both papers."""
    from tests.show.pages.on_paper import proof as on_paper

    return on_paper(int(books))


@proof
def fuzz(inputs: str = "100000") -> bool:
    """So many bent files, spreadsheets and command lines (`fuzz 5000`), on from where the last run ended."""
    from tests.fuzz.run import long_run

    return long_run(int(inputs))


@proof
def faults() -> bool:
    """No room, an error or a kill at every system call of every writer: each file is the old or the new."""
    from tests.faults.law import score_of
    from tests.faults.traced import may_trace, tracer
    from tests.faults.writers import WRITERS

    if reason := may_trace():
        print(f"not run: {reason}")
        return False
    runs = wrong = elsewhere = 0
    with tracer() as run:
        for writer in WRITERS:
            score = score_of(run, writer)
            runs, wrong, elsewhere = (
                runs + score.runs, wrong + len(score.wrong), elsewhere + len(score.elsewhere)
            )  # fmt: skip
            print(f"{writer}: {score.runs} faults", *score.wrong, *score.elsewhere, sep="\n  ", flush=True)
    print(f"{runs} faults in {len(WRITERS)} writers; {wrong} wrong, {elsewhere} struck another call")
    return not wrong and elsewhere <= runs // 50


@proof
def everywhere() -> bool:
    """Sixteen answers in 32 surroundings (hash seeds, locales, time zones, processors): the same bytes."""
    from tests.cli.everywhere import LONG, MANY, differences

    told = differences(LONG, MANY)
    print(f"{len(LONG)} answers in {len(MANY)} surroundings; {len(told)} differ", *told, sep="\n")
    return not told


def main(names: list[str]) -> int:
    """Run what is named (a number after a name is told to it); list all where nothing is."""
    told = {names[place - 1]: word for place, word in enumerate(names) if place and word.isdigit()}
    names = [name for name in names if not name.isdigit()]
    if unknown := [name for name in names if name not in PROOFS]:
        print(f"No such proof: {', '.join(unknown)}.")
        names = []
    if not names:
        for name, run in PROOFS.items():
            print(f"{name}: {(run.__doc__ or '').splitlines()[0]}")
        return 2 if unknown else 0
    held = {name: PROOFS[name](*([told[name]] if name in told else [])) for name in names}
    for name, each in held.items():
        print(f"{name}: {'holds' if each else 'FAILS'}")
    return 0 if all(held.values()) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
