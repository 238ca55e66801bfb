"""Serve the door of shared cards at an address of this machine."""

import os
import signal
import socket
import sys
from collections.abc import Iterable
from types import FrameType
from typing import Any

from django.db import close_old_connections
from waitress.server import create_server

from setwell.errors import InputError
from setwell.web.publish.share_door import Start, share_door

_THREADS = 4


def share_serve(*, host: str, port: int) -> None:
    """Serve until Ctrl-C."""
    _address_check(host, port)
    server = create_server(
        _application, host=host, port=port, threads=_THREADS, ident=None,
        max_request_body_size=1_000,
    )  # fmt: skip
    taken = _port_of(server)
    shown = f"[{host}]" if ":" in host else host
    _say(f"Shared cards are open at http://{shown}:{taken}/links/...  (stop with Ctrl-C)")
    _say("Whoever reaches this address and has a link can read that card. It is not encrypted.")
    signal.signal(signal.SIGTERM, _stop)
    try:
        server.run()
    finally:
        server.close()
        _say("Shared cards are closed.")


def _address_check(host: str, port: int) -> None:
    """Refuse an address that is not this machine's, and a port that somebody else has."""
    if not host.strip():
        # An empty address would mean all of them.
        raise InputError("--host names no address.", field="host", hint="Name one.")
    try:
        family, kind, protocol, _, place = socket.getaddrinfo(
            host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        with socket.socket(family, kind, protocol) as probe:
            if os.name == "posix":
                # As the server does: a port that was closed a moment ago counts as free.
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(place)
    except OSError as error:
        raise InputError(
            f"Nothing can be served at {host}, port {port}: {error.strerror}.",
            field="host",
            hint="Name an address of this machine, and a port that is free.",
        ) from None


def _application(environ: dict[str, Any], start: Start) -> Iterable[bytes]:
    try:
        return share_door(environ, start)
    finally:
        close_old_connections()


def _port_of(server: Any) -> int:  # noqa: ANN401 - untyped
    listening = getattr(server, "effective_listen", None)
    return int(listening[0][1] if listening else server.effective_port)


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)


def _say(sentence: str) -> None:
    sys.stdout.write(f"{sentence}\n")
    sys.stdout.flush()
