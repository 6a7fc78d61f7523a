"""All dangerous plans, scored by kind: the long proof behind `test_cases.py`."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from pathlib import Path

from tests.danger.harness import Case, fault, load_cases, not_yet, run_case


def main() -> int:
    """Run every case and print how many of each kind are met; 1 where one fails that is not in `not_yet.txt`,
    or one that is there is met."""
    wrong = faults(load_cases())
    print(table(wrong))
    listed = set(not_yet())
    lost = [case.name for case, fault_ in wrong if fault_ and case.name not in listed]
    won = [case.name for case, fault_ in wrong if not fault_ and case.name in listed]
    for name in lost:
        print(f"not met: {name}")
    for name in won:
        print(f"met now, take it off not_yet.txt: {name}")
    return 1 if lost or won else 0


def faults(cases: Iterable[Case]) -> list[tuple[Case, str]]:
    """Each case with what is wrong with the answer to it; empty where the danger was met."""
    found = []
    for case in cases:
        with tempfile.TemporaryDirectory() as folder:
            found.append((case, fault(case, run_case(case, Path(folder)))))
    return found


def table(found: Iterable[tuple[Case, str]]) -> str:
    """A table in Markdown: kind, how many are met of how many."""
    of_kind: dict[str, list[bool]] = {}
    for case, wrong in found:
        of_kind.setdefault(case.kind, []).append(not wrong)
    lines = ["| kind | met | of |", "| --- | --- | --- |"]
    lines += [f"| {kind} | {sum(each)} | {len(each)} |" for kind, each in of_kind.items()]
    everything = [one for each in of_kind.values() for one in each]
    last = f"| **all {len(of_kind)} kinds** | **{sum(everything)}** | **{len(everything)}** |"
    return "\n".join([*lines, last])


if __name__ == "__main__":
    raise SystemExit(main())
