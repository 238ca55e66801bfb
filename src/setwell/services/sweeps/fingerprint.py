"""A hash of what a value holds, the same in every process and on every run."""

import dataclasses
import hashlib
import pickle
from collections.abc import Mapping
from enum import Enum
from functools import partial
from types import FunctionType, MethodType
from typing import Any

import numpy as np


def fingerprint(*values: object) -> str:
    """Return 64 hexadecimal digits for some values: plain ones, arrays, records and functions.

    Sets and mappings count by what is in them, not by the order they happen to have.
    """
    return _digest(values).hex()


def _digest(value: Any) -> bytes:  # noqa: ANN401 - any value
    kind = type(value)
    head = f"{kind.__module__}.{kind.__qualname__}"
    parts = _parts(value)
    if parts is None:
        parts = [_bytes(value)]
    hashed = hashlib.sha256(head.encode())
    for part in parts:
        # Lengths keep "ab", "c" apart from "a", "bc".
        hashed.update(len(part).to_bytes(8, "little"))
        hashed.update(part)
    return hashed.digest()


def _parts(value: Any) -> list[bytes] | None:  # noqa: ANN401 - any value
    """Return the digests of what a value is made of; None for what has no parts."""
    if isinstance(value, np.ndarray):
        return [repr((value.dtype.str, value.shape)).encode(), _array(value)]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = dataclasses.fields(value)
        return [_digest((field.name, getattr(value, field.name))) for field in fields]
    if isinstance(value, Mapping | set | frozenset):
        inner = value.items() if isinstance(value, Mapping) else value
        return sorted(_digest(item) for item in inner)
    if isinstance(value, tuple | list):
        return [_digest(item) for item in value]
    return [value.canonical_json().encode()] if hasattr(value, "canonical_json") else _inside(value)


def _inside(value: Any) -> list[bytes] | None:  # noqa: ANN401 - any value
    """Return the digests of what a function brings along: its object, arguments and cells."""
    if isinstance(value, partial):
        return [_digest((value.func, value.args, value.keywords))]
    owner = getattr(value, "__self__", None)
    if isinstance(value, MethodType) and not isinstance(owner, type):
        return [_bytes(value.__func__), _digest(owner)]
    if isinstance(value, FunctionType) and value.__closure__:
        cells = tuple(cell.cell_contents for cell in value.__closure__)
        return [_bytes(value), _digest(cells)]
    return None


def _array(value: np.ndarray[Any, Any]) -> bytes:
    if value.dtype.hasobject:
        return b"".join(_digest(item) for item in value.ravel())
    return np.ascontiguousarray(value).tobytes()


def _bytes(value: Any) -> bytes:  # noqa: ANN401 - any value
    """Return the bytes of something without parts."""
    if isinstance(value, bytes):
        return value
    if isinstance(value, Enum):
        return value.name.encode()
    if value is None or isinstance(value, str | int | float | complex | np.generic):
        # A float's repr is exact.
        return repr(value).encode()
    if callable(value):
        name = getattr(value, "__qualname__", type(value).__qualname__)
        return f"{getattr(value, '__module__', '')}.{name}".encode()
    return pickle.dumps(value, protocol=4)
