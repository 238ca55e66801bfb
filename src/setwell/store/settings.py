"""Framework settings that the store needs; the web door builds its own on top of these."""

from typing import Any

from setwell.store.home import database_path, home_path

INSTALLED_APPS = ["setwell.store"]
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"

# IMMEDIATE takes the write lock at once, so two writers wait for each other instead of failing
# half way. FULL flushes each commit to disk: a saved formula survives a power cut.
SQLITE_OPTIONS = {
    "timeout": 20,
    "transaction_mode": "IMMEDIATE",
    "init_command": (
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA wal_autocheckpoint=1000;"
    ),
}

DATABASES: dict[str, dict[str, Any]] = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(database_path()),
        "OPTIONS": SQLITE_OPTIONS,
        # A file, because an in-memory database has neither WAL nor a second connection.
        "TEST": {"NAME": str(home_path() / "setwell_test.sqlite3")},
    }
}
