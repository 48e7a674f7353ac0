"""Straight lines through crops: what goes with good straw, fitted by statsmodels.

Causes are weighed beside each other where crops are many enough, else each by itself.
"""

import importlib.util
import warnings

import numpy as np

STEPS = {"nitrogen_index": 1, "cut_day": 7, "rain_on_stooks_mm": 10}
"""Cause to the step that its effect is told for."""
MOST_TANGLED = 10.0
"""Condition number beyond which causes can't be told from each other."""
MOSTLY = 0.5
"""Share of a cause's variance between fields, from which it is a matter of fields."""


def can_tell():
    """Whether what it is worked out with is installed."""
    return importlib.util.find_spec("statsmodels") is not None


def fits(y, x, fields, rules):
    """Each cause that may be asked of: its slope and how that was found.

    Parameters
    ----------
    y : ndarray, shape (crop,)
    x : dict of str to ndarray, shape (crop,)
        By cause; NaN where it isn't known.
    fields : ndarray of str, shape (crop,)
        '' where it isn't known.
    rules : History

    Yields
    ------
    cause, slope, low, high, chance, crops, fields, mixed, beside
        The slope for one of ``STEPS``, with its interval and the chance of so much by
        chance alone.
    """
    causes = [cause for cause in x if _can_ask(y, x, [cause], rules.fewest)]
    beside = _can_ask(y, x, causes, rules.each * len(causes)) if causes else False
    for together in [causes] if beside else [[cause] for cause in causes]:
        known = _known(x, together)
        design = np.column_stack([x[c][known] / STEPS[c] for c in together])
        *fitted, mixed = _fit(y[known], design, fields[known], rules)
        of_fields = len(set(fields[known]) - {""})
        for cause, *each in zip(together, *fitted, strict=True):
            yield cause, *each, int(known.sum()), of_fields, mixed, beside


def _known(x, causes):
    return ~np.isnan([x[cause] for cause in causes]).any(axis=0)


def _can_ask(y, x, causes, fewest):
    """Whether so many crops know each cause, and it doesn't go just as others do."""
    known = _known(x, causes)
    if known.sum() < fewest or not np.ptp(y[known]):
        return False
    values = np.column_stack([x[cause][known] for cause in causes])
    spread = values.std(axis=0)
    if not (spread > 0).all():
        return False
    return bool(np.linalg.cond((values - values.mean(axis=0)) / spread) < MOST_TANGLED)


def _fit(y, x, fields, rules):
    """Slopes, ends of their intervals, chances, and whether fields have their levels.

    Parameters
    ----------
    y : ndarray, shape (crop,)
    x : ndarray, shape (crop, cause)
    """
    names = set(fields)
    if len(names) >= rules.fields and len(fields) >= 2 * len(names) and all(names):
        mixed = _mixed(y, x, fields, rules.confidence)
        if mixed:
            return *mixed, True
    return *_least_squares(y, x, rules.confidence), False


def _least_squares(y, x, confidence):
    from statsmodels.regression.linear_model import OLS

    fitted = OLS(y, np.column_stack([np.ones(len(y)), x])).fit()
    low, high = fitted.conf_int(1 - confidence)[1:].T
    return fitted.params[1:], low, high, fitted.pvalues[1:]


def _mixed(y, x, fields, confidence):
    """The same with a level for each field; None where that can't be fitted."""
    from statsmodels.regression.mixed_linear_model import MixedLM

    design = np.column_stack([np.ones(len(y)), x])
    with warnings.catch_warnings():
        # It says in warnings what we ask of it below.
        warnings.simplefilter("ignore")
        try:
            fitted = MixedLM(y, design, groups=fields).fit(reml=True)
        except (np.linalg.LinAlgError, ValueError):
            return None
    values, errors = fitted.params[1 : design.shape[1]], fitted.bse[1 : design.shape[1]]
    if not fitted.converged or not np.isfinite([values, errors]).all():
        return None
    return _students(values, errors, _freedom(x, fields), confidence)


def _freedom(x, fields):
    """Degrees of freedom of each slope: by fields where it differs between them.

    References
    ----------
    .. [1] J. C. Pinheiro and D. M. Bates, Mixed-Effects Models in S and S-PLUS, 2000,
       section 2.4.2.
    """
    _, index, counts = np.unique(fields, return_inverse=True, return_counts=True)
    means = np.array([np.bincount(index, column) / counts for column in x.T]).T
    outer = means[index].var(axis=0) > MOSTLY * x.var(axis=0)
    by_field = max(len(counts) - 1 - outer.sum(), 1)
    by_crop = max(len(x) - len(counts) - (~outer).sum(), 1)
    return np.where(outer, by_field, by_crop)


def _students(values, errors, freedom, confidence):
    """Slopes with the ends of their intervals, and chances of so much by chance."""
    from scipy.special import stdtr, stdtrit

    reach = stdtrit(freedom, (1 + confidence) / 2) * errors
    chances = 2 * stdtr(freedom, -np.abs(values / errors))
    return values, values - reach, values + reach, chances


def adjusted(chances):
    """Chances as of all that was looked at together, by Holm's way."""
    from statsmodels.stats.multitest import multipletests

    return multipletests(chances, method="holm")[1]
