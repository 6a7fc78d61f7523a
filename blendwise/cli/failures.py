"""How a run that cannot answer says so: one line a fault with file, line and remedy, or one JSON document."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import typer
from typer.exceptions import TyperException

from blendwise.answers.failure import Failure, Trouble
from blendwise.cli.exit_codes import INTERRUPTED, NOT_ASKED, OUR_FAULT
from blendwise.cli.output import UnwrittenError, write
from blendwise.quantity.amount import QuantityError
from blendwise.records.place import Fault, RecordError
from blendwise.records.reading.document import IN_MEMORY
from blendwise.show.json import document
from blendwise.show.text import sentence, visible

DEBUG = "BLENDWISE_DEBUG"
MAKE_ROOM = "Make room, or send it elsewhere."
OS_REMEDY = "See that it is there, and that you may read and write it."


def report(error: Exception, wants_json: bool) -> int:
    """Say what went wrong and return the exit code that it has."""
    if isinstance(error, typer.Abort):
        interrupted(wants_json)
        return INTERRUPTED
    if os.environ.get(DEBUG):
        traceback.print_exception(error)
    kind, faults = _faults(error)
    code = OUR_FAULT if kind == "fault" else NOT_ASKED
    _say(kind, code, faults, wants_json and not isinstance(error, UnwrittenError))
    return code


def interrupted(wants_json: bool) -> None:
    """Say that the maker stopped the run; nothing was written by halves."""
    _say("interrupted", INTERRUPTED, [_fault("Interrupted.")], wants_json)


def _faults(error: Exception) -> tuple[str, list[Trouble]]:
    match error:
        case RecordError():
            more = [_fault(f"{error.more} more.", "Mend these first.")] if error.more else []
            return "records", [*(_placed(fault) for fault in error.faults), *more]
        case QuantityError():
            return "records", [_fault(error.message, error.remedy)]
        case TyperException():
            return "usage", [_fault(error.format_message(), _usage(error))]
        case UnwrittenError():
            return "files", [_fault(f"The answer could not be written: {error.args[0]}.", MAKE_ROOM)]
        case OSError():
            return "files", [_fault(_os_message(error), OS_REMEDY)]
        case _:
            return "fault", [_ours(error)]


def _placed(fault: Fault) -> Trouble:
    if _shipped(fault.place.file) or fault.place.file == IN_MEMORY:  # neither is a file of the maker's
        return _fault(fault.message, fault.remedy)
    whole = os.path.isdir(fault.place.file)  # a folder has no lines; nor has a name too long for any file
    line, column = (None, None) if whole else (fault.place.line, fault.place.column)
    return Trouble(relative(fault.place.file), line, column, fault.message, fault.remedy)


def _shipped(file: Path) -> bool:
    """Whether a file is one of the package's own, which no maker looks for a fault in."""
    from blendwise.records.shipped import starter_folder

    return starter_folder("rules") in file.absolute().parents


def _fault(message: str, remedy: str = "") -> Trouble:
    return Trouble(None, None, None, message, remedy)


def _ours(error: Exception) -> Trouble:
    what = " ".join(f"{type(error).__name__}: {error}".split())
    return _fault(
        f"Blendwise failed, and that is our fault, not yours ({what}).",
        f"Please report it with the command and the files; {DEBUG}=1 shows the details to add.",
    )


def _usage(error: TyperException) -> str:
    context = getattr(error, "ctx", None)
    return f"See `{context.command_path if context else 'blendwise'} --help`."


def _os_message(error: OSError) -> str:
    name = f"{relative(Path(os.fsdecode(error.filename)))}: " if error.filename else ""
    return f"{name}{error.strerror or error}."


def relative(file: Path) -> str:
    """A path as seen from the current folder where it lies below it, else as it is, in words that print."""
    try:
        seen = file.resolve().relative_to(Path.cwd().resolve())
    except (ValueError, OSError, RuntimeError):  # a link that leads back to itself
        seen = file
    return os.fsencode(seen.as_posix()).decode("utf-8", "backslashreplace")


def _say(kind: str, code: int, faults: Sequence[Trouble], wants_json: bool) -> None:
    if wants_json:
        write(document(Failure(kind, code, tuple(faults)).to_json()))
        return
    with suppress(OSError):  # nobody is left to be told
        for fault in faults:
            print(visible(_line(fault)), file=sys.stderr, flush=True)


def _line(fault: Trouble) -> str:
    """What is wrong, what to write instead, and last where it stands."""
    place = ":".join(str(part) for part in (fault.file, fault.line) if part is not None)
    told = f"{sentence(fault.message)} {fault.remedy}".rstrip()
    return f"{told} ({place})" if place else told
