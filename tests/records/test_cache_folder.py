"""Where what is read is kept: the folder that the system, or its owner, names."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

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


def _kept_at(folder: Path, name: str, second: int) -> None:
    cache.keep(name, {"name": name})
    os.utime(folder / name, (second, second))


def _names(folder: Path) -> set[str]:
    return {each.name for each in folder.iterdir()}


def test_the_oldest_go_where_there_are_too_many(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The newest stay, and so does the key, which is older than all of them."""
    monkeypatch.setattr(cache, "MOST_KEPT", 3)
    for second, name in enumerate("bdaec"):
        _kept_at(folder, name, second)
    os.utime(folder / cache.KEY, (0, 0))
    cache.keep("f", {"name": "f"})
    assert {cache.KEY, "e", "c", "f"} == _names(folder)
    assert [None, {"name": "e"}] == [cache.cached("a"), cache.cached("e")]


def test_the_oldest_go_where_they_are_too_large(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By their bytes together; one that is too large by itself stays until the next is written."""
    cache.keep("a", "")
    each = (folder / "a").stat().st_size
    monkeypatch.setattr(cache, "MOST_BYTES", 3 * each)
    for second, name in enumerate("abc"):
        cache.keep(name, "")
        os.utime(folder / name, (second, second))
    cache.keep("d", "")
    assert {cache.KEY, "b", "c", "d"} == _names(folder)
    cache.keep("e", "x" * 4 * each)
    assert {cache.KEY, "e"} == _names(folder)
    assert "x" * 4 * each == cache.cached("e")


def test_many_may_write_and_sweep_at_once(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody fails, nobody reads another's value or half of one, and the bound holds in the end."""
    monkeypatch.setattr(cache, "MOST_KEPT", 4)

    def work(who: int) -> set[str]:
        wrong = set()
        for turn in range(25):
            name = f"{(who * 7 + turn * 3) % 11}"
            cache.keep(name, {"name": name, "long": "x" * 2000})
            other = f"{(who + turn) % 11}"
            found = cache.cached(other)
            if found not in (None, {"name": other, "long": "x" * 2000}):
                wrong.add(other)
        return wrong

    with ThreadPoolExecutor(4) as many:
        assert [set()] * 4 == list(many.map(work, range(4)))
    cache.keep("last", 1)
    assert 4 == len(_names(folder) - {cache.KEY})
    assert 1 == cache.cached("last")


def test_what_another_swept_first_stops_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry that vanishes between the look and its removal is no fault, and the others still go."""
    monkeypatch.setattr(cache, "MOST_KEPT", 1)
    cache.keep("a", 1)
    real, asked = os.unlink, []

    def unlink(path: str | os.PathLike[str], **more: Any) -> None:
        if not Path(path).name.startswith("."):
            asked.append(Path(path).name)
            real(path)
        real(path, **more)

    monkeypatch.setattr(os, "unlink", unlink)
    cache.keep("b", 2)
    assert ["a"] == asked
    assert 2 == cache.cached("b")
