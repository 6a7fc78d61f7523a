"""What a template calls by name is there: no other tool sees into templates."""

from __future__ import annotations

from pathlib import Path

import pytest
from jinja2 import Environment, nodes

from blendwise.show.cup import words as of_cup
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
