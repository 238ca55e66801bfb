"""Shared by all tests: a kitchen folder of their own, with the database file in it."""

import os
import shutil
import tempfile
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from hypothesis import settings

# The settings for tests choose a folder of their own, before or after this line; whoever
# comes first, the kitchen of the person at the keyboard is out of reach.
_SPARE = tempfile.mkdtemp(prefix="setwell-tests-")
os.environ.setdefault("SETWELL_HOME", _SPARE)

# A shared machine may be slow for a moment; that is no reason to fail. The same examples each
# time, so that a landing is not a draw of lots; `make hunt` looks for new ones.
settings.register_profile("setwell", deadline=None, derandomize=True)
settings.register_profile("hunt", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("SETWELL_EXAMPLES", "setwell"))


def pytest_unconfigure() -> None:
    shutil.rmtree(_SPARE, ignore_errors=True)


@pytest.fixture(scope="session")
def kitchen_folder() -> Path:
    """The kitchen's folder of this test run; its database file is in it."""
    return Path(os.environ["SETWELL_HOME"])


@pytest.fixture
def empty_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A kitchen's folder that does not exist yet, for code that works with files alone."""
    home = tmp_path / "kitchen"
    monkeypatch.setenv("SETWELL_HOME", str(home))
    return home


@pytest.fixture
def query_counter() -> Callable[[], AbstractContextManager[Any]]:
    """Counts database queries: `with query_counter() as queries: ...`, then `len(queries)`."""
    return lambda: CaptureQueriesContext(connection)
