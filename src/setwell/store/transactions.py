"""All or nothing: one writing transaction, without naming the framework outside this room."""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import OperationalError, transaction

from setwell.errors import ConflictError, SetwellError


@contextmanager
def writing() -> Iterator[None]:
    """Run a block as one transaction that is wholly kept or wholly dropped."""
    try:
        with transaction.atomic():
            yield
    except OperationalError as error:
        raise _plain(error) from error


def _plain(error: OperationalError) -> SetwellError:
    text = str(error)
    if "locked" in text or "busy" in text:
        return ConflictError(
            "The kitchen's database has been busy for 20 seconds, so nothing was saved.",
            hint="Try again in a moment; what you typed is still on the page.",
        )
    if "full" in text:
        return SetwellError(
            "The disk is full, so nothing was saved.", hint="Make room, then save again."
        )
    if "readonly" in text:
        return SetwellError(
            "The kitchen's database may not be written to, so nothing was saved.",
            hint="Check who owns the file and its folder.",
        )
    return SetwellError(f"The kitchen's database answered: {text}. Nothing was saved.")
