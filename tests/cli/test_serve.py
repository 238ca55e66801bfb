"""`setwell serve` and the bare command as processes of their own, as a cook starts them."""

import os
import signal
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

FORMULA = "Water set\n\n500 g water\n5 g agar\n\nSteps:\nBoil 3 min.\nChill to 4 °C.\n"


@pytest.fixture
def surroundings(tmp_path: Path) -> dict[str, str]:
    kept = {key: value for key, value in os.environ.items() if not key.startswith("DJANGO")}
    return {**kept, "SETWELL_HOME": str(tmp_path / "kitchen"), "PYTHONUTF8": "1"}


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "setwell.launch", *arguments]


def test_serve_answers_on_this_machine_until_it_is_told_to_stop(surroundings):
    with subprocess.Popen(
        command("serve", "--port", "0", "--no-browser", "--no-demo"),
        env=surroundings,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            address = next(
                word for row in process.stdout for word in row.split() if word.startswith("http://")
            )
            with urllib.request.urlopen(address, timeout=60) as answer:
                assert answer.status == 200
        finally:
            process.send_signal(signal.SIGTERM)
        said, faults = process.communicate(timeout=60)
    assert process.returncode == 0, (said, faults)
    assert "Traceback" not in faults


def test_a_new_kitchen_is_made_where_the_variable_says(surroundings, tmp_path):
    done = subprocess.run(
        command("import", "-"), env=surroundings, input=FORMULA, capture_output=True,
        text=True, check=True, cwd=tmp_path,
    )  # fmt: skip
    assert done.stdout.split("  ")[1] == "Water set"
    assert (tmp_path / "kitchen" / "setwell.sqlite3").exists()


def test_without_the_kitchen_nothing_is_written(surroundings, tmp_path):
    done = subprocess.run(
        command("check", "-", "--no-kitchen"), env=surroundings, input=FORMULA,
        capture_output=True, text=True, check=True, cwd=tmp_path,
    )  # fmt: skip
    assert done.stdout.startswith("Water set\n")
    assert done.stderr == ""
    assert not (tmp_path / "kitchen").exists()


def test_a_pipe_that_closes_early_leaves_no_trace(surroundings, tmp_path):
    # More than a pipe holds, so that the write really fails.
    (tmp_path / "water.txt").write_text(FORMULA, encoding="utf-8")
    shell = f"{' '.join(command('check', 'water.txt', '--json'))} | head -n 1"
    done = subprocess.run(
        ["bash", "-c", shell], env=surroundings, capture_output=True, text=True, check=True,
        cwd=tmp_path,
    )  # fmt: skip
    assert "Traceback" not in done.stderr
