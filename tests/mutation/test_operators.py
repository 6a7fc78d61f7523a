"""The small faults are what they say, and each is one."""

from __future__ import annotations

import ast
import difflib

from tests.mutation.operators import mutants

SOURCE = '''
def f(a, b=[1]):
    """Help."""
    if a < 2 and not b:
        return min(a, -1)
    a += 1
    raise ValueError(a == 3)


class C:
    def g(self):
        for each in self.all():
            if each is None:
                continue
            self.seen.add(each * 2 + True)
'''


def test_each_fault_is_one_and_stands_where_it_says() -> None:
    """Every mutant differs from the source in one stretch, and none in words or refusals."""
    plain = ast.unparse(ast.parse(SOURCE)).splitlines()
    found = mutants(SOURCE)
    for mutant in found:
        changed = [line for line in difflib.ndiff(plain, mutant.text.splitlines()) if line[0] in "+-"]
        assert 1 <= len(changed) <= 3, mutant.name
        assert "ValueError" not in "".join(changed)
    assert {"f", "C.g"} == {mutant.function for mutant in found}
    told = {(mutant.before, mutant.now) for mutant in found}
    assert {("a < 2", "a <= 2"), ("a < 2", "a > 2"), ("not b", "b"), ("min(a, -1)", "max(a, -1)")} <= told
    assert {
        ("a += 1", "(nothing)"),
        ("continue", "(nothing)"),
        ("each * 2", "each / 2"),
        ("True", "False"),
    } <= told
    assert len(found) == len({(mutant.name, mutant.line) for mutant in found})


def test_the_source_is_never_changed_by_a_fault() -> None:
    """Two faults of one module do not meet."""
    first, second = mutants("def f(a):\n    return a + 1 < 2\n")[:2]
    assert first.text != second.text
    assert ast.unparse(first.tree) == "def f(a):\n    return a + 1 < 2"
