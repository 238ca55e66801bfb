"""A mark that changes with every change of the pantry, so that caches know when to let go."""

import secrets

from setwell.store.settings_rows import setting_get, setting_put

_KEY = "pantry_revision"


def pantry_revision() -> str:
    """Return the mark of the pantry as it is now."""
    return setting_get(_KEY)


def pantry_touch() -> None:
    """Change the mark; belongs into the transaction that changes the pantry."""
    # Random, not counted: a change that is rolled back must not share its mark with the next one.
    setting_put(_KEY, secrets.token_hex(16))
