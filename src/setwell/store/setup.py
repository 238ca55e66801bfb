"""Make the framework ready for code that was not started by it, such as a command."""

import os

import django
from django.apps import apps


def store_ready() -> None:
    """Load the framework once; does not touch the database."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "setwell.store.settings")
    if not apps.ready:
        django.setup()
