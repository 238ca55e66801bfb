"""Serving: addresses, ports, and files that are collected once."""

import os
import re
import socket
import subprocess
import sys
import urllib.request

import pytest

from setwell.errors import InputError
from setwell.web import server

START = (
    "from setwell.services.kitchen import kitchen_open; kitchen_open(load_demo=False); "
    "from setwell.web.server import serve; serve(host='127.0.0.1', port={port}, open_browser=False)"
)


def started(home, port):
    """Start the pages in a process of their own and return it with what it said first."""
    environment = {**os.environ, "SETWELL_HOME": str(home)}
    environment["DJANGO_SETTINGS_MODULE"] = "setwell.web.settings"
    process = subprocess.Popen(
        [sys.executable, "-c", START.format(port=port)],
        stdout=subprocess.PIPE,
        text=True,
        env=environment,
    )
    said = ""
    while "Setwell is open at" not in said:
        line = process.stdout.readline()
        assert line, "the server ended before it was open"
        said += line
    return process, said, re.search(r"http://\S+/", said).group()


def fetched(address):
    with urllib.request.urlopen(address, timeout=60) as answer:
        return answer.read(), answer.headers


@pytest.fixture
def taken_port():
    """A port that somebody else listens on."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


def test_pages_files_and_policy_arrive_even_when_the_port_is_taken(tmp_path, taken_port):
    process, said, address = started(tmp_path, taken_port)
    try:
        assert f"Port {taken_port} is in use" in said
        page, headers = fetched(address)
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        named = re.findall(r'(?:href|src)="(/static/[^"]+)"', page.decode())
        assert any(re.search(r"htmx-2\.min\.[0-9a-f]{12}\.js", name) for name in named)
        for name in named:
            body, file_headers = fetched(address.rstrip("/") + name)
            assert body
            assert "immutable" in file_headers["Cache-Control"]
    finally:
        process.terminate()
        rest, _ = process.communicate(timeout=60)
    assert "Everything saved is kept." in rest
    assert process.returncode == 0


def test_a_second_start_collects_no_files_again(tmp_path):
    process, _, _ = started(tmp_path, 0)
    process.terminate()
    process.communicate(timeout=60)
    stamp = tmp_path / "static.collected"
    written = stamp.stat().st_mtime_ns
    process, _, address = started(tmp_path, 0)
    try:
        fetched(address)
        assert stamp.stat().st_mtime_ns == written
    finally:
        process.terminate()
        process.communicate(timeout=60)


@pytest.mark.parametrize("host", ["0.0.0.0", "203.0.113.9", "bench.local"])  # noqa: S104
def test_the_network_is_not_served(host):
    with pytest.raises(InputError, match="there is no log-in"):
        server.serve(host=host, port=0, open_browser=False)
