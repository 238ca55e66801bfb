"""Lanczos vectors of the shifted inverse of a symmetric matrix, grown as far as they are needed."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import eigh_tridiagonal

Array = NDArray[np.float64]

# A new vector this much smaller than its parts is rounding: the old ones already hold everything.
_NOTHING = 1e-14


class LanczosBasis:
    """Orthogonal vectors that hold what a matrix S does to one vector w.

    They are grown with (I + g S)^-1, so that slow decays come first.
    """

    def __init__(self, solve: Callable[[Array], Array], vector: Array, *, shift: float) -> None:
        self.norm = float(np.linalg.norm(vector))
        self.shift = shift
        self._solve = solve
        self._vectors = np.zeros((16, len(vector)))
        self._diagonal: list[float] = []
        self._beside: list[float] = []
        self.is_complete = self.norm == 0.0
        if not self.is_complete:
            self._vectors[0] = vector / self.norm

    @property
    def count(self) -> int:
        """How many vectors there are."""
        return len(self._diagonal)

    @property
    def vectors(self) -> Array:
        """The vectors, shape (k, m)."""
        return self._vectors[: self.count]

    def grow(self, count: int) -> None:
        """Grow to so many vectors, or to as many as there are."""
        while self.count < count and not self.is_complete:
            have = self.count + 1
            if have >= len(self._vectors):
                more = np.zeros((len(self._vectors) + 16, self._vectors.shape[1]))
                more[:have] = self._vectors[:have]
                self._vectors = more
            old = self._vectors[:have]
            fresh = self._solve(old[-1])
            size = float(np.linalg.norm(fresh))
            self._diagonal.append(float(old[-1] @ fresh))
            fresh -= self._diagonal[-1] * old[-1]
            if self._beside:
                fresh -= self._beside[-1] * old[-2]
            # In theory it now stands on all others; rounding errors would grow.
            fresh -= (old @ fresh) @ old
            beside = float(np.linalg.norm(fresh))
            self.is_complete = beside <= _NOTHING * size or have == len(fresh)
            if not self.is_complete:
                self._beside.append(beside)
                self._vectors[have] = fresh / beside

    def spectrum(self) -> tuple[Array, Array]:
        """Return rates of decay (k,) and how they mix the vectors, shape (k, k)."""
        if not self.count:
            return np.zeros(0), np.zeros((0, 0))
        beside = np.asarray(self._beside[: self.count - 1])
        values, mix = eigh_tridiagonal(np.asarray(self._diagonal), beside)
        # Rounding may leave a value at or below zero; such a part is gone at once.
        rates = (1.0 / np.maximum(values, 1e-12) - 1.0) / self.shift
        return np.maximum(rates, 0.0), np.asarray(mix)
