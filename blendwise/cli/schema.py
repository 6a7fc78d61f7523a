"""``blendwise schema KIND``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN
from blendwise.cli.options import JsonOption

app = command_app()


@app.command()
def schema(
    kind: Annotated[str, typer.Argument(metavar="KIND", help="What to describe; none for the list.")] = "",
    all_: Annotated[
        Path | None,
        typer.Option("--all", metavar="DIR", help="Write the schemas of a book's files into its .schemas/."),
    ] = None,
    json: JsonOption = False,
) -> int:
    """JSON Schemas of the files of a book, for editors, and of the answers, for programs.

    With --all BOOK/.schemas an editor finds them by the first line of the book's files.
    """
    from blendwise.cli.output import write
    from blendwise.show.json import document
    from blendwise.show.schemas import KINDS, schema_of

    if all_ is not None and kind:
        raise typer.BadParameter("Either one KIND or all of them: not both.", param_hint="--all")
    if all_ is not None:
        from blendwise.records.writing.editors import write_schemas

        write("".join(f"{file}\n" for file in write_schemas(all_)))
    elif not kind and not json:
        write("\n".join(KINDS) + "\n")
    elif kind in KINDS:
        write(document(schema_of(kind)))
    else:
        raise typer.BadParameter(f'There is no "{kind}". There are: {", ".join(KINDS)}.', param_hint="KIND")
    return CLEAN
