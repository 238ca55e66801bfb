"""How many pieces make a serving."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError

# A piece that weighs at least this share of the reference amount is a serving by itself.
_ONE_IS_ENOUGH = 0.67


def serving_pieces(piece: ArrayLike, *, reference: float) -> NDArray[np.intp]:
    """Return the number of pieces closest to the reference amount, at least one.

    Parameters
    ----------
    piece : array_like, shape (n,)
        Weight of one piece, above zero [g].
    reference : float
        Reference amount [g].

    Returns
    -------
    ndarray, shape (n,)
        Whole pieces [-].

    Raises
    ------
    InputError
        If a piece weighs nothing.

    Notes
    -----
    pieces = floor(reference / piece + 1/2), and 1 from 67 % of the reference amount on. Between
    half and two thirds the rule leaves one or two; this takes the closer one. Valid for pieces
    that are eaten whole.

    References
    ----------
    cfr_21_101_9
        Paragraph (b)(2)(i): products in discrete units.

    Examples
    --------
    >>> serving_pieces([4.0, 16.0, 25.0], reference=30.0).tolist()
    [8, 2, 1]
    """
    grams = np.atleast_1d(np.asarray(piece, dtype=np.float64))
    if not np.all(grams > 0.0):
        raise InputError("A piece has to weigh something.")
    closest = np.floor(reference / grams + 0.5)
    closest = np.where(grams >= _ONE_IS_ENOUGH * reference, 1.0, closest)
    return np.maximum(closest, 1.0).astype(np.intp)
