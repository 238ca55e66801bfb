"""Sweeps on a cluster of two workers on this machine: the same bits, a lost worker made good."""

import socket
import sys

import numpy as np
import pytest
from builders_sweeps import Counted, Numbers, broken, sums, unpacked_count, where

from setwell import brief_make, catalog_build, formula_make, propose, sweep, texture_of
from setwell.engine.proposals.propose import asked, search_job
from setwell.engine.proposals.search import chunks_of, judge
from setwell.errors import InputError, SetwellError
from setwell.services.sweeps import cluster as cluster_module
from setwell.services.sweeps.cluster import cluster
from setwell.services.sweeps.progress import SweepStoppedError

distributed = pytest.importorskip("distributed")

BRIEF = brief_make(
    title="Honey milk cup", base="800 g whole milk\n90 g sugar", plating="unmolds", serving_c=8,
    texture={"word": "elastic"},
    shelf=("iota carrageenan", "kappa carrageenan", "locust bean gum", "gelatin", "agar"),
)  # fmt: skip
CHUNKS = [Numbers(seed, 200 + 50 * (seed % 4)) for seed in range(9)]


def local_cluster(workers):
    return distributed.LocalCluster(
        n_workers=workers, threads_per_worker=1, processes=True, host="127.0.0.1",
        dashboard_address="127.0.0.1:0", silence_logs=50,
    )  # fmt: skip


@pytest.fixture(scope="module")
def address():
    with local_cluster(2) as made:
        yield made.scheduler_address


def is_same(one, other):
    return all(
        a.dtype == b.dtype and a.tobytes() == b.tobytes()
        for left, right in zip(one, other, strict=True)
        for a, b in zip(left, right, strict=True)
    )


def test_a_cluster_gives_the_same_bits_as_one_process_and_as_two(address):
    alone = sweep(sums, 1.5, CHUNKS)
    assert is_same(sweep(sums, 1.5, CHUNKS, scheduler=address), alone)
    assert is_same(sweep(sums, 1.5, CHUNKS, workers=2), alone)


def test_texture_over_a_grid_is_the_same_on_a_cluster(address):
    cup = formula_make(title="Cup", ingredients="500 g whole milk\n2 g kappa carrageenan",
                       steps="Boil, stirring")  # fmt: skip
    grids = [np.array([[500.0, dose]]) for dose in (0.1, 1.0, 2.0)]
    assert is_same(sweep(texture_of, cup, grids, scheduler=address), sweep(texture_of, cup, grids))


def test_proposals_are_the_same_to_the_bit_here_in_processes_and_on_a_cluster(address):
    catalog = catalog_build()
    job = search_job(asked(BRIEF, catalog=catalog))
    chunks = chunks_of(job)
    alone = sweep(judge, job, chunks)
    assert len(chunks) > 3
    assert is_same(sweep(judge, job, chunks, workers=2), alone)
    assert is_same(sweep(judge, job, chunks, scheduler=address), alone)
    here = propose(BRIEF, catalog=catalog)
    assert here.judged.triples > 0
    assert len(here.proposals) > 1
    assert repr(propose(BRIEF, catalog=catalog, run=cluster(address))) == repr(here)


def test_a_lost_worker_is_made_good(address, tmp_path):
    found = sweep(where, str(tmp_path), list(range(6)), scheduler=address)
    assert [made.total[0] for made in found] == [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    assert len(list(tmp_path.glob("3-*"))) == 2


def test_a_lost_scheduler_is_a_sentence_and_what_is_kept_goes_on(tmp_path, capfd):
    kept, items = tmp_path / "kept", list(range(20))
    with local_cluster(1) as made:
        hit = []

        def tell(progress):
            if progress.done == 3:
                hit.append(made.close())

        with pytest.raises(SetwellError, match="connection to the scheduler is gone") as caught:
            sweep(unpacked_count, Counted(), items, scheduler=made.scheduler_address, resume=kept,
                  tell=tell)  # fmt: skip
    assert hit
    assert "nothing finished is lost" in caught.value.hint
    assert "Traceback" not in capfd.readouterr().err
    seen = []
    sweep(unpacked_count, Counted(), items, resume=kept, tell=seen.append)
    assert seen[-1].resumed >= 2


def test_a_sweep_stopped_on_a_cluster_goes_on_here(address, tmp_path):
    seen = []
    with pytest.raises(SweepStoppedError):
        sweep(sums, 1.5, CHUNKS, scheduler=address, resume=tmp_path / "kept", tell=seen.append,
              cancel=lambda: len(seen) >= 4)  # fmt: skip
    seen.clear()
    again = sweep(sums, 1.5, CHUNKS, resume=tmp_path / "kept", tell=seen.append)
    assert seen[-1].resumed == 4
    assert is_same(again, sweep(sums, 1.5, CHUNKS))


def test_what_the_function_raises_on_a_worker_arrives_as_it_is(address):
    with pytest.raises(ValueError, match="no answer for 0"):
        sweep(broken, 1.0, CHUNKS[:1], scheduler=address)


def test_a_cluster_without_workers_says_how_to_start_one():
    with local_cluster(0) as made, pytest.raises(InputError, match="has no workers") as caught:
        sweep(sums, 1.0, CHUNKS, scheduler=made.scheduler_address)
    assert caught.value.field == "scheduler"
    assert "dask worker tcp://127.0.0.1:" in caught.value.hint


def test_workers_with_another_version_are_refused(address, monkeypatch):
    theirs = cluster_module.installed()
    monkeypatch.setattr(cluster_module, "_PACKAGES", (*cluster_module._PACKAGES, "no-such-package"))
    assert cluster_module.installed() == {**theirs, "no-such-package": ""}
    monkeypatch.setattr(cluster_module, "version", lambda _: "0.0")
    with pytest.raises(InputError, match=r"has setwell .*, here it is 0\.0") as caught:
        sweep(sums, 1.0, CHUNKS, scheduler=address)
    assert "Install the same on all machines" in caught.value.hint


@pytest.mark.parametrize("bad", ["hello world", "ftp://127.0.0.1:1", "127.0.0.1"])
def test_what_is_no_address_is_said_at_the_field(bad):
    with pytest.raises(InputError, match="No scheduler answers") as caught:
        sweep(sums, 1.0, CHUNKS, scheduler=bad)
    assert caught.value.field == "scheduler"
    assert "dask scheduler" in caught.value.hint


def test_an_address_where_nobody_listens_is_said_within_seconds(monkeypatch):
    monkeypatch.setattr(cluster_module, "_REACH_S", 0.5)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        nobody = f"tcp://127.0.0.1:{free.getsockname()[1]}"
    with pytest.raises(InputError, match="No scheduler answers"):
        sweep(sums, 1.0, CHUNKS, scheduler=nobody)


def test_without_the_extra_the_message_says_how_to_install_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(InputError, match="not installed") as caught:
        sweep(sums, 1.0, CHUNKS, scheduler="tcp://127.0.0.1:8786")
    assert caught.value.hint == "Install it: pip install 'setwell[cluster]'"


def test_a_cluster_and_processes_do_not_go_together():
    with pytest.raises(InputError, match="do not go together") as caught:
        sweep(sums, 1.0, CHUNKS, workers=2, scheduler="tcp://127.0.0.1:8786")
    assert caught.value.field == "workers"
