"""Results to standard output: JSON, plain text, or Rich on a terminal; a closed pipe is no failure."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Protocol

from blendwise.show.json import document

if TYPE_CHECKING:
    from blendwise.show.blocks import Blocks


class Answer(Protocol):
    """Any result that has a published document."""

    def to_json(self) -> Mapping[str, object]:
        """The document, schema first."""
        ...


def show(
    answer: Answer,
    blocks: Callable[[], Blocks],
    as_json: bool,
    as_plain: bool,
    says: Callable[[], Blocks] | None = None,
) -> None:
    """Write an answer the way it was asked for; ``blocks`` is called only where words are wanted.

    ``says``: the short answer, whose words stand in the document too.
    """
    if as_json:
        write(document(answer.to_json(), says() if says else None))
    else:
        show_blocks(blocks(), as_plain)


def show_blocks(blocks: Blocks, as_plain: bool) -> None:
    """Write blocks: by Rich where standard output is a terminal and ``--plain`` was not said."""
    if sys.stdout.isatty() and not as_plain:
        from blendwise.show.terminal import terminal

        terminal(blocks)
    else:
        from blendwise.show.plain import plain

        write(plain(blocks))


class UnwrittenError(Exception):
    """The answer could not be written to standard output (a full disk); ``args[0]`` says why."""


def write(text: str) -> None:
    """Write to standard output at once; a reader who has left (``| head``) is not an error.

    UnwrittenError where it cannot be written for another reason; what is left of it is dropped.
    """
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        _drop_the_rest()
    except OSError as error:
        _drop_the_rest()
        raise UnwrittenError(error.strerror or str(error)) from error


def _drop_the_rest() -> None:
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
