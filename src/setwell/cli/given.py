"""Options that may be left out."""

from collections.abc import Callable
from typing import TypeVar

Value = TypeVar("Value")


def given(text: str | None, parse: Callable[..., Value], field: str) -> Value | None:
    """Return what an option says, None where it was left out; `field` names it in a refusal."""
    return None if text is None else parse(text, field=field)
