"""Offer single files of installed packages instead of their whole folders."""

from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

from django.contrib.staticfiles.finders import BaseFinder
from django.core.checks import CheckMessage
from django.core.files.storage import FileSystemStorage

# Address below /static/ and the package and path it comes from.
_FILES = {
    "django_htmx/htmx-2.min.js": ("django_htmx", "static/django_htmx/htmx-2.min.js"),
}


class PackageFileFinder(BaseFinder):
    """Find the few files of other packages that our pages use."""

    def check(self, **_options: Any) -> list[CheckMessage]:  # noqa: ANN401
        """Report nothing: a missing file fails when it is collected."""
        return []

    def find(self, path: str, find_all: bool = False, **_options: Any) -> Any:  # noqa: ANN401, FBT001, FBT002
        """Return where a file is, in the form that the framework asks for."""
        place = _place(path)
        if find_all:
            return [str(place)] if place else []
        return str(place) if place else []

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[tuple[str, Any]]:  # noqa: ARG002
        """Yield every file with a storage that can open it."""
        for name in _FILES:
            yield name, _PackageStorage()


class _PackageStorage(FileSystemStorage):
    """A storage that knows the files by their address."""

    prefix = None

    def path(self, name: str) -> str:
        """Return the place of the file in its package."""
        return str(_place(name) or "")


def _place(name: str) -> Path | None:
    if name not in _FILES:
        return None
    package, inside = _FILES[name]
    return Path(str(files(package).joinpath(inside)))
