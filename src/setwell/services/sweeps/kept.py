"""Finished chunks kept in a folder, so that a stopped sweep goes on where it was."""

import json
import os
import tempfile
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from setwell.errors import InputError
from setwell.services.sweeps.chunk_file import chunk_read, chunk_write, result_type
from setwell.services.sweeps.executor import Executor, Found, Item, Shared
from setwell.services.sweeps.fingerprint import fingerprint

_FORMAT, _LIST, _ASIDE = "setwell-sweep", "sweep.json", "set-aside"


class KeptChunks:
    """An executor that reads what a folder holds already and adds what it lacks.

    `resumed` holds the indices that were read. `remark` is told what was wrong with a file; it
    is moved aside and computed again. A folder of another sweep is refused: InputError at the
    field `resume`.
    """

    def __init__(
        self,
        run: Executor,
        folder: Path,
        *,
        version: str,
        remark: Callable[[str], None] | None = None,
    ) -> None:
        self.folder = folder
        self.resumed: set[int] = set()
        self._run, self._version, self._remark = run, version, remark
        self._jobs: list[str] = []
        self._ran = 0

    def __call__(
        self, judge: Callable[[Shared, Item], Found], shared: Shared, items: Sequence[Item], /
    ) -> Iterator[tuple[int, Found]]:
        """Yield what is kept first, then what is computed; each is written as it comes."""
        job = fingerprint(self._version, judge, shared, list(items))
        self._claim(job)
        kind = result_type(judge)
        self.resumed.clear()
        left = []
        for index in range(len(items)):
            found = self._known(job, index, kind)
            if found is None:
                left.append(index)
            else:
                self.resumed.add(index)
                yield index, found
        for place, made in self._run(judge, shared, [items[n] for n in left]):
            self._write(self._path(job, left[place]), partial(chunk_write, made, job))
            yield left[place], made

    @property
    def count(self) -> int:
        """How many chunks the folder holds now."""
        return len(list(self.folder.glob("chunk-*.npz"))) if self.folder.is_dir() else 0

    def _known(self, job: str, index: int, kind: type[Any]) -> Any:  # noqa: ANN401
        path = self._path(job, index)
        if not path.exists():
            return None
        try:
            return chunk_read(path, kind, job)
        except ValueError as error:
            self._aside(path, str(error))
            return None

    def _path(self, job: str, index: int) -> Path:
        return self.folder / f"chunk-{job[:12]}-{index:06d}.npz"

    def _claim(self, job: str) -> None:
        """Make sure that the folder is of this sweep; a new one is marked as such."""
        position, self._ran = self._ran, self._ran + 1
        if position == 0:
            self._jobs = self._listed()
        if position < len(self._jobs):
            if self._jobs[position] != job:
                raise self._refusal(
                    "holds chunks of another sweep: another brief, other tables, or another "
                    "version of Setwell."
                )
            return
        self._jobs.append(job)
        told = {"format": _FORMAT, "format_version": 1, "version": self._version,
                "jobs": self._jobs}  # fmt: skip
        text = json.dumps(told, indent=2) + "\n"
        self._write(self.folder / _LIST, lambda file: file.write(text.encode()))

    def _listed(self) -> list[str]:
        """Return the sweeps that a folder was begun for; makes the folder where there is none."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            names = [path.name for path in self.folder.iterdir()]
        except OSError as error:
            raise self._refusal(f"cannot be used: {error.strerror}.") from None
        if _LIST not in names:
            strange = [name for name in names if not name.startswith(("chunk-", ".part-", _ASIDE))]
            if strange:
                raise self._refusal(f"holds other things, such as {strange[0][:60]}.")
            return []
        try:
            return _jobs_of((self.folder / _LIST).read_text(encoding="utf-8"))
        except (OSError, ValueError, KeyError, TypeError) as error:
            self._aside(self.folder / _LIST, f"it cannot be read ({error})")
            return []

    def _aside(self, path: Path, why: str) -> None:
        """Move a file that is no use out of the way, and say so."""
        place = self.folder / _ASIDE
        try:
            place.mkdir(exist_ok=True)
            os.replace(path, place / path.name)  # noqa: PTH105 - the same name may be there
        except OSError as error:
            raise self._refusal(
                f"holds {path.name}, which cannot be moved: {error.strerror}."
            ) from None
        if self._remark is not None:
            self._remark(f"{path.name} was moved to {place} and is computed again: {why}.")

    def _write(self, path: Path, fill: Callable[[Any], object]) -> None:
        """Write a file whole or not at all."""
        name = ""
        try:
            with tempfile.NamedTemporaryFile(
                dir=self.folder, prefix=".part-", delete=False
            ) as file:
                name = file.name
                fill(file)
                file.flush()
                os.fsync(file.fileno())
            os.replace(name, path)  # noqa: PTH105 - replaces what is there in one go
        except OSError as error:
            raise self._refusal(f"cannot be written: {error.strerror}.") from None
        finally:
            if name:
                Path(name).unlink(missing_ok=True)

    def _refusal(self, what: str) -> InputError:
        return InputError(
            f"The folder {self.folder} {what}",
            field="resume",
            hint="Name a new or empty folder, or the folder this sweep was begun with.",
        )


def _jobs_of(text: str) -> list[str]:
    told = json.loads(text)
    if told["format"] != _FORMAT:
        raise ValueError("it is not the list of a sweep")
    return [str(job) for job in told["jobs"]]
