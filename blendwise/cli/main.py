"""One run of the command line: every way it can end has its exit code, and none is a traceback.

Nothing slow is imported here, so that even an early interrupt is met.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

from blendwise.cli.exit_codes import CLEAN, INTERRUPTED

PROGRAM = "blendwise"
FIRST_COLLECTION = 500_000
"""New objects before Python first looks for garbage; a check makes fewer, a long assignment more."""
COMPLETION = "_BLENDWISE_COMPLETE"
ONE_THREAD = ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
"""Our matrices are small: more threads would only wait for one another, and start slower."""


def run() -> None:
    """The console script: run the arguments given and leave with the exit code."""
    _make_haste()
    code = main(sys.argv[1:])
    gc.freeze()  # nothing is left to collect on the way out, and looking takes a tenth of a check
    sys.exit(code)


def _make_haste() -> None:
    """Spare a short run what only long ones need: early garbage rounds, and pydantic's search for plugins."""
    gc.set_threshold(FIRST_COLLECTION)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")


def main(args: Sequence[str]) -> int:
    """Run one command and return its exit code; whatever goes wrong is said, not raised."""
    wants_json = "--json" in list(args)[: list(args).index("--") if "--" in args else None]
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")
    try:
        _steady_streams()
        return _invoke(list(args))
    except KeyboardInterrupt:
        from blendwise.cli.failures import interrupted

        interrupted(wants_json)
        return INTERRUPTED
    except Exception as error:
        from blendwise.cli.failures import report

        return report(error, wants_json)


def _invoke(args: list[str]) -> int:
    from typer import Exit
    from typer.main import get_command

    from blendwise.cli.root import app

    group = get_command(app)
    if COMPLETION in os.environ:
        group.main(args=args, prog_name=PROGRAM)
    try:
        with group.make_context(PROGRAM, args) as context:
            code = group.invoke(context)
    except Exit as leaving:
        return leaving.exit_code
    return code if isinstance(code, int) else CLEAN


def _steady_streams() -> None:
    """What a terminal cannot show is written out rather than failing (an old code page, a lone surrogate).

    A stream that was closed before the start is an empty one: its number must not fall to a file of ours.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115 - as long as the run
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


if __name__ == "__main__":
    run()
