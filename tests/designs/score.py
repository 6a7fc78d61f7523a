"""All designs, scored by verdict and kind: `python -m tests.designs.score`."""

from __future__ import annotations

from collections.abc import Sequence

from tests.designs.harness import Design, designs, fault, not_yet, run_design


def main() -> int:
    """Print how many verdicts are met and what is wrong; 1 where `not_yet.txt` says otherwise."""
    found = [(design, fault(design, run_design(design))) for design in designs()]
    print(table(found))
    for design, wrong in found:
        if wrong:
            print(f"{design.name}: {wrong}")
    missed = {design.name for design, wrong in found if wrong}
    return int(missed != set(not_yet()))


def table(found: Sequence[tuple[Design, str]]) -> str:
    """A table in Markdown: verdict and kind, how many plans are met of how many (by every command asked)."""
    plans: dict[str, dict[str, bool]] = {}
    for design, wrong in found:
        kind = "pour" if design.pour else f"not: {design.kind}"
        each = plans.setdefault(kind, {})
        each[design.plan] = each.get(design.plan, True) and not wrong
    lines = ["| verdict | met | of |", "| --- | --- | --- |"]
    lines += [f"| {kind} | {sum(each.values())} | {len(each)} |" for kind, each in plans.items()]
    met = sum(sum(each.values()) for each in plans.values())
    return "\n".join([*lines, f"| **all** | **{met}** | **{sum(map(len, plans.values()))}** |"])


if __name__ == "__main__":
    raise SystemExit(main())
