"""The matrix library gets one thread, before anything loads it."""

import os
import subprocess
import sys

from setwell.launch import THREADS, threads_limit


def test_one_thread_unless_told_otherwise(monkeypatch):
    for name in THREADS:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "4")
    threads_limit()
    assert os.environ["OPENBLAS_NUM_THREADS"] == "4"
    assert os.environ["OMP_NUM_THREADS"] == "1"
    for name in THREADS:
        monkeypatch.delenv(name)


def test_nothing_loads_matrices_before_the_limit():
    code = "import sys, setwell.launch; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
