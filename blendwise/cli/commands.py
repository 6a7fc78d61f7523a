"""The table of commands: a line each.  A command's file is imported only when it is asked for.

To add one: write ``blendwise/cli/NAME.py`` with ``app = command_app()`` and one ``@app.command()``
function (or several, for a family such as ``rules``), then add its line here.
"""

from __future__ import annotations

import importlib
from dataclasses import dataclass
from typing import Any

import typer
from typer.core import TyperCommand, TyperGroup


@dataclass(frozen=True, slots=True)
class Command:
    """A command's name, what it answers in one line, and an example that the tests run."""

    name: str
    summary: str
    example: str

    def load(self) -> TyperCommand | TyperGroup:
        """The command itself, from the module of its name."""
        module = importlib.import_module(f"blendwise.cli.{self.name}")
        loaded = typer.main.get_command(module.app)
        assert isinstance(loaded, (TyperCommand, TyperGroup))
        loaded.name, loaded.epilog = self.name, f"Example: {self.example}"
        return loaded


COMMANDS = (
    Command(
        "ask",
        "A question in your own words, answered in five lines.",
        'blendwise ask "will tonka-milk turn my soap brown" --book demo_catalog',
    ),
    Command(
        "pair",
        "Do these oils get on: ratio, load, colours, pour, what would help.",
        "blendwise pair tonka-milk lime --book demo_catalog",
    ),
    Command(
        "check",
        "What breaks the rulebook, by how much, why, and what to try.",
        "blendwise check demo_catalog/plans/greenhouse-morning.yaml",
    ),
    Command(
        "assign",
        "Which portion gets which oil, in weighable grams.",
        "blendwise assign demo_catalog/plans/greenhouse-morning.yaml",
    ),
    Command(
        "sheet",
        "The bench sheet: one printable page.",
        "blendwise sheet demo_catalog/plans/harbour-morning.yaml --out -",
    ),
    Command(
        "label",
        "A draft of the label: ingredients, allergens due, weight, batch code.",
        "blendwise label demo_catalog/plans/greenhouse-morning.yaml",
    ),
    Command(
        "cup",
        "A test cup beside its control: what to weigh, minute by minute, when to look.",
        "blendwise cup tonka-milk --book demo_catalog",
    ),
    Command(
        "note",
        "Record a look at a batch: at the pot, at the cut, week by week.",
        "blendwise note demo_catalog/plans/rain-jar.yaml --saw 'pail: edge clean' "
        "--today 2026-11-25 --dry-run",
    ),
    Command(
        "draft",
        "A plan by questions, with the advice at the end.",
        "blendwise draft first-light --book demo_catalog --yes --dry-run "
        '--portion "milk: 40 %" --scent cedar '
        '--portion "soil: the rest; charcoal 0.6 %"',
    ),
    Command(
        "why",
        "It thickened, it riced, a dark ring: what now, why, what next time.",
        'blendwise why "dark ring" demo_catalog/plans/honey-crown.yaml',
    ),
    Command(
        "review",
        "What was seen beside what was expected; what to repeat, what to change.",
        "blendwise review --book demo_catalog --today 2026-11-25",
    ),
    Command(
        "again",
        "The next plan from what was poured, scaled, with what was learned.",
        "blendwise again greenhouse-morning --variation deep --bars 20 --book demo_catalog "
        "--today 2026-11-25",
    ),
    Command(
        "doctor",
        "A whole book examined: broken files, old certificates, looks due, idle rules.",
        "blendwise doctor --book demo_catalog",
    ),
    Command(
        "scents",
        "The shelf: list, search, show, compare, import, export.",
        "blendwise scents show tonka-milk --book demo_catalog",
    ),
    Command(
        "start",
        "A book of your own: rules, shelf, usual ways, a first plan.",
        "blendwise start my-soap --defaults --dry-run",
    ),
    Command(
        "rules",
        "List the rules, show one, teach one in a sentence, test them.",
        "blendwise rules list --book demo_catalog",
    ),
    Command(
        "schema",
        "JSON Schemas of the files and of the answers, for editors and programs.",
        "blendwise schema check",
    ),
)
_BY_NAME = {command.name: command for command in COMMANDS}


class LazyGroup(TyperGroup):
    """The commands of the table; listing them imports none of their files."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Names in the order of the table."""
        return list(_BY_NAME)

    def get_command(self, ctx: Any, cmd_name: str) -> TyperCommand | TyperGroup | None:
        """Load one command; None where the table has no such name."""
        found = _BY_NAME.get(cmd_name)
        return found.load() if found else None

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """As usual, with the nearest name stated where there is no such command."""
        if args[0] not in _BY_NAME and not args[0].startswith("-"):
            ctx.fail(_unheard_of(args[0]))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """The table as it stands, without loading anything."""
        with formatter.section("Commands"):
            formatter.write_dl([(command.name, command.summary) for command in COMMANDS])


def _unheard_of(name: str) -> str:
    from difflib import get_close_matches

    near = get_close_matches(name, _BY_NAME, n=1, cutoff=0.5)
    return f'There is no command "{name}".' + (f' The nearest is "{near[0]}".' if near else "")


def command_app(**settings: Any) -> typer.Typer:
    """An empty Typer app with the settings that all commands share: plain help, no hooks of its own."""
    return typer.Typer(
        add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False, **settings
    )
