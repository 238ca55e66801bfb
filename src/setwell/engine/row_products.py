"""Many short rows times a small table, without waking other threads for it."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Multiplications of one piece: from about 260,000 on the library shares them out over threads,
# and waking these takes ten times as long as the work.
_PIECE = 150_000
_LEAST_ROWS = 16


def row_products(rows: Array, table: Array) -> Array:
    """Return rows (n, k) times a table (k, c), the same to the bit as the whole product."""
    count, size = max(_PIECE // max(table.size, 1), _LEAST_ROWS), len(rows)
    if size <= count:
        return np.asarray(rows @ table)
    found = np.empty((size, table.shape[1]))
    for start in range(0, size, count):
        piece = slice(start, start + count)
        np.matmul(rows[piece], table, out=found[piece])
    return found
