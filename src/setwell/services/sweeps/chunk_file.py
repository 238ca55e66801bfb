"""One finished chunk as a file of plain arrays, with the sweep it belongs to."""

import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any, get_type_hints

import numpy as np

from setwell.errors import InputError

_JOB = "of_sweep"


def result_type(judge: Callable[..., Any]) -> type[Any]:
    """Return the record of arrays that a function returns, from its annotation."""
    kind = get_type_hints(judge).get("return")
    if isinstance(kind, type) and issubclass(kind, tuple) and hasattr(kind, "_fields"):
        return kind
    raise InputError(
        f"What {getattr(judge, '__name__', 'this')} returns cannot be kept in a folder.",
        field="judge",
        hint="Let it return a NamedTuple of numpy arrays, and annotate it so.",
    )


def chunk_write(found: Any, job: str, file: IO[bytes]) -> None:  # noqa: ANN401 - a NamedTuple
    """Write a record of arrays."""
    arrays = {name: np.asarray(value) for name, value in found._asdict().items()}
    if any(array.dtype.hasobject for array in arrays.values()):
        raise InputError(
            "A result holds something else than numbers, so it cannot be kept in a folder.",
            field="judge",
            hint="Let it return arrays of numbers only.",
        )
    np.savez(file, allow_pickle=False, **arrays, **{_JOB: np.array(job)})


def chunk_read(path: Path, kind: type[Any], job: str) -> Any:  # noqa: ANN401 - of that kind
    """Return the record of arrays in a file. Raises ValueError if it is not whole or not ours."""
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as stored:
            arrays = {name: stored[name] for name in stored.files}
    except (OSError, ValueError, EOFError, KeyError, zipfile.BadZipFile, MemoryError) as error:
        raise ValueError(f"it is damaged ({error})") from None
    except Exception as error:
        # What decompression raises depends on which byte is wrong.
        raise ValueError(f"it is damaged ({type(error).__name__})") from None
    if str(arrays.pop(_JOB, "")) != job:
        raise ValueError("it belongs to another sweep")
    if set(arrays) != set(kind._fields):
        raise ValueError("it holds other numbers than expected")
    return kind(**arrays)
