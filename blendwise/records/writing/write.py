"""New files that are never half written and never overwrite another; replacing a file whole."""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from blendwise.records.place import read_fault

_NEW: Final = os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)

ABANDONED: Final = 3600.0
"""Seconds after which a passing file is nobody's any more: writing takes less than one."""
_PASSING: Final = re.compile(r"\.[0-9a-f]{16}\.tmp")

_NO_LINKS: Final = frozenset({errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK})


def write_new(path: Path, text: str) -> None:
    """Write a new file in UTF-8; RecordError where the name is taken or the folder cannot be written to.

    The text is written under a passing name in the same folder, forced to disk, and only then given its
    name, by a link that fails where the name exists; so nobody ever reads half a file.
    """
    write_new_bytes(path, text.encode("utf-8"))


def write_new_bytes(path: Path, data: bytes) -> None:
    """Write a new file of any kind; as ``write_new``."""
    with _spoken(path):
        sweep(path.parent)
        with passing(path, data, 0o666) as temporary:
            give_name(temporary, path)
    _sync_folder(path.parent)


def replace_whole(path: Path, data: bytes, fingerprint: str) -> None:
    """Replace a file by ``data`` in one step, keeping its permissions.

    RecordError where it is no longer the file whose sha256 is ``fingerprint``: somebody has changed it.
    """
    target = path.resolve()
    with _spoken(path):
        mode = target.stat().st_mode & 0o7777
        sweep(target.parent)
        with passing(target, data, mode) as temporary:
            if hashlib.sha256(target.read_bytes()).hexdigest() != fingerprint:
                raise read_fault(
                    path, "The file has changed since it was read; nothing was written.", "Try again."
                )
            os.chmod(temporary, mode)
            os.replace(temporary, target)
    _sync_folder(target.parent)


def put_whole(path: Path, data: bytes) -> None:
    """Write a file in one step, new or over what stands there; RecordError where it cannot be written."""
    with _spoken(path):
        target = path.resolve()
        sweep(target.parent)
        with passing(target, data, 0o666) as temporary:
            if target.exists():
                os.chmod(temporary, target.stat().st_mode & 0o7777)
            os.replace(temporary, target)
    _sync_folder(path.parent)


@contextmanager
def _spoken(path: Path) -> Iterator[None]:
    """The system's refusals as RecordErrors; and ours of an option where the file's name is wanted."""
    if path.name.startswith("--"):
        message = f'"{path.name}" is an option, not the name of a file: nothing was written.'
        raise read_fault(path, message, "Name the file behind the option that writes it.")
    try:
        yield
    except FileExistsError:
        raise read_fault(path, "There is a file of this name already.", "Choose another name.") from None
    except FileNotFoundError:
        raise read_fault(path, "The folder or file is not there.", "Make it first.") from None
    except (OSError, ValueError, RuntimeError) as error:  # the last: a link that leads back to itself
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise read_fault(
            path, f"The file cannot be written: {reason}.", "See that you may write there."
        ) from None


def sweep(folder: Path) -> None:
    """Remove the passing files that a killed run left in a folder an hour ago or more."""
    for left in abandoned(folder):
        with suppress(OSError):  # a folder, or somebody else's: the others are looked at all the same
            os.unlink(left)


def abandoned(folder: Path) -> list[Path]:
    """What bears a passing name in a folder and is an hour old or more."""
    oldest, found = time.time() - ABANDONED, []
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if _PASSING.fullmatch(entry.name) and entry.stat(follow_symlinks=False).st_mtime < oldest:
                found.append(Path(entry.path))
    return found


@contextmanager
def passing(path: Path, data: bytes, mode: int) -> Iterator[Path]:
    """A fully written and synced file beside ``path``, removed afterwards if it is still there."""
    temporary = path.with_name(f".{secrets.token_hex(8)}.tmp")
    handle = os.open(temporary, _NEW, mode)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        yield temporary
    finally:
        with suppress(OSError):  # the note stands or has failed by now; a passing name harms nobody
            os.unlink(temporary)


def give_name(temporary: Path, path: Path) -> None:
    """Link the finished file to its name.

    Where links are not known the name is claimed first, empty, and the finished file put in its place in
    one step, so that there too nobody ever reads half of it.
    """
    try:
        os.link(temporary, path)
    except NotImplementedError:
        _claim(temporary, path)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        _claim(temporary, path)


def _claim(temporary: Path, path: Path) -> None:
    os.close(os.open(path, _NEW, 0o666))
    try:
        os.replace(temporary, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(path)
        raise


def _sync_folder(folder: Path) -> None:
    """Force the folder's own entry to disk, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
