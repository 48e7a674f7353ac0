"""Loops that NumPy cannot do without a step a day, compiled when first called."""

from functools import cache


@cache
def compiled(kernel):
    """The kernel as machine code, kept on disk between runs.

    Parameters
    ----------
    kernel : callable
        A plain loop over arrays that calls no other kernel.
    """
    # Numba takes longer to import than most answers take to give.
    from numba import njit

    return njit(cache=True, nogil=True, error_model="numpy")(kernel)
