"""Products in pieces are the whole product, whatever the sizes."""

import numpy as np
import pytest

from setwell.engine.row_products import row_products


@pytest.mark.parametrize("count", [0, 1, 500, 521, 4096, 10_001])
@pytest.mark.parametrize(("width", "columns"), [(12, 24), (1, 3), (40, 60), (3, 0)])
def test_pieces_make_the_whole_product(count, width, columns):
    rng = np.random.default_rng(count + columns)
    rows, table = rng.normal(size=(count, width)), rng.normal(size=(width, columns))
    found = row_products(rows, table)
    assert found.shape == (count, columns)
    np.testing.assert_allclose(found, np.einsum("nk,kc->nc", rows, table), rtol=1e-12, atol=1e-12)


def test_a_row_comes_out_the_same_in_any_batch():
    rng = np.random.default_rng(3)
    rows, table = rng.normal(size=(5000, 12)), rng.normal(size=(12, 24))
    whole = row_products(rows, table)
    assert np.array_equal(whole[2000:3000], row_products(rows[2000:3000], table))
