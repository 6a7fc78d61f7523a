"""What an earlier way of learning kept is not served by a later one."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from blendwise.beliefs.kept import LEARNING
from blendwise.records.writing.cache import code_state


def test_a_change_of_the_code_is_seen(tmp_path: Path) -> None:
    """Another size or another time of one file of the learning makes another name of what is kept."""
    first = shutil.copytree(LEARNING, tmp_path / "one")
    second = shutil.copytree(LEARNING, tmp_path / "two")
    assert code_state(first) == code_state(second)
    third = shutil.copytree(LEARNING, tmp_path / "three")
    (third / "pace.py").write_text((third / "pace.py").read_text("utf-8") + "\n", "utf-8")
    fourth = shutil.copytree(LEARNING, tmp_path / "four")
    os.utime(fourth / "learn.py", ns=(0, 0))
    assert len({code_state(folder) for folder in (first, third, fourth)}) == 3


def test_a_package_that_is_no_folder_has_no_code_to_look_at(tmp_path: Path) -> None:
    assert code_state(tmp_path / "none") == ()
