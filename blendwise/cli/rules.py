"""``blendwise rules …``: list, show, changed, new, words, prove, test, lint."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.completion import rule_names
from blendwise.cli.exit_codes import CLEAN, FINDINGS
from blendwise.cli.options import BookOption, JsonOption, MoreOption, PageOption, PlainOption
from blendwise.cli.rules_new import new

if TYPE_CHECKING:
    from blendwise.answers.rules.result import RuleReport

app = command_app(
    help="The rulebook: list the rules, show one, test them, look them over; or all of it as a booklet.",
    invoke_without_command=True,
)


app.command()(new)


@app.callback()
def booklet(context: typer.Context, page: PageOption = None, book: BookOption = None) -> None:
    """The rulebook: list the rules, show one, test them, look them over; or all of it as a booklet."""
    if context.invoked_subcommand is not None:
        return
    if page is None:
        context.fail("Missing command.")
    from blendwise.cli.books import open_book
    from blendwise.cli.pages import deliver
    from blendwise.show.rules.page import rules_page

    opened = open_book(book)
    records = opened.review(rules=True).rules
    deliver(rules_page(opened.rules(), opened.files.pours, opened.files.usual.units, records), page)


@app.command("list")
def list_(
    words: Annotated[
        list[str] | None, typer.Argument(metavar="WORD...", help="Only rules that speak of all of these.")
    ] = None,
    topic: Annotated[str, typer.Option("--topic", metavar="TOPIC", help="Only of one topic.")] = "",
    level: Annotated[
        str, typer.Option("--level", metavar="LEVEL", help="Only hint, caution, conflict or stop.")
    ] = "",
    looks_at: Annotated[
        str, typer.Option("--looks-at", metavar="WHAT", help="Only those asked of a portion, a pair, …")
    ] = "",
    whose: Annotated[
        str, typer.Option("--whose", metavar="mine|starter", help="Only your own, or only the starter's.")
    ] = "",
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """Every rule that counts, or those asked for, and what your own layer changes."""
    from blendwise.answers.rules.filters import RuleFilters
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.rules.blocks import list_blocks

    result = open_book(book).rules(RuleFilters(topic, level, looks_at, whose, tuple(words or ())))
    show(result, lambda: list_blocks(result), json, plain)
    return CLEAN


@app.command()
def changed(book: BookOption = None, json: JsonOption = False, plain: PlainOption = False) -> int:
    """All in which your rules differ from the starter's: new, replaced, adjusted, switched off."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.rules.blocks import changed_blocks

    result = open_book(book).changed_rules()
    show(result, lambda: changed_blocks(result), json, plain)
    return CLEAN


@app.command("show")
def show_(
    name: Annotated[str, typer.Argument(metavar="NAME", help="The rule's name.", autocompletion=rule_names)],
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """One rule in full: when it applies, what must be so, why, what to try, on what basis."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.rules.blocks import rule_blocks

    result = open_book(book).rule(name)
    show(result, lambda: rule_blocks(result), json, plain)
    return CLEAN


@app.command()
def words(
    about: Annotated[
        list[str] | None,
        typer.Argument(metavar="TOPIC...", help="Only those of a topic, or that speak of all of these."),
    ] = None,
    more: MoreOption = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """The words that a rule may use, by topic; of a topic or a word, what it means, with an example of yours.

    --more tells all of them whole, and the models behind them.
    """
    from blendwise.answers.rules.words import rule_words
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.records.place import RecordError
    from blendwise.show.rules.manual import manual_blocks, topic_blocks

    try:
        result = open_book(book).rule_words(*(about or ()))
    except RecordError:
        if book is not None:
            raise
        result = rule_words(about or ())  # outside any book the words are the same, without examples
    show(result, lambda: (manual_blocks if more or about else topic_blocks)(result), json, plain)
    return CLEAN


@app.command()
def test(book: BookOption = None, json: JsonOption = False, plain: PlainOption = False) -> int:
    """Ask every rule of its own hits, misses and limit cases."""
    from blendwise.cli.books import open_book

    return _said(open_book(book).test_rules(), json, plain)


@app.command()
def lint(book: BookOption = None, json: JsonOption = False, plain: PlainOption = False) -> int:
    """Look the rules over: unknown measures, missing reasons, rules that can never both hold."""
    from blendwise.cli.books import open_book

    return _said(open_book(book).lint_rules(), json, plain)


@app.command()
def prove(
    name: Annotated[str, typer.Argument(metavar="NAME", help="The rule's name.", autocompletion=rule_names)],
    yes: Annotated[bool, typer.Option("--yes", "-y", help="Write them into your rule.")] = False,
    book: BookOption = None,
    json: JsonOption = False,
    plain: PlainOption = False,
) -> int:
    """A rule's cases; where it has none, one that it must find and one at its limit, from its own bounds."""
    from blendwise.cli.books import open_book
    from blendwise.cli.output import show
    from blendwise.show.rules.proving import proven_blocks

    opened = open_book(book)
    result = opened.prove(name)
    if yes and result.proposed and result.mine:
        result = opened.keep_cases(result)
    show(result, lambda: proven_blocks(result), json, plain)
    return CLEAN


def _said(report: RuleReport, json: bool, plain: bool) -> int:
    from blendwise.cli.output import show
    from blendwise.show.rules.blocks import report_blocks

    show(report, lambda: report_blocks(report), json, plain)
    return CLEAN if report.sound else FINDINGS
