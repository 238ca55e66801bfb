"""Serve the door of shared cards at an address of this machine."""

import signal
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
    try:
        server = create_server(
            _application, host=host, port=port, threads=_THREADS, ident=None,
            max_request_body_size=1_000,
        )  # fmt: skip
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
        raise InputError(
            f"Nothing can be served at {host}, port {port}: {said}.",
            field="host",
            hint="Name an address of this machine, and a port that is free.",
        ) from None
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
