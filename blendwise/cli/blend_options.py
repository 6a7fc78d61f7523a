"""The options of a question about a blend, and of a look along the shelf."""

from __future__ import annotations

from typing import Annotated

import typer

from blendwise.cli.completion import colourant_names, pour_names, scent_names

OilsArgument = Annotated[
    list[str],
    typer.Argument(metavar="OIL", help="Oils of your book, as you call them.", autocompletion=scent_names),
]
RatioOption = Annotated[str, typer.Option("--ratio", metavar="2:1", help="Parts by mass, one for each oil.")]
LoadOption = Annotated[str, typer.Option("--load", metavar="RATE", help="All scent together, such as 4%.")]
PourOption = Annotated[
    str,
    typer.Option(
        "--pour", metavar="STYLE", help="A style of pour, such as column.", autocompletion=pour_names
    ),
]
ColourOption = Annotated[
    str,
    typer.Option(
        "--colour",
        "--color",
        metavar="NAME",
        help="A colourant of your book, or white.",
        autocompletion=colourant_names,
    ),
]
PurposeOption = Annotated[str, typer.Option("--for", metavar="sale|home", help="What the soap is for.")]
StabilisedOption = Annotated[
    list[str] | None,
    typer.Option("--stabilised", metavar="OIL", help="An oil with vanilla stabiliser in it."),
]
WithAllOption = Annotated[bool, typer.Option("--with-all", help="One oil beside every other of the shelf.")]
NoteOption = Annotated[
    str, typer.Option("--note", metavar="NOTE", help="With all: top, middle or base only.")
]
TagOption = Annotated[
    list[str] | None, typer.Option("--tag", metavar="WORD", help="With all: oils with this tag only.")
]
InStockOption = Annotated[bool, typer.Option("--in-stock", help="With all: what is on hand only.")]
PriceOption = Annotated[
    str, typer.Option("--price-up-to", metavar="PRICE", help='With all: such as "15 per 100 g".')
]
CleanOption = Annotated[
    bool, typer.Option("--clean-in-white", help="With all: only what leaves white soap white.")
]
