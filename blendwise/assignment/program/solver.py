"""The only file that imports the solver (HiGHS), and only when something is solved.

One thread, a fixed seed, nothing ever written to standard output.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from blendwise.assignment.program.program import Program
from blendwise.facts.columns import Floats

Status = Literal["optimal", "impossible", "stopped", "unbounded"]

TOLERANCE = 1e-9
SECONDS_LEAST = 0.02
ROWWISE = 2


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one run proved.

    ``status``: *optimal* within the asked gap, *impossible*, *stopped* by the clock (``values`` may still
    hold an answer).  ``bound`` is a proven lower bound of the minimum; ``value`` that of the answer.
    ``duals``: of the rows, for a program solved without whole numbers.
    """

    status: Status
    value: float = float("inf")
    bound: float = -float("inf")
    values: Floats | None = None
    duals: Floats | None = None


class Engine:
    """A HiGHS of our own: programs in, outcomes out."""

    def __init__(self) -> None:
        import highspy

        self._names = highspy
        self._highs: Any = highspy.Highs.__new__(highspy.Highs)
        super(
            highspy.Highs, self._highs
        ).__init__()  # its own __init__ prints a banner before it can be silenced
        for option, value in (
            ("output_flag", False),
            ("log_to_console", False),
            ("threads", 1),
            ("parallel", "off"),
            ("random_seed", 0),
            ("primal_feasibility_tolerance", TOLERANCE),
            ("dual_feasibility_tolerance", TOLERANCE),
            ("mip_feasibility_tolerance", TOLERANCE),
            ("mip_rel_gap", 0.0),
            ("mip_detect_symmetry", False),
        ):
            self._highs.setOptionValue(option, value)

    def minimise(
        self,
        program: Program,
        cost: Floats,
        row_high: Floats,
        *,
        relaxed: bool = False,
        gap: float = 0.0,
        seconds: float = 600.0,
    ) -> Outcome:
        """Least ``cost @ y`` over the program with its row ends ``row_high``; ``gap`` absolute;
        seconds of clock."""
        whole = not relaxed and bool(program.whole.any())
        for option, value in (("presolve", "choose"), ("simplex_scale_strategy", 1)):
            self._highs.setOptionValue(option, value)
        self._highs.setOptionValue("mip_abs_gap", max(gap, 1e-7))
        # HiGHS counts the clock of linear programs over all runs, that of whole-number ones afresh
        so_far = 0.0 if whole else self._highs.getRunTime()
        self._highs.setOptionValue("time_limit", so_far + max(seconds, SECONDS_LEAST))
        self._pass(program, cost, row_high, whole)
        self._highs.run()
        return self._outcome(whole)

    def open(self, program: Program, cost: Floats, row_high: Floats) -> None:
        """Load a linear program that ``probe`` will solve many times under other column ends."""
        for option, value in (
            ("presolve", "off"),
            ("time_limit", float("inf")),
            ("simplex_scale_strategy", 0),
        ):
            self._highs.setOptionValue(option, value)
        self._pass(program, cost, row_high, whole=False)
        self._columns = np.arange(len(cost), dtype=np.int32)

    def probe(self, low: Floats, high: Floats) -> Outcome:
        """Solve what is open with these column ends, from where the last probe stopped."""
        self._highs.changeColsBounds(len(self._columns), self._columns, low, high)
        self._highs.run()
        return self._outcome(whole=False)

    def _pass(self, program: Program, cost: Floats, row_high: Floats, whole: bool) -> None:
        kinds = (program.whole & whole).astype(np.int32)
        self._highs.passModel(
            len(cost),
            len(row_high),
            len(program.value),
            ROWWISE,
            1,
            0.0,
            cost,
            program.low,
            program.high,
            program.row_low,
            row_high,
            program.start,
            program.index,
            program.value,
            kinds,
        )

    def _outcome(self, whole: bool) -> Outcome:
        status = self._highs.getModelStatus()
        names = self._names.HighsModelStatus
        if status in (names.kInfeasible, names.kUnboundedOrInfeasible):
            return Outcome("impossible", bound=float("inf"))
        if status == names.kUnbounded:
            return Outcome("unbounded")
        info = self._highs.getInfo()
        solved = status == names.kOptimal
        bound = float(info.mip_dual_bound) if whole else float(info.objective_function_value)
        if not solved and not whole:
            bound = -float("inf")
        if info.primal_solution_status != self._names.SolutionStatus.kSolutionStatusFeasible:
            return Outcome("stopped", bound=bound)
        solution = self._highs.getSolution()
        values = np.asarray(solution.col_value, dtype=np.float64)
        duals = None if whole else np.asarray(solution.row_dual, dtype=np.float64)
        value = float(info.objective_function_value)
        return Outcome("optimal" if solved else "stopped", value, min(bound, value), values, duals)
