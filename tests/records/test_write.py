"""New files are whole or not there, and never overwrite; replacing asks whether the file is the same."""

from __future__ import annotations

import hashlib
import os
import stat
import threading
from pathlib import Path

import pytest

from blendwise.records.place import RecordError
from blendwise.records.writing.entry import add_entry, entry_text
from blendwise.records.writing.unfinished import LARGEST, Unfinished
from blendwise.records.writing.write import put_whole, replace_whole, write_new


def digest(path: Path) -> str:
    """sha256 of a file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_new_file(tmp_path: Path) -> None:
    """The text is written in UTF-8 with its line ends as given, and nothing else is left in the folder."""
    write_new(tmp_path / "a.yaml", "é: 1\r\n")
    assert (tmp_path / "a.yaml").read_bytes() == "é: 1\r\n".encode()
    assert os.listdir(tmp_path) == ["a.yaml"]


def test_an_existing_file_is_never_touched(tmp_path: Path) -> None:
    """A taken name is refused: file, folder or a link that leads nowhere."""
    (tmp_path / "a").write_text("mine")
    (tmp_path / "b").mkdir()
    (tmp_path / "c").symlink_to(tmp_path / "nowhere")
    for name in "abc":
        with pytest.raises(RecordError, match="already"):
            write_new(tmp_path / name, "theirs")
    assert (tmp_path / "a").read_text() == "mine"
    assert sorted(os.listdir(tmp_path)) == ["a", "b", "c"]


def test_where_the_system_knows_no_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a file system without hard links the name is still claimed before it is written."""

    def no_links(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    write_new(tmp_path / "a", "one")
    with pytest.raises(RecordError, match="already"):
        write_new(tmp_path / "a", "two")
    assert (tmp_path / "a").read_text() == "one"
    assert os.listdir(tmp_path) == ["a"]


def test_only_one_of_many_writers_wins(tmp_path: Path) -> None:
    """Of ten writers at once one gets the name, nine are refused, and the file is whole."""
    won: list[str] = []
    lost: list[str] = []

    def attempt(text: str) -> None:
        try:
            write_new(tmp_path / "a", text)
            won.append(text)
        except RecordError:
            lost.append(text)

    threads = [threading.Thread(target=attempt, args=(f"{n}" * 1000,)) for n in range(10)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (1, 9) == (len(won), len(lost))
    assert (tmp_path / "a").read_text() == won[0]


@pytest.mark.parametrize("name", ["none/a.yaml", "a\0b", "n" * 300])
def test_where_nothing_can_be_written(tmp_path: Path, name: str) -> None:
    """A missing folder and impossible names are refused in plain words."""
    with pytest.raises(RecordError):
        write_new(tmp_path / name, "x")
    assert os.listdir(tmp_path) == []


def test_replacing_keeps_permissions(tmp_path: Path) -> None:
    """A replaced file keeps its permissions, and a link to it stays a link."""
    file, link = tmp_path / "a", tmp_path / "b"
    file.write_text("old")
    file.chmod(0o640)
    link.symlink_to(file)
    replace_whole(link, b"new", digest(file))
    assert file.read_text() == "new"
    assert link.is_symlink()
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert sorted(os.listdir(tmp_path)) == ["a", "b"]


def test_a_file_changed_meanwhile_is_not_replaced(tmp_path: Path) -> None:
    """What somebody has saved since it was read is never lost."""
    file = tmp_path / "a"
    file.write_text("old")
    before = digest(file)
    file.write_text("theirs")
    with pytest.raises(RecordError, match="changed since"):
        replace_whole(file, b"mine", before)
    assert file.read_text() == "theirs"
    assert os.listdir(tmp_path) == ["a"]


def test_what_a_killed_run_left_is_removed_once_it_is_old(tmp_path: Path) -> None:
    """A passing file of two hours ago goes with the next write; a fresh one, and what is not ours, stays."""
    old, fresh, theirs = (tmp_path / name for name in (f".{'a' * 16}.tmp", f".{'b' * 16}.tmp", ".notes.tmp"))
    for file in (old, fresh, theirs):
        file.write_text("half")
    for file in (old, theirs):
        os.utime(file, (0, 0))
    write_new(tmp_path / "a", "whole")
    assert sorted([fresh.name, theirs.name, "a"]) == sorted(os.listdir(tmp_path))


def test_a_folder_of_a_passing_name_hides_no_file_behind_it(tmp_path: Path) -> None:
    """What cannot be removed as a file is left, and every old passing file goes all the same."""
    for letter in "abcdef":
        left = tmp_path / f".{letter * 16}.tmp"
        left.mkdir() if letter in "ace" else left.write_text("half")
        os.utime(left, (0, 0))
    write_new(tmp_path / "a", "whole")
    assert {"a", *(f".{letter * 16}.tmp" for letter in "ace")} == set(os.listdir(tmp_path))


def test_putting_whole_keeps_the_mode_and_follows_a_link(tmp_path: Path) -> None:
    """A page written over an older one is swapped in one step, under the same permissions."""
    page = tmp_path / "page.html"
    page.write_text("old")
    page.chmod(0o640)
    (tmp_path / "link").symlink_to(page)
    put_whole(tmp_path / "link", b"new")
    assert ("new", 0o640) == (page.read_text(), stat.S_IMODE(page.stat().st_mode))
    assert ["link", "page.html"] == sorted(os.listdir(tmp_path))


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (b"- {off: a, because: b}\n", b"- {off: a, because: b}\n\n- off: c\n  because: d\n"),
        (b"- {off: a, because: b}", b"- {off: a, because: b}\n\n- off: c\n  because: d\n"),
        (
            b"\xef\xbb\xbf- {off: a, because: b}\r\n",
            b"\xef\xbb\xbf- {off: a, because: b}\r\n\r\n- off: c\r\n  because: d\r\n",
        ),
    ],
)
def test_an_entry_is_added_behind_what_stands_there(tmp_path: Path, before: bytes, after: bytes) -> None:
    """With the file's own line ends and its mark of order, whether or not its last line was ended."""
    file = tmp_path / "own.yaml"
    file.write_bytes(before)
    add_entry(file, entry_text("", {"off": "c", "because": "d", "basis": ""}))
    assert after == file.read_bytes()


def test_an_entry_begins_a_file_that_is_not_there(tmp_path: Path) -> None:
    """Its folder too; a part with parts of its own stands in lines below it, and a remark above all."""
    file = tmp_path / "rules" / "mine" / "own.yaml"
    add_entry(file, entry_text("why\nso", {"rule": "a", "must": {"load": "at most 3 %"}, "hits": []}))
    assert file.read_text("utf-8").endswith("# why so\n- rule: a\n  must:\n    load: at most 3 %\n")


def test_answers_are_kept_until_they_are_needed_no_longer(tmp_path: Path) -> None:
    """What was answered is read again; a file that is none of ours, or too large, holds no answer."""
    unfinished = Unfinished(tmp_path / "plans" / ".first.json")
    assert {} == unfinished.read()
    unfinished.keep({"for": "sale"})
    assert {"for": "sale"} == unfinished.read()
    for data in (b"[1]", b"{", b"\xff", b" " * (LARGEST + 1) + b"{}"):
        unfinished.file.write_bytes(data)
        assert {} == unfinished.read()
    unfinished.finish()
    unfinished.finish()
    assert [] == list((tmp_path / "plans").iterdir())
