"""The lowest point of a function over a box, asked for many points at a time."""

import math
from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.spatial import cKDTree

from setwell.errors import OutOfRangeError
from setwell.science.designs.evolution import Cloud
from setwell.science.designs.quasi_random import normal_draws, sobol_points

Array = NDArray[np.float64]

# The rounds of a search draw from another stream than its first look.
_LOCAL_STREAM = 7919
# Half the usual gap between the points of the first look, within these ends [of the box].
_GAP, _GAP_LEAST, _GAP_MOST = 0.5, 0.01, 0.25


class BoxSearch(NamedTuple):
    """The best point (d,) and its value, and all points (n, d) asked with their values (n,)."""

    point: Array
    value: float
    points: Array
    values: Array


def box_search(
    function: Callable[[Array], Array],
    *,
    lower: ArrayLike,
    upper: ArrayLike,
    doublings: int = 9,
    basins: int = 4,
    rounds: int = 40,
    cloud_points: int = 32,
    seed: int = 1,
) -> BoxSearch:
    """Return the lowest point of a function over a box, looked for everywhere first.

    Parameters
    ----------
    function : callable
        Gives the values (n,) of n points (n, d); what is not a number counts as endless [-].
    lower : array_like, shape (d,)
        Lower ends of the box [-].
    upper : array_like, shape (d,)
        Upper ends of the box, above the lower ones [-].
    doublings : int
        The first look has two to this power of points, 0 to 20 [-].
    basins : int
        How many hollows are followed down, at most [-].
    rounds : int
        How often each of them is asked for more points [-].
    cloud_points : int
        Points of a hollow in each round, 4 or more [-].
    seed : int
        Where the drawing starts; the same seed gives the same search [-].

    Returns
    -------
    BoxSearch, shape (d,), scalar, (n, d), (n,)
        Best point, its value, and every point asked with its value [-].

    Raises
    ------
    OutOfRangeError
        If the box is empty, a number of points is too small, or values do not fit points.

    Notes
    -----
    Definition: scrambled Sobol points; of these the ones no neighbor of which lies lower begin a
    hollow each, the lowest first; every hollow is followed by a normal cloud that adapts its
    covariance, on scrambled Sobol deviates. At most 2^k + b m λ points are asked, in 1 + m
    batches. Meant for up to about ten dimensions.

    References
    ----------
    torn_viitanen_1992
        Hollows from neighbors of a uniform cover.
    hansen_2016
        The cloud and its rates.
    sobol_1967
        The sequence.

    Examples
    --------
    >>> import numpy as np
    >>> found = box_search(lambda x: ((x - [0.3, -1.0]) ** 2).sum(axis=1), lower=[-2, -2],
    ...     upper=[2, 2], seed=3)
    >>> found.point.round(6)
    array([ 0.3, -1. ])
    """
    least, size = _box(lower, upper)
    look = sobol_points(len(least), doublings=doublings, scrambles=1, seed=seed)
    values = _asked(function, least + look * size)
    starts = _hollows(look, values, basins)
    width = float(np.clip(_GAP * len(look) ** (-1.0 / len(least)), _GAP_LEAST, _GAP_MOST))
    found = _followed(function, least, size, look[starts], width, (rounds, cloud_points, seed))
    return _best(
        np.concatenate([least + look * size, found[0]]), np.concatenate([values, found[1]])
    )


def box_refine(
    function: Callable[[Array], Array],
    *,
    starts: ArrayLike,
    lower: ArrayLike,
    upper: ArrayLike,
    width: float,
    rounds: int,
    cloud_points: int,
    seed: int = 1,
) -> BoxSearch:
    """Return the lowest point of a function near some starts, in a few rounds.

    Parameters
    ----------
    function : callable
        Gives the values (n,) of n points (n, d); what is not a number counts as endless [-].
    starts : array_like, shape (k, d)
        Points to begin at; one outside of the box begins at its wall [-].
    lower : array_like, shape (d,)
        Lower ends of the box [-].
    upper : array_like, shape (d,)
        Upper ends of the box, above the lower ones [-].
    width : float
        Standard deviation of the first cloud, in parts of the box, above 0 up to 1 [-].
    rounds : int
        How often each start is asked for more points [-].
    cloud_points : int
        Points of a start in each round, 4 or more [-].
    seed : int
        Where the drawing starts; the same seed gives the same search [-].

    Returns
    -------
    BoxSearch, shape (d,), scalar, (n, d), (n,)
        Best point, its value, and every point asked with its value, the starts first; they go
        along with the first of as many batches as rounds [-].

    Raises
    ------
    OutOfRangeError
        If the box is empty, a number of points is too small, or values do not fit points.

    Notes
    -----
    Definition: the second part of `box_search`; never worse than the best start. Meant for starts
    that lie in the hollow that is looked for.

    References
    ----------
    hansen_2016
        The cloud and its rates.

    Examples
    --------
    >>> import numpy as np
    >>> found = box_refine(lambda x: np.abs(x[:, 0] - 0.7), starts=[[0.5]], lower=[0],
    ...     upper=[1], width=0.2, rounds=8, cloud_points=16)
    >>> found.point.round(2)
    array([0.7])
    """
    least, size = _box(lower, upper)
    begun = np.clip((np.atleast_2d(np.asarray(starts, np.float64)) - least) / size, 0.0, 1.0)
    if not 0.0 < width <= 1.0:
        raise OutOfRangeError(
            f"A width of {width:g} of the box cannot be searched.", field="width",
            hint="Give more than 0 and at most 1.",
        )  # fmt: skip
    plan = (rounds, cloud_points, seed)
    return _best(*_followed(function, least, size, begun, width, plan, has_starts=True))


def _box(lower: ArrayLike, upper: ArrayLike) -> tuple[Array, Array]:
    """Return the lower ends and the lengths of the sides."""
    least, most = np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    is_box = least.ndim == 1 and least.shape == most.shape and least.size > 0
    if not is_box or not np.all(np.isfinite(most - least)) or np.any(most <= least):
        raise OutOfRangeError(
            "A box needs a finite lower and upper end for each side, the upper one above.",
            field="upper",
        )
    return least, most - least


def _asked(function: Callable[[Array], Array], points: Array) -> Array:
    """Return the values of points; what is not a number is never the lowest."""
    values = np.asarray(function(points), dtype=np.float64)
    if values.shape != (len(points),):
        message = f"{len(points)} points were given, values of shape {values.shape} came back."
        raise OutOfRangeError(message, field="function")
    return np.where(np.isnan(values), np.inf, values)


def _hollows(points: Array, values: Array, most: int) -> NDArray[np.intp]:
    """Return the places of points that no neighbor lies below, the lowest first."""
    if most < 1:
        raise OutOfRangeError("At least one hollow must be followed.", field="basins")
    near = min(2 * points.shape[1] + 2, len(points))
    order = np.argsort(values, kind="stable")
    if near < 2:
        return order[:most]
    neighbors = np.asarray(cKDTree(points).query(points, k=near)[1], dtype=np.intp)[:, 1:]
    rank = np.empty(len(order), dtype=np.intp)
    rank[order] = np.arange(len(order))
    # By rank, so that of two equal neighbors one still is the lower.
    is_hollow = rank < rank[neighbors].min(axis=1)
    return np.asarray(order[is_hollow[order]][:most], dtype=np.intp)


def _followed(
    function: Callable[[Array], Array], least: Array, size: Array, starts: Array, width: float,
    plan: tuple[int, int, int], *, has_starts: bool = False,
) -> tuple[Array, Array]:  # fmt: skip
    """Return all points asked while every start is followed down, with their values."""
    rounds, points, seed = plan
    if rounds < 1 or points < 4:
        message = f"{rounds} rounds of {points} points lead nowhere; at least 1 of 4 are needed."
        raise OutOfRangeError(message, field="cloud_points")
    clouds = [Cloud(start, width, points) for start in starts]
    draws = _deviates(len(least), rounds, points, seed)
    # The starts go along with the first round, which saves a batch.
    head = starts if has_starts else starts[:0]
    asked, values = [], []
    for deviates in draws:
        batch = np.concatenate([head, *(cloud.asked(deviates) for cloud in clouds)])
        asked.append(least + batch * size)
        values.append(_asked(function, asked[-1]))
        for place, cloud in enumerate(clouds):
            first = len(head) + place * points
            own = slice(first, first + points)
            cloud.told(batch[own], values[-1][own])
        head = starts[:0]
    return np.concatenate(asked), np.concatenate(values)


def _deviates(width: int, rounds: int, points: int, seed: int) -> Array:
    """Return standard normal deviates (rounds, points, width), each round evenly spread."""
    doublings = math.ceil(math.log2(points))
    drawn = sobol_points(width, doublings=doublings, scrambles=rounds, seed=seed + _LOCAL_STREAM)
    return normal_draws(drawn).reshape(rounds, -1, width)[:, :points]


def _best(points: Array, values: Array) -> BoxSearch:
    place = int(np.argmin(values))
    return BoxSearch(points[place], float(values[place]), points, values)
