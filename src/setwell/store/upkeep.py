"""Bring the database to the shape this version of the program needs."""

from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor

from setwell.errors import ConflictError, SetwellError
from setwell.store.home import database_path, home_make
from setwell.store.setup import store_ready


def database_prepare() -> None:
    """Create the folder and the database where missing, and apply outstanding migrations."""
    home_make()
    store_ready()
    try:
        if _is_outdated():
            call_command("migrate", verbosity=0, interactive=False)
    except DatabaseError as error:
        raise SetwellError(
            f"The kitchen's database {database_path()} cannot be used: {error}.",
            hint="Restore the file from a backup, or move it away to start a new kitchen.",
        ) from error


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
