"""What is not known: ranges, drawn so that what goes together stays together."""

import numpy as np


def triangular(chance, least, likely, most):
    """The value that a triangular range stays below with a chance.

    Parameters
    ----------
    chance : array_like, shape (..., draw)
        [0–1]
    least, likely, most : array_like
        In any unit.
    """
    chance, least, most = (np.asarray(x, dtype=float) for x in (chance, least, most))
    width, rise = most - least, likely - least
    rising = least + np.sqrt(chance * width * rise)
    falling = most - np.sqrt((1 - chance) * width * (width - rise))
    return np.where(chance * width < rise, rising, falling)


def ranks(values):
    """Each one's rank among the draws, from 0, (..., draw). [1]"""
    return np.argsort(np.argsort(values, axis=-1), axis=-1)


def linked_chances(normals, links):
    """Chances, evenly spread for each input, that go together as said. [0–1]

    A Gaussian copula taken by ranks, so that each input by itself covers its range
    evenly whatever was drawn.

    Parameters
    ----------
    normals : array_like, shape (input, draw)
        Independent standard normal draws. [1]
    links : array_like, shape (input, input)
        Correlations, 1 along the diagonal; positive definite. [−1–1]
    """
    together = np.linalg.cholesky(links) @ np.asarray(normals, dtype=float)
    return (ranks(together) + 0.5) / together.shape[-1]


def rank_correlation(inputs, outcome):
    """How far each input and the outcome rise together (Spearman), (input,). [−1–1]

    Parameters
    ----------
    inputs : array_like, shape (input, draw)
    outcome : array_like, shape (draw,)
    """
    of_inputs, of_outcome = ranks(inputs), ranks(outcome)
    middle = (of_outcome.size - 1) / 2
    products = (of_inputs - middle) @ (of_outcome - middle)
    return products / np.sum((of_outcome - middle) ** 2.0)
