"""The real program as a child process: hashed files, first start, clean stop."""

import os
import signal
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

BIN = Path(sys.executable).parent


def start(home: Path) -> tuple[subprocess.Popen[str], str]:
    process = subprocess.Popen(
        [BIN / "setwell", "serve", "--no-browser", "--port", "0"],
        env={**os.environ, "SETWELL_HOME": str(home), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        text=True,
        # A run of the tests in the background ignores Ctrl-C, and its children would too.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # noqa: PLW1509
    )
    assert process.stdout is not None
    for line in process.stdout:
        if "http://" in line:
            address = line[line.index("http://") :].split()[0].rstrip("/")
            urllib.request.urlopen(address).read()
            return process, address
    pytest.fail("the server printed no address")


def stop(process: subprocess.Popen[str]) -> None:
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=60) == 0
    assert process.stdout is not None
    process.stdout.close()


def test_serve_shows_the_demo_with_hashed_files(chromium: Browser, tmp_path: Path) -> None:
    process, address = start(tmp_path)
    try:
        page = chromium.new_page()
        missing: list[str] = []
        page.on("response", lambda r: missing.append(r.url) if r.status >= 400 else None)
        page.goto(address)
        expect(page.get_by_role("heading", level=1)).to_contain_text("Kitchen")
        page.goto(f"{address}/formulas/1/")
        page.get_by_label("Ingredients, one on each line").fill("500 g water\n1% agar")
        expect(page.locator("#results")).to_contain_text("Agar")
        assert missing == []
        page.close()
    finally:
        stop(process)


def test_a_second_start_keeps_the_kitchen(tmp_path: Path) -> None:
    process, _ = start(tmp_path)
    stop(process)
    before = (tmp_path / "setwell.sqlite3").stat().st_size
    process, _ = start(tmp_path)
    stop(process)
    assert (tmp_path / "setwell.sqlite3").stat().st_size >= before
