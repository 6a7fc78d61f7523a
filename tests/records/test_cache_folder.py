"""Where what is read is kept: the folder that the system, or its owner, names."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from pathlib import Path

import platformdirs
import pytest

from blendwise.records.writing import cache

ROOT = Path(__file__).resolve().parents[2]
CHECK = """
import sys
from blendwise.cli.main import main
main(["check", "demo_catalog/plans/harbour-morning.yaml", "--plain"])
print([name for name in ("platformdirs", "charset_normalizer") if name in sys.modules])
"""


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere the library itself is asked")
@pytest.mark.parametrize("named", ["/somewhere/else", "", None])
def test_the_folder_is_the_one_that_the_library_names(
    monkeypatch: pytest.MonkeyPatch, named: str | None
) -> None:
    """The two lines that stand in for platformdirs on Linux say what it says."""
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.delenv(cache.OFF, raising=False)
    if named is not None:
        monkeypatch.setenv("XDG_CACHE_HOME", named)
    assert platformdirs.user_cache_path("blendwise", appauthor=False) == cache.cache_folder()


@pytest.mark.parametrize("system", ["darwin", "win32"])
def test_other_systems_are_asked_by_the_library(monkeypatch: pytest.MonkeyPatch, system: str) -> None:
    """Where no folder is named, macOS and Windows say where caches go."""
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.delenv(cache.OFF, raising=False)
    monkeypatch.setattr(sys, "platform", system)
    monkeypatch.setattr(platformdirs, "user_cache_path", lambda name, appauthor: Path("/caches") / name)
    assert Path("/caches/blendwise") == cache.cache_folder()


def test_a_check_imports_neither_library() -> None:
    """A check of a plan that has notes asks for the folder and reads no spreadsheet."""
    ran = subprocess.run([sys.executable, "-c", CHECK], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "[]" == ran.stdout.splitlines()[-1]


@pytest.fixture
def folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """An empty cache folder."""
    monkeypatch.delenv(cache.OFF, raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "blendwise"


def test_what_another_hand_put_there_is_not_believed(folder: Path) -> None:
    """A value with a plain digest, one under another's name, one signed with another key: none is read."""
    cache.keep("a", {"x": 1})
    cache.keep("b", {"x": 2})
    assert ({"x": 1}, {"x": 2}) == (cache.cached("a"), cache.cached("b"))
    body = b'{"x":3}'
    (folder / "a").write_bytes(hashlib.sha256(body).hexdigest().encode() + b"\n" + body)
    assert cache.cached("a") is None
    (folder / "a").write_bytes((folder / "b").read_bytes())
    assert cache.cached("a") is None
    (folder / cache.KEY).write_bytes(b"k" * cache.KEY_BYTES)
    assert cache.cached("b") is None


@pytest.mark.parametrize("key", [b"", b"short", None])
def test_a_lost_or_damaged_key_is_drawn_anew(folder: Path, key: bytes | None) -> None:
    """Nothing is read under it any more, and what is kept from then on is."""
    cache.keep("a", 1)
    (folder / cache.KEY).unlink()
    if key is not None:
        (folder / cache.KEY).write_bytes(key)
    assert cache.cached("a") is None
    cache.keep("a", 2)
    assert 2 == cache.cached("a")
