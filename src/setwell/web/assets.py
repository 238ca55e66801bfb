"""Bring style sheets and scripts to where they are served from, only when they changed."""

import hashlib
from importlib.metadata import version
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command

_STAMP = "collected"


def assets_collect() -> bool:
    """Collect, compress and name the files by content; return whether that was needed."""
    folder = Path(settings.STATIC_ROOT)
    stamp = folder.with_name(f"{folder.name}.{_STAMP}")
    mark = _mark()
    if folder.is_dir() and stamp.is_file() and stamp.read_text(encoding="ascii") == mark:
        return False
    folder.mkdir(parents=True, exist_ok=True)
    stamp.unlink(missing_ok=True)
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(mark, encoding="ascii")
    return True


def _mark() -> str:
    """Return one hash over the versions and every file's path, size and time of change."""
    digest = hashlib.sha256()
    for package in ("setwell", "django", "django-htmx", "whitenoise"):
        digest.update(f"{package} {version(package)}\n".encode())
    for finder in get_finders():
        for name, storage in finder.list(()):
            found = Path(storage.path(name)).stat()
            digest.update(f"{name} {found.st_size} {found.st_mtime_ns}\n".encode())
    return digest.hexdigest()
