"""Serve the pages from this machine, until told to stop."""

import errno
import os
import signal
import socket
import sys
import threading
import webbrowser
from types import FrameType
from typing import Any

import django
from waitress.server import create_server

from setwell.errors import InputError, SetwellError

LOOPBACK = ("127.0.0.1", "localhost", "::1")
# Time for the server to answer before the browser asks [s].
_BROWSER_DELAY = 0.5
# So late that the first page is there [s].
_SEARCH_DELAY = 2.0
# Far above what may be sent, so that our own page says what was too much: up to here the
# server puts it into a file, unread, and the page refuses it by the size it says.
_BODY_LIMIT = 2_000_000_000
_THREADS = 8


def serve(*, host: str = "127.0.0.1", port: int = 8000, open_browser: bool = True) -> None:
    """Serve until Ctrl-C; another port is taken when this one is in use."""
    _host_check(host)
    _settings_ready()
    # Only now: these read the settings, and the application lists the collected files.
    from setwell.web.assets import assets_collect  # noqa: PLC0415

    assets_collect()
    from setwell.web.wsgi import application  # noqa: PLC0415

    server, taken_port = _server(application, host, port)
    address = f"http://{_shown(host)}:{taken_port}/"
    if port not in {0, taken_port}:
        _say(f"Port {port} is in use, so another one was taken.")
    _say(f"Setwell is open at {address}  (stop with Ctrl-C)")
    if open_browser and _has_display():
        _browser_later(address)
    _search_later()
    signal.signal(signal.SIGTERM, _stop)
    try:
        server.run()
    finally:
        server.close()
        _say("Setwell is closed. Everything saved is kept.")


def _settings_ready() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "setwell.web.settings")
    django.setup()
    from django.conf import settings  # noqa: PLC0415 - after the settings are chosen

    if not getattr(settings, "ROOT_URLCONF", ""):
        raise SetwellError(
            "The pages cannot be served: the store was opened without them.",
            hint="Set DJANGO_SETTINGS_MODULE to setwell.web.settings before anything is loaded.",
        )


def _host_check(host: str) -> None:
    if host in LOOPBACK:
        return
    raise InputError(
        f"Serving at {host} would let everyone on the network read and change the kitchen: "
        "there is no log-in.",
        field="host",
        hint="Leave it at 127.0.0.1.",
    )


def _server(application: Any, host: str, port: int) -> tuple[Any, int]:  # noqa: ANN401 - untyped
    server = create_server(
        application,
        host=host,
        port=_usable_port(host, port),
        threads=_THREADS,
        ident=None,
        max_request_body_size=_BODY_LIMIT,
    )
    listening = getattr(server, "effective_listen", None)
    return server, int(listening[0][1] if listening else server.effective_port)


def _usable_port(host: str, port: int) -> int:
    """Return the port, or 0 for any free one when somebody else listens there."""
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(
            host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        with socket.socket(family, kind, protocol) as probe:
            if os.name == "posix":
                # As the server does: a port that was closed a moment ago counts as free.
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
            probe.listen(1)
    except OSError as error:
        if error.errno in {errno.EADDRINUSE, errno.EACCES}:
            return 0
        raise InputError(
            f"This machine has no address {host}: {error.strerror}.", field="host"
        ) from None
    return port


def _shown(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def _has_display() -> bool:
    if sys.platform in {"win32", "darwin"}:
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _browser_later(address: str) -> None:
    timer = threading.Timer(_BROWSER_DELAY, webbrowser.open, args=(address,))
    timer.daemon = True
    timer.start()


def _search_later() -> None:
    """Load what a search of proposals needs, while somebody still reads the first page."""

    def load() -> None:
        from setwell.services.proposals import search_ready  # noqa: PLC0415 - only now

        search_ready()

    timer = threading.Timer(_SEARCH_DELAY, load)
    timer.daemon = True
    timer.start()


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)


def _say(sentence: str) -> None:
    sys.stdout.write(f"{sentence}\n")
    sys.stdout.flush()
