"""The search finds the published global minima of test functions, and says so to the digit.

Functions, boxes and minima: Surjanovic and Bingham, Virtual Library of Simulation Experiments
(sfu.ca/~ssurjano, the page of each function), most after Dixon and Szegö 1978; the minima of
Hartmann's and Shekel's functions in their last digits after two open collections of them
(STK's stk_testfun_hartman6; DIRECTGOLib's Shekel5, 7 and 10). Where only the minimum is printed
it was compared with the function at the printed place.
"""

import numpy as np
import pytest

from setwell.science.designs.box_search import box_search


def branin(x):
    a, b = x.T
    bent = b - 5.1 / (4 * np.pi**2) * a**2 + 5 / np.pi * a - 6
    return bent**2 + 10 * (1 - 1 / (8 * np.pi)) * np.cos(a) + 10


def camel(x):
    a, b = x.T
    return (4 - 2.1 * a**2 + a**4 / 3) * a**2 + a * b + (-4 + 4 * b**2) * b**2


def goldstein_price(x):
    a, b = x.T
    one = 1 + (a + b + 1) ** 2 * (19 - 14 * a + 3 * a**2 - 14 * b + 6 * a * b + 3 * b**2)
    two = 30 + (2 * a - 3 * b) ** 2 * (18 - 32 * a + 12 * a**2 + 48 * b - 36 * a * b + 27 * b**2)
    return one * two


def rosenbrock(x):
    return (100 * (x[:, 1:] - x[:, :-1] ** 2) ** 2 + (1 - x[:, :-1]) ** 2).sum(axis=1)


def ackley(x):
    far = np.exp(-0.2 * np.sqrt((x**2).mean(axis=1)))
    return -20 * far - np.exp(np.cos(2 * np.pi * x).mean(axis=1)) + 20 + np.e


def levy(x):
    w = 1 + (x - 1) / 4
    inner = ((w[:, :-1] - 1) ** 2 * (1 + 10 * np.sin(np.pi * w[:, :-1] + 1) ** 2)).sum(axis=1)
    last = (w[:, -1] - 1) ** 2 * (1 + np.sin(2 * np.pi * w[:, -1]) ** 2)
    return np.sin(np.pi * w[:, 0]) ** 2 + inner + last


_ALPHA = np.array([1.0, 1.2, 3.0, 3.2])
_A3 = np.array([[3, 10, 30], [0.1, 10, 35], [3, 10, 30], [0.1, 10, 35]])
_P3 = 1e-4 * np.array(
    [[3689, 1170, 2673], [4699, 4387, 7470], [1091, 8732, 5547], [381.5, 5743, 8828]]
)
_A6 = np.array(
    [
        [10, 3, 17, 3.5, 1.7, 8],
        [0.05, 10, 17, 0.1, 8, 14],
        [3, 3.5, 1.7, 10, 17, 8],
        [17, 8, 0.05, 10, 0.1, 14],
    ]
)
_P6 = 1e-4 * np.array(
    [
        [1312, 1696, 5569, 124, 8283, 5886],
        [2329, 4135, 8307, 3736, 1004, 9991],
        [2348, 1451, 3522, 2883, 3047, 6650],
        [4047, 8828, 8732, 5743, 1091, 381],
    ]
)


def hartmann(x, inner, places):
    far = (inner * (x[:, None, :] - places) ** 2).sum(axis=2)
    return -(_ALPHA * np.exp(-far)).sum(axis=1)


def hartmann_3(x):
    return hartmann(x, _A3, _P3)


def hartmann_6(x):
    return hartmann(x, _A6, _P6)


_BETA = 0.1 * np.array([1, 2, 2, 4, 4, 6, 3, 7, 5, 5])
_C = np.array(
    [
        [4, 4, 4, 4], [1, 1, 1, 1], [8, 8, 8, 8], [6, 6, 6, 6], [3, 7, 3, 7],
        [2, 9, 2, 9], [5, 5, 3, 3], [8, 1, 8, 1], [6, 2, 6, 2], [7, 3.6, 7, 3.6],
    ]
)  # fmt: skip


def shekel(x):
    return -(1 / (((x[:, None, :] - _C) ** 2).sum(axis=2) + _BETA)).sum(axis=1)


_HART_6 = [0.20168952, 0.15001069, 0.47687398, 0.27533243, 0.31165162, 0.65730054]
# Function, lower and upper ends, minimum, a place of it, how near the value and the place are met.
CASES = {
    "branin": (branin, [-5, 0], [10, 15], 0.397887, [np.pi, 2.275], 1e-6, None),
    "six-hump camel": (camel, [-3, -2], [3, 2], -1.0316, [0.0898, -0.7126], 5e-5, None),
    "goldstein-price": (goldstein_price, [-2] * 2, [2] * 2, 3.0, [0, -1], 1e-8, 1e-5),
    "rosenbrock 2": (rosenbrock, [-5] * 2, [10] * 2, 0.0, [1, 1], 1e-10, 1e-4),
    "rosenbrock 4": (rosenbrock, [-5] * 4, [10] * 4, 0.0, [1] * 4, 1e-6, 1e-2),
    "ackley 2": (ackley, [-32.768] * 2, [32.768] * 2, 0.0, [0, 0], 1e-6, 1e-6),
    "ackley 5": (ackley, [-32.768] * 5, [32.768] * 5, 0.0, [0] * 5, 1e-5, 1e-5),
    "levy 3": (levy, [-10] * 3, [10] * 3, 0.0, [1] * 3, 1e-10, 1e-4),
    "hartmann 3": (hartmann_3, [0] * 3, [1] * 3, -3.86278214782076,
                   [0.114614, 0.555649, 0.852547], 1e-9, 1e-5),
    "hartmann 6": (hartmann_6, [0] * 6, [1] * 6, -3.322368011415512, _HART_6, 1e-8, 1e-4),
    "shekel 10": (shekel, [0] * 4, [10] * 4, -10.53640981669205,
                  [4.00074653, 4.00059293, 3.99966340, 3.99950981], 1e-8, 1e-5),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_the_printed_place_has_the_printed_minimum(name):
    function, _, _, least, place, _, _ = CASES[name]
    # Places are printed to four to eight digits.
    assert function(np.array([place], dtype=float))[0] == pytest.approx(least, abs=1e-4)


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_global_minimum_is_found(name, seed):
    function, low, high, least, place, near, reach = CASES[name]
    size = len(low)
    found = box_search(
        function, lower=low, upper=high, doublings=10, basins=8, rounds=30 + 15 * size, seed=seed
    )
    assert found.value == pytest.approx(least, abs=near)
    if reach is not None:
        assert found.point == pytest.approx(np.array(place, dtype=float), abs=reach)
