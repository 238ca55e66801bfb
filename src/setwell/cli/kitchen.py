"""Open the kitchen before a command reads or writes in it."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager

HOME_VARIABLE = "SETWELL_HOME"


def kitchen_begin() -> None:
    """Open this user's kitchen; the demo belongs to the web start, not to a command."""
    from setwell.services.kitchen import kitchen_open

    kitchen_open(load_demo=False)


@contextmanager
def kitchen_chosen(*, use_own: bool) -> Iterator[None]:
    """Open the user's kitchen, or an empty one that is gone afterwards."""
    if use_own:
        kitchen_begin()
        yield
        return
    with (
        tempfile.TemporaryDirectory(prefix="setwell-", ignore_cleanup_errors=True) as folder,
        _home(folder),
    ):
        kitchen_begin()
        yield


@contextmanager
def _home(folder: str) -> Iterator[None]:
    before = os.environ.get(HOME_VARIABLE)
    os.environ[HOME_VARIABLE] = folder
    try:
        yield
    finally:
        if before is None:
            del os.environ[HOME_VARIABLE]
        else:
            os.environ[HOME_VARIABLE] = before
