"""Start Setwell: the command line, and from it the pages."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import ipaddress
import os
import sys
from typing import Annotated

import typer

from setwell.cli import app
from setwell.errors import InputError

TRACE_VARIABLE = "SETWELL_TRACE"
# Matrices of a kitchen are small: a second thread waits longer than it computes, most of all on a
# machine that does other things. What is set from outside wins.
THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")


@app.command("serve")
def serve(
    *,
    host: Annotated[
        str, typer.Option("--host", metavar="ADDRESS", help="Address to listen on.")
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option("--port", metavar="N", min=0, max=65535, help="Port; 0 picks a free one.")
    ] = 8770,
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Do not open the browser.")
    ] = False,
    no_demo: Annotated[bool, typer.Option("--no-demo", help="Start a new kitchen empty.")] = False,
) -> None:
    """Start the kitchen's pages on this machine and open them in the browser.

    Example: setwell serve --port 8080 --no-browser
    """
    host_check(host)
    os.environ["DJANGO_SETTINGS_MODULE"] = "setwell.web.settings"
    from setwell.services.kitchen import kitchen_open
    from setwell.web.server import serve as pages_serve

    kitchen_open(load_demo=not no_demo)
    pages_serve(host=host, port=port, open_browser=not no_browser)


@app.command("share")
def share(
    *,
    host: Annotated[
        str, typer.Option("--host", metavar="ADDRESS", help="This machine's address to listen on.")
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option("--port", metavar="N", min=0, max=65535, help="Port; 0 picks a free one.")
    ] = 8771,
) -> None:
    """Show cards to those who have a link to them, and nothing else, until Ctrl-C.

    Example: setwell share --host 192.168.0.20
    """
    from setwell.services.kitchen import kitchen_open

    kitchen_open(load_demo=False)
    from setwell.web.publish.share_server import share_serve

    share_serve(host=host, port=port)


def threads_limit() -> None:
    """Keep the matrix library to one thread; it reads this once, when it is loaded."""
    for name in THREADS:
        os.environ.setdefault(name, "1")


def host_check(host: str) -> None:
    """Refuse any address that other machines could reach."""
    if host == "localhost":
        return
    try:
        is_own = ipaddress.ip_address(host).is_loopback
    except ValueError:
        is_own = False
    if not is_own:
        raise InputError(
            f"--host {host} would let other machines in, and there is no password yet.",
            field="host",
            hint="Leave it at 127.0.0.1.",
        )


def main() -> None:
    """Run the command; a fault of our own ends in a sentence, too."""
    threads_limit()
    os.environ["DJANGO_SETTINGS_MODULE"] = "setwell.store.settings"
    try:
        app()
    except Exception as error:
        if os.environ.get(TRACE_VARIABLE):
            raise
        kind = type(error).__name__
        typer.echo(
            f"setwell: This is a fault of Setwell, not of your input ({kind}: {error}). "
            f"Run it again with {TRACE_VARIABLE}=1 for the details.",
            err=True,
        )
        sys.exit(1)


if __name__ == "__main__":
    main()
