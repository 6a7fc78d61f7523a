"""Small files in the user's cache folder: a shorter way to what the maker's own files say.

A cached value is kept under a fingerprint of the very bytes that it was read from, with a digest of its
own, and is written whole or not at all.  It may be deleted at any time, and whatever goes wrong with it
means only that the files are read the long way.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import sys
from contextlib import suppress
from json import JSONDecodeError, dumps, loads
from pathlib import Path
from typing import Any, Final

OFF: Final = "BLENDWISE_NO_CACHE"
LARGEST: Final = 200_000_000


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


def cached(name: str) -> Any:
    """The value kept under a name; None where there is none or its digest does not agree."""
    folder = cache_folder()
    if folder is None:
        return None
    with suppress(OSError, ValueError, JSONDecodeError, RecursionError):
        file = folder / name
        if file.stat().st_size > LARGEST:
            return None
        digest, _, body = file.read_bytes().partition(b"\n")
        if digest == _digest(body):
            return loads(body)
    return None


def keep(name: str, value: Any) -> None:
    """Keep a value under a name; says nothing where it cannot."""
    folder = cache_folder()
    if folder is None:
        return
    body = dumps(value, separators=(",", ":")).encode()
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        temporary = folder / f".{secrets.token_hex(8)}.tmp"
        try:
            temporary.write_bytes(_digest(body) + b"\n" + body)
            os.replace(temporary, folder / name)
        finally:
            with suppress(FileNotFoundError):
                os.unlink(temporary)


def _digest(body: bytes) -> bytes:
    return hashlib.sha256(body).hexdigest().encode()
