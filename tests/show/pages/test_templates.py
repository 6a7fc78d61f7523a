"""What a template calls by name is there: no other tool sees into templates."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from jinja2 import Environment, nodes

from blendwise.quantity import METRIC
from blendwise.show.blocks import Blocks, Line, Title
from blendwise.show.cup import words as of_cup
from blendwise.show.pages import render
from blendwise.show.pages.answer import answer_page
from blendwise.show.pages.render import TEMPLATES
from blendwise.show.sheet import front, stopped
from blendwise.show.sheet import words as of_sheet

MODULES = {"words": of_sheet, "front": front}
OTHERS = {"cup.html": {"words": of_cup}, "stopped.html": {"words": stopped}}


@pytest.mark.parametrize("file", sorted(TEMPLATES.rglob("*.html")), ids=lambda file: file.name)
def test_functions_of_modules_are_there(file: Path) -> None:
    """Each ``words.NAME`` and ``front.NAME`` in a template is a name of the module handed over."""
    modules = MODULES | OTHERS.get(file.name, {})
    asked = {
        (each.node.name, each.attr)
        for each in Environment().parse(file.read_text("utf-8")).find_all(nodes.Getattr)
        if isinstance(each.node, nodes.Name) and each.node.name in modules
    }
    assert [pair for pair in sorted(asked) if not hasattr(modules[pair[0]], pair[1])] == []


def test_templates_are_kept_compiled_and_never_believed_blindly(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same page comes of what is kept, of nothing, of damage, and of a template that has changed."""
    monkeypatch.delenv("BLENDWISE_NO_CACHE", raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    blocks: Blocks = [Title("x", "It holds."), Line("caution", "<b>mind</b>")]
    first = answer_page("x", blocks, METRIC)
    kept = sorted((tmp_path / "cache" / "blendwise").glob("page-*"))
    assert len(kept) >= 2
    assert first == answer_page("x", blocks, METRIC)
    for file in kept:
        file.write_bytes(file.read_bytes()[:-9] + b'damaged!"')
    assert first == answer_page("x", blocks, METRIC)
    assert "&lt;b&gt;mind" in first
    templates = tmp_path / "templates"
    shutil.copytree(render.TEMPLATES, templates)
    monkeypatch.setattr(render, "TEMPLATES", templates)
    changed = templates / "answer.html"
    changed.write_text(changed.read_text("utf-8").replace("Advice,", "Counsel,"), "utf-8")
    assert first.replace("Advice,", "Counsel,") == answer_page("x", blocks, METRIC)
