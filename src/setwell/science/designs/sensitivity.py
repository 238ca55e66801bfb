"""What drives the spread of an outcome: variance shared out between its inputs."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]


class SobolIndices(NamedTuple):
    """First-order and total indices of g inputs, with their standard errors, each (g,)."""

    first: Array
    total: Array
    first_error: Array
    total_error: Array


def crossed_points(points: ArrayLike, *, groups: Sequence[Sequence[int]]) -> Array:
    """Return the cases from which the indices of groups of inputs are computed.

    Parameters
    ----------
    points : array_like, shape (n, 2 d)
        Two independent sets of n points of d inputs side by side [-].
    groups : sequence of sequences of int
        The inputs of each of g groups, counted from 0; all inputs of a group vary together [-].

    Returns
    -------
    numpy.ndarray, shape ((g + 2) n, d)
        The first set, the second, and for each group the first set with the second's inputs of
        that group [-].

    Notes
    -----
    Definition: the sets A, B and A_B^(1) to A_B^(g). Meant for inputs that are independent
    between groups.

    References
    ----------
    saltelli_2010
        The crossed design, section 3.

    Examples
    --------
    >>> crossed_points([[0.1, 0.2, 0.3, 0.4]], groups=[[0], [1]]).tolist()
    [[0.1, 0.2], [0.3, 0.4], [0.3, 0.2], [0.1, 0.4]]
    """
    first, second = np.split(np.asarray(points, dtype=np.float64), 2, axis=1)
    crossed = []
    for group in groups:
        mixed = first.copy()
        mixed[:, list(group)] = second[:, list(group)]
        crossed.append(mixed)
    return np.concatenate([first, second, *crossed])


def sobol_indices(outcomes: ArrayLike, *, groups: int) -> SobolIndices:
    """Return the share of the variance that each group of inputs brings.

    Parameters
    ----------
    outcomes : array_like, shape ((g + 2) n,)
        Outcomes of the crossed cases, in their order [any unit].
    groups : int
        Number of groups g, 1 or more [-].

    Returns
    -------
    SobolIndices
        First-order and total indices with one standard error each; all zero where the outcome
        does not vary [-].

    Raises
    ------
    OutOfRangeError
        When the number of outcomes is not that of whole sets.

    Notes
    -----
    With outcomes centered on their mean, S_i = mean(f_B (f_ABi - f_A)) / V and
    T_i = mean((f_A - f_ABi)^2) / (2 V). The error is that of a mean of n independent terms, the
    variance V taken as known; for scrambled points it is on the high side. Indices of small
    shares may come out slightly below zero.

    References
    ----------
    saltelli_2010
        Estimator of the first order, table 2 (b).
    jansen_1999
        Estimator of the total, table 2 (f) of the former.
    ishigami_homma_1990
        A function whose indices are known, on which the estimators are checked.

    Examples
    --------
    An outcome of one input alone, invented:

    >>> cases = crossed_points([[0.1, 0.5, 0.8, 0.5], [0.9, 0.5, 0.4, 0.5]], groups=[[0], [1]])
    >>> found = sobol_indices(cases[:, 0], groups=2)
    >>> found.total[1].item()
    0.0
    """
    values = np.asarray(outcomes, dtype=np.float64)
    if groups < 1 or values.ndim != 1 or len(values) % (groups + 2):
        raise OutOfRangeError(
            f"{values.shape} outcomes are not {groups + 2} sets of the same size.",
            field="outcomes",
            hint="Pass the outcomes of all crossed cases, in their order.",
        )
    sets = values.reshape(groups + 2, -1)
    sets = sets - sets[:2].mean()
    a, b, mixed = sets[0], sets[1], sets[2:]
    count, variance = len(a), float(sets[:2].var())
    if not variance > 0:
        nothing = np.zeros(groups)
        return SobolIndices(nothing, nothing, nothing, nothing)
    first = b * (mixed - a) / variance
    total = (a - mixed) ** 2 / (2.0 * variance)
    return SobolIndices(
        first.mean(axis=1),
        total.mean(axis=1),
        first.std(axis=1) / np.sqrt(count),
        total.std(axis=1) / np.sqrt(count),
    )
