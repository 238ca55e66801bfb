"""Finished chunks in a folder: resumed, refused where they belong elsewhere, never half written."""

import json

import numpy as np
import pytest
from builders_sweeps import Numbers, bare, broken, sums

from setwell import sweep
from setwell.errors import InputError
from setwell.services.sweeps.executor import serial
from setwell.services.sweeps.kept import KeptChunks
from setwell.services.sweeps.progress import SweepStoppedError

CHUNKS = [Numbers(seed, 50) for seed in range(6)]


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "sweep"


def kept(folder):
    return sorted(folder.glob("chunk-*.npz"))


def is_same(one, other):
    return all(
        a.dtype == b.dtype and a.tobytes() == b.tobytes()
        for left, right in zip(one, other, strict=True)
        for a, b in zip(left, right, strict=True)
    )


def stopped_after(folder, count):
    seen = []
    with pytest.raises(SweepStoppedError) as caught:
        sweep(sums, 2.0, CHUNKS, resume=folder, tell=seen.append,
              cancel=lambda: len(seen) >= count)  # fmt: skip
    return caught.value


def test_a_stopped_sweep_goes_on_where_it_was_to_the_same_bits(folder):
    error = stopped_after(folder, 4)
    assert error.folder == folder
    assert str(folder) in error.hint
    assert len(kept(folder)) == 4
    seen = []
    again = sweep(sums, 2.0, CHUNKS, resume=folder, tell=seen.append)
    assert is_same(again, sweep(sums, 2.0, CHUNKS))
    assert (seen[-1].done, seen[-1].resumed, seen[-1].computed) == (6, 4, 2)
    assert seen[-1].candidates == 100


def test_a_finished_sweep_is_read_and_not_computed(folder):
    first = sweep(sums, 2.0, CHUNKS, resume=folder)
    fresh = {path: path.stat().st_mtime_ns for path in folder.iterdir()}

    def never(judge, shared, items):
        assert list(items) == []
        return iter(())

    found = dict(KeptChunks(never, folder, version="0.1.0")(sums, 2.0, CHUNKS))
    assert is_same([found[n] for n in range(6)], first)
    assert {path: path.stat().st_mtime_ns for path in folder.iterdir()} == fresh


def test_two_processes_go_on_where_one_stopped(folder):
    stopped_after(folder, 2)
    again = sweep(sums, 2.0, CHUNKS, resume=folder, workers=2)
    assert is_same(again, sweep(sums, 2.0, CHUNKS))


@pytest.mark.parametrize(
    ("spoil", "why"),
    [
        (lambda data: data[: len(data) // 2], "damaged"),
        (lambda _: b"", "damaged"),
        (lambda _: b"not numbers", "damaged"),
        (lambda data: data[:200] + bytes([data[200] ^ 1]) + data[201:], "damaged"),
    ],
    ids=["half", "empty", "text", "one bit"],
)
def test_a_damaged_chunk_is_told_moved_aside_and_computed_again(folder, spoil, why):
    expected = sweep(sums, 2.0, CHUNKS, resume=folder)
    path = kept(folder)[3]
    path.write_bytes(spoil(path.read_bytes()))
    told = []
    again = sweep(sums, 2.0, CHUNKS, resume=folder, remark=told.append)
    assert is_same(again, expected)
    assert len(told) == 1
    assert path.name in told[0]
    assert why in told[0]
    assert (folder / "set-aside" / path.name).exists()
    assert len(kept(folder)) == 6


@pytest.mark.parametrize("spoil", ["other sweep", "other numbers"])
def test_a_chunk_of_something_else_is_no_result(folder, spoil):
    expected = sweep(sums, 2.0, CHUNKS, resume=folder)
    path = kept(folder)[0]
    job = json.loads((folder / "sweep.json").read_text())["jobs"][0]
    if spoil == "other sweep":
        np.savez(path, total=np.zeros(50), index=np.arange(50), of_sweep=np.array("f" * 64))
    else:
        np.savez(path, total=np.zeros(50), of_sweep=np.array(job))
    told = []
    assert is_same(sweep(sums, 2.0, CHUNKS, resume=folder, remark=told.append), expected)
    assert ("belongs to another sweep" in told[0]) is (spoil == "other sweep")


def test_the_folder_of_another_sweep_is_refused_and_left_alone(folder):
    stopped_after(folder, 2)
    before = {path: path.read_bytes() for path in folder.iterdir()}
    for judge, shared, chunks in [(sums, 2.5, CHUNKS), (sums, 2.0, CHUNKS[1:]),
                                  (broken, 2.0, CHUNKS)]:  # fmt: skip
        with pytest.raises(InputError, match="holds chunks of another sweep") as caught:
            sweep(judge, shared, chunks, resume=folder)
        assert caught.value.field == "resume"
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_another_version_computes_anew(folder):
    list(KeptChunks(serial, folder, version="1")(sums, 2.0, CHUNKS))
    with pytest.raises(InputError, match="another version of Setwell"):
        list(KeptChunks(serial, folder, version="2")(sums, 2.0, CHUNKS))


def test_sweeps_one_after_the_other_share_a_folder(folder):
    def both():
        run = KeptChunks(serial, folder, version="1")
        first = [found for _, found in run(sums, 2.0, CHUNKS[:2])]
        return first, [found for _, found in run(sums, 3.0, CHUNKS)], len(run.resumed)

    first, second, resumed = both()
    again = both()
    assert (resumed, again[2]) == (0, 6)
    assert is_same(first, again[0])
    assert is_same(second, again[1])


def test_a_folder_with_other_things_is_refused(folder):
    folder.mkdir()
    (folder / "menu.txt").write_text("soup")
    with pytest.raises(InputError, match=r"holds other things, such as menu\.txt"):
        sweep(sums, 2.0, CHUNKS, resume=folder)
    assert [path.name for path in folder.iterdir()] == ["menu.txt"]


def test_a_file_in_place_of_a_folder_is_refused(folder):
    folder.write_text("soup")
    with pytest.raises(InputError, match="cannot be used"):
        sweep(sums, 2.0, CHUNKS, resume=folder)


def test_a_damaged_list_is_moved_aside_and_the_chunks_still_count(folder):
    sweep(sums, 2.0, CHUNKS, resume=folder)
    (folder / "sweep.json").write_text("{")
    told, seen = [], []
    sweep(sums, 2.0, CHUNKS, resume=folder, remark=told.append, tell=seen.append)
    assert "sweep.json was moved" in told[0]
    assert seen[-1].resumed == 6


def test_a_write_that_fails_leaves_nothing_half_done(folder, monkeypatch):
    import setwell.services.sweeps.kept as kept_module

    def full(_):
        raise OSError(28, "No space left on device")

    error = stopped_after(folder, 2)
    before = {path: path.read_bytes() for path in error.folder.iterdir()}
    monkeypatch.setattr(kept_module.os, "fsync", full)
    with pytest.raises(InputError, match="cannot be written: No space left") as caught:
        sweep(sums, 2.0, CHUNKS, resume=folder)
    assert caught.value.field == "resume"
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_a_result_without_names_cannot_be_kept(folder):
    with pytest.raises(InputError, match="NamedTuple of numpy arrays"):
        sweep(bare, 2.0, CHUNKS, resume=folder)
