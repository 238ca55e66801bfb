"""Bring the database to the shape this version of the program needs."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor

from setwell.errors import ConflictError, SetwellError
from setwell.store.home import database_path, home_make
from setwell.store.setup import store_ready

LOCK_NAME = "upkeep.lock"
# Longer than all migrations of a large kitchen take.
LOCK_WAIT_S = 120


def database_prepare() -> None:
    """Create the folder and the database where missing, and apply outstanding migrations."""
    home = home_make()
    store_ready()
    try:
        _look_inside(database_path())
        if _is_outdated():
            with _alone(home):
                call_command("migrate", verbosity=0, interactive=False)
    except (DatabaseError, sqlite3.DatabaseError) as error:
        raise SetwellError(
            f"The kitchen's database {database_path()} cannot be used: {error}.",
            hint="Restore the file from a backup, or move it away to start a new kitchen.",
        ) from error


def _look_inside(path: Path) -> None:
    """Fail early on a file that is no database; Django would leave its connection open."""
    if not path.exists():
        return
    file = sqlite3.connect(path)
    try:
        file.execute("PRAGMA schema_version").fetchone()
    finally:
        file.close()


@contextmanager
def _alone(home: Path) -> Iterator[None]:
    """Let one process at a time change the tables; a lock file that works on every system."""
    lock = sqlite3.connect(home / LOCK_NAME, timeout=LOCK_WAIT_S, isolation_level=None)
    try:
        lock.execute("BEGIN EXCLUSIVE")
        yield
    finally:
        lock.close()


def _is_outdated() -> bool:
    """Say whether migrations are missing; refuse a database that knows more than this program."""
    executor = MigrationExecutor(connection)
    loader = executor.loader
    known = set(loader.disk_migrations)
    ours = {(app, name) for app, name in loader.applied_migrations if app == "store"}
    newer = sorted(name for _, name in ours - known)
    if newer:
        raise ConflictError(
            f"The kitchen's database was changed by a newer Setwell ({newer[-1]}).",
            hint="Update Setwell, then start it again; nothing was changed.",
        )
    return bool(executor.migration_plan(loader.graph.leaf_nodes()))
