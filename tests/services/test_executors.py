"""Sweeps in this process and in others: the same numbers, lost processes made good."""

import os
import subprocess
import sys
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from builders_sweeps import Counted, Numbers, Sums, broken, sums, unpacked_count, where

from setwell import (
    ChanceAsk,
    SweepPlan,
    brief_make,
    catalog_build,
    chance_of,
    executor_for,
    formula_make,
    propose,
    sweep,
    texture_of,
)
from setwell.errors import InputError, OutOfRangeError, SetwellError
from setwell.services.sweeps.executor import serial
from setwell.services.sweeps.fingerprint import fingerprint
from setwell.services.sweeps.processes import processes
from setwell.services.sweeps.progress import Progress, SweepStoppedError, watched


def adder(number):
    return lambda: number


CHUNKS = [Numbers(seed, 200 + 50 * (seed % 4)) for seed in range(9)]
CUP = formula_make(
    title="Cup", ingredients="500 g whole milk\n2 g kappa carrageenan", steps="Boil, stirring"
)


def is_same(one: tuple, other: tuple) -> bool:
    pairs = zip(one, other, strict=True)
    return all(a.dtype == b.dtype and a.tobytes() == b.tobytes() for a, b in pairs)


def test_two_processes_give_the_same_bits_as_one():
    alone = sweep(sums, 1.5, CHUNKS)
    both = sweep(sums, 1.5, CHUNKS, workers=2)
    assert len(alone) == len(CHUNKS)
    assert all(isinstance(found, Sums) for found in both)
    assert all(is_same(a, b) for a, b in zip(alone, both, strict=True))


def test_results_come_in_the_order_of_the_items_whatever_ends_first():
    def backward(judge, shared, items):
        return iter(list(serial(judge, shared, items))[::-1])

    seen = []
    run = watched(backward, tell=lambda progress: seen.append(progress.done))
    results = dict(run(sums, 1.5, CHUNKS))
    assert list(results) == list(range(len(CHUNKS)))[::-1]
    assert seen == list(range(1, len(CHUNKS) + 1))
    expected = sweep(sums, 1.5, CHUNKS)
    assert all(is_same(results[n], expected[n]) for n in range(len(CHUNKS)))


def test_what_is_shared_is_unpacked_once_per_process():
    found = list(processes(2)(unpacked_count, Counted(), list(range(10))))
    pids = {made.total[0] for _, made in found}
    assert {int(made.index[0]) for _, made in found} == {1}
    assert os.getpid() not in pids
    assert 1 <= len(pids) <= 2


def test_a_lost_process_is_made_good(tmp_path):
    found = dict(processes(2)(where, str(tmp_path), list(range(6))))
    assert [found[n].total[0] for n in range(6)] == [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    assert len(list(tmp_path.glob("3-*"))) == 2


def test_processes_that_cannot_even_start_end_in_a_sentence():
    with pytest.raises(SetwellError, match="ended by themselves, twice, with 2 chunks to go"):
        list(processes(1)(unpacked_count, Unreadable(), [1, 2]))


class Unreadable:
    def __reduce__(self):
        return os.getenv, (1, 2, 3, 4)


@pytest.mark.parametrize("workers", [1, 2])
def test_what_the_function_raises_arrives_as_it_is(workers):
    with pytest.raises(ValueError, match="no answer for 0"):
        sweep(broken, 1.0, CHUNKS[:1], workers=workers)


def test_what_cannot_be_sent_is_said():
    with pytest.raises(InputError, match="cannot be sent") as caught:
        sweep(lambda _, item: item, 1.0, [1], workers=2)
    assert caught.value.field == "judge"


@pytest.mark.parametrize("workers", [0, -1, 257])
def test_a_number_of_workers_that_no_machine_has_is_refused(workers):
    with pytest.raises(OutOfRangeError, match="processes are not possible") as caught:
        sweep(sums, 1.0, CHUNKS, workers=workers)
    assert caught.value.field == "workers"


def test_processes_compute_with_one_thread_and_leave_the_surroundings_as_they_were(monkeypatch):
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    (_, found), = processes(1)(environ_of, "OPENBLAS_NUM_THREADS", [0])  # fmt: skip
    assert found == "1"
    assert "OPENBLAS_NUM_THREADS" not in os.environ


environ_of = os.getenv


def test_progress_tells_chunks_candidates_and_time_left():
    seen: list[Progress] = []
    sweep(sums, 1.0, CHUNKS, tell=seen.append)
    assert [one.done for one in seen] == list(range(1, 10))
    assert {one.total for one in seen} == {9}
    assert seen[-1].candidates == sum(chunk.count for chunk in CHUNKS)
    assert seen[-1].left_s == 0.0
    assert seen[3].left_s == pytest.approx(5 * seen[3].seconds / 4)
    assert seen[3].per_second == pytest.approx(seen[3].candidates / seen[3].seconds)
    assert Progress(1, 101, 0, 8, 0.1).left_s is None
    assert Progress(2, 101, 0, 8, 0.1).left_s == pytest.approx(4.95)
    assert (Progress(2, 5, 2, 0, 0.1).left_s, Progress(2, 5, 2, 0, 0.1).per_second) == (None, None)


@pytest.mark.parametrize("workers", [1, 2])
def test_a_sweep_stops_when_asked(workers):
    seen: list[Progress] = []
    with pytest.raises(SweepStoppedError, match="Stopped after 3 of 9 chunks") as caught:
        sweep(sums, 1.0, CHUNKS, workers=workers, tell=seen.append, cancel=lambda: len(seen) >= 3)
    assert (caught.value.done, caught.value.total, caught.value.folder) == (3, 9, None)
    assert len(seen) == 3


def test_a_sweep_that_is_stopped_before_it_begins_computes_nothing():
    with pytest.raises(SweepStoppedError, match="Stopped after 0 of 1 chunks"):
        sweep(broken, 1.0, CHUNKS[:1], cancel=lambda: True)


def test_a_sweep_of_nothing_is_an_empty_list():
    assert sweep(sums, 1.0, []) == sweep(sums, 1.0, [], workers=2) == []


def test_a_search_for_proposals_can_be_watched_and_stopped():
    brief = brief_make(title="Cup", base="500 g whole milk", plating="unmolds",
                       shelf=("agar", "gelatin", "iota carrageenan"))  # fmt: skip
    seen: list[Progress] = []
    plan = SweepPlan(tell=seen.append)
    found = propose(brief, catalog=catalog_build(), run=executor_for(plan))
    assert seen[-1].candidates == found.judged.total > 1000
    stopping = executor_for(SweepPlan(cancel=lambda: True))
    with pytest.raises(SweepStoppedError, match="Stopped after 0"):
        propose(brief, catalog=catalog_build(), run=stopping)


def test_texture_over_a_grid_is_the_same_in_processes():
    grids = [np.array([[500.0, dose] for dose in part]) for part in ((0.1, 0.5), (1.0, 2.0, 4.0))]
    alone = sweep(texture_of, CUP, grids)
    assert [part.sets.tolist() for part in alone] == [[-1, 0], [1, 1, 1]]
    assert (np.diff(alone[1].modulus) > 0).all()
    both = sweep(texture_of, CUP, grids, workers=2)
    assert all(is_same(a, b) for a, b in zip(alone, both, strict=True))


def test_chance_over_many_draws_is_the_mean_over_seeds():
    ask = ChanceAsk(CUP.revised(goal="slice"), draws=64)
    rows = sweep(chance_of, ask, range(1, 4))
    assert all(0.0 < row.chance <= 1.0 and row.draws == 64 for row in rows)
    assert is_same(sweep(chance_of, ask, [2])[0], rows[1])


def test_a_fingerprint_is_the_same_in_another_process_and_with_other_hashes():
    code = (
        "from setwell.services.sweeps.fingerprint import fingerprint; import numpy as np; "
        "from builders_sweeps import sums, Numbers; "
        "print(fingerprint(sums, {'b': {'x', 'y', 'z'}, 'a': 0.1}, np.arange(3), Numbers(1, 2)))"
    )
    tests = str(Path(__file__).parents[1])
    here = fingerprint(sums, {"a": 0.1, "b": {"z", "y", "x"}}, np.arange(3), Numbers(1, 2))
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": tests},
        )  # fmt: skip
        assert done.stdout.strip() == here


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (1, 1.0), (1, True), ("1", 1), (("ab", "c"), ("a", "bc")), ([1], (1,)),
        (np.zeros(4), np.zeros((2, 2))), (np.zeros(2), np.zeros(2, dtype=np.float32)),
        (partial(sums, 1.0), partial(sums, 2.0)), (ChanceAsk(CUP).__eq__, ChanceAsk(CUP).__hash__),
        (CUP.revised, CUP.revised(title="T").revised), (adder(1), adder(2)),
        (0.0, -0.0), (None, "None"), (sums, broken), (Numbers(1, 2), (1, 2)), ({"a": 1}, {"a": 2}),
    ],
)  # fmt: skip
def test_different_values_have_different_fingerprints(one, other):
    assert fingerprint(one) != fingerprint(other)
    assert fingerprint(one) == fingerprint(one)
