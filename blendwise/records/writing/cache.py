"""Small files in the user's cache folder: a shorter way to what the maker's own files say.

A cached value is kept under a fingerprint of the very bytes that it was read from, signed with a key that
was drawn once on this machine (HMAC, RFC 2104), and is written whole or not at all: what another hand put
there is not believed.  It may be deleted at any time, and whatever goes wrong with it means only that the
files are read the long way; so the oldest values are swept where there are too many, whoever else reads.
"""

from __future__ import annotations

import hmac
import os
import secrets
import sys
from contextlib import suppress
from functools import cache
from json import JSONDecodeError, dumps, loads
from pathlib import Path
from typing import Any, Final

from blendwise.records.writing.write import give_name, passing, sweep

OFF: Final = "BLENDWISE_NO_CACHE"
LARGEST: Final = 200_000_000
MOST_KEPT: Final = 256
MOST_BYTES: Final = 250_000_000
"""How many entries are kept, and how many bytes together; the oldest go first."""
KEY: Final = "key"
KEY_BYTES: Final = 32


def cache_folder() -> Path | None:
    """``$XDG_CACHE_HOME/blendwise``, else where the system keeps caches; None where caching is switched off.

    Every check asks, so that on Linux the two lines of the XDG Base Directory Specification stand here and
    nothing is imported; elsewhere platformdirs knows.
    """
    if os.environ.get(OFF):
        return None
    base = os.environ.get("XDG_CACHE_HOME", "")
    if os.path.isabs(base):
        return Path(base) / "blendwise"
    if sys.platform in ("darwin", "win32"):
        from platformdirs import user_cache_path

        return user_cache_path("blendwise", appauthor=False)
    try:
        return Path.home() / ".cache" / "blendwise"
    except RuntimeError:
        return None


@cache
def code_state(folder: Path) -> tuple[str, ...]:
    """What tells one state of a folder's code from another: names, sizes and times of its files.

    So nobody who changes how something is worked out has to think of what an earlier way kept.
    """
    try:
        found = sorted(
            (each for each in os.scandir(folder) if each.name.endswith(".py")), key=lambda each: each.name
        )
    except OSError:  # a package that is no folder does not change
        return ()
    return tuple(f"{each.name} {each.stat().st_size} {each.stat().st_mtime_ns}" for each in found)


def cached(name: str) -> Any:
    """The value kept under a name; None where there is none or its digest does not agree."""
    folder = cache_folder()
    if folder is None:
        return None
    with suppress(OSError, ValueError, JSONDecodeError, RecursionError):
        file = folder / name
        if file.stat().st_size > LARGEST:
            return None
        signed, _, body = file.read_bytes().partition(b"\n")
        if hmac.compare_digest(signed, _signature((folder / KEY).read_bytes(), name, body)):
            return loads(body)
    return None


def keep(name: str, value: Any) -> None:
    """Keep a value under a name; says nothing where it cannot."""
    folder = cache_folder()
    if folder is None:
        return
    body = dumps(value, separators=(",", ":")).encode()
    with suppress(OSError, ValueError):  # a damaged key that cannot be removed is of no use either
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        sweep(folder)
        signed = _signature(_key(folder), name, body)
        with passing(folder / name, signed + b"\n" + body, 0o600) as temporary:
            os.replace(temporary, folder / name)
        _sweep_oldest(folder, name)


def _sweep_oldest(folder: Path, newest: str) -> None:
    """Remove the oldest entries beyond the bounds, never the one just written, the key or a passing file.

    Others may write and sweep at the same time: what one has removed, another need not.
    """
    with os.scandir(folder) as entries:
        held = [each for each in entries if each.name not in (KEY, newest) and each.name[0] != "."]
    aged = []
    for each in held:
        with suppress(OSError):
            status = each.stat(follow_symlinks=False)
            aged.append((status.st_mtime_ns, status.st_size, each.path))
    room = MOST_BYTES - (folder / newest).stat().st_size
    for count, (_, size, path) in enumerate(sorted(aged, reverse=True), start=2):
        room -= size
        if count > MOST_KEPT or room < 0:
            with suppress(OSError):
                os.unlink(path)


def _signature(key: bytes, name: str, body: bytes) -> bytes:
    if len(key) != KEY_BYTES:
        raise ValueError(f"the key is not of {KEY_BYTES} bytes")
    return hmac.digest(key, name.encode() + b"\n" + body, "sha256").hex().encode()


def _key(folder: Path) -> bytes:
    """The key of this machine, drawn where there is none; of two who draw at once the first one's stands."""
    file = folder / KEY
    with suppress(OSError):
        key = file.read_bytes()
        if len(key) == KEY_BYTES:
            return key
        file.unlink()
    with passing(file, secrets.token_bytes(KEY_BYTES), 0o600) as temporary, suppress(FileExistsError):
        give_name(temporary, file)
    return file.read_bytes()
