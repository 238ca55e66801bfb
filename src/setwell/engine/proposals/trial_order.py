"""The order in which cups are made, and the codes that hide from a taster what is in them."""

from collections.abc import Sequence

import numpy as np

_FIRST_DIGITS = 9
# Rows of digits that catch the eye, and numbers with a meaning of their own.
_TELLING = frozenset({"123", "234", "345", "456", "567", "678", "789", "321", "432", "543", "654",
                      "765", "876", "987", "007", "420", "666", "747", "911"})  # fmt: skip


def run_order(centers: int, others: int, *, seed: int) -> tuple[int, ...]:
    """Return the cups in the order to make them; the first `centers` numbers are the center.

    The center comes first, last and evenly between, so that a drift shows; all others are drawn.
    """
    total = centers + others
    places = np.unique(np.round(np.linspace(0, total - 1, centers)).astype(int))
    drawn = iter((_generator(seed, 1).permutation(others) + centers).tolist())
    middle = iter(range(centers))
    at_center = set(places.tolist())
    return tuple(next(middle) if n in at_center else next(drawn) for n in range(total))


def blind_codes(count: int, *, seed: int) -> tuple[str, ...]:
    """Return different three-digit codes, which begin with different digits while those last."""
    generator = _generator(seed, 2)
    codes: list[str] = []
    firsts: list[int] = []
    while len(codes) < count:
        if not firsts:
            firsts = (generator.permutation(_FIRST_DIGITS) + 1).tolist()
        code = f"{firsts[-1]}{generator.integers(10)}{generator.integers(10)}"
        if _is_plain(code, codes):
            codes.append(code)
            firsts.pop()
    return tuple(codes)


def _is_plain(code: str, taken: Sequence[str]) -> bool:
    return code not in taken and code not in _TELLING and len(set(code)) > 1


def _generator(seed: int, stream: int) -> np.random.Generator:
    return np.random.Generator(np.random.PCG64([abs(int(seed)), stream]))
