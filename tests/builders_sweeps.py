"""Functions for sweeps that other processes can find by name."""

import os
import time
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray


class Sums(NamedTuple):
    """Numbers whose last bits would show another order of adding."""

    total: NDArray[np.float64]
    index: NDArray[np.int64]


class Numbers(NamedTuple):
    """A chunk: so many numbers from a seed."""

    seed: int
    count: int


def sums(scale: float, chunk: Numbers) -> Sums:
    drawn = np.random.default_rng(chunk.seed).standard_normal((chunk.count, 40)) * scale
    return Sums(np.exp(drawn).sum(axis=1) / 3.0, np.arange(chunk.count))


def where(folder: str, chunk: int) -> Sums:
    """Leave a mark of the process that computes; chunk 3 ends its process the first time."""
    mark = Path(folder) / f"{chunk}-{os.getpid()}"
    mark.touch()
    if chunk == 3 and len(list(Path(folder).glob("3-*"))) == 1:
        os._exit(1)
    return Sums(np.array([float(chunk)]), np.array([chunk]))


def unpacked_count(shared: "Counted", chunk: int) -> Sums:
    time.sleep(0.02)
    return Sums(np.array([float(os.getpid())]), np.array([shared.loads]))


class Counted:
    """Counts how often it is unpacked in one process."""

    here = 0

    def __init__(self) -> None:
        self.loads = 0

    def __setstate__(self, state: dict[str, int]) -> None:
        type(self).here += 1
        self.loads = type(self).here

    def __getstate__(self) -> dict[str, int]:
        return {"loads": 0}


def broken(scale: float, chunk: Numbers) -> Sums:
    raise ValueError(f"no answer for {chunk.seed}")


def bare(scale: float, chunk: Numbers) -> float:
    return scale
