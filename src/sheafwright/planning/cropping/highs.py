"""A program handed to HiGHS, and what came back."""

from typing import NamedTuple

import highspy

from sheafwright.core.errors import SheafwrightError
from sheafwright.planning.cropping.program import INFINITY

STATUS = highspy.HighsModelStatus
IMPOSSIBLE = STATUS.kInfeasible, STATUS.kUnboundedOrInfeasible
ENDED = STATUS.kOptimal, STATUS.kTimeLimit
FEASIBLE = 2


class Found(NamedTuple):
    """What a run gave."""

    values: list[float] | None
    """Of every column; None where none was found in time."""
    worth: float
    bound: float
    """No values are worth more."""
    impossible: bool
    """Proven that no values keep the rows."""


class Quiet(highspy.Highs):
    """The solver, without its name on standard output, where our JSON goes."""

    def enableCallbacks(self):  # noqa: N802
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()


def run(program, seconds, gap, relaxed):
    """`Found` by `Program.run`."""
    highs = Quiet()
    highs.setOptionValue("time_limit", float(seconds))
    highs.setOptionValue("mip_rel_gap", gap)
    highs.passModel(_lp(program, relaxed))
    highs.run()
    return _found(highs, relaxed)


def _lp(program, relaxed):
    lp, kinds = highspy.HighsLp(), highspy.HighsVarType
    lp.num_col_, lp.num_row_ = len(program.worths), len(program.row_lowers)
    lp.sense_ = highspy.ObjSense.kMaximize
    lp.col_cost_ = program.worths
    lp.col_lower_, lp.col_upper_ = program.lowers, program.uppers
    lp.row_lower_, lp.row_upper_ = program.row_lowers, program.row_uppers
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.num_col_, lp.a_matrix_.num_row_ = lp.num_col_, lp.num_row_
    lp.a_matrix_.start_ = program.starts
    lp.a_matrix_.index_, lp.a_matrix_.value_ = program.places, program.factors
    if not relaxed:
        lp.integrality_ = [
            kinds.kInteger if whole else kinds.kContinuous for whole in program.whole
        ]
    return lp


def _found(highs, relaxed):
    status, info = highs.getModelStatus(), highs.getInfo()
    if status in IMPOSSIBLE:
        return Found(None, -INFINITY, -INFINITY, True)
    if status not in ENDED:
        raise SheafwrightError(
            "The solver gave up on the plan: {status}.", status=status.name
        )
    if info.primal_solution_status != FEASIBLE:
        return Found(None, -INFINITY, INFINITY, False)
    worth = info.objective_function_value
    # A linear program that ends early bounds nothing.
    bound = info.mip_dual_bound if not relaxed else worth
    if relaxed and status != STATUS.kOptimal:
        bound = INFINITY
    return Found(list(highs.getSolution().col_value), worth, bound, False)
