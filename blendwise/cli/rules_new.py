"""``blendwise rules new``: a sentence becomes a rule, asked back where it is unclear, kept only on yes."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, PlainOption, TodayOption, day
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.rules.taught import Taught

WHICH = "Of what"
WHY = "Why (Enter for no reason)"
KEEP, KEEP_EACH = "Keep this rule in {}?", "Keep these rules in {}?"
BasisOption = Annotated[
    str, typer.Option("--basis", metavar="WORDS", help="What per cent is of, such as 'portion oils'.")
]
LevelOption = Annotated[
    str, typer.Option("--level", metavar="LEVEL", help="hint, caution, conflict or stop.")
]
NameOption = Annotated[str, typer.Option("--name", metavar="NAME", help="The rule's name.")]
BecauseOption = Annotated[str, typer.Option("--because", metavar="WHY", help="The reason.")]
YesOption = Annotated[bool, typer.Option("--yes", "-y", help="Keep it.")]


def new(
    sentence: Annotated[str, typer.Argument(metavar="SENTENCE", help="The rule as you would say it.")],
    basis: BasisOption = "",
    level: LevelOption = "",
    name: NameOption = "",
    because: BecauseOption = "",
    yes: YesOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
    today: TodayOption = "",
) -> int:
    """A sentence in plain words becomes a rule of yours: shown, tried on your plans, kept on yes.

    What cannot be understood is underlined (exit code 1), and nothing is guessed.
    """
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.rules.teaching import kept, taught_blocks

    opened, on = open_book(book), AsOf(day(today))
    asks = sys.stdin.isatty() and sys.stdout.isatty() and not (yes or json)

    def read(basis: str, because: str) -> Taught:
        return opened.teach(sentence, basis=basis, level=_level(level), name=name, because=because, on=on)

    result = read(basis, because)
    if result.asks and asks:
        basis = _chosen(result.asks)
        result = read(basis, because)
    if result.understood and yes:
        result = opened.keep_rule(result)
    show(result, lambda: taught_blocks(result, asks), json, plain)
    if result.understood and asks and _wanted(result):
        typer.echo(kept(opened.keep_rule(read(basis, because or _reason()))), err=True)
    return CLEAN if result.understood else FINDINGS


def _wanted(result: Taught) -> bool:
    asked = KEEP_EACH if result.each else KEEP
    return typer.confirm(asked.format(result.to), default=True, err=True)


def _reason() -> str:
    return str(typer.prompt(WHY, default="", show_default=False, err=True))


def _chosen(bases: tuple[str, ...]) -> str:
    """Ask until one of them is typed, by its number or in words."""
    for number, basis in enumerate(bases, 1):
        typer.echo(f"  {number}  {basis}", err=True)
    while True:
        said = str(typer.prompt(WHICH, default=bases[0], err=True)).strip()
        if said.isdigit() and 1 <= int(said) <= len(bases):
            return bases[int(said) - 1]
        if said in bases:
            return said


def _level(text: str) -> str:
    from blendwise.judge.findings.finding import LEVELS

    if text and text not in LEVELS:
        raise typer.BadParameter(f'"{text}" is none of {", ".join(LEVELS)}.', param_hint="--level")
    return text
