"""``blendwise schema KIND``."""

from __future__ import annotations

from typing import Annotated

import typer

from blendwise.cli.commands import command_app
from blendwise.cli.exit_codes import CLEAN
from blendwise.cli.options import JsonOption

app = command_app()


@app.command()
def schema(
    kind: Annotated[str, typer.Argument(metavar="KIND", help="What to describe; none for the list.")] = "",
    json: JsonOption = False,
) -> int:
    """JSON Schemas of the files of a book, for editors, and of the answers, for programs."""
    from blendwise.cli.output import write
    from blendwise.show.json import document
    from blendwise.show.schemas import KINDS, schema_of

    if not kind and not json:
        write("\n".join(KINDS) + "\n")
    elif kind in KINDS:
        write(document(schema_of(kind)))
    else:
        raise typer.BadParameter(f'There is no "{kind}". There are: {", ".join(KINDS)}.', param_hint="KIND")
    return CLEAN
